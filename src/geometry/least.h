/*
 * least.h - the lesser and the greater of two numbers, and what follows from them. None may be NaN:
 * unlike fmin and fmax, these are comparisons and no calls.
 */
#ifndef GEOMETRY_LEAST_H
#define GEOMETRY_LEAST_H

static inline double geo_lesser(double a, double b)
{
	return a < b ? a : b;
}

static inline double geo_greater(double a, double b)
{
	return a > b ? a : b;
}

/* How far a span and two more places on its line lie apart; 0 where they meet. */
static inline double geo_apart(double low, double high, double a, double b)
{
	double least = geo_lesser(a, b), most = geo_greater(a, b);
	return most < low ? low - most : least > high ? least - high : 0;
}

#endif

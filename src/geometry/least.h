/*
 * least.h - the lesser and the greater of two numbers, neither of which is NaN: unlike fmin and
 * fmax, a comparison and no call.
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

#endif

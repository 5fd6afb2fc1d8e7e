#include "geometry/match-turns.h"

#include <math.h>
#include <stdlib.h>

#define BINS    360
#define RINGS   12
#define SAMPLES 16000

/* Peaks less than this share of the highest one are no candidates. */
#define WORTH 0.8

static const double pi = 3.14159265358979323846;

struct spread {
	double ring[RINGS + 1][BINS];
};

/* Shares a place out to the bins and rings on both sides, so that the spread is smooth. */
static void add_place(struct spread *spread, double x, double y, double radius)
{
	double bin = (atan2(y, x) / (2 * pi) + 1) * BINS, ring = hypot(x, y) / radius * RINGS;
	ring = fmin(ring, RINGS - 1e-9);
	int b = (int)bin, r = (int)ring;
	double past_b = bin - b, past_r = ring - r;
	spread->ring[r][b % BINS] += (1 - past_r) * (1 - past_b);
	spread->ring[r][(b + 1) % BINS] += (1 - past_r) * past_b;
	spread->ring[r + 1][b % BINS] += past_r * (1 - past_b);
	spread->ring[r + 1][(b + 1) % BINS] += past_r * past_b;
}

/* Takes the mean off each ring, and lets a ring with little in it count nearly as much as a full
 * one: a mark beside a circle is what tells its angle. */
static void level(struct spread *spread)
{
	for (int r = 0; r <= RINGS; r++) {
		double sum = 0;
		for (int b = 0; b < BINS; b++)
			sum += spread->ring[r][b];
		double scale = 1 / (sum + 0.02 * SAMPLES);
		for (int b = 0; b < BINS; b++)
			spread->ring[r][b] = (spread->ring[r][b] - sum / BINS) * scale;
	}
}

static void measure(struct spread *spread, const struct geo_form *form, bool mirrored,
		    double radius, struct geo_vector *places)
{
	geo_form_spread(form, SAMPLES, places);
	for (int i = 0; i < SAMPLES; i++) {
		double x = places[i].x - form->middle.x;
		add_place(spread, mirrored ? -x : x, places[i].y - form->middle.y, radius);
	}
	level(spread);
}

static void correlate(const struct spread *a, const struct spread *b, double out[BINS])
{
	for (int turn = 0; turn < BINS; turn++) {
		double sum = 0;
		for (int r = 0; r <= RINGS; r++) {
			for (int i = 0; i < BINS - turn; i++)
				sum += a->ring[r][i] * b->ring[r][i + turn];
			for (int i = BINS - turn; i < BINS; i++)
				sum += a->ring[r][i] * b->ring[r][i + turn - BINS];
		}
		out[turn] = sum;
	}
}

/* The angle of a peak, between the bins by the parabola through three values. */
static double peak_turn(const double correlation[BINS], int bin)
{
	double before = correlation[(bin + BINS - 1) % BINS], at = correlation[bin];
	double after = correlation[(bin + 1) % BINS];
	double bend = before - 2 * at + after;
	double shift = bend < 0 ? 0.5 * (before - after) / bend : 0;
	return remainder((bin + shift) * 2 * pi / BINS, 2 * pi);
}

static int by_turn(const void *left, const void *right)
{
	double a = *(const double *)left, b = *(const double *)right;
	if (fabs(a) != fabs(b))
		return fabs(a) < fabs(b) ? -1 : 1;
	return (a < b) - (a > b);
}

static int pick_peaks(const double correlation[BINS], double out[GEO_TURNS_MOST])
{
	double turns[BINS], highest = 0;
	int count = 0;
	for (int i = 0; i < BINS; i++)
		highest = fmax(highest, correlation[i]);
	for (int i = 0; i < BINS; i++)
		if (correlation[i] >= WORTH * highest &&
		    correlation[i] >= correlation[(i + BINS - 1) % BINS] &&
		    correlation[i] > correlation[(i + 1) % BINS])
			turns[count++] = peak_turn(correlation, i);
	qsort(turns, (size_t)count, sizeof *turns, by_turn);
	count = count < GEO_TURNS_MOST ? count : GEO_TURNS_MOST;
	for (int i = 0; i < count; i++)
		out[i] = turns[i];
	return count;
}

int geo_turns_find(const struct geo_form *a, bool mirrored, const struct geo_form *b,
		   double out[GEO_TURNS_MOST])
{
	double radius = fmax(1, fmax(a->radius, b->radius));
	struct spread *spreads = calloc(2, sizeof *spreads);
	struct geo_vector *places = malloc(SAMPLES * sizeof *places);
	int count = -1;
	if (spreads && places) {
		double correlation[BINS];
		measure(&spreads[0], a, mirrored, radius, places);
		measure(&spreads[1], b, false, radius, places);
		correlate(&spreads[0], &spreads[1], correlation);
		count = pick_peaks(correlation, out);
	}
	free(spreads);
	free(places);
	return count;
}

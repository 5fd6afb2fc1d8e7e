/* random.h - drawings that are random, and the same everywhere. */
#ifndef TESTS_SHEET_RANDOM_H
#define TESTS_SHEET_RANDOM_H

#include <stddef.h>
#include <stdint.h>

/* A linear congruential generator, with the constants of Knuth's MMIX. */
struct dice {
	uint64_t state;
};

double dice_roll(struct dice *dice, double low, double high);

/*
 * A page of 100 x 60 mm with 2 to 24 black circles, ellipses and kites, drawn within a group with
 * these attributes; they may overlap each other and the page's edge.
 */
void random_design(uint64_t number, const char *group, char *out, size_t size);

#endif

/* random.h - the same random numbers on every machine: SplitMix64 (Steele, Lea, Flood 2014). */
#ifndef TESTS_GEOMETRY_RANDOM_H
#define TESTS_GEOMETRY_RANDOM_H

#include <stdint.h>

struct random {
	uint64_t state;
};

static inline uint64_t random_bits(struct random *random)
{
	uint64_t z = random->state += 0x9e3779b97f4a7c15u;
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
	z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
	return z ^ (z >> 31);
}

/* Evenly spread in [least, most). */
static inline double random_between(struct random *random, double least, double most)
{
	return least + (most - least) * ((double)(random_bits(random) >> 11) * 0x1p-53);
}

/* 0 to count - 1 */
static inline uint32_t random_below(struct random *random, uint32_t count)
{
	return (uint32_t)(random_bits(random) % count);
}

#endif

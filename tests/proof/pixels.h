/* pixels.h - a PNG as libpng reads it. */
#ifndef TESTS_PROOF_PIXELS_H
#define TESTS_PROOF_PIXELS_H

#include <stdbool.h>
#include <stdint.h>

struct pixels {
	int width, height;
	uint32_t across_per_metre, down_per_metre; /* of pHYs; 0: it is not there, or in no unit */
	unsigned char *rgb;
};

/* Fails the test if the file is no whole PNG. */
void pixels_read(struct pixels *pixels, const char *path);
void pixels_free(struct pixels *pixels);

/* 0xrrggbb. */
uint32_t pixels_at(const struct pixels *pixels, int x, int y);

/* A PNG of one pixel. */
void pixels_write_one(const char *path, uint32_t rgb);

#endif

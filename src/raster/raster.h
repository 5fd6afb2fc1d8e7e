/*
 * raster.h - the border to the module that draws a proof as a PNG.
 *
 * The module is a shared object of its own, opened when a PNG is asked for and not before, so that
 * nothing else waits for librsvg and all that comes with it. It uses nothing of libcutlint.
 */
#ifndef RASTER_RASTER_H
#define RASTER_RASTER_H

#include <stddef.h>
#include <stdint.h>

#include "cutlint/export.h"

/* Raised with any change of the structs below. */
#define RASTER_ABI 1

/* What the module exports: a constant struct raster. */
#define RASTER_SYMBOL "cutlint_raster"

/* Pixels of one picture, a choice of this project, and of a row, which is cairo's limit. */
#define RASTER_PIXELS_MOST UINT32_C(200000000)
#define RASTER_WIDTH_MOST  UINT32_C(32767)

/* What to draw. All of it is borrowed. */
struct raster_order {
	const char *svg; /* with its width and height in mm */
	size_t length;
	double dpi; /* pixels per inch */
	/* Takes the bytes of the PNG as they come. Returns 0, or -1 to end the work. */
	int (*write)(void *user, const void *bytes, size_t length);
	void (*tell)(void *user, uint32_t rows, uint32_t of);
	void *user;
};

struct raster {
	uint32_t abi, size; /* RASTER_ABI, sizeof(struct raster) */
	/*
	 * Draws true to scale: a pixel is 1/dpi inch on paper, and the PNG says so. What the SVG
	 * refers to outside itself is not looked at. Text has the fonts that fontconfig finds.
	 * Returns 0, or -1 with the reason in `fault`, a phrase that fits in `size` bytes.
	 */
	int (*draw)(const struct raster_order *order, char *fault, size_t size);
};

extern CUTLINT_EXPORT const struct raster cutlint_raster;

#endif

/* encoder.h - rows of pixels become a PNG (ISO/IEC 15948), by libpng. */
#ifndef RASTER_ENCODER_H
#define RASTER_ENCODER_H

#include <png.h>

#include "raster/raster.h"

struct encoder {
	const struct raster_order *order;
	png_structp png;
	png_infop info;
	char *fault; /* where the reason goes that anything failed */
	size_t fault_size;
};

/*
 * Each returns 0, or -1 with the reason in `fault`, which lasts as long as the encoder. Call
 * encoder_finish in either case.
 */
int encoder_init(struct encoder *encoder, const struct raster_order *order, char *fault,
		 size_t size);
void encoder_finish(struct encoder *encoder);

/* The head, with the size in pixels and how many of them are a metre. */
int encoder_begin(struct encoder *encoder, uint32_t width, uint32_t height);

/* Rows of 32-bit pixels 0xXXrrggbb of this machine, `stride` bytes apart. */
int encoder_add(struct encoder *encoder, const unsigned char *pixels, size_t stride, uint32_t rows);
int encoder_end(struct encoder *encoder);

#endif

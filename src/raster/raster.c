/* raster.c - the module: an SVG becomes a PNG. */
#include "raster/raster.h"

#include <stdio.h>

#include "raster/encoder.h"
#include "raster/picture.h"

/* Pixels that are in memory at once, four bytes each: more bands look at more of the SVG again. */
static const uint32_t BAND_PIXELS = 32000000;

static uint32_t rows_of_band(const struct picture *picture)
{
	uint32_t rows = BAND_PIXELS / picture->width;
	return rows < 1 ? 1 : rows < picture->height ? rows : picture->height;
}

static int add_band(const struct picture *picture, struct encoder *encoder,
		    cairo_surface_t *surface, uint32_t top, uint32_t rows)
{
	if (picture_draw(picture, surface, top, encoder->fault, encoder->fault_size) < 0)
		return -1;
	cairo_surface_flush(surface);
	return encoder_add(encoder, cairo_image_surface_get_data(surface),
			   (size_t)cairo_image_surface_get_stride(surface), rows);
}

static int add_bands(const struct picture *picture, struct encoder *encoder,
		     cairo_surface_t *surface)
{
	const struct raster_order *order = encoder->order;
	uint32_t step = rows_of_band(picture);
	for (uint32_t top = 0; top < picture->height; top += step) {
		uint32_t left = picture->height - top, rows = left < step ? left : step;
		order->tell(order->user, top, picture->height);
		if (add_band(picture, encoder, surface, top, rows) < 0)
			return -1;
	}
	return 0;
}

static int encode(const struct picture *picture, struct encoder *encoder)
{
	cairo_surface_t *surface = cairo_image_surface_create(
		CAIRO_FORMAT_RGB24, (int)picture->width, (int)rows_of_band(picture));
	cairo_status_t status = cairo_surface_status(surface);
	int result = -1;
	if (status != CAIRO_STATUS_SUCCESS)
		snprintf(encoder->fault, encoder->fault_size, "cairo says: %s",
			 cairo_status_to_string(status));
	else if (encoder_begin(encoder, picture->width, picture->height) == 0 &&
		 add_bands(picture, encoder, surface) == 0)
		result = encoder_end(encoder);
	cairo_surface_destroy(surface);
	return result;
}

static int draw(const struct raster_order *order, char *fault, size_t size)
{
	struct picture picture;
	struct encoder encoder;
	int result = picture_init(&picture, order, fault, size);
	if (result == 0) {
		result = encoder_init(&encoder, order, fault, size);
		if (result == 0)
			result = encode(&picture, &encoder);
		encoder_finish(&encoder);
	}
	picture_finish(&picture);
	return result;
}

CUTLINT_EXPORT const struct raster cutlint_raster = {
	.abi = RASTER_ABI, .size = sizeof(struct raster), .draw = draw};

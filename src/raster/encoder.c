#include "raster/encoder.h"

#include <math.h>
#include <stdio.h>

static void say(struct encoder *encoder, const char *what)
{
	snprintf(encoder->fault, encoder->fault_size, "libpng says: %s", what);
}

static void fail(png_structp png, png_const_charp what)
{
	say(png_get_error_ptr(png), what);
	png_longjmp(png, 1);
}

static void ignore(png_structp png, png_const_charp what)
{
	(void)png;
	(void)what;
}

static void write_bytes(png_structp png, png_bytep bytes, size_t length)
{
	const struct raster_order *order = png_get_io_ptr(png);
	if (order->write(order->user, bytes, length) < 0)
		png_error(png, "the PNG can't be passed on");
}

static void flush(png_structp png)
{
	(void)png;
}

int encoder_init(struct encoder *encoder, const struct raster_order *order, char *fault,
		 size_t size)
{
	*encoder = (struct encoder){.order = order, .fault = fault, .fault_size = size};
	encoder->png = png_create_write_struct(PNG_LIBPNG_VER_STRING, encoder, fail, ignore);
	encoder->info = encoder->png ? png_create_info_struct(encoder->png) : NULL;
	if (encoder->info)
		return 0;
	say(encoder, "out of memory");
	return -1;
}

void encoder_finish(struct encoder *encoder)
{
	png_destroy_write_struct(&encoder->png, &encoder->info);
}

/* 11.3.5.3: pHYs counts pixels per metre, in whole numbers. */
static png_uint_32 pixels_per_metre(double dpi)
{
	return (png_uint_32)lround(dpi / 0.0254);
}

int encoder_begin(struct encoder *encoder, uint32_t width, uint32_t height)
{
	png_structp png = encoder->png;
	png_uint_32 density = pixels_per_metre(encoder->order->dpi);
	if (setjmp(png_jmpbuf(png)))
		return -1;
	png_set_write_fn(png, (png_voidp)encoder->order, write_bytes, flush);
	png_set_IHDR(png, encoder->info, width, height, 8, PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
		     PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
	png_set_sRGB(png, encoder->info, PNG_sRGB_INTENT_RELATIVE);
	png_set_pHYs(png, encoder->info, density, density, PNG_RESOLUTION_METER);
	png_write_info(png, encoder->info);
#if __BYTE_ORDER__ == __ORDER_LITTLE_ENDIAN__
	png_set_filler(png, 0, PNG_FILLER_AFTER);
	png_set_bgr(png);
#else
	png_set_filler(png, 0, PNG_FILLER_BEFORE);
#endif
	return 0;
}

int encoder_add(struct encoder *encoder, const unsigned char *pixels, size_t stride, uint32_t rows)
{
	if (setjmp(png_jmpbuf(encoder->png)))
		return -1;
	for (uint32_t i = 0; i < rows; i++)
		png_write_row(encoder->png, pixels + i * stride);
	return 0;
}

int encoder_end(struct encoder *encoder)
{
	if (setjmp(png_jmpbuf(encoder->png)))
		return -1;
	png_write_end(encoder->png, encoder->info);
	return 0;
}

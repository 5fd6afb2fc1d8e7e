#include "pixels.h"

#include <png.h>
#include <stdlib.h>
#include <string.h>

#include "unit.h"

/* libpng jumps back on an error: what must survive that stands outside. */
static bool read_all(png_structp png, png_infop info, FILE *file, struct pixels *pixels)
{
	if (setjmp(png_jmpbuf(png)))
		return false;
	png_init_io(png, file);
	png_read_png(png, info, PNG_TRANSFORM_STRIP_16 | PNG_TRANSFORM_STRIP_ALPHA, NULL);
	pixels->width = (int)png_get_image_width(png, info);
	pixels->height = (int)png_get_image_height(png, info);
	pixels->across_per_metre = png_get_x_pixels_per_meter(png, info);
	pixels->down_per_metre = png_get_y_pixels_per_meter(png, info);
	return png_get_color_type(png, info) == PNG_COLOR_TYPE_RGB;
}

void pixels_read(struct pixels *pixels, const char *path)
{
	FILE *file = fopen(path, "rb");
	png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
	png_infop info = png_create_info_struct(png);
	*pixels = (struct pixels){0};
	assert_non_null(file);
	bool read = read_all(png, info, file, pixels);
	size_t row = (size_t)pixels->width * 3;
	pixels->rgb = read ? malloc(row * (size_t)pixels->height) : NULL;
	for (int y = 0; y < pixels->height && pixels->rgb; y++)
		memcpy(pixels->rgb + row * (size_t)y, png_get_rows(png, info)[y], row);
	png_destroy_read_struct(&png, &info, NULL);
	fclose(file);
	assert_non_null(pixels->rgb);
}

void pixels_free(struct pixels *pixels)
{
	free(pixels->rgb);
	*pixels = (struct pixels){0};
}

uint32_t pixels_at(const struct pixels *pixels, int x, int y)
{
	if (x < 0 || y < 0 || x >= pixels->width || y >= pixels->height)
		fail_msg("%d, %d is no pixel of %d x %d", x, y, pixels->width, pixels->height);
	const unsigned char *at = pixels->rgb + 3 * ((size_t)y * (size_t)pixels->width + (size_t)x);
	return (uint32_t)at[0] << 16 | (uint32_t)at[1] << 8 | at[2];
}

void pixels_write_one(const char *path, uint32_t rgb)
{
	png_image image = {
		.version = PNG_IMAGE_VERSION, .width = 1, .height = 1, .format = PNG_FORMAT_RGB};
	const unsigned char pixel[] = {(unsigned char)(rgb >> 16), (unsigned char)(rgb >> 8),
				       (unsigned char)rgb};
	assert_true(png_image_write_to_file(&image, path, 0, pixel, 0, NULL));
}

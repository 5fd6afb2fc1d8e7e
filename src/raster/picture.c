#include "raster/picture.h"

#include <fontconfig/fontconfig.h>
#include <math.h>
#include <stdio.h>

/* Exactly, by the international yard of 1959. */
#define MM_PER_INCH 25.4

static int take_error(GError *error, char *fault, size_t size)
{
	snprintf(fault, size, "librsvg says: %s", error ? error->message : "nothing");
	g_clear_error(&error);
	return -1;
}

/* Without a font librsvg draws on and leaves the text out, and with it what the findings say. */
static int look_for_fonts(char *fault, size_t size)
{
	FcConfig *config = FcConfigReference(NULL);
	const FcFontSet *fonts = config ? FcConfigGetFonts(config, FcSetSystem) : NULL;
	int count = fonts ? fonts->nfont : 0;
	if (config)
		FcConfigDestroy(config);
	if (count > 0)
		return 0;
	snprintf(fault, size,
		 "fontconfig finds no font, and all text would be missing; Debian's package "
		 "fonts-dejavu-core brings one");
	return -1;
}

static int read_svg(struct picture *picture, const struct raster_order *order, char *fault,
		    size_t size)
{
	GError *error = NULL;
	GInputStream *stream =
		g_memory_input_stream_new_from_data(order->svg, (gssize)order->length, NULL);
	/* The handle gets no base, without which librsvg opens neither files nor addresses. */
	picture->handle = rsvg_handle_new_with_flags(RSVG_HANDLE_FLAG_UNLIMITED);
	gboolean read = rsvg_handle_read_stream_sync(picture->handle, stream, NULL, &error);
	g_object_unref(stream);
	return read ? 0 : take_error(error, fault, size);
}

static int take_size(struct picture *picture, char *fault, size_t size)
{
	gboolean has_width, has_height, has_box;
	RsvgLength width, height;
	RsvgRectangle box;
	rsvg_handle_get_intrinsic_dimensions(picture->handle, &has_width, &width, &has_height,
					     &height, &has_box, &box);
	if (!has_width || !has_height || width.unit != RSVG_UNIT_MM ||
	    height.unit != RSVG_UNIT_MM || !(width.length > 0 && height.length > 0)) {
		snprintf(fault, size, "the picture has no size in mm");
		return -1;
	}
	picture->wide_mm = width.length;
	picture->high_mm = height.length;
	return 0;
}

/* As many pixels as hold a length; not one more for the last digits of a float, as librsvg reads.
 */
static double pixels_of(double mm, double dpi)
{
	return fmax(1, ceil(mm / MM_PER_INCH * dpi - 0.01));
}

/* The most dots per inch that keep to both limits, a little less for the rounding up. */
static double dpi_fitting(const struct picture *picture)
{
	double area = picture->wide_mm * picture->high_mm;
	double by_area = MM_PER_INCH * sqrt((double)RASTER_PIXELS_MOST / area);
	double by_width = MM_PER_INCH * (double)RASTER_WIDTH_MOST / picture->wide_mm;
	return floor(fmin(by_area, by_width) * 0.999);
}

static int take_pixels(struct picture *picture, char *fault, size_t size)
{
	double width = pixels_of(picture->wide_mm, picture->dpi);
	double height = pixels_of(picture->high_mm, picture->dpi);
	if (!(width * height <= RASTER_PIXELS_MOST && width <= RASTER_WIDTH_MOST)) {
		snprintf(fault, size,
			 "at %.4g dpi its %.0f mm x %.0f mm are %.0f x %.0f pixels; the most are "
			 "%u million, and %u in a row: take --dpi %.0f or less",
			 picture->dpi, picture->wide_mm, picture->high_mm, width, height,
			 RASTER_PIXELS_MOST / 1000000, RASTER_WIDTH_MOST, dpi_fitting(picture));
		return -1;
	}
	picture->width = (uint32_t)width;
	picture->height = (uint32_t)height;
	return 0;
}

int picture_init(struct picture *picture, const struct raster_order *order, char *fault,
		 size_t size)
{
	*picture = (struct picture){.dpi = order->dpi};
	if (look_for_fonts(fault, size) < 0 || read_svg(picture, order, fault, size) < 0 ||
	    take_size(picture, fault, size) < 0)
		return -1;
	return take_pixels(picture, fault, size);
}

void picture_finish(struct picture *picture)
{
	if (picture->handle)
		g_object_unref(picture->handle);
	picture->handle = NULL;
}

int picture_draw(const struct picture *picture, cairo_surface_t *surface, uint32_t top, char *fault,
		 size_t size)
{
	/* Not rounded to whole pixels: the scale stays true. */
	const RsvgRectangle viewport = {.width = picture->wide_mm / MM_PER_INCH * picture->dpi,
					.height = picture->high_mm / MM_PER_INCH * picture->dpi};
	GError *error = NULL;
	cairo_t *cairo = cairo_create(surface);
	cairo_set_source_rgb(cairo, 1, 1, 1);
	cairo_paint(cairo);
	cairo_translate(cairo, 0, -(double)top);
	gboolean drawn = rsvg_handle_render_document(picture->handle, cairo, &viewport, &error);
	cairo_status_t status = cairo_status(cairo);
	cairo_destroy(cairo);
	if (!drawn)
		return take_error(error, fault, size);
	if (status == CAIRO_STATUS_SUCCESS)
		return 0;
	snprintf(fault, size, "cairo says: %s", cairo_status_to_string(status));
	return -1;
}

/* picture.h - the SVG drawn by librsvg, band by band. */
#ifndef RASTER_PICTURE_H
#define RASTER_PICTURE_H

#include <cairo.h>
#include <librsvg/rsvg.h>

#include "raster/raster.h"

struct picture {
	RsvgHandle *handle;
	double dpi;
	double wide_mm, high_mm;
	uint32_t width, height; /* pixels: the last ones may be in part beyond the picture */
};

/* Returns 0, or -1 with the reason in `fault`; call picture_finish in either case. */
int picture_init(struct picture *picture, const struct raster_order *order, char *fault,
		 size_t size);
void picture_finish(struct picture *picture);

/* Draws the rows from `top` on into a surface as wide as the picture. Returns as above. */
int picture_draw(const struct picture *picture, cairo_surface_t *surface, uint32_t top, char *fault,
		 size_t size);

#endif

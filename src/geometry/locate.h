/* locate.h - finds the edge straight below a place; for the arrangement's own files only. */
#ifndef GEOMETRY_LOCATE_H
#define GEOMETRY_LOCATE_H

#include "geometry/arrangement.h"

/* Serves geo_face_at; needs nodes, edges and next. NULL where memory ran out. */
struct geo_locator *geo_locator_create(const struct geo_arrangement *arrangement);
void geo_locator_destroy(struct geo_locator *locator);

#endif

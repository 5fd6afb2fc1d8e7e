/* transform.h - lists of transform functions (CSS Transforms 1, SVG 2 8.5). */
#ifndef SVG_TRANSFORM_H
#define SVG_TRANSFORM_H

#include "svg/matrix.h"
#include "svg/scan.h"

/*
 * Reads a whole list: matrix, translate, scale, rotate (with a centre), skewX, skewY, and CSS's
 * one-axis forms, with or without units. "none" and an empty text are the identity. On a mistake
 * returns false and the place of it in `*bad`.
 */
bool svg_transform_parse(struct svg_scan text, struct svg_matrix *out, const char **bad);

/* Takes an angle in degrees: a number, or one with deg, grad, rad or turn. */
bool svg_take_angle(struct svg_scan *scan, double *out);

#endif

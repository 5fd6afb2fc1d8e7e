/* ident.h - CSS identifiers with their escapes (CSS Syntax 3, 4.3.7 and 4.3.11). */
#ifndef SVG_IDENT_H
#define SVG_IDENT_H

#include "base/arena.h"
#include "svg/scan.h"

enum svg_ident { SVG_IDENT_NONE, SVG_IDENT_TAKEN, SVG_IDENT_NO_MEMORY };

/*
 * Takes an identifier if one stands next; one that starts with a digit is none. `out` is the name
 * that it stands for, in the text itself or, where it has escapes, in the arena.
 */
enum svg_ident svg_take_ident(struct svg_scan *scan, struct arena *arena, struct svg_scan *out);

#endif

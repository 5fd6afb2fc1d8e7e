/* unpack.h - drawings that come packed: .svgz is gzip (RFC 1952). */
#ifndef SVG_UNPACK_H
#define SVG_UNPACK_H

#include <stdbool.h>

#include "base/source.h"
#include "svg/say.h"

bool svg_is_packed(const struct source *source);

/*
 * Puts the unpacked text in the place of a packed one; positions are then in that text. It is
 * unpacked piece by piece and given up as soon as it passes a limit. Returns 0, or -1 with a fatal
 * notice or where memory ran out.
 */
int svg_unpack(struct source *source, struct arena *arena, struct svg_say *say);

#endif

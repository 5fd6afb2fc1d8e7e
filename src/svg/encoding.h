/* encoding.h - makes UTF-8 of the bytes of a file. */
#ifndef SVG_ENCODING_H
#define SVG_ENCODING_H

#include "base/source.h"

/*
 * Looks at the byte order mark and the encoding that the XML declaration names, and puts a source
 * of valid UTF-8 in the place of one that is encoded otherwise; positions are then in that text.
 * Returns 0, or -1 with a fatal notice.
 */
int svg_to_utf8(struct source *source, struct arena *arena, struct notices *notices);

#endif

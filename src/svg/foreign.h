/* foreign.h - files of other kinds that are given for a drawing by mistake. */
#ifndef SVG_FOREIGN_H
#define SVG_FOREIGN_H

#include "base/source.h"

/* What a file is that begins as one of another kind does: "a PDF file". NULL for all else. */
const char *svg_foreign_kind(const struct source *source);

#endif

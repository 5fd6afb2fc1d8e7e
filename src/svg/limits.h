/* limits.h - how large a drawing may be, each limit by its name: docs/drawings.md lists them. */
#ifndef SVG_LIMITS_H
#define SVG_LIMITS_H

#include <stddef.h>
#include <stdint.h>

enum svg_limit {
	SVG_LIMIT_FILE_BYTES,    /* of the text, unpacked */
	SVG_LIMIT_UNPACK_RATIO,  /* the text of a packed drawing to its file */
	SVG_LIMIT_DEPTH,         /* elements in each other, as written and as placed by `use` */
	SVG_LIMIT_ELEMENTS,      /* in all */
	SVG_LIMIT_ATTRIBUTES,    /* of one tag */
	SVG_LIMIT_NAMESPACES,    /* declared in one place of the tree */
	SVG_LIMIT_ENTITY_BYTES,  /* that all declared entities hold */
	SVG_LIMIT_ENTITY_GROWTH, /* the text with its entities to the text as written */
	SVG_LIMIT_PLACED,        /* elements that `use` places */
	SVG_LIMIT_PLACED_BYTES,  /* attribute text that is read again for them */
	SVG_LIMIT_STYLE_STEPS,   /* comparisons of selectors with elements */
	SVG_LIMIT_VERTICES,      /* of all outlines */
	SVG_LIMIT_CROSSINGS,     /* of burn lines, told when the sheet is worked out */
	SVG_LIMIT_NOTICES,       /* of one kind; the rest is counted */
	SVG_LIMIT_COUNT
};

/* 0 stands for the default. Ask with svg_limit_of. */
struct svg_limits {
	uint32_t values[SVG_LIMIT_COUNT];
};

struct svg_limit_row {
	const char *name, *meaning;
	uint32_t standard, most; /* the least is 1 */
};

/* In the order of the enum. */
const struct svg_limit_row *svg_limit_row(enum svg_limit limit);

uint32_t svg_limit_of(const struct svg_limits *limits, enum svg_limit limit);

/*
 * Lets text that grows by copying stay in proportion to what stands in the file: `growth` times as
 * many bytes, with a MiB for small files.
 */
static inline size_t svg_limit_grown(size_t bytes, uint32_t growth)
{
	return bytes * growth + (size_t)1024 * 1024;
}

#endif

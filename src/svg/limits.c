#include "svg/limits.h"

#define MIB UINT32_C(1048576)

static const struct svg_limit_row ROWS[SVG_LIMIT_COUNT] = {
	[SVG_LIMIT_FILE_BYTES] = {"file-bytes", "bytes of a drawing, unpacked", 256 * MIB,
				  INT32_MAX},
	/* Deflate itself can't do more than 1032 to 1 (zlib's technical notes). */
	[SVG_LIMIT_UNPACK_RATIO] = {"unpack-ratio",
				    "how many times as long as a packed file its text may be", 200,
				    1032},
	/* The walk over the elements recurses, so the stack sets the end. */
	[SVG_LIMIT_DEPTH] = {"depth", "elements nested in each other, uses followed", 1000, 3000},
	[SVG_LIMIT_ELEMENTS] = {"elements", "elements of a drawing", 4000000, 100000000},
	/* The parser compares each attribute of a tag with all others of it. */
	[SVG_LIMIT_ATTRIBUTES] = {"attributes", "attributes of one tag", 1000, 20000},
	[SVG_LIMIT_NAMESPACES] = {"namespaces", "namespace declarations that hold at one place",
				  1000, 20000},
	[SVG_LIMIT_ENTITY_BYTES] = {"entity-bytes", "bytes that all declared entities hold",
				    MIB / 4, 16 * MIB},
	[SVG_LIMIT_ENTITY_GROWTH] = {"entity-growth",
				     "how many times as long entities may make the text", 8, 1000},
	[SVG_LIMIT_PLACED] = {"placed", "elements that uses place", 1000000, 100000000},
	[SVG_LIMIT_PLACED_BYTES] = {"placed-bytes",
				    "bytes of attributes that are read again for uses", 256 * MIB,
				    UINT32_MAX},
	[SVG_LIMIT_STYLE_STEPS] = {"style-steps",
				   "comparisons between the style sheets and the elements",
				   200000000, UINT32_MAX},
	[SVG_LIMIT_VERTICES] = {"vertices", "vertices of all outlines", 32000000, 500000000},
	[SVG_LIMIT_CROSSINGS] = {"crossings", "places where lines cross", 1000000, 100000000},
	[SVG_LIMIT_NOTICES] = {"notices", "findings of one kind that the reader lists", 200,
			       1000000},
};

const struct svg_limit_row *svg_limit_row(enum svg_limit limit)
{
	return &ROWS[limit];
}

uint32_t svg_limit_of(const struct svg_limits *limits, enum svg_limit limit)
{
	uint32_t value = limits->values[limit];
	uint32_t most = ROWS[limit].most;
	return value == 0 ? ROWS[limit].standard : value < most ? value : most;
}

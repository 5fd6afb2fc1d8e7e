/* map.h - from offsets in an attribute's value, as the XML parser gives it, to the source. */
#ifndef SVG_MAP_H
#define SVG_MAP_H

#include "cutlint/model.h"
#include "svg/entity.h"

/*
 * White space, line ends and references are followed. What comes from an entity's text has the
 * place of the reference. For an element that stands in an entity's text, and for an attribute
 * that the DOCTYPE gave, the answer is the start of the value's span.
 */
struct svg_map {
	const char *bytes;
	const char *value;
	struct svg_entities *entities;
	struct cutlint_span span;
	bool same;            /* value and source are the same bytes */
	bool lost;            /* nothing is known from here on */
	uint32_t raw, offset; /* how far it was followed: in the source, in the value */
};

struct svg_map svg_map_start(const char *bytes, struct svg_entities *entities,
			     const struct cutlint_element *element,
			     const struct cutlint_attribute *attribute);

/* Cheap for offsets that ascend. */
uint32_t svg_map_byte(struct svg_map *map, uint32_t offset);

#endif

#include "svg/map.h"

#include <string.h>

struct svg_map svg_map_start(const char *bytes, struct svg_entities *entities,
			     const struct cutlint_element *element,
			     const struct cutlint_attribute *attribute)
{
	struct svg_map map = {.bytes = bytes,
			      .value = attribute->value,
			      .entities = entities,
			      .span = attribute->value_span,
			      .raw = attribute->value_span.byte};
	/* no value starts where its tag does: such a span says that nothing more is known */
	map.lost = map.span.length == 0 || map.span.byte == element->start_tag.byte;
	map.same = !map.lost &&
		   strncmp(bytes + map.span.byte, attribute->value, map.span.length) == 0 &&
		   attribute->value[map.span.length] == '\0';
	return map;
}

/* One step of the source: a character, a line end, a reference. */
struct step {
	uint32_t raw;   /* its bytes in the source */
	uint32_t value; /* the bytes that it makes; CUTLINT_NONE where that is not known */
};

static struct step step_at(const struct svg_map *map)
{
	const char *at = map->bytes + map->raw;
	uint32_t left = map->span.byte + map->span.length - map->raw;
	if (at[0] == '\r' && at[1] == '\n')
		return (struct step){2, 1};
	const char *close = at[0] == '&' ? memchr(at, ';', left) : NULL;
	if (!close)
		return (struct step){1, 1};
	size_t length = (size_t)(close - at) - 1;
	return (struct step){(uint32_t)length + 2,
			     svg_entity_length(map->entities, at + 1, length)};
}

uint32_t svg_map_byte(struct svg_map *map, uint32_t offset)
{
	if (map->same)
		return map->span.byte + offset;
	if (offset < map->offset && !map->lost) {
		map->raw = map->span.byte;
		map->offset = 0;
	}
	uint32_t end = map->span.byte + map->span.length;
	while (!map->lost && map->offset < offset && map->raw < end) {
		struct step step = step_at(map);
		map->lost = step.value == CUTLINT_NONE;
		if (!map->lost && offset - map->offset < step.value)
			break; /* within what a reference makes */
		map->raw += step.raw;
		map->offset += step.value;
	}
	return map->lost ? map->span.byte : map->raw;
}

/* How often the transforms that placed a shape mirror it. */
#include <stdbool.h>
#include <string.h>

#include "cutlint/model.h"

/* Reads the signs of a transform function's arguments, from behind its bracket. */
static unsigned read_signs(const char *at, bool negative[6], bool zero[6])
{
	unsigned count = 0;
	while (count < 6) {
		at += strspn(at, " \t\r\n,");
		size_t length = strcspn(at, " \t\r\n,)");
		if (length == 0)
			break;
		negative[count] = *at == '-';
		zero[count] = strspn(at, "+-.0") == length;
		count++;
		at += length;
	}
	return count;
}

/* The flips that a transform attribute's scales and upright matrices hold. */
static unsigned count_flips(const char *transform)
{
	unsigned flips = 0;
	bool negative[6], zero[6];
	for (const char *at = strchr(transform, '('); at; at = strchr(at + 1, '(')) {
		const char *word = at;
		while (word > transform && (word[-1] == ' ' || word[-1] == '\t'))
			word--;
		size_t before = (size_t)(word - transform);
		unsigned count = read_signs(at + 1, negative, zero);
		if (before >= 5 && memcmp(word - 5, "scale", 5) == 0 && count > 0)
			flips += (negative[0] ? 1u : 0u) + (negative[count > 1] ? 1u : 0u);
		else if (before >= 6 && memcmp(word - 6, "matrix", 6) == 0 && count == 6 &&
			 zero[1] && zero[2])
			flips += (negative[0] ? 1u : 0u) + (negative[3] ? 1u : 0u);
	}
	return flips;
}

static unsigned flips_above(const struct cutlint_element *element)
{
	unsigned flips = 0;
	for (; element; element = element->parent)
		for (uint32_t i = 0; i < element->attribute_count; i++)
			if (strcmp(element->attributes[i].name, "transform") == 0)
				flips += count_flips(element->attributes[i].value);
	return flips;
}

unsigned cutlint_shape_flips(const struct cutlint_shape *shape)
{
	unsigned flips = flips_above(shape->element);
	for (const struct cutlint_placement *at = shape->placement; at; at = at->outer)
		flips += flips_above(at->use);
	return flips;
}

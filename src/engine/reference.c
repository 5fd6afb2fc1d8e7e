#include "engine/reference.h"

#include <stdlib.h>
#include <string.h>

/* What an element draws, it or what is in it, wherever uses place it. */
enum drawn { DRAWS_NOTHING, DRAWS_REFERENCE, DRAWS_BURNED };

/* Those above an element that is marked are marked, too, so the sum of all steps is linear. */
static void mark_up(unsigned char *drawn, const struct cutlint_element *element, enum drawn how)
{
	for (; element && drawn[element->index] < how; element = element->parent)
		drawn[element->index] = (unsigned char)how;
}

static void mark(unsigned char *drawn, const struct cutlint_shape *shape)
{
	enum drawn how = cutlint_role_burned(shape->role) ? DRAWS_BURNED : DRAWS_REFERENCE;
	mark_up(drawn, shape->element, how);
	for (const struct cutlint_placement *at = shape->placement; at; at = at->outer)
		mark_up(drawn, at->use, how);
}

static bool has_server(const struct cutlint_shape *shape)
{
	return shape->fill.kind == CUTLINT_PAINT_SERVER ||
	       shape->stroke.kind == CUTLINT_PAINT_SERVER;
}

struct kinds {
	const unsigned char *drawn;
	bool servers_burn; /* a gradient or pattern paints what is burned, somewhere */
};

/* A gradient or pattern is said once, at the first shape that it paints. */
static bool is_of_reference(const struct kinds *kinds, const struct notice *notice)
{
	static const char *const CODES[] = {
		"live-text", "raster-image", "foreign-object", "clip-path", "mask",
		"viewport",  "filter",       "marker",         "gradient",  "pattern"};
	if (!notice->element || notice->level == NOTICE_FATAL ||
	    kinds->drawn[notice->element->index] != DRAWS_REFERENCE)
		return false;
	bool server = strcmp(notice->code, "gradient") == 0 || strcmp(notice->code, "pattern") == 0;
	for (size_t i = 0; i < sizeof(CODES) / sizeof(*CODES); i++) {
		if (strcmp(notice->code, CODES[i]) == 0)
			return !(server && kinds->servers_burn);
	}
	return false;
}

int reference_leave_out(struct notices *notices, const struct cutlint_design *design)
{
	unsigned char *drawn = calloc((size_t)design->element_count + 1, 1);
	if (!drawn)
		return -1;
	struct kinds kinds = {.drawn = drawn};
	for (uint32_t i = 0; i < design->shape_count; i++) {
		const struct cutlint_shape *shape = &design->shapes[i];
		mark(drawn, shape);
		kinds.servers_burn = kinds.servers_burn ||
				     (cutlint_role_burned(shape->role) && has_server(shape));
	}
	uint32_t kept = 0;
	for (uint32_t i = 0; i < notices->count; i++) {
		if (!is_of_reference(&kinds, &notices->items[i]))
			notices->items[kept++] = notices->items[i];
	}
	notices->count = kept;
	free(drawn);
	return 0;
}

#include "sheet/chains.h"

#include "sheet/work.h"

int chains_collect(struct arena *arena, const struct cutlint_design *design, chains_want *want,
		   const void *user, struct chains *out)
{
	size_t outlines = design->outline_count;
	struct geo_chain *chains = ARENA_ARRAY(arena, struct geo_chain, outlines + 1);
	uint32_t *numbers = ARENA_ARRAY(arena, uint32_t, outlines + 1);
	if (!chains || !numbers)
		return -1;
	uint32_t count = 0;
	for (uint32_t i = 0; i < outlines; i++) {
		const struct cutlint_outline *outline = &design->outlines[i];
		if (!sheet_has_sides(outline) || !want(user, i))
			continue;
		chains[count] = (struct geo_chain){outline->first_vertex, outline->vertex_count,
						   outline->closed};
		numbers[count++] = i;
	}
	out->lines = (struct geo_lines){design->vertices, chains, design->vertex_count, count};
	out->outlines = numbers;
	return 0;
}

struct geo_lines chains_of_outline(const struct cutlint_design *design, uint32_t number,
				   struct geo_chain *chain)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	*chain = (struct geo_chain){outline->first_vertex, outline->vertex_count, outline->closed};
	return (struct geo_lines){design->vertices, chain, design->vertex_count, 1};
}

bool chains_want_cut(const void *user, uint32_t outline)
{
	return cutlint_role_cuts(cutlint_outline_role(user, outline));
}

bool chains_want_burned(const void *user, uint32_t outline)
{
	return chains_want_cut(user, outline) ||
	       cutlint_outline_role(user, outline) == CUTLINT_ROLE_FOLD;
}

bool chains_want_closed_art(const void *user, uint32_t outline)
{
	const struct cutlint_design *design = user;
	return design->outlines[outline].closed &&
	       cutlint_outline_role(design, outline) == CUTLINT_ROLE_ART;
}

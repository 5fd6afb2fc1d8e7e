#include "sheet/runs.h"

/* Colours are their own number; what has no single colour comes after them. */
static uint32_t paint_number(const struct cutlint_paint *paint)
{
	const uint32_t past_colours = 0x1000000;
	return paint->kind == CUTLINT_PAINT_COLOUR ? paint->rgb : past_colours;
}

int runs_init(struct runs *runs, struct arena *arena, const struct cutlint_design *design)
{
	runs->leaves = 1;
	while (runs->leaves < design->shape_count)
		runs->leaves *= 2;
	runs->nodes = ARENA_ARRAY(arena, struct run_node, 2 * (size_t)runs->leaves);
	uint32_t *paints = ARENA_ARRAY(arena, uint32_t, (size_t)design->shape_count + 1);
	if (!runs->nodes || !paints)
		return -1;
	for (uint32_t i = 0; i < design->shape_count; i++)
		paints[i] = paint_number(&design->shapes[i].fill);
	runs->paints = paints;
	return 0;
}

static struct run_node join(const struct run_node *left, const struct run_node *right)
{
	if (left->runs == 0)
		return *right;
	if (right->runs == 0)
		return *left;
	uint32_t shared = left->last == right->first ? 1 : 0;
	return (struct run_node){left->first, right->last, left->runs + right->runs - shared};
}

void runs_set(struct runs *runs, uint32_t shape, bool present)
{
	uint32_t node = runs->leaves + shape;
	runs->nodes[node] = present ? (struct run_node){runs->paints[shape], runs->paints[shape], 1}
				    : (struct run_node){0, 0, 0};
	for (node /= 2; node >= 1; node /= 2)
		runs->nodes[node] = join(&runs->nodes[2 * node], &runs->nodes[2 * node + 1]);
}

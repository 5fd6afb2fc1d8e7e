/*
 * A sweep in the order of x, then y, over the nodes where something starts, ends or branches (M. I.
 * Shamos, D. Hoey, "Geometric intersection problems", 1976): the run straight below the first node
 * of a rim bounds the face that the rim lies in.
 */
#include <stdlib.h>

#include "geometry/faces.h"
#include "geometry/status.h"

struct event {
	struct cutlint_point at;
	uint32_t node;
};

struct sweep {
	struct geo_cycles *cycles;
	const struct geo_arrangement *arrangement;
	const struct geo_rotation *rotation;
	struct status status;
};

static int in_order(const void *a, const void *b)
{
	return geo_order(((const struct event *)a)->at, ((const struct event *)b)->at);
}

/* Whether a run just goes on at a node: one half-edge to the right, one to the left. */
static bool goes_on(const struct geo_rotation *rotation, uint32_t node)
{
	const uint32_t *half_edges = rotation->half_edges + rotation->first[node];
	return rotation->first[node + 1] - rotation->first[node] == 2 && !(half_edges[0] & 1) &&
	       (half_edges[1] & 1);
}

static struct event *list_events(const struct geo_arrangement *arrangement,
				 const struct geo_rotation *rotation, uint32_t *count)
{
	*count = 0;
	for (uint32_t node = 0; node < arrangement->node_count; node++)
		*count += !goes_on(rotation, node);
	struct event *events = malloc(*count * sizeof(*events) + 1);
	if (!events)
		return NULL;
	for (uint32_t node = 0, at = 0; node < arrangement->node_count; node++)
		if (!goes_on(rotation, node))
			events[at++] = (struct event){arrangement->nodes[node], node};
	qsort(events, *count, sizeof(*events), in_order);
	return events;
}

/* Puts a rim into the face over the run below its first node; what lies below began earlier. */
static void nest(struct sweep *sweep, uint32_t top_half_edge, uint32_t below)
{
	const struct geo_arrangement *arrangement = sweep->arrangement;
	struct geo_cycle *rim = &sweep->cycles->items[arrangement->face[top_half_edge]];
	if (rim->area2 > 0 || geo_half_edge_from(arrangement, rim->half_edge) !=
				      geo_half_edge_from(arrangement, top_half_edge))
		return;
	rim->face = 0;
	if (below == GEO_NONE)
		return;
	rim->under = 2 * sweep->status.runs[below].edge;
	rim->face = sweep->cycles->items[arrangement->face[rim->under]].face;
}

static int pass_node(struct sweep *sweep, uint32_t node)
{
	const uint32_t *half_edges = sweep->rotation->half_edges + sweep->rotation->first[node];
	uint32_t degree = sweep->rotation->first[node + 1] - sweep->rotation->first[node];
	uint32_t right = 0;
	while (right < degree && !(half_edges[right] & 1))
		right++;
	struct status *status = &sweep->status;
	uint32_t below = status_below(status, sweep->arrangement->nodes[node]);
	if (right == degree)
		nest(sweep, half_edges[right - 1], below);
	for (uint32_t i = right; i < degree; i++)
		status_remove(status,
			      below == GEO_NONE ? status->lowest : status->runs[below].above);
	for (uint32_t i = 0; i < right; i++) {
		below = status_insert(status, below, half_edges[i] / 2);
		if (below == GEO_NONE)
			return -1;
	}
	return 0;
}

int geo_rims_nest(struct geo_cycles *cycles, const struct geo_arrangement *arrangement,
		  const struct geo_rotation *rotation)
{
	uint32_t event_count;
	struct event *events = list_events(arrangement, rotation, &event_count);
	if (!events)
		return -1;
	struct sweep sweep = {cycles, arrangement, rotation, {0}};
	status_init(&sweep.status, arrangement);
	int status = 0;
	for (uint32_t i = 0; i < event_count && !status; i++)
		status = pass_node(&sweep, events[i].node);
	status_finish(&sweep.status);
	free(events);
	return status;
}

#include "sheet/walls.h"

#include <math.h>

#include "geometry/distance.h"

static struct geo_vector vector(struct cutlint_point point)
{
	return (struct geo_vector){point.x, point.y};
}

static void add_chain(struct walls *walls, uint32_t number, uint32_t *count)
{
	const struct geo_chain *chain = &walls->lines->chains[number];
	const struct cutlint_point *points = walls->lines->points;
	uint32_t sides = chain->closed ? chain->count : chain->count - 1;
	for (uint32_t i = 0; i < sides; i++) {
		uint32_t from = chain->first + i;
		uint32_t to = chain->first + (i + 1) % chain->count;
		walls->segments[*count] = (struct geo_segment){points[from], points[to]};
		walls->starts[*count] = from;
		walls->chains[(*count)++] = number;
	}
}

int walls_init(struct walls *walls, struct arena *arena, const struct geo_lines *lines,
	       const double *reaches)
{
	*walls = (struct walls){.lines = lines, .reaches = reaches};
	size_t total = 0, longest = 0;
	for (uint32_t i = 0; i < lines->chain_count; i++) {
		const struct geo_chain *chain = &lines->chains[i];
		total += chain->count;
		if (!chain->closed && chain->count > longest)
			longest = chain->count;
	}
	walls->segments = ARENA_ARRAY(arena, struct geo_segment, total + 1);
	walls->starts = ARENA_ARRAY(arena, uint32_t, total + 1);
	walls->chains = ARENA_ARRAY(arena, uint32_t, total + 1);
	walls->along = ARENA_ARRAY(arena, double, longest + 1);
	if (!walls->segments || !walls->starts || !walls->chains || !walls->along)
		return -1;

	uint32_t count = 0;
	for (uint32_t i = 0; i < lines->chain_count; i++)
		add_chain(walls, i, &count);
	walls->index = geo_index_create(walls->segments, count);
	return walls->index ? 0 : -1;
}

void walls_finish(struct walls *walls)
{
	geo_index_destroy(walls->index);
	walls->index = NULL;
}

struct search {
	const struct walls *walls;
	uint32_t chain; /* whose end it is */
	uint32_t end;   /* the vertex */
	struct geo_vector at;
	struct walls_near best;
};

/* Whether the chain comes back to its own end here, rather than just leaving it. */
static bool comes_back(const struct search *search, uint32_t start, struct geo_vector foot,
		       double distance)
{
	const struct walls *walls = search->walls;
	uint32_t first = walls->lines->chains[search->chain].first;
	struct geo_vector from = vector(walls->lines->points[start]);
	double here = walls->along[start - first] + hypot(foot.x - from.x, foot.y - from.y);
	return fabs(here - walls->along[search->end - first]) > 2 * distance;
}

static void visit(void *user, uint32_t segment, double *reach)
{
	struct search *search = user;
	const struct walls *walls = search->walls;
	const struct geo_segment *side = &walls->segments[segment];
	uint32_t start = walls->starts[segment], chain = walls->chains[segment];
	/* Where many lines meet in one place, most are out by their number. */
	if (search->best.distance == 0 && start >= search->best.vertex)
		return;
	struct geo_vector foot =
		geo_nearest_on_segment(vector(side->from), vector(side->to), search->at);
	double distance = hypot(foot.x - search->at.x, foot.y - search->at.y);
	bool nearer = distance < search->best.distance ||
		      (distance == search->best.distance && start < search->best.vertex);
	if (!nearer || distance > *reach || (walls->reaches && distance > walls->reaches[chain]))
		return;
	if (chain == search->chain && !comes_back(search, start, foot, distance))
		return;
	search->best = (struct walls_near){start, chain, foot, distance};
	*reach = distance;
}

struct walls_near walls_nearest(struct walls *walls, uint32_t chain, bool last, double reach)
{
	const struct geo_chain *own = &walls->lines->chains[chain];
	const struct cutlint_point *points = walls->lines->points + own->first;
	walls->along[0] = 0;
	for (uint32_t i = 1; i < own->count; i++)
		walls->along[i] =
			walls->along[i - 1] + hypot((double)points[i].x - points[i - 1].x,
						    (double)points[i].y - points[i - 1].y);

	uint32_t end = own->first + (last ? own->count - 1 : 0);
	struct search search = {walls,
				chain,
				end,
				vector(walls->lines->points[end]),
				{.vertex = GEO_NONE, .distance = INFINITY}};
	geo_index_near(walls->index, search.at, reach, visit, &search);
	return search.best;
}

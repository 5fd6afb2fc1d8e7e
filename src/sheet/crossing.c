/* Points in which two burned lines cross or touch. */
#include <math.h>
#include <stdlib.h>

#include "base/list.h"
#include "sheet/doubled.h"
#include "sheet/parted.h"
#include "sheet/xy.h"

/* In a node where more lines meet, only the first so many of their ends are looked at. */
enum { ARMS = 64 };

/*
 * An open line that ends so soon behind another one (mm) was meant to end on it: nearly closed, in
 * the trade's words. Common practice, no source.
 */
static const double OVERRUN_MM = 1.0;

/* A line that leaves a node, or comes to it. */
struct arm {
	uint32_t chain, segment;
	uint32_t spot; /* its place in the order round the node */
	bool starts;   /* the segment starts here */
	bool ends;     /* it ends here; neither: it goes through */
	bool used;
};

/* A line that goes through a node, on two arms. */
struct pass {
	uint32_t chain, segment;
	uint32_t spots[2];
};

struct node {
	uint32_t number;
	struct arm arms[ARMS];
	struct pass passes[ARMS];
	uint32_t arm_count, pass_count;
};

struct search {
	const struct parted *parted;
	struct doubled doubled;
	struct cutlint_crossing *items;
	uint32_t count, capacity;
};

static const struct geo_lines *lines_of(const struct search *search)
{
	return &search->parted->burn->lines;
}

static bool same_point(struct cutlint_point a, struct cutlint_point b)
{
	return a.x == b.x && a.y == b.y;
}

static uint32_t next_round(const struct geo_arrangement *arrangement, uint32_t half)
{
	return arrangement->next[half ^ 1];
}

static void add_arm(const struct search *search, struct node *node, uint32_t segment, uint32_t spot)
{
	const struct geo_lines *lines = lines_of(search);
	uint32_t chain = geo_lines_chain(lines, segment);
	uint32_t next = geo_chain_next(&lines->chains[chain], segment);
	struct cutlint_point at = search->parted->arrangement->nodes[node->number];
	if (node->arm_count == ARMS || next == GEO_NONE)
		return;
	node->arms[node->arm_count++] =
		(struct arm){.chain = chain,
			     .segment = segment,
			     .spot = spot,
			     .starts = same_point(lines->points[segment], at),
			     .ends = same_point(lines->points[next], at)};
}

static int compare_arms(const void *left, const void *right)
{
	const struct arm *a = left, *b = right;
	if (a->chain != b->chain)
		return a->chain < b->chain ? -1 : 1;
	if (a->segment != b->segment)
		return a->segment < b->segment ? -1 : 1;
	return a->spot < b->spot ? -1 : a->spot > b->spot;
}

static void collect_arms(const struct search *search, uint32_t first, struct node *node)
{
	const struct geo_arrangement *arrangement = search->parted->arrangement;
	uint32_t half = first, spot = 0;
	node->arm_count = 0;
	do {
		uint32_t count;
		const uint32_t *covers = geo_covers(arrangement, half / 2, &count);
		for (uint32_t i = 0; i < count; i++)
			add_arm(search, node, covers[i], spot);
		spot++;
		half = next_round(arrangement, half);
	} while (half != first);
	qsort(node->arms, node->arm_count, sizeof *node->arms, compare_arms);
}

/* Whether an open line goes on for more than OVERRUN_MM from a node, to its start or to its end. */
static bool goes_on(const struct search *search, const struct node *node, const struct arm *arm,
		    bool back)
{
	const struct geo_lines *lines = lines_of(search);
	const struct geo_chain *chain = &lines->chains[arm->chain];
	struct cutlint_xy at = cutlint_point_mm(search->parted->arrangement->nodes[node->number]);
	double reach = fmax(OVERRUN_MM, search->parted->work->job->join_mm), way = 0;
	uint32_t last = chain->first + chain->count - 1;
	uint32_t vertex = back ? arm->segment : geo_chain_next(chain, arm->segment);
	while (!chain->closed && way <= reach) {
		struct cutlint_xy next = cutlint_point_mm(lines->points[vertex]);
		way += xy_distance(at, next);
		at = next;
		if (way <= reach && vertex == (back ? chain->first : last))
			return false;
		vertex = back ? vertex - 1 : vertex + 1;
	}
	return true;
}

static void add_pass(const struct search *search, struct node *node, struct arm *in,
		     struct arm *out)
{
	in->used = out->used = true;
	if (!goes_on(search, node, in, true) || !goes_on(search, node, out, false))
		return;
	node->passes[node->pass_count++] =
		(struct pass){in->chain, out->segment, {in->spot, out->spot}};
}

/* The arm on which a line that came in on another one goes on: the next segment round its chain. */
static struct arm *arm_after(struct node *node, uint32_t first, uint32_t end, const struct arm *in)
{
	struct arm *least = NULL, *next = NULL;
	for (uint32_t i = first; i < end; i++) {
		struct arm *arm = &node->arms[i];
		if (arm->used || !arm->starts || arm->ends)
			continue;
		if (!least)
			least = arm;
		if (!next && arm->segment > in->segment)
			next = arm;
	}
	return next ? next : least;
}

/* Pairs the arms of one chain. */
static void pair_arms(const struct search *search, struct node *node, uint32_t first, uint32_t end)
{
	struct arm *arms = node->arms;
	for (uint32_t i = first; i + 1 < end; i++) {
		bool through = !arms[i].starts && !arms[i].ends && !arms[i].used;
		if (through && arms[i + 1].segment == arms[i].segment)
			add_pass(search, node, &arms[i], &arms[i + 1]);
	}
	for (uint32_t i = first; i < end; i++) {
		if (arms[i].used || !arms[i].ends || arms[i].starts)
			continue;
		struct arm *out = arm_after(node, first, end, &arms[i]);
		if (out)
			add_pass(search, node, &arms[i], out);
	}
}

static void collect_passes(const struct search *search, struct node *node)
{
	uint32_t first = 0;
	node->pass_count = 0;
	while (first < node->arm_count) {
		uint32_t end = first;
		while (end < node->arm_count && node->arms[end].chain == node->arms[first].chain)
			end++;
		pair_arms(search, node, first, end);
		first = end;
	}
}

/* Whether two passes have an edge in common: then they run along each other. */
static bool share_edge(const struct pass *a, const struct pass *b)
{
	return a->spots[0] == b->spots[0] || a->spots[0] == b->spots[1] ||
	       a->spots[1] == b->spots[0] || a->spots[1] == b->spots[1];
}

static bool alternate(const struct pass *a, const struct pass *b)
{
	uint32_t low = a->spots[0] < a->spots[1] ? a->spots[0] : a->spots[1];
	uint32_t high = a->spots[0] < a->spots[1] ? a->spots[1] : a->spots[0];
	bool first = b->spots[0] > low && b->spots[0] < high;
	bool second = b->spots[1] > low && b->spots[1] < high;
	return first != second;
}

static bool is_doubled(const struct search *search, const struct cutlint_crossing *crossing)
{
	return doubled_at(&search->doubled, crossing->walls[0].outline, crossing->walls[1].outline,
			  crossing->walls[0].at);
}

/* The loose parts whose boundary has a corner in the node. */
static void find_loose(const struct search *search, uint32_t first,
		       struct cutlint_crossing *crossing)
{
	const struct parted *parted = search->parted;
	uint32_t half = first, count = 0;
	for (int i = 0; i < 4; i++)
		crossing->loose[i] = CUTLINT_NONE;
	do {
		uint32_t part = parted->of_half[half];
		bool found = parted_kind(parted, half) == CUTLINT_PART_LOOSE;
		for (uint32_t i = 0; i < count && found; i++)
			found = crossing->loose[i] != part;
		if (found)
			crossing->loose[count++] = part;
		half = next_round(parted->arrangement, half);
	} while (half != first && count < 4);
}

static enum cutlint_crossing_kind kind_of(const struct search *search, const struct pass *a,
					  const struct pass *b)
{
	const struct burn_chain *chains = search->parted->burn->chains;
	if (chains[a->chain].outline == chains[b->chain].outline)
		return CUTLINT_CROSSING_SELF;
	if (!alternate(a, b))
		return CUTLINT_CROSSING_TOUCH;
	bool edge =
		chains[a->chain].meaning == BURN_BOUNDS || chains[b->chain].meaning == BURN_BOUNDS;
	return edge ? CUTLINT_CROSSING_EDGE : CUTLINT_CROSSING_CROSS;
}

static int keep(struct search *search, const struct cutlint_crossing *crossing)
{
	return LIST_ADD(search->items, search->count, search->capacity, *crossing) ? 0 : -1;
}

static int compare_passes(struct search *search, const struct node *node, uint32_t first,
			  const struct pass *a, const struct pass *b)
{
	const struct geo_arrangement *arrangement = search->parted->arrangement;
	struct cutlint_xy at = cutlint_point_mm(arrangement->nodes[node->number]);
	struct cutlint_wall walls[2] = {parted_wall(search->parted, a->segment, at),
					parted_wall(search->parted, b->segment, at)};
	/* The page's edge has no vertex; NONE + 1 is 0, so that it comes before all. */
	int later = walls[1].vertex + 1 > walls[0].vertex + 1 ? 1 : 0;
	struct cutlint_crossing crossing = {.kind = kind_of(search, a, b),
					    .walls = {walls[later], walls[1 - later]}};
	if (share_edge(a, b) || is_doubled(search, &crossing))
		return 0;
	find_loose(search, first, &crossing);
	return keep(search, &crossing);
}

static int look_at(struct search *search, uint32_t number, uint32_t first)
{
	struct node node = {.number = number};
	collect_arms(search, first, &node);
	collect_passes(search, &node);
	for (uint32_t i = 0; i < node.pass_count; i++) {
		for (uint32_t k = i + 1; k < node.pass_count; k++) {
			if (compare_passes(search, &node, first, &node.passes[i],
					   &node.passes[k]) != 0)
				return -1;
		}
	}
	return 0;
}

static int compare_crossings(const void *left, const void *right)
{
	const struct cutlint_crossing *a = left, *b = right;
	for (int i = 0; i < 2; i++) {
		uint32_t first = a->walls[i].outline + 1, second = b->walls[i].outline + 1;
		if (first != second)
			return first < second ? -1 : 1;
	}
	int order = xy_compare(a->walls[0].at, b->walls[0].at);
	if (order != 0)
		return order;
	return a->kind < b->kind ? -1 : a->kind > b->kind;
}

static int hand_over(struct search *search)
{
	struct sheet_work *work = search->parted->work;
	struct cutlint_crossing *crossings =
		ARENA_ARRAY(work->arena, struct cutlint_crossing, (size_t)search->count + 1);
	if (!crossings)
		return -1;
	for (uint32_t i = 0; i < search->count; i++)
		crossings[i] = search->items[i];
	qsort(crossings, search->count, sizeof *crossings, compare_crossings);
	work->sheet->crossings = crossings;
	work->sheet->crossing_count = search->count;
	return 0;
}

/* Lines can only cross where at least four edges meet. */
int parted_find_crossings(const struct parted *parted)
{
	const struct geo_arrangement *arrangement = parted->arrangement;
	struct search search = {.parted = parted};
	uint8_t *degrees =
		ARENA_ARRAY(parted->work->scratch, uint8_t, (size_t)arrangement->node_count + 1);
	if (!degrees)
		return -1;
	int status = doubled_init(&search.doubled, parted->work);
	for (uint32_t h = 0; h < 2 * arrangement->edge_count && status == 0; h++) {
		uint32_t node = geo_half_edge_from(arrangement, h);
		if (degrees[node] < 4 && ++degrees[node] == 4)
			status = look_at(&search, node, h);
	}
	if (status == 0)
		status = hand_over(&search);
	doubled_finish(&search.doubled);
	free(search.items);
	return status;
}

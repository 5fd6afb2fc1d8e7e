#include "sheet/neck.h"

#include <math.h>
#include <stdlib.h>

#include "sheet/refine.h"

/*
 * How far a neck's width has to rise on both sides: the larger of 4 × flatness, which covers the
 * chords of both walls, and this share of the width.
 */
static const double TAU_SHARE = 0.05;

struct measure {
	const struct sheet_work *work;
	const struct burn *burn;
	const struct geo_arrangement *arrangement;
	const struct intent *intent;
	uint64_t *doubled; /* pairs of outlines that share a stretch, ascending */
	uint32_t doubled_count;
};

/* What the lines under one wall of a neck are. */
struct wall_facts {
	uint32_t segment; /* the first that is burned, else the first */
	bool burned, edge;
};

static struct wall_facts look_at_wall(const struct measure *measure, uint32_t half)
{
	uint32_t count;
	const uint32_t *covers = geo_covers(measure->arrangement, half / 2, &count);
	struct wall_facts facts = {covers[0], false, false};
	for (uint32_t i = 0; i < count; i++) {
		const struct burn_chain *chain = burn_chain_of(measure->burn, covers[i]);
		if (chain->burned && !facts.burned)
			facts.segment = covers[i];
		facts.burned = facts.burned || chain->burned;
		facts.edge = facts.edge || chain->meaning == BURN_BOUNDS;
	}
	return facts;
}

/* Whether a foot stands where a segment meets another line, away from its own ends. */
static bool is_crossing(const struct measure *measure, const struct geo_foot *foot,
			uint32_t segment)
{
	const double rounding = 2; /* nm */
	const struct geo_arrangement *arrangement = measure->arrangement;
	const struct geo_lines *lines = &measure->burn->lines;
	const struct geo_chain *chain = &lines->chains[geo_lines_chain(lines, segment)];
	struct cutlint_point ends[2] = {lines->points[segment],
					lines->points[geo_chain_next(chain, segment)]};
	for (uint32_t i = 0; i < 2; i++) {
		uint32_t node = geo_half_edge_from(arrangement, foot->half_edge ^ i);
		struct cutlint_point at = arrangement->nodes[node];
		bool own = (at.x == ends[0].x && at.y == ends[0].y) ||
			   (at.x == ends[1].x && at.y == ends[1].y);
		if (!own && hypot(at.x - foot->at.x, at.y - foot->at.y) <= rounding)
			return true;
	}
	return false;
}

static struct cutlint_wall name_wall(const struct measure *measure, const struct refine_foot *foot)
{
	return (struct cutlint_wall){
		burn_chain_of(measure->burn, foot->segment)->outline,
		burn_vertex(measure->burn, measure->work->design, foot->segment), foot->at};
}

/* Whether a comes later in the file than b; the page's edge comes before all. */
static bool is_later(const struct cutlint_wall *a, const struct cutlint_wall *b)
{
	if (a->outline == CUTLINT_NONE || b->outline == CUTLINT_NONE)
		return b->outline == CUTLINT_NONE && a->outline != CUTLINT_NONE;
	return a->vertex > b->vertex;
}

static bool is_near(const struct cutlint_design *design, struct cutlint_xy at, uint32_t vertex,
		    double reach)
{
	struct cutlint_xy end = cutlint_point_mm(design->vertices[vertex]);
	return hypot(end.x - at.x, end.y - at.y) <= reach;
}

/*
 * Whether a neck lies between the two ends of one open path that is not meant to be open. Where an
 * end faces the other one's side, the foot on that side may be off its end by half the width.
 */
static bool is_open_gap(const struct cutlint_design *design, const struct cutlint_wall walls[2],
			double drawn)
{
	uint32_t number = walls[0].outline;
	if (number == CUTLINT_NONE || number != walls[1].outline)
		return false;
	const struct cutlint_outline *outline = &design->outlines[number];
	if (outline->closed || cutlint_outline_role(design, number) == CUTLINT_ROLE_SLIT)
		return false;
	uint32_t first = sheet_end_vertex(outline, false), last = sheet_end_vertex(outline, true);
	double reach = fmax(2 * design->flatness_mm, drawn / 2);
	return (is_near(design, walls[0].at, first, reach) &&
		is_near(design, walls[1].at, last, reach)) ||
	       (is_near(design, walls[0].at, last, reach) &&
		is_near(design, walls[1].at, first, reach));
}

static enum cutlint_neck_kind first_kind(enum geo_neck_kind kind)
{
	switch (kind) {
	case GEO_STRIP:
		return CUTLINT_NECK_STRIP;
	case GEO_CONTACT:
		return CUTLINT_NECK_CONTACT;
	case GEO_NECK:
		break;
	}
	return CUTLINT_NECK_THIN_WALL;
}

/* A bridge as wide as the kerf leaves nothing, however its figures are rounded. */
static double left_of(double width_mm)
{
	return fabs(width_mm) <= SHEET_SLACK_MM ? 0 : width_mm;
}

static struct cutlint_neck measure_neck(const struct measure *measure, const struct geo_neck *found)
{
	const struct cutlint_design *design = measure->work->design;
	struct wall_facts facts[2];
	struct refine_foot feet[2];
	for (int i = 0; i < 2; i++) {
		facts[i] = look_at_wall(measure, found->feet[i].half_edge);
		feet[i] = (struct refine_foot){
			facts[i].segment, sheet_mm(found->feet[i].at),
			is_crossing(measure, &found->feet[i], facts[i].segment)};
	}
	struct cutlint_neck neck = {.kind = first_kind(found->kind)};
	double half_kerf = measure->work->job->kerf_mm / 2;
	neck.drawn_mm =
		found->kind == GEO_CONTACT ? 0 : refine_width(design, &measure->burn->lines, feet);
	neck.width_mm = left_of(neck.drawn_mm - (facts[0].burned ? half_kerf : 0) -
				(facts[1].burned ? half_kerf : 0));
	neck.length_mm = found->length / SHEET_NM;
	neck.at_edge = facts[0].edge || facts[1].edge;
	neck.card = measure->intent->cards[found->face];
	neck.held = neck.parts[0] = neck.parts[1] = CUTLINT_NONE;
	for (int i = 0; i < 2; i++) {
		neck.walls[i] = name_wall(measure, &feet[i]);
		neck.ends[i] = sheet_mm(found->ends[i]);
	}
	if (is_later(&neck.walls[1], &neck.walls[0])) {
		struct cutlint_wall swap = neck.walls[0];
		neck.walls[0] = neck.walls[1];
		neck.walls[1] = swap;
	}
	neck.open_gap = is_open_gap(design, neck.walls, neck.drawn_mm);
	return neck;
}

static uint64_t pair_key(uint32_t a, uint32_t b)
{
	return a < b ? (uint64_t)a << 32 | b : (uint64_t)b << 32 | a;
}

static int compare_keys(const void *left, const void *right)
{
	const uint64_t *a = left, *b = right;
	return *a < *b ? -1 : *a > *b;
}

static int collect_doubled(struct sheet_work *work, struct measure *measure)
{
	measure->doubled = ARENA_ARRAY(work->scratch, uint64_t, (size_t)work->overlap_count + 1);
	if (!measure->doubled)
		return -1;
	measure->doubled_count = work->overlap_count;
	for (uint32_t i = 0; i < work->overlap_count; i++)
		measure->doubled[i] =
			pair_key(work->overlaps[i].outline[0], work->overlaps[i].outline[1]);
	qsort(measure->doubled, measure->doubled_count, sizeof *measure->doubled, compare_keys);
	return 0;
}

/* Whether a contact is only the corner between two sides of one line that follow on each other. */
static bool is_corner(const struct measure *measure, const struct cutlint_neck *neck)
{
	const struct geo_lines *lines = &measure->burn->lines;
	uint32_t a = neck->walls[0].vertex, b = neck->walls[1].vertex;
	if (neck->kind != CUTLINT_NECK_CONTACT || a == CUTLINT_NONE || b == CUTLINT_NONE)
		return false;
	return geo_chain_next(&lines->chains[geo_lines_chain(lines, a)], a) == b ||
	       geo_chain_next(&lines->chains[geo_lines_chain(lines, b)], b) == a;
}

/* Whether a neck is the sliver between two lines that count as one line burned twice. */
static bool is_doubled(const struct measure *measure, const struct cutlint_neck *neck)
{
	if (neck->kind == CUTLINT_NECK_CONTACT ||
	    neck->drawn_mm > SHEET_APART_MM + 2 * measure->work->design->flatness_mm)
		return false;
	uint64_t key = pair_key(neck->walls[0].outline, neck->walls[1].outline);
	return bsearch(&key, measure->doubled, measure->doubled_count, sizeof key, compare_keys);
}

static int search(struct sheet_work *work, const struct geo_arrangement *arrangement,
		  const struct intent *intent, struct geo_necks *found)
{
	bool *kept = ARENA_ARRAY(work->scratch, bool, (size_t)arrangement->face_count + 1);
	if (!kept)
		return -1;
	for (uint32_t f = 0; f < arrangement->face_count; f++)
		kept[f] = intent->kinds[f] == FACE_KEPT;

	/* Limits are for what is left after the burn, and true curves may be nearer than chords. */
	double flatness = work->design->flatness_mm;
	double drawn = work->limit_mm + work->job->kerf_mm + 2 * flatness;
	struct geo_neck_search options = {drawn * SHEET_NM, 4 * flatness * SHEET_NM, TAU_SHARE,
					  kept};
	return geo_necks_find(arrangement, &options, found);
}

/* The pieces at a neck: those it parts, or for one that does not cut, those at its two walls. */
static struct sheet_neck set_pieces(const struct geo_pieces *pieces, uint32_t number,
				    const struct geo_neck *found, struct cutlint_neck *neck)
{
	bool cuts = found->kind == GEO_NECK;
	struct sheet_neck item = {.sound = false};
	for (uint32_t i = 0; i < 2; i++)
		item.pieces[i] = cuts ? pieces->sides[2 * number + i]
				      : pieces->of_half_edge[found->feet[i].half_edge];
	if (!cuts)
		return item;
	bool bridge = item.pieces[0] != item.pieces[1];
	neck->kind = bridge ? CUTLINT_NECK_BRIDGE : CUTLINT_NECK_THIN_WALL;
	item.sound = bridge && neck->width_mm > 0;
	return item;
}

static int cut(struct sheet_work *work, const struct geo_arrangement *arrangement,
	       const struct geo_necks *found, struct sheet_necks *out)
{
	bool *chosen = ARENA_ARRAY(work->scratch, bool, (size_t)found->count + 1);
	if (!chosen)
		return -1;
	for (uint32_t i = 0; i < found->count; i++)
		chosen[i] = found->items[i].kind == GEO_NECK;
	return geo_pieces_cut(arrangement, found, chosen, &out->pieces,
			      work->picture ? &out->rings : NULL);
}

static int measure_all(struct sheet_work *work, struct measure *measure,
		       const struct geo_necks *found, struct sheet_necks *out)
{
	out->items = ARENA_ARRAY(work->scratch, struct sheet_neck, (size_t)found->count + 1);
	out->necks = ARENA_ARRAY(work->arena, struct cutlint_neck, (size_t)found->count + 1);
	if (!out->items || !out->necks || collect_doubled(work, measure) != 0)
		return -1;
	for (uint32_t i = 0; i < found->count; i++) {
		struct cutlint_neck neck = measure_neck(measure, &found->items[i]);
		if (is_doubled(measure, &neck) || is_corner(measure, &neck))
			continue;
		out->items[out->count] = set_pieces(&out->pieces, i, &found->items[i], &neck);
		out->necks[out->count++] = neck;
	}
	return 0;
}

int neck_find(struct sheet_work *work, const struct burn *burn, struct geo_arrangement *arrangement,
	      const struct intent *intent, struct sheet_necks *out)
{
	struct geo_necks found = {0};
	struct measure measure = {work, burn, arrangement, intent, NULL, 0};
	*out = (struct sheet_necks){0};
	if (search(work, arrangement, intent, &found) != 0)
		return -1;
	geo_arrangement_drop_index(arrangement);
	int status = cut(work, arrangement, &found, out);
	if (status == 0)
		status = measure_all(work, &measure, &found, out);
	geo_necks_finish(&found);
	return status;
}

void neck_finish(struct sheet_necks *necks)
{
	geo_pieces_finish(&necks->pieces);
	geo_rings_finish(&necks->rings);
}

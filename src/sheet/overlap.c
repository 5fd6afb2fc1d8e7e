/* Lines that are drawn twice, and both edges of traced strokes. */
#include <math.h>

#include "geometry/match-tracks.h"
#include "geometry/match.h"
#include "sheet/chains.h"
#include "sheet/work.h"

/* A traced stroke's two edges are at most this far apart (mm), with a distance that varies by at
 * most this share of its mean. Common practice, no source. */
static const double MOST_STROKE_MM = 1.0;
static const double MOST_SPREAD = 0.2;

/* The way in nm from a chain's first vertex to each of its vertices, indexed by vertex. */
static double *measure_chains(struct arena *arena, const struct geo_lines *lines)
{
	double *along = ARENA_ARRAY(arena, double, (size_t)lines->point_count + 1);
	for (uint32_t c = 0; along && c < lines->chain_count; c++) {
		const struct geo_chain *chain = &lines->chains[c];
		for (uint32_t v = chain->first + 1; v < chain->first + chain->count; v++)
			along[v] = along[v - 1] +
				   hypot((double)lines->points[v].x - lines->points[v - 1].x,
					 (double)lines->points[v].y - lines->points[v - 1].y);
	}
	return along;
}

static double chain_length(const struct geo_lines *lines, const double *along, uint32_t number)
{
	const struct geo_chain *chain = &lines->chains[number];
	uint32_t last = chain->first + chain->count - 1;
	struct cutlint_point a = lines->points[last], b = lines->points[chain->first];
	double closing = chain->closed ? hypot((double)b.x - a.x, (double)b.y - a.y) : 0;
	return along[last] + closing;
}

/* The place on a chain at a way from its first vertex, looked for from a segment on. */
static struct cutlint_xy place_at(const struct geo_lines *lines, const double *along,
				  uint32_t number, uint32_t segment, double way)
{
	const struct geo_chain *chain = &lines->chains[number];
	double length = chain_length(lines, along, number);
	double start = along[segment];
	while (way < start)
		way += length;
	for (uint32_t left = chain->count; left > 0; left--) {
		uint32_t next = geo_chain_next(chain, segment);
		if (next == GEO_NONE)
			break;
		struct cutlint_point a = lines->points[segment], b = lines->points[next];
		double side = hypot((double)b.x - a.x, (double)b.y - a.y);
		if (way <= start + side && side > 0) {
			double t = (way - start) / side;
			return (struct cutlint_xy){(a.x + t * ((double)b.x - a.x)) / SHEET_NM,
						   (a.y + t * ((double)b.y - a.y)) / SHEET_NM};
		}
		start += side;
		segment = next;
	}
	return cutlint_point_mm(lines->points[segment]);
}

/* Whether a stretch is all of its chain, but for what the tolerance takes at two ends. */
static bool is_whole(const struct geo_stretch *stretch, double length)
{
	double most_missing = fmin(2 * SHEET_APART_MM * SHEET_NM, length / 10);
	return stretch->to - stretch->from >= length - most_missing;
}

static struct cutlint_overlap describe(const struct chains *chains, const double *along,
				       const struct geo_overlap *found)
{
	const struct geo_lines *lines = &chains->lines;
	const struct geo_stretch *stretches[2] = {&found->a, &found->b};
	struct cutlint_overlap overlap = {.reversed = found->reversed,
					  .apart_mm = found->apart / SHEET_NM};
	for (int i = 0; i < 2; i++) {
		const struct geo_stretch *stretch = stretches[i];
		overlap.outline[i] = chains->outlines[stretch->chain];
		overlap.vertex[i] = stretch->first_segment;
		overlap.whole[i] = is_whole(stretch, chain_length(lines, along, stretch->chain));
	}
	overlap.length_mm = (found->a.to - found->a.from) / SHEET_NM;
	overlap.from =
		place_at(lines, along, found->a.chain, found->a.first_segment, found->a.from);
	overlap.to = place_at(lines, along, found->a.chain, found->a.first_segment, found->a.to);
	return overlap;
}

/* What weighs more when one of two coinciding outlines is left out. */
static int weight(const struct cutlint_design *design, uint32_t outline)
{
	bool edge = cutlint_outline_role(design, outline) == CUTLINT_ROLE_OUTLINE;
	return (edge ? 2 : 0) + (design->outlines[outline].closed ? 1 : 0);
}

/* Leaves out an outline that lies whole on another one: the later of two equals. */
static void drop_copy(struct sheet_work *work, const struct cutlint_overlap *overlap)
{
	uint32_t first = overlap->outline[0], second = overlap->outline[1];
	if (first == second || work->dropped[first] || work->dropped[second] ||
	    !chains_want_cut(work->design, first) || !chains_want_cut(work->design, second))
		return;
	int first_weight = weight(work->design, first),
	    second_weight = weight(work->design, second);
	if (overlap->whole[1] && second_weight <= first_weight)
		work->dropped[second] = true;
	else if (overlap->whole[0] && first_weight <= second_weight)
		work->dropped[first] = true;
}

static int keep_traced(struct sheet_work *work, const struct chains *chains,
		       const struct geo_pairs *pairs)
{
	struct cutlint_traced *traced =
		ARENA_ARRAY(work->arena, struct cutlint_traced, (size_t)pairs->count + 1);
	for (uint32_t i = 0; traced && i < pairs->count; i++) {
		const struct geo_pair *pair = &pairs->items[i];
		traced[i] = (struct cutlint_traced){
			chains->outlines[pair->outer], chains->outlines[pair->inner],
			pair->mean / SHEET_NM, (pair->most - pair->least) / SHEET_NM,
			sheet_mm(pair->at)};
	}
	work->sheet->traced = traced;
	work->sheet->traced_count = pairs->count;
	return traced ? 0 : -1;
}

/* `tracks` are those of the chains that are burned: often the same ones. */
static int find_traced(struct sheet_work *work, const struct chains *burned,
		       const struct geo_tracks *tracks)
{
	const double least = SHEET_APART_MM * SHEET_NM, most = MOST_STROKE_MM * SHEET_NM;
	struct chains chains;
	struct geo_pairs pairs = {0};
	if (chains_collect(work->scratch, work->design, chains_want_closed_art, work->design,
			   &chains) != 0)
		return -1;
	/* Closed art is burned, so that equal numbers mean the same chains. */
	bool same = chains.lines.chain_count == burned->lines.chain_count;
	int found =
		same ? geo_pairs_find_in(&chains.lines, tracks, least, most, MOST_SPREAD, &pairs)
		     : geo_pairs_find(&chains.lines, least, most, MOST_SPREAD, &pairs);
	if (found != 0)
		return -1;
	int status = keep_traced(work, &chains, &pairs);
	geo_pairs_finish(&pairs);
	return status;
}

static int describe_overlaps(struct sheet_work *work, const struct chains *chains,
			     const struct geo_overlaps *found)
{
	double *along = measure_chains(work->scratch, &chains->lines);
	struct cutlint_overlap *overlaps =
		ARENA_ARRAY(work->arena, struct cutlint_overlap, (size_t)found->count + 1);
	if (!along || !overlaps)
		return -1;
	for (uint32_t i = 0; i < found->count; i++) {
		overlaps[i] = describe(chains, along, &found->items[i]);
		drop_copy(work, &overlaps[i]);
	}
	work->overlaps = overlaps;
	work->overlap_count = found->count;
	return 0;
}

static int find_overlaps(struct sheet_work *work, const struct chains *chains,
			 const struct geo_tracks *tracks)
{
	struct geo_overlaps found;
	if (geo_overlaps_find_in(tracks, SHEET_APART_MM * SHEET_NM,
				 SHEET_LEAST_LENGTH_MM * SHEET_NM, &found) != 0)
		return -1;
	int status = describe_overlaps(work, chains, &found);
	geo_overlaps_finish(&found);
	return status;
}

int sheet_find_overlaps(struct sheet_work *work, bool report)
{
	struct chains chains;
	struct geo_tracks tracks;
	if (chains_collect(work->scratch, work->design, chains_want_burned, work->design,
			   &chains) != 0)
		return -1;
	int status = geo_tracks_init(&tracks, &chains.lines);
	if (status == 0)
		status = find_overlaps(work, &chains, &tracks);
	if (status == 0 && report) {
		work->sheet->overlaps = work->overlaps;
		work->sheet->overlap_count = work->overlap_count;
		status = find_traced(work, &chains, &tracks);
	}
	geo_tracks_finish(&tracks);
	return status;
}

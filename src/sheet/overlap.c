/* Lines that are drawn twice, and both edges of traced strokes. */
#include <math.h>

#include "geometry/match-tracks.h"
#include "geometry/match.h"
#include "sheet/chains.h"
#include "sheet/touch.h"
#include "sheet/way.h"
#include "sheet/work.h"
#include "sheet/xy.h"

/* A traced stroke's two edges are at most this far apart (mm), with a distance that varies by at
 * most this share of its mean. Common practice, no source. */
static const double MOST_STROKE_MM = 1.0;
static const double MOST_SPREAD = 0.2;

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
		overlap.whole[i] = is_whole(stretch, way_length(lines, along, stretch->chain));
	}
	overlap.length_mm = (found->a.to - found->a.from) / SHEET_NM;
	overlap.from = way_place(lines, along, &found->a, found->a.from).at;
	overlap.to = way_place(lines, along, &found->a, found->a.to).at;
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

/*
 * Where two lines part at an angle, the last bit of one may be laid on the side of the other or
 * left out: stretches whose ends differ by no more than that are the same one.
 */
static bool repeats(const struct cutlint_overlap *overlap, const struct cutlint_overlap *before)
{
	return overlap->outline[0] == before->outline[0] &&
	       overlap->outline[1] == before->outline[1] && overlap->reversed == before->reversed &&
	       xy_distance(overlap->from, before->from) <= 2 * SHEET_APART_MM &&
	       xy_distance(overlap->to, before->to) <= 2 * SHEET_APART_MM;
}

static int describe_overlaps(struct sheet_work *work, const struct chains *chains,
			     const double *along, const struct geo_overlaps *found)
{
	struct cutlint_overlap *overlaps =
		ARENA_ARRAY(work->arena, struct cutlint_overlap, (size_t)found->count + 1);
	if (!overlaps)
		return -1;
	uint32_t count = 0;
	for (uint32_t i = 0; i < found->count; i++) {
		overlaps[count] = describe(chains, along, &found->items[i]);
		bool part = !overlaps[count].whole[0] && !overlaps[count].whole[1];
		if (part && ((count > 0 && repeats(&overlaps[count], &overlaps[count - 1])) ||
			     touch_is_all(work->design, &chains->lines, along, &found->items[i])))
			continue;
		drop_copy(work, &overlaps[count++]);
	}
	work->overlaps = overlaps;
	work->overlap_count = count;
	return 0;
}

static int find_overlaps(struct sheet_work *work, const struct chains *chains,
			 const struct geo_tracks *tracks)
{
	struct geo_overlaps found;
	if (geo_overlaps_find_in(tracks, SHEET_APART_MM * SHEET_NM,
				 SHEET_LEAST_LENGTH_MM * SHEET_NM, &found) != 0)
		return -1;
	if (found.count == 0)
		return 0;
	struct arena *room = arena_create();
	double *along = room ? way_measure(room, &chains->lines) : NULL;
	int status = along ? describe_overlaps(work, chains, along, &found) : -1;
	arena_destroy(room);
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

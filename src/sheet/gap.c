/* Gaps that are burned shut: short lines that stand for them in the arrangement. */
#include <math.h>

#include "sheet/burn.h"
#include "sheet/walls.h"

/* The lines grow at their end; what stood there before keeps its place. */
static void add_line(struct burn *burn, struct cutlint_point from, struct cutlint_point to,
		     struct burn_chain chain)
{
	if (from.x == to.x && from.y == to.y)
		return;
	struct geo_lines *lines = &burn->lines;
	burn->points[lines->point_count] = from;
	burn->points[lines->point_count + 1] = to;
	burn->spans[lines->chain_count] = (struct geo_chain){lines->point_count, 2, false};
	burn->chains[lines->chain_count] = chain;
	lines->point_count += 2;
	lines->chain_count++;
}

/* The vertex whose side ends at, or starts at, one end of an open outline. */
static uint32_t end_side(const struct cutlint_outline *outline, bool last)
{
	return last ? outline->first_vertex + outline->vertex_count - 2 : outline->first_vertex;
}

/* What is farther apart than this is not burned shut (nm). */
static double most_burned(const struct sheet_work *work)
{
	return fmax(work->job->kerf_mm, work->job->join_mm) * SHEET_NM;
}

/* Joins the steps of a loop whose chains are in the burn; `of` tells the chain of an outline. */
static void close_loop(const struct sheet_work *work, struct burn *burn,
		       const struct sheet_loop *loop, const uint32_t *of)
{
	const struct cutlint_design *design = work->design;
	const struct sheet_step *steps = work->loops.steps + loop->first;
	for (uint32_t i = 0; i < loop->count; i++) {
		const struct sheet_step *step = &steps[i], *next = &steps[(i + 1) % loop->count];
		if (of[step->outline] == CUTLINT_NONE)
			return;
		const struct cutlint_outline *a = &design->outlines[step->outline];
		const struct cutlint_outline *b = &design->outlines[next->outline];
		uint32_t from = sheet_end_vertex(a, !step->reversed);
		uint32_t to = sheet_end_vertex(b, next->reversed);
		struct burn_chain chain = burn->chains[of[step->outline]];
		struct cutlint_point p = design->vertices[from], q = design->vertices[to];
		chain.vertex = end_side(a, !step->reversed);
		chain.burned = chain.burned &&
			       hypot((double)q.x - p.x, (double)q.y - p.y) <= most_burned(work);
		add_line(burn, p, q, chain);
	}
}

static struct cutlint_point round_vector(struct geo_vector at)
{
	return (struct cutlint_point){(int32_t)lround(at.x), (int32_t)lround(at.y)};
}

/*
 * From an end to the nearest line within reach. The foot rounded to the grid is enough: the line
 * passes the rounded point's pixel, and snap rounding draws it through that point.
 */
static void close_end(struct sheet_work *work, struct burn *burn, struct walls *walls,
		      uint32_t chain, bool last, double reach)
{
	struct walls_near near = walls_nearest(walls, chain, last, reach);
	if (near.vertex == GEO_NONE)
		return;
	const struct cutlint_outline *outline =
		&work->design->outlines[burn->chains[chain].outline];
	struct burn_chain gap = {burn->chains[chain].outline, end_side(outline, last), BURN_DIVIDES,
				 CUTLINT_NONE, true};
	add_line(burn, work->design->vertices[sheet_end_vertex(outline, last)],
		 round_vector(near.at), gap);
}

static int close_ends(struct sheet_work *work, struct burn *burn, struct geo_lines lines,
		      double reach)
{
	double *reaches = ARENA_ARRAY(work->scratch, double, (size_t)lines.chain_count + 1);
	if (!reaches)
		return -1;
	for (uint32_t c = 0; c < lines.chain_count; c++)
		reaches[c] = burn->chains[c].burned ? reach : reach / 2;
	struct walls walls;
	int status = walls_init(&walls, work->scratch, &lines, reaches);
	for (uint32_t c = 0; status == 0 && c < lines.chain_count; c++) {
		if (lines.chains[c].closed || !burn->chains[c].burned ||
		    work->loops.of[burn->chains[c].outline] != CUTLINT_NONE)
			continue;
		close_end(work, burn, &walls, c, false, reach);
		close_end(work, burn, &walls, c, true, reach);
	}
	walls_finish(&walls);
	return status;
}

int burn_close_gaps(struct sheet_work *work, struct burn *burn)
{
	size_t outlines = work->design->outline_count;
	uint32_t *of = ARENA_ARRAY(work->scratch, uint32_t, outlines + 1);
	if (!of)
		return -1;
	for (uint32_t i = 0; i < outlines; i++)
		of[i] = CUTLINT_NONE;

	/* The lines as they are now: the gaps' own lines are no walls for other ends. */
	struct geo_lines lines = burn->lines;
	bool any_open = false;
	for (uint32_t c = 0; c < lines.chain_count; c++) {
		if (burn->chains[c].outline != CUTLINT_NONE)
			of[burn->chains[c].outline] = c;
		any_open = any_open || !lines.chains[c].closed;
	}
	for (uint32_t i = 0; i < work->loops.count; i++)
		close_loop(work, burn, &work->loops.items[i], of);
	if (!any_open)
		return 0;
	return close_ends(work, burn, lines,
			  fmax(work->job->kerf_mm, work->job->join_mm) * SHEET_NM);
}

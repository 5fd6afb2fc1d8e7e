/* Openings that fall out, each measured by its largest inscribed circle. */
#include <math.h>

#include "geometry/distance.h"
#include "geometry/inscribed.h"
#include "sheet/faces.h"
#include "sheet/opening.h"
#include "sheet/refine.h"

/* Of circles whose radii differ by no more (nm), any may be taken, before it is refined. */
static const double TOLERANCE = 100;

struct opening {
	const struct sheet_work *work;
	const struct burn *burn;
	const struct geo_arrangement *arrangement;
	const struct boundary *boundary;
	struct cutlint_hole *holes; /* the sheet's, still writable */
};

static uint32_t segment_of(const struct opening *opening, uint32_t point)
{
	return opening->arrangement->edges[opening->boundary->halves[point] / 2].segment;
}

/* Whether a side of the opening is a card's edge: then it is a notch, open to the outside. */
static bool is_notch(const struct opening *opening)
{
	for (uint32_t i = 0; i < opening->boundary->lines.point_count; i++) {
		uint32_t count;
		const uint32_t *covers =
			geo_covers(opening->arrangement, opening->boundary->halves[i] / 2, &count);
		if (burn_bounds(opening->burn, covers, count))
			return true;
	}
	return false;
}

/* Vertices whose sides are nearest but for so little (nm) are equally near. */
static const double EQUALLY_NEAR = 1000;

/* How far a side of the boundary is from a place; infinite for sides of another outline. */
static double side_distance(const struct opening *opening, const struct cutlint_outline *outline,
			    const struct geo_chain *chain, uint32_t point, struct geo_vector at)
{
	const struct geo_lines *lines = &opening->boundary->lines;
	uint32_t segment = segment_of(opening, point);
	if (segment < outline->first_vertex ||
	    segment - outline->first_vertex >= outline->vertex_count)
		return INFINITY;
	uint32_t next = point + 1 < chain->first + chain->count ? point + 1 : chain->first;
	struct geo_vector foot = geo_nearest_on_segment(sheet_vector(lines->points[point]),
							sheet_vector(lines->points[next]), at);
	double dx = foot.x - at.x, dy = foot.y - at.y;
	return sqrt(dx * dx + dy * dy);
}

/* A search along one outline's sides of the boundary for those nearest to a place. */
struct nearest_side {
	const struct cutlint_outline *outline;
	struct geo_vector at;
	double least;
	uint32_t vertex; /* the first whose side is at most so far off */
};

static void look_along(const struct opening *opening, const struct geo_chain *chain,
		       struct nearest_side *nearest)
{
	for (uint32_t i = chain->first; i < chain->first + chain->count; i++) {
		double away = side_distance(opening, nearest->outline, chain, i, nearest->at);
		nearest->least = fmin(nearest->least, away);
	}
}

static void pick_along(const struct opening *opening, const struct geo_chain *chain,
		       struct nearest_side *nearest)
{
	for (uint32_t i = chain->first; i < chain->first + chain->count; i++) {
		uint32_t segment = segment_of(opening, i);
		if (segment < nearest->vertex &&
		    side_distance(opening, nearest->outline, chain, i, nearest->at) <=
			    nearest->least + EQUALLY_NEAR)
			nearest->vertex = segment;
	}
}

/* The outline's first vertex of those whose sides are nearest to a place. */
static uint32_t nearest_vertex(const struct opening *opening, uint32_t number, struct geo_vector at)
{
	const struct geo_lines *lines = &opening->boundary->lines;
	struct nearest_side nearest = {&opening->work->design->outlines[number], at, INFINITY,
				       CUTLINT_NONE};
	for (uint32_t c = 0; c < lines->chain_count; c++)
		look_along(opening, &lines->chains[c], &nearest);
	for (uint32_t c = 0; c < lines->chain_count; c++)
		pick_along(opening, &lines->chains[c], &nearest);
	return nearest.vertex;
}

/* The first outline in the file on the boundary, and its vertex nearest to the hole's centre. */
static void name_hole(const struct opening *opening, struct cutlint_hole *hole)
{
	const struct geo_lines *lines = &opening->boundary->lines;
	uint32_t first = CUTLINT_NONE;
	for (uint32_t i = 0; i < lines->point_count; i++) {
		uint32_t segment = segment_of(opening, i);
		if (segment < opening->work->design->vertex_count && segment < first)
			first = segment;
	}
	hole->outline = hole->vertex = CUTLINT_NONE;
	if (first == CUTLINT_NONE)
		return;
	hole->outline = cutlint_vertex_outline(opening->work->design, first);
	hole->vertex = nearest_vertex(opening, hole->outline, sheet_nm(hole->centre));
}

static struct refine_chord chord_at(const struct opening *opening, uint32_t point)
{
	const struct geo_lines *lines = &opening->boundary->lines;
	uint32_t next = geo_chain_next(&lines->chains[geo_lines_chain(lines, point)], point);
	return (struct refine_chord){segment_of(opening, point),
				     cutlint_point_mm(lines->points[point]),
				     cutlint_point_mm(lines->points[next])};
}

/* The radius beyond which the exact one is of no interest, though the curves lie within the
 * flattening of what is measured. */
static double enough(const struct opening *opening)
{
	const struct sheet_work *work = opening->work;
	return (work->hole_limit_mm / 2 + 2 * work->design->flatness_mm + REFINE_ROUNDING_MM) *
	       SHEET_NM;
}

/* A circle that is large enough for certain, whatever the curves do within the flattening. */
static void bound_hole(const struct opening *opening, const struct geo_circle *circle,
		       struct cutlint_hole *hole)
{
	double slack = opening->work->design->flatness_mm + REFINE_ROUNDING_MM;
	hole->centre = sheet_mm(circle->centre);
	hole->diameter_mm = 2 * (circle->radius / SHEET_NM - slack);
}

static void refine_hole(const struct opening *opening, const struct geo_circle *circle,
			struct cutlint_hole *hole)
{
	struct refine_chord chords[3];
	uint32_t count = 0;
	for (int i = 0; i < 3 && circle->segments[i] != GEO_NONE; i++)
		chords[count++] = chord_at(opening, circle->segments[i]);
	double radius = circle->radius / SHEET_NM;
	hole->centre = sheet_mm(circle->centre);
	refine_circle(opening->work->design, &opening->burn->lines, chords, count, &hole->centre,
		      &radius);
	hole->diameter_mm = 2 * radius;
}

static void grow_box(const struct geo_lines *lines, struct cutlint_box *box)
{
	*box = cutlint_box_empty();
	for (uint32_t i = 0; i < lines->point_count; i++)
		cutlint_box_add(box, cutlint_point_mm(lines->points[i]));
}

/* Measures an opening; `found` tells whether it is a hole, not a notch. */
static int measure(const struct opening *opening, struct cutlint_hole *hole, bool *found)
{
	*found = !is_notch(opening);
	if (!*found)
		return 0;
	struct geo_circle circle;
	if (geo_inscribed_circle(&opening->boundary->lines, TOLERANCE, enough(opening), &circle) !=
	    0)
		return -1;
	if (circle.radius >= enough(opening))
		bound_hole(opening, &circle, hole);
	else
		refine_hole(opening, &circle, hole);
	name_hole(opening, hole);
	grow_box(&opening->boundary->lines, &hole->box);
	return 0;
}

/* Measures one of the openings, with a boundary that is used again for each. */
static int add_hole(const struct opening *opening, struct boundary *boundary,
		    const struct intent *intent, const struct face_sets *openings, uint32_t number)
{
	if (boundary_trace(boundary, opening->arrangement, openings, number) != 0)
		return -1;
	uint32_t first = openings->first[number], end = openings->first[number + 1];
	struct cutlint_hole hole = {.card = intent->cards[openings->members[first]]};
	for (uint32_t m = first; m < end; m++)
		hole.area_mm2 += opening->arrangement->faces[openings->members[m]].area /
				 (SHEET_NM * SHEET_NM);
	bool found;
	if (measure(opening, &hole, &found) != 0)
		return -1;
	if (found)
		opening->holes[opening->work->sheet->hole_count++] = hole;
	return 0;
}

int opening_measure(struct sheet_work *work, const struct burn *burn,
		    const struct geo_arrangement *arrangement, const struct intent *intent,
		    const struct face_sets *openings)
{
	struct boundary boundary = {0};
	struct opening opening = {
		work, burn, arrangement, &boundary,
		ARENA_ARRAY(work->arena, struct cutlint_hole, (size_t)openings->count + 1)};
	int status = opening.holes ? 0 : -1;
	work->sheet->holes = opening.holes;
	for (uint32_t s = 0; s < openings->count && status == 0; s++)
		status = add_hole(&opening, &boundary, intent, openings, s);
	boundary_finish(&boundary);
	return status;
}

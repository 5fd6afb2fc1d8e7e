#include "svg/outline.h"

#include <math.h>
#include <stdlib.h>

#include "base/list.h"

#define FARTHEST_MM (CUTLINT_FARTHEST_NM * 1e-6)

/* Control points may lie farther out than the curve; still not without end. */
#define FARTHEST_CONTROL_MM (100 * FARTHEST_MM)

/* Half-axes of a nearly straight arc are long; at this length a centre still has 1e-7 mm. */
#define LONGEST_AXIS_MM 1e9

static bool refuse(struct svg_outliner *outliner, enum svg_refusal refusal, uint32_t byte,
		   struct cutlint_xy at)
{
	outliner->refusal = refusal;
	outliner->refused_byte = byte;
	outliner->refused_at = at;
	return false;
}

static bool within(struct cutlint_xy at, double most)
{
	return fabs(at.x) <= most && fabs(at.y) <= most;
}

/* Rounds half away from zero. The value is known to lie within 2 m. */
static int32_t nanometres(double mm)
{
	double nm = mm * 1e6;
	return (int32_t)(nm < 0 ? nm - 0.5 : nm + 0.5);
}

static bool add_command(struct svg_outliner *outliner, uint32_t first_vertex, uint32_t byte,
			uint32_t curve)
{
	struct cutlint_command command = {first_vertex, byte, curve};
	return LIST_ADD(outliner->commands, outliner->count.commands, outliner->capacity.commands,
			command) ||
	       refuse(outliner, SVG_REFUSED_MEMORY, byte, (struct cutlint_xy){0, 0});
}

static bool add_curve(struct svg_outliner *outliner, const struct curve *curve, uint32_t byte)
{
	return LIST_ADD(outliner->curves, outliner->count.curves, outliner->capacity.curves,
			*curve) ||
	       refuse(outliner, SVG_REFUSED_MEMORY, byte, (struct cutlint_xy){0, 0});
}

static struct cutlint_outline *last_outline(struct svg_outliner *outliner)
{
	return &outliner->outlines[outliner->count.outlines - 1];
}

static bool same(struct cutlint_point a, struct cutlint_point b)
{
	return a.x == b.x && a.y == b.y;
}

/* Adds a vertex unless it falls on the one before. */
static bool add_vertex(struct svg_outliner *outliner, struct cutlint_xy mm, uint32_t byte)
{
	if (!within(mm, FARTHEST_MM))
		return refuse(outliner, SVG_REFUSED_FAR, byte, mm);
	if (outliner->count.vertices >= outliner->most_vertices)
		return refuse(outliner, SVG_REFUSED_MANY, byte, mm);
	struct cutlint_point vertex = {nanometres(mm.x), nanometres(mm.y)};
	bool first = last_outline(outliner)->first_vertex == outliner->count.vertices;
	if (!first && same(vertex, outliner->vertices[outliner->count.vertices - 1]))
		return true;

	return LIST_ADD(outliner->vertices, outliner->count.vertices, outliner->capacity.vertices,
			vertex) ||
	       refuse(outliner, SVG_REFUSED_MEMORY, byte, mm);
}

static bool begin_outline(struct svg_outliner *outliner, struct cutlint_xy from, uint32_t byte)
{
	struct cutlint_outline outline = {
		.shape = outliner->shape,
		.first_vertex = outliner->count.vertices,
		.first_command = outliner->count.commands,
	};
	if (!LIST_ADD(outliner->outlines, outliner->count.outlines, outliner->capacity.outlines,
		      outline))
		return refuse(outliner, SVG_REFUSED_MEMORY, byte, from);
	outliner->open = true;
	outliner->dot = byte;
	return add_vertex(outliner, svg_apply(&outliner->matrix, from), byte);
}

/* Ends the outline that has begun, if one has. */
static bool end_outline(struct svg_outliner *outliner, bool closed)
{
	if (!outliner->open)
		return true;
	outliner->open = false;
	struct cutlint_outline *outline = last_outline(outliner);
	const struct cutlint_point *vertices = outliner->vertices + outline->first_vertex;
	uint32_t count = outliner->count.vertices - outline->first_vertex;
	if (same(vertices[0], vertices[count - 1])) {
		closed = true;
		if (count > 1)
			count--;
		outliner->count.vertices = outline->first_vertex + count;
	}
	if (outliner->count.commands == outline->first_command &&
	    !add_command(outliner, outline->first_vertex, outliner->dot, CUTLINT_NONE))
		return false;
	outline->closed = closed;
	outline->vertex_count = count;
	outline->command_count = outliner->count.commands - outline->first_command;
	return true;
}

static bool draw_line(struct svg_outliner *outliner, struct cutlint_xy end, uint32_t byte)
{
	uint32_t start = outliner->count.vertices - 1;
	if (!add_vertex(outliner, end, byte))
		return false;
	return outliner->count.vertices - 1 == start ||
	       add_command(outliner, start, byte, CUTLINT_NONE);
}

/*
 * Draws a curve whose last vertex is exactly `end`. Where some of its vertices fell together the
 * parameter of a vertex can't be told from its number any more, so its chords stand for it.
 */
static bool draw_curve(struct svg_outliner *outliner, struct curve *curve, struct cutlint_xy end,
		       uint32_t byte)
{
	uint32_t start = outliner->count.vertices - 1;
	curve->pieces = curve_steps(curve, outliner->flatness);
	for (uint32_t i = 1; i < curve->pieces; i++) {
		if (!add_vertex(outliner, curve_at(curve, (double)i / curve->pieces), byte))
			return false;
	}
	if (!add_vertex(outliner, end, byte))
		return false;

	uint32_t added = outliner->count.vertices - 1 - start;
	if (added == 0)
		return true;
	if (added < curve->pieces)
		return add_command(outliner, start, byte, CUTLINT_NONE);
	return add_command(outliner, start, byte, outliner->count.curves) &&
	       add_curve(outliner, curve, byte);
}

static bool draw_bezier(struct svg_outliner *outliner, const struct svg_segment *segment,
			uint32_t byte)
{
	int points = segment->kind == SVG_CUBIC ? 3 : 2;
	struct curve curve = {.kind = segment->kind == SVG_CUBIC ? CURVE_CUBIC : CURVE_QUADRATIC};
	curve.p[0] = svg_apply(&outliner->matrix, segment->from);
	for (int i = 0; i < points; i++) {
		curve.p[i + 1] = svg_apply(&outliner->matrix, segment->p[i]);
		if (!within(curve.p[i + 1], FARTHEST_CONTROL_MM))
			return refuse(outliner, SVG_REFUSED_FAR, byte, curve.p[i + 1]);
	}
	return draw_curve(outliner, &curve, curve.p[points], byte);
}

static bool draw_arc(struct svg_outliner *outliner, const struct svg_segment *segment,
		     uint32_t byte)
{
	struct cutlint_xy end = svg_apply(&outliner->matrix, segment->p[0]);
	if (!within(end, FARTHEST_MM))
		return refuse(outliner, SVG_REFUSED_FAR, byte, end);
	struct svg_centre_arc arc;
	if (!isfinite(segment->arc.rx) || !isfinite(segment->arc.ry) ||
	    !isfinite(segment->arc.rotation))
		return refuse(outliner, SVG_REFUSED_FAR, byte,
			      (struct cutlint_xy){segment->arc.rx, segment->arc.ry});
	if (!svg_arc_centre(segment->from, segment->p[0], &segment->arc, &arc))
		return draw_line(outliner, end, byte);

	struct curve curve = {.kind = CURVE_ARC};
	curve.p[0] = svg_apply(&outliner->matrix, arc.centre);
	curve.p[1] = svg_apply_linear(&outliner->matrix, arc.u);
	curve.p[2] = svg_apply_linear(&outliner->matrix, arc.v);
	curve.p[3] = (struct cutlint_xy){arc.start, arc.sweep};
	if (!within(curve.p[0], LONGEST_AXIS_MM) || !within(curve.p[1], LONGEST_AXIS_MM) ||
	    !within(curve.p[2], LONGEST_AXIS_MM))
		return refuse(outliner, SVG_REFUSED_FAR, byte, curve.p[1]);
	return draw_curve(outliner, &curve, end, byte);
}

/* A closing side is drawn from the last vertex to the first, which is not repeated. */
static bool close_outline(struct svg_outliner *outliner, uint32_t byte)
{
	uint32_t last = outliner->count.vertices - 1;
	uint32_t first = last_outline(outliner)->first_vertex;
	if (!same(outliner->vertices[first], outliner->vertices[last]) &&
	    !add_command(outliner, last, byte, CUTLINT_NONE))
		return false;
	return end_outline(outliner, true);
}

static bool draw(struct svg_outliner *outliner, const struct svg_segment *segment, uint32_t byte)
{
	switch (segment->kind) {
	case SVG_LINE:
		return draw_line(outliner, svg_apply(&outliner->matrix, segment->p[0]), byte);
	case SVG_QUADRATIC:
	case SVG_CUBIC:
		return draw_bezier(outliner, segment, byte);
	case SVG_ARC:
		return draw_arc(outliner, segment, byte);
	default:
		return close_outline(outliner, byte);
	}
}

static bool take(void *user, const struct svg_segment *segment)
{
	struct svg_outliner *outliner = user;
	bool moved = outliner->moved;
	outliner->moved = segment->kind == SVG_MOVE;
	if (segment->kind == SVG_MOVE)
		return end_outline(outliner, false);
	if (segment->kind == SVG_CLOSE && !outliner->open && !moved)
		return true; /* closes what is closed */

	uint32_t byte =
		outliner->map ? svg_map_byte(outliner->map, segment->offset) : outliner->byte;
	if (!outliner->open && !begin_outline(outliner, segment->from, byte))
		return false;
	return draw(outliner, segment, byte);
}

void svg_outliner_begin(struct svg_outliner *outliner, uint32_t shape, struct svg_matrix matrix,
			struct svg_map *map, uint32_t byte)
{
	outliner->shape = shape;
	outliner->matrix = matrix;
	outliner->map = map;
	outliner->byte = byte;
	outliner->before = outliner->count;
	outliner->open = outliner->moved = false;
	outliner->refusal = SVG_REFUSED_NOT;
}

struct svg_sink svg_outliner_sink(struct svg_outliner *outliner)
{
	return (struct svg_sink){take, outliner};
}

void svg_outliner_end(struct svg_outliner *outliner)
{
	if (outliner->refusal == SVG_REFUSED_NOT)
		end_outline(outliner, false);
	if (outliner->refusal != SVG_REFUSED_NOT)
		outliner->count = outliner->before;
	outliner->open = false;
}

void svg_outliner_finish(struct svg_outliner *outliner)
{
	free(outliner->vertices);
	free(outliner->commands);
	free(outliner->outlines);
	free(outliner->curves);
	*outliner = (struct svg_outliner){0};
}

#include "geometry/match-form.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/distance.h"
#include "geometry/match-tracks.h"

static struct geo_vector between(struct geo_vector a, struct geo_vector b, double share)
{
	return (struct geo_vector){a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

double geo_form_weight(const struct geo_form *form, uint32_t segment)
{
	const struct geo_segment *s = &form->segments[segment];
	return fmax(1, geo_distance(geo_vector_of(s->from), geo_vector_of(s->to)));
}

static void take_chain(struct geo_form *form, const struct geo_lines *lines,
		       const struct geo_chain *chain)
{
	uint32_t first = form->count;
	for (uint32_t v = chain->first; v < chain->first + chain->count; v++) {
		uint32_t next = geo_chain_next(chain, v);
		if (next == GEO_NONE)
			continue;
		struct geo_segment segment = {lines->points[v], lines->points[next]};
		if (segment.from.x != segment.to.x || segment.from.y != segment.to.y)
			form->segments[form->count++] = segment;
	}
	if (form->count == first && chain->count > 0)
		form->segments[form->count++] = (struct geo_segment){lines->points[chain->first],
								     lines->points[chain->first]};
}

static void measure(struct geo_form *form)
{
	for (uint32_t i = 0; i < form->count; i++) {
		struct geo_segment s = form->segments[i];
		double weight = geo_form_weight(form, i);
		struct geo_vector middle = between(geo_vector_of(s.from), geo_vector_of(s.to), 0.5);
		form->length += weight;
		form->middle.x += weight * middle.x;
		form->middle.y += weight * middle.y;
	}
	if (form->count == 0)
		return;
	form->middle.x /= form->length;
	form->middle.y /= form->length;
	for (uint32_t i = 0; i < form->count; i++) {
		struct geo_segment s = form->segments[i];
		double from = geo_distance(form->middle, geo_vector_of(s.from));
		double to = geo_distance(form->middle, geo_vector_of(s.to));
		form->radius = fmax(form->radius, fmax(from, to));
	}
}

int geo_form_init(struct geo_form *form, const struct geo_lines *lines)
{
	size_t most = 1;
	for (uint32_t c = 0; c < lines->chain_count; c++)
		most += lines->chains[c].count;
	*form = (struct geo_form){.segments = malloc(most * sizeof *form->segments)};
	if (!form->segments)
		return -1;
	for (uint32_t c = 0; c < lines->chain_count; c++)
		take_chain(form, lines, &lines->chains[c]);
	measure(form);
	form->index = geo_index_create(form->segments, form->count);
	return form->index ? 0 : -1;
}

void geo_form_finish(struct geo_form *form)
{
	geo_index_destroy(form->index);
	free(form->segments);
	*form = (struct geo_form){0};
}

void geo_form_spread(const struct geo_form *form, uint32_t count, struct geo_vector *out)
{
	double step = form->length / count, at = 0;
	uint32_t done = 0;
	for (uint32_t i = 0; i < form->count && done < count; i++) {
		double weight = geo_form_weight(form, i);
		struct geo_vector from = geo_vector_of(form->segments[i].from);
		struct geo_vector to = geo_vector_of(form->segments[i].to);
		for (; done < count && (done + 0.5) * step <= at + weight; done++)
			out[done] = between(from, to, ((done + 0.5) * step - at) / weight);
		at += weight;
	}
	for (; done < count; done++)
		out[done] = geo_vector_of(form->segments[form->count - 1].to);
}

struct geo_vector geo_placing_apply(const struct geo_placing *placing, struct geo_vector at)
{
	double x = at.x - placing->from.x, y = at.y - placing->from.y;
	double c = cos(placing->turn), s = sin(placing->turn);
	if (placing->mirrored)
		x = -x;
	return (struct geo_vector){placing->to.x + c * x - s * y, placing->to.y + s * x + c * y};
}

struct geo_vector geo_placing_undo(const struct geo_placing *placing, struct geo_vector at)
{
	double dx = at.x - placing->to.x, dy = at.y - placing->to.y;
	double c = cos(placing->turn), s = sin(placing->turn);
	double x = c * dx + s * dy, y = -s * dx + c * dy;
	if (placing->mirrored)
		x = -x;
	return (struct geo_vector){placing->from.x + x, placing->from.y + y};
}

struct nearest {
	const struct geo_form *form;
	struct geo_vector at, on;
	uint32_t segment;
	double distance;
};

static void visit(void *user, uint32_t segment, double *reach)
{
	struct nearest *nearest = user;
	struct geo_segment s = nearest->form->segments[segment];
	struct geo_vector on =
		geo_nearest_on_segment(geo_vector_of(s.from), geo_vector_of(s.to), nearest->at);
	double off = geo_distance(on, nearest->at);
	if (off > nearest->distance || (off == nearest->distance && segment >= nearest->segment))
		return;
	nearest->distance = off;
	nearest->segment = segment;
	nearest->on = on;
	*reach = fmin(*reach, off);
}

uint32_t geo_form_nearest(const struct geo_form *form, struct geo_vector at, double reach,
			  struct geo_vector *on)
{
	struct nearest nearest = {form, at, at, GEO_NONE, reach};
	geo_index_near(form->index, at, reach, visit, &nearest);
	*on = nearest.on;
	return nearest.segment;
}

/* One direction of the distance at work. */
struct one_way {
	const struct geo_form *from, *to;
	const struct geo_placing *placing;
	bool back; /* from b to the placed a, by moving b back */
	double limit, most;
};

static struct geo_vector placed(const struct one_way *way, struct geo_vector at)
{
	return way->back ? geo_placing_undo(way->placing, at) : geo_placing_apply(way->placing, at);
}

/* The segment nearest to a place, which is GEO_NONE beyond the limit. */
static uint32_t look(struct one_way *way, struct geo_vector at)
{
	struct geo_vector on;
	uint32_t segment = geo_form_nearest(way->to, at, way->limit, &on);
	if (segment != GEO_NONE)
		way->most = fmax(way->most, geo_distance(at, on));
	return segment;
}

/*
 * The distance to one segment, the nearest to the middle of a straight piece, is convex along the
 * piece, and so largest at one of its ends: a bound from above. Halves the piece until that is good
 * enough.
 */
static bool piece_is_near(struct one_way *way, struct geo_vector a, struct geo_vector b)
{
	struct geo_vector middle = between(a, b, 0.5);
	uint32_t facing = look(way, middle);
	if (facing == GEO_NONE)
		return false;
	struct geo_vector from = geo_vector_of(way->to->segments[facing].from);
	struct geo_vector to = geo_vector_of(way->to->segments[facing].to);
	double bound = fmax(geo_distance(a, geo_nearest_on_segment(from, to, a)),
			    geo_distance(b, geo_nearest_on_segment(from, to, b)));
	double slack = way->limit / 64;
	if (bound <= fmin(way->limit, way->most + slack) || geo_distance(a, b) < slack)
		return true;
	return piece_is_near(way, a, middle) && piece_is_near(way, middle, b);
}

static bool all_is_near(struct one_way *way)
{
	for (uint32_t i = 0; i < way->from->count; i++) {
		struct geo_vector a = placed(way, geo_vector_of(way->from->segments[i].from));
		struct geo_vector b = placed(way, geo_vector_of(way->from->segments[i].to));
		if (look(way, a) == GEO_NONE || look(way, b) == GEO_NONE ||
		    !piece_is_near(way, a, b))
			return false;
	}
	return true;
}

double geo_form_hausdorff(const struct geo_form *a, const struct geo_placing *placing,
			  const struct geo_form *b, double limit)
{
	struct one_way way = {a, b, placing, false, limit, 0};
	if (!all_is_near(&way))
		return INFINITY;
	struct one_way back = {b, a, placing, true, limit, way.most};
	return all_is_near(&back) ? back.most : INFINITY;
}

/* match-form.h - a set of lines as one body that can be moved and laid on another one. */
#ifndef GEOMETRY_MATCH_FORM_H
#define GEOMETRY_MATCH_FORM_H

#include "geometry/index.h"
#include "geometry/lines.h"

struct geo_form {
	struct geo_segment *segments; /* a chain without length is one segment without length */
	uint32_t count;
	struct geo_index *index;
	double length;
	struct geo_vector middle; /* centroid of the line, as of a wire */
	double radius;            /* of the circle round `middle` that holds all */
};

/* 0, or -1 where memory ran out; finish it in either case. */
int geo_form_init(struct geo_form *form, const struct geo_lines *lines);
void geo_form_finish(struct geo_form *form);

/* How much of the wire a segment is: its length, next to nothing for a point. */
double geo_form_weight(const struct geo_form *form, uint32_t segment);

/* `count` places, evenly spread along the form. */
void geo_form_spread(const struct geo_form *form, uint32_t count, struct geo_vector *out);

/* Mirror image in the vertical through `from` if mirrored, turn about `from`, shift to `to`. */
struct geo_placing {
	struct geo_vector from, to;
	double turn;
	bool mirrored;
};

struct geo_vector geo_placing_apply(const struct geo_placing *placing, struct geo_vector at);
struct geo_vector geo_placing_undo(const struct geo_placing *placing, struct geo_vector at);

/* The nearest point of a form; GEO_NONE if there is none within `reach`. */
uint32_t geo_form_nearest(const struct geo_form *form, struct geo_vector at, double reach,
			  struct geo_vector *on);

/*
 * The Hausdorff distance between the form a, placed, and b, to 1/64 of `limit`; infinite as soon as
 * it is known to be more than `limit`.
 */
double geo_form_hausdorff(const struct geo_form *a, const struct geo_placing *placing,
			  const struct geo_form *b, double limit);

#endif

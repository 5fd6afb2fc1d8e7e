/* private.h - what the host keeps of a design beside what rules see. */
#ifndef MODEL_PRIVATE_H
#define MODEL_PRIVATE_H

#include "base/source.h"
#include "base/text.h"
#include "cutlint/model.h"
#include "geometry/curve.h"

/*
 * The namespace of attributes that speak to cutlint in a drawing. A name only: nothing is ever
 * fetched.
 */
#define REMARK_NAMESPACE "urn:cutlint:drawing"

/* An attribute of that namespace. */
struct remark {
	const struct cutlint_element *element;
	const struct cutlint_attribute *attribute;
};

struct cutlint_private {
	struct source source;
	struct cutlint_shape *shapes; /* the design's, to be given their roles */
	const struct curve *curves;   /* cutlint_command.curve counts these */
	uint32_t curve_count;
	const struct remark *remarks; /* in document order */
	uint32_t remark_count;
};

/* Where a byte of the design's source stands. */
static inline struct source_position design_position(const struct cutlint_design *design,
						     uint32_t byte)
{
	return source_position(&design->priv->source, byte);
}

/* Adds an element's path from the root, "/svg/g[2]/path[14]", with its tags escaped. */
void element_add_path(struct text *text, const struct cutlint_element *element);

/* Adds "path#hinge-3"; without an id the last step of the path. */
void element_add_name(struct text *text, const struct cutlint_element *element);

/*
 * The nearest point to `at` (mm) on the true curve of the side that starts at a vertex: on the
 * chord itself for a straight line.
 */
struct cutlint_xy design_true_point(const struct cutlint_design *design, uint32_t vertex,
				    struct cutlint_xy at);

#endif

/* move.c - edits that move a part of a drawing: transforms on its elements or their groups. */
#include <math.h>
#include <string.h>

#include "base/number.h"
#include "base/text.h"
#include "engine/rule_check.h"

/* Drawings of more shapes are not looked through, and more edits help nobody. */
enum { SHAPES_MOST = 20000, EDITS_MOST = 32 };

/* A matrix that squeezes areas to less than this share can't be led back. */
static const double FLATTEST = 1e-12;

struct matrix {
	double v[6]; /* a b c d e f of SVG */
};

/* A place in the text to move a part by, with the matrix in its own coordinates. */
struct host {
	const struct cutlint_element *element;
	struct matrix matrix;
};

struct moving {
	const struct cutlint_design *design;
	bool *members; /* of the drawing's shapes: those that are to be moved */
};

static struct matrix multiply(const struct matrix *left, const struct matrix *right)
{
	const double *l = left->v, *r = right->v;
	return (struct matrix){{l[0] * r[0] + l[2] * r[1], l[1] * r[0] + l[3] * r[1],
				l[0] * r[2] + l[2] * r[3], l[1] * r[2] + l[3] * r[3],
				l[0] * r[4] + l[2] * r[5] + l[4],
				l[1] * r[4] + l[3] * r[5] + l[5]}};
}

static double determinant(const struct matrix *matrix)
{
	return matrix->v[0] * matrix->v[3] - matrix->v[1] * matrix->v[2];
}

static struct matrix inverse(const struct matrix *matrix)
{
	const double *m = matrix->v;
	double d = determinant(matrix);
	return (struct matrix){{m[3] / d, -m[1] / d, -m[2] / d, m[0] / d,
				(m[2] * m[5] - m[3] * m[4]) / d, (m[1] * m[4] - m[0] * m[5]) / d}};
}

static struct matrix matrix_of(const struct cutlint_shape *shape)
{
	struct matrix matrix;
	memcpy(matrix.v, shape->matrix, sizeof(matrix.v));
	return matrix;
}

static const struct cutlint_attribute *find_attribute(const struct cutlint_element *element,
						      const char *name)
{
	for (uint32_t i = 0; i < element->attribute_count; i++) {
		if (strcmp(element->attributes[i].name, name) == 0)
			return &element->attributes[i];
	}
	return NULL;
}

/* A transform that an attribute does not hold, or that does not work from the origin. */
static bool is_styled_to_move(const struct cutlint_element *element)
{
	const struct cutlint_attribute *style = find_attribute(element, "style");
	return (style && strstr(style->value, "transform")) ||
	       find_attribute(element, "transform-origin") ||
	       find_attribute(element, "transform-box");
}

static bool is_under(const struct cutlint_element *element, const struct cutlint_element *top)
{
	while (element && element != top)
		element = element->parent;
	return element;
}

/* Whether a shape hangs on an element: it stands under it, or is placed from there. */
static bool hangs_on(const struct cutlint_shape *shape, const struct cutlint_element *top)
{
	const struct cutlint_placement *placement = shape->placement;
	if (is_under(shape->element, top))
		return true;
	for (; placement; placement = placement->outer) {
		if (is_under(placement->use, top))
			return true;
	}
	return false;
}

static bool holds_members_only(const struct moving *moving, const struct cutlint_element *top)
{
	for (uint32_t i = 0; i < moving->design->shape_count; i++) {
		if (!moving->members[i] && hangs_on(&moving->design->shapes[i], top))
			return false;
	}
	return true;
}

static bool can_host(const struct moving *moving, const struct cutlint_element *element)
{
	return element->attribute_count > 0 && !element->from_entity &&
	       !is_styled_to_move(element) && holds_members_only(moving, element);
}

/* The outermost group whose own coordinates are the shape's; NULL where nothing can be edited. */
static const struct cutlint_element *find_host(const struct moving *moving,
					       const struct cutlint_shape *shape)
{
	const struct cutlint_element *host = shape->element, *up = host->parent;
	if (!can_host(moving, host))
		return NULL;
	while (up && up->parent && strcmp(up->tag, "g") == 0 &&
	       !find_attribute(host, "transform") && can_host(moving, up)) {
		host = up;
		up = up->parent;
	}
	return host;
}

/* Returns how many hosts there are; 0 where one can't be found for all. */
static uint32_t find_hosts(const struct moving *moving, const struct matrix *on_sheet,
			   struct host hosts[EDITS_MOST])
{
	uint32_t count = 0;
	for (uint32_t i = 0; i < moving->design->shape_count; i++) {
		const struct cutlint_shape *shape = &moving->design->shapes[i];
		if (!moving->members[i])
			continue;
		const struct cutlint_element *element = find_host(moving, shape);
		bool known = count > 0 && element == hosts[count - 1].element;
		if (!element || (!known && count == EDITS_MOST))
			return 0;
		if (known)
			continue;
		struct matrix own = matrix_of(shape), back = inverse(&own);
		struct matrix there = multiply(on_sheet, &own);
		hosts[count++] = (struct host){element, multiply(&back, &there)};
	}
	return count;
}

/* Behind the transform that the element has, or as a further attribute. */
static void edit_host(struct cutlint_finding *finding, const struct host *host)
{
	const struct cutlint_element *element = host->element;
	const struct cutlint_attribute *own = find_attribute(element, "transform");
	const struct cutlint_attribute *last = &element->attributes[element->attribute_count - 1];
	struct cutlint_span value = own ? own->value_span : last->value_span;
	struct cutlint_span span = {value.byte + value.length + (own ? 0 : 1), 0};
	struct text text = {0};
	text_add_string(&text, own ? " matrix(" : " transform=\"matrix(");
	for (int i = 0; i < 6; i++) {
		char figure[32];
		number_format(round(host->matrix.v[i] * 1e9) / 1e9 + 0.0, figure);
		text_format(&text, i ? " %s" : "%s", figure);
	}
	text_add_string(&text, own ? ")" : ")\"");
	if (!text.failed)
		cutlint_edit(finding, span, text.bytes);
	text_finish(&text);
}

/* Marks the shapes of some outlines. False where one can't be moved as a whole and by itself. */
static bool mark_members(struct moving *moving, const uint32_t *outlines, uint32_t count)
{
	const struct cutlint_design *design = moving->design;
	uint32_t drawn = 0;
	for (uint32_t i = 0; i < count; i++)
		moving->members[design->outlines[outlines[i]].shape] = true;
	for (uint32_t i = 0; i < design->shape_count; i++) {
		const struct cutlint_shape *shape = &design->shapes[i];
		struct matrix matrix = matrix_of(shape);
		if (!moving->members[i])
			continue;
		if (shape->placement || shape->clipped || fabs(determinant(&matrix)) < FLATTEST)
			return false;
		drawn += shape->outline_count;
	}
	return drawn == count;
}

/* What a style sheet says of an element's transform is not known here. */
static bool has_style_sheet(const struct cutlint_design *design)
{
	for (uint32_t i = 0; i < design->element_count; i++) {
		if (strcmp(design->elements[i]->tag, "style") == 0)
			return true;
	}
	return false;
}

void cutlint_edit_move(struct cutlint_finding *finding, const uint32_t *outlines, uint32_t count,
		       const double matrix[6])
{
	struct cutlint_check *check = finding->check;
	struct moving moving = {.design = check->design};
	struct host hosts[EDITS_MOST];
	struct matrix on_sheet;
	memcpy(on_sheet.v, matrix, sizeof(on_sheet.v));
	if (rule_check_is_dummy(finding) || check->design->shape_count > SHAPES_MOST ||
	    has_style_sheet(check->design))
		return;
	moving.members =
		rule_check_array(check, check->design->shape_count, sizeof(*moving.members));
	if (!moving.members || !mark_members(&moving, outlines, count))
		return;
	uint32_t found = find_hosts(&moving, &on_sheet, hosts);
	for (uint32_t i = 0; i < found; i++)
		edit_host(finding, &hosts[i]);
}

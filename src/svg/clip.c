#include <math.h>
#include <string.h>

#include "svg/pane.h"
#include "svg/path.h"

/* The corners of what may be a rectangle. */
struct corners {
	struct cutlint_xy at[5];
	int count;
	bool moved; /* a second subpath begins; it may be empty */
	bool other; /* there is more than one outline of straight lines */
};

static bool take(void *user, const struct svg_segment *segment)
{
	struct corners *corners = user;
	struct cutlint_xy to = segment->p[0];
	switch (segment->kind) {
	case SVG_MOVE:
		corners->moved = corners->count > 0;
		if (!corners->moved)
			corners->at[corners->count++] = to;
		return true;
	case SVG_CLOSE:
		return true;
	case SVG_LINE:
		corners->other = corners->other || corners->moved || corners->count == 5;
		if (!corners->other)
			corners->at[corners->count++] = to;
		return !corners->other;
	default:
		corners->other = true;
		return false;
	}
}

static bool is_side(struct cutlint_xy a, struct cutlint_xy b, bool across)
{
	return across ? a.y == b.y : a.x == b.x;
}

static bool make_rectangle(const struct corners *corners, struct svg_rectangle *out)
{
	const struct cutlint_xy *at = corners->at;
	bool back = corners->count == 5 && at[4].x == at[0].x && at[4].y == at[0].y;
	if (corners->other || (corners->count != 4 && !back))
		return false;
	bool across = at[0].y == at[1].y;
	for (int i = 0; i < 4; i++) {
		if (!is_side(at[i], at[(i + 1) % 4], (i % 2 == 0) == across))
			return false;
	}
	*out = (struct svg_rectangle){fmin(at[0].x, at[2].x), fmin(at[0].y, at[2].y),
				      fabs(at[2].x - at[0].x), fabs(at[2].y - at[0].y)};
	return true;
}

static bool read_text(const struct svg_subject *subject, const char *name,
		      struct svg_rectangle *out)
{
	const struct cutlint_attribute *attribute = svg_attribute(subject->element, name);
	struct corners corners = {.count = 0};
	struct svg_mistake mistake = {.message = NULL};
	struct svg_sink sink = {take, &corners};
	if (!attribute)
		return false;
	struct svg_scan text = svg_scan_of(attribute->value);
	bool read = *name == 'd' ? svg_path_parse(text, sink, &mistake)
				 : svg_points_parse(text, true, sink, &mistake);
	return read && !mistake.message && make_rectangle(&corners, out);
}

static bool read_rect(const struct svg_subject *subject, struct svg_rectangle *out)
{
	*out = (struct svg_rectangle){
		svg_property_number(subject, SVG_X, SVG_ACROSS, 0),
		svg_property_number(subject, SVG_Y, SVG_DOWN, 0),
		svg_property_number(subject, SVG_WIDTH, SVG_ACROSS, 0),
		svg_property_number(subject, SVG_HEIGHT, SVG_DOWN, 0),
	};
	return !(svg_property_number(subject, SVG_RX, SVG_ACROSS, 0) > 0) &&
	       !(svg_property_number(subject, SVG_RY, SVG_DOWN, 0) > 0);
}

/* The only child that draws, CUTLINT_NONE where there is none or more than one. */
static uint32_t only_shape(const struct svg_document *document, uint32_t clip)
{
	uint32_t found = CUTLINT_NONE;
	for (uint32_t i = clip + 1; i < document->nodes[clip].after;
	     i = svg_next_sibling(document, i)) {
		if (!svg_kind_renders(document->nodes[i].kind))
			continue;
		if (found != CUTLINT_NONE)
			return CUTLINT_NONE;
		found = i;
	}
	return found;
}

/* Appends the transform of an element; false where it is hidden or clipped in its turn. */
static bool enter(struct svg_subject *subject, struct svg_specified *specified,
		  struct svg_matrix *matrix)
{
	svg_specify(subject->document, subject->element, specified);
	subject->specified = specified;
	struct svg_style initial = svg_style_initial();
	struct svg_style style = svg_style_compute(specified, &initial);
	*matrix = svg_multiply(*matrix, svg_find_transform(subject));
	return !style.clipped && !style.no_display && !style.hidden && svg_determinant(matrix) != 0;
}

bool svg_clip_rectangle(struct svg_document *document, uint32_t clip, struct svg_viewport viewport,
			struct svg_matrix *matrix, struct svg_rectangle *out)
{
	struct svg_specified specified;
	struct svg_subject subject = {document, document->elements[clip], NULL, viewport};
	const struct cutlint_attribute *units = svg_attribute(subject.element, "clipPathUnits");
	uint32_t shape = only_shape(document, clip);
	if (strcmp(subject.element->tag, "clipPath") != 0 || shape == CUTLINT_NONE ||
	    (units && strcmp(units->value, "objectBoundingBox") == 0) ||
	    !enter(&subject, &specified, matrix))
		return false;
	subject.element = document->elements[shape];
	if (!enter(&subject, &specified, matrix))
		return false;
	switch (document->nodes[shape].kind) {
	case SVG_KIND_RECT:
		return read_rect(&subject, out);
	case SVG_KIND_PATH:
		return read_text(&subject, "d", out);
	case SVG_KIND_POLYGON:
		return read_text(&subject, "points", out);
	default:
		return false;
	}
}

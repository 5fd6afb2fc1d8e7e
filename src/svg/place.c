#include <math.h>

#include "base/list.h"
#include "svg/effect.h"
#include "svg/map.h"
#include "svg/pane.h"
#include "svg/path.h"
#include "svg/reference.h"
#include "svg/shape.h"

static double stroke_width_mm(const struct svg_state *state)
{
	double width = svg_length_resolve(state->style.stroke_width, state->viewport, SVG_OTHER);
	double scale = state->style.fixed_stroke ? SVG_MM_PER_PX
						 : sqrt(fabs(svg_determinant(&state->matrix)));

	return width > 0 && isfinite(scale) ? width * scale : 0;
}

static struct cutlint_paint stroke_of(const struct svg_document *document,
				      const struct svg_state *state, double width_mm)
{
	const struct svg_style *style = &state->style;
	return svg_paint_shown(svg_paint_resolve(document, style->stroke), style->colour,
			       width_mm > 0 ? style->stroke_opacity : 0);
}

static enum cutlint_unburned content_reason(enum svg_kind kind)
{
	if (kind == SVG_KIND_TEXT)
		return CUTLINT_UNBURNED_TEXT;
	if (kind == SVG_KIND_IMAGE)
		return CUTLINT_UNBURNED_IMAGE;
	return kind == SVG_KIND_FOREIGN ? CUTLINT_UNBURNED_OTHER : CUTLINT_BURNED;
}

static enum cutlint_unburned reason_of(const struct svg_state *state, enum svg_kind kind,
				       const struct cutlint_shape *shape)
{
	if (state->unburned != CUTLINT_BURNED)
		return state->unburned;
	if (state->style.hidden)
		return CUTLINT_UNBURNED_VISIBILITY;
	if (content_reason(kind) != CUTLINT_BURNED)
		return content_reason(kind);
	bool seen =
		shape->fill.kind != CUTLINT_PAINT_NONE || shape->stroke.kind != CUTLINT_PAINT_NONE;
	return seen ? CUTLINT_BURNED : CUTLINT_UNBURNED_PAINT;
}

static struct cutlint_shape make_shape(const struct svg_walk *walk, uint32_t index,
				       const struct svg_state *state)
{
	enum svg_kind kind = walk->document->nodes[index].kind;
	const struct svg_style *style = &state->style;
	const struct svg_matrix *m = &state->matrix;
	struct cutlint_shape shape = {
		.element = walk->document->elements[index],
		.placement = state->placement,
		.matrix = {m->a, m->b, m->c, m->d, m->e, m->f},
		.fill = svg_paint_shown(svg_paint_resolve(walk->document, style->fill),
					style->colour, style->fill_opacity),
		.fill_rule = style->evenodd ? CUTLINT_FILL_EVENODD : CUTLINT_FILL_NONZERO,
		.stroke_width_mm = stroke_width_mm(state),
		.dashed = style->dashed,
		.first_outline = walk->outliner.count.outlines,
	};
	shape.stroke = stroke_of(walk->document, state, shape.stroke_width_mm);
	if (kind == SVG_KIND_LINE) /* a line has no inside (SVG 2, 10.5) */
		shape.fill = (struct cutlint_paint){CUTLINT_PAINT_NONE, 0};
	shape.unburned = reason_of(state, kind, &shape);
	return shape;
}

static void say_content(struct svg_document *document, uint32_t index, enum svg_kind kind)
{
	const struct cutlint_element *element = document->elements[index];
	struct notice *notice;
	/* its first placement may have been a hidden one, which is silent */
	document->say.quiet = document->nodes[index].told;
	document->nodes[index].told = true;
	if (kind == SVG_KIND_TEXT && document->nodes[index].has_text) {
		notice = svg_say(&document->say, NOTICE_WARNING, "live-text", element,
				 element->start_tag,
				 "text has no outline without its font: it will not be cut");
		svg_suggest(&document->say, notice, "convert the text to outlines");
	} else if (kind == SVG_KIND_IMAGE) {
		notice =
			svg_say(&document->say, NOTICE_WARNING, "raster-image", element,
				element->start_tag, "a picture has no outline: it will not be cut");
		svg_suggest(&document->say, notice, "trace it to outlines, or remove it");
	} else if (kind == SVG_KIND_FOREIGN) {
		notice = svg_say(&document->say, NOTICE_WARNING, "foreign-object", element,
				 element->start_tag, "<%.40s> has no outline: it will not be cut",
				 element->tag);
		svg_suggest(&document->say, notice,
			    "draw its content with SVG shapes, or remove it");
	}
}

static void say_mistake(const struct svg_subject *subject,
			const struct cutlint_attribute *attribute, struct svg_map *map,
			const struct svg_mistake *mistake, const char *code)
{
	if (!mistake->message)
		return;
	uint32_t start = svg_map_byte(map, mistake->offset);
	uint32_t end = svg_map_byte(map, mistake->offset + mistake->length);
	struct cutlint_span at = {start, end > start ? end - start : 0};
	const char *bad = attribute->value + mistake->offset;
	struct svg_scan shown = {bad, bad + mistake->length};
	struct notice *notice =
		svg_say(&subject->document->say, NOTICE_ERROR, code, subject->element, at,
			"%s: '%.*s'; the element is drawn up to here only", mistake->message,
			svg_shown(shown), shown.at);
	svg_suggest(&subject->document->say, notice,
		    "mend or remove what stands here; a viewer stops drawing at the same place");
}

/* A path, polyline or polygon: outlines from the text of an attribute. */
static void draw_text(const struct svg_subject *subject, enum svg_kind kind,
		      struct svg_outliner *outliner, const struct svg_state *state)
{
	bool path = kind == SVG_KIND_PATH;
	const struct cutlint_attribute *attribute =
		svg_attribute(subject->element, path ? "d" : "points");
	if (!attribute)
		return;
	struct svg_map map =
		svg_map_start(subject->document->source.bytes, &subject->document->entities,
			      subject->element, attribute);
	struct svg_map mistake_map = map;
	struct svg_mistake mistake;
	struct svg_scan data = svg_scan_of(attribute->value);
	svg_outliner_begin(outliner, outliner->shape, state->matrix, &map, 0);
	struct svg_sink sink = svg_outliner_sink(outliner);
	bool drawn = path ? svg_path_parse(data, sink, &mistake)
			  : svg_points_parse(data, kind == SVG_KIND_POLYGON, sink, &mistake);
	svg_outliner_end(outliner);
	if (drawn)
		say_mistake(subject, attribute, &mistake_map, &mistake,
			    path ? "path-data" : "points");
}

static void say_css_data(struct svg_document *document, const struct cutlint_element *element)
{
	struct notice *notice =
		svg_say(&document->say, NOTICE_WARNING, "unsupported-content", element,
			element->start_tag, "path data in CSS is not read; the attribute d counts");
	svg_suggest(&document->say, notice, "write the path data into the attribute d");
}

static void draw(struct svg_walk *walk, const struct svg_subject *subject, enum svg_kind kind,
		 const struct svg_state *state)
{
	struct svg_outliner *outliner = &walk->outliner;
	outliner->shape = walk->shape_count;
	if (svg_specified_value(subject->specified, SVG_D))
		say_css_data(walk->document, subject->element);
	if (kind == SVG_KIND_PATH || kind == SVG_KIND_POLYLINE || kind == SVG_KIND_POLYGON) {
		draw_text(subject, kind, outliner, state);
		return;
	}
	svg_outliner_begin(outliner, outliner->shape, state->matrix, NULL,
			   subject->element->start_tag.byte);
	svg_shape_draw(subject, kind, svg_outliner_sink(outliner));
	svg_outliner_end(outliner);
}

/* A shape that is not burned is left without outlines; one that is burned ends the reading. */
static int heed_refusal(const struct svg_subject *subject, const struct svg_outliner *outliner,
			bool burned)
{
	struct svg_say *say = &subject->document->say;
	const struct cutlint_element *element = subject->element;
	struct cutlint_span at = {outliner->refused_byte, 1};
	if (outliner->refusal == SVG_REFUSED_NOT)
		return 0;
	if (outliner->refusal == SVG_REFUSED_MEMORY)
		return -1;
	if (outliner->refusal == SVG_REFUSED_MANY) {
		svg_say_limit(say, SVG_LIMIT_VERTICES, element, at,
			      "the drawing has too many vertices");
		return -1;
	}
	enum notice_level level = burned ? NOTICE_FATAL : NOTICE_WARNING;
	struct cutlint_xy to = outliner->refused_at;
	struct notice *notice =
		isfinite(to.x) && isfinite(to.y)
			? svg_say(say, level, "too-large", element, at,
				  "this goes to x %.6g mm, y %.6g mm; a drawing may reach "
				  "2000 mm from the page's corner",
				  to.x, to.y)
			: svg_say(say, level, "too-large", element, at,
				  "this goes beyond all numbers; a drawing may reach 2000 mm from "
				  "the page's corner");
	svg_suggest(say, notice,
		    "check the number here, the transforms above it, and width, height and "
		    "viewBox");
	return burned ? -1 : 0;
}

int svg_place_shape(struct svg_walk *walk, uint32_t index, const struct svg_state *state)
{
	enum svg_kind kind = walk->document->nodes[index].kind;
	struct svg_subject subject = svg_walk_subject(walk, index, state);
	struct cutlint_shape shape = make_shape(walk, index, state);
	bool burned = shape.unburned == CUTLINT_BURNED;
	if (!burned && shape.unburned == content_reason(kind))
		say_content(walk->document, index, kind);

	uint32_t first_vertex = walk->outliner.count.vertices;
	if (svg_kind_is_shape(kind)) {
		draw(walk, &subject, kind, state);
		if (heed_refusal(&subject, &walk->outliner, burned) < 0)
			return -1;
		shape.clipped = svg_panes_hide(walk, state->pane, first_vertex, burned);
		bool seen = burned || shape.unburned == CUTLINT_UNBURNED_PAINT;
		if (seen && walk->outliner.count.outlines > shape.first_outline)
			svg_say_effects(&subject, &state->style, kind, burned);
	}
	shape.outline_count = walk->outliner.count.outlines - shape.first_outline;
	return LIST_ADD(walk->shapes, walk->shape_count, walk->shape_capacity, shape) ? 0 : -1;
}

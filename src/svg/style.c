#include "svg/style.h"

#include <string.h>

/* Ranks: important, then where it comes from, then specificity, then order. 0: nothing. */
#define RANK_ATTRIBUTE UINT64_C(1)
#define RANK_RULE      (UINT64_C(1) << 60)
#define RANK_STYLE     (UINT64_C(2) << 60)
#define RANK_IMPORTANT (UINT64_C(1) << 62)

struct svg_style svg_style_initial(void)
{
	struct svg_paint black = {.kind = SVG_PAINT_COLOUR, .alpha = 1};
	return (struct svg_style){
		.colour = black,
		.fill = black,
		.fill_opacity = 1,
		.stroke_opacity = 1,
		.stroke_width = {1, SVG_UNIT_NUMBER},
	};
}

static void declare(struct svg_specified *specified, enum svg_property property, uint64_t rank,
		    const struct svg_value *value)
{
	if (rank < specified->ranks[property])
		return;
	specified->ranks[property] = rank;
	specified->values[property] = *value;
}

static struct svg_declaration_place place_of(struct svg_document *document,
					     const struct cutlint_element *element,
					     const struct cutlint_attribute *attribute)
{
	return (struct svg_declaration_place){.say = &document->say,
					      .element = element,
					      .span = attribute->value_span,
					      .attribute = attribute,
					      .bytes = document->source.bytes,
					      .entities = &document->entities};
}

static void read_attribute(struct svg_document *document, const struct cutlint_element *element,
			   const struct cutlint_attribute *attribute,
			   struct svg_specified *specified)
{
	enum svg_property property = svg_property_of_attribute(attribute->name);
	if (property == SVG_PROPERTY_COUNT)
		return;
	struct svg_value value;
	struct svg_scan text = svg_scan_of(attribute->value);
	if (svg_value_parse(property, text, &value)) {
		declare(specified, property, RANK_ATTRIBUTE, &value);
		return;
	}
	struct svg_declaration_place place = place_of(document, element, attribute);
	svg_declaration_complain(&place, property, svg_trim(text));
}

struct matching {
	const struct svg_css *css;
	struct svg_specified *specified;
};

static void apply_rule(void *user, const struct svg_selector *selector)
{
	const struct matching *matching = user;
	const struct svg_rule *rule = &matching->css->rules[selector->rule];
	for (uint32_t i = 0; i < rule->count; i++) {
		const struct svg_declaration *declaration =
			&matching->css->declarations[rule->first + i];
		uint64_t rank = RANK_RULE | (uint64_t)selector->specificity << 32 | selector->rule;
		if (declaration->important)
			rank |= RANK_IMPORTANT;
		declare(matching->specified, declaration->property, rank, &declaration->value);
	}
}

static void read_style(struct svg_document *document, const struct cutlint_element *element,
		       struct svg_specified *specified)
{
	const struct cutlint_attribute *style = svg_attribute(element, "style");
	if (!style)
		return;
	struct svg_declaration_place place = place_of(document, element, style);
	struct svg_scan scan = svg_scan_of(style->value);
	struct svg_declaration declaration;
	while (svg_declaration_next(&scan, &place, &declaration)) {
		uint64_t rank = RANK_STYLE | (declaration.important ? RANK_IMPORTANT : 0);
		declare(specified, declaration.property, rank, &declaration.value);
	}
}

/* `marker` stands for all three where it beats them. */
static void spread_marker(struct svg_specified *specified)
{
	uint64_t rank = specified->ranks[SVG_MARKER];
	if (!rank)
		return;
	declare(specified, SVG_MARKER_START, rank, &specified->values[SVG_MARKER]);
	declare(specified, SVG_MARKER_MID, rank, &specified->values[SVG_MARKER]);
	declare(specified, SVG_MARKER_END, rank, &specified->values[SVG_MARKER]);
}

void svg_specify(struct svg_document *document, const struct cutlint_element *element,
		 struct svg_specified *out)
{
	memset(out->ranks, 0, sizeof(out->ranks));
	for (uint32_t i = 0; i < element->attribute_count; i++)
		read_attribute(document, element, &element->attributes[i], out);
	struct matching matching = {&document->css, out};
	svg_css_match(&document->css, element, apply_rule, &matching);
	read_style(document, element, out);
	spread_marker(out);
}

const struct svg_value *svg_specified_value(const struct svg_specified *specified,
					    enum svg_property property)
{
	const struct svg_value *value = &specified->values[property];
	return specified->ranks[property] && value->given == SVG_GIVEN ? value : NULL;
}

/* The value to take: a given one, or NULL for that of `*base`, the parent's or the initial style.
 */
static const struct svg_value *choose(const struct svg_specified *specified,
				      enum svg_property property, const struct svg_style *parent,
				      const struct svg_style *initial,
				      const struct svg_style **base)
{
	const struct svg_value *value = svg_specified_value(specified, property);
	enum svg_given given =
		specified->ranks[property] ? specified->values[property].given : SVG_UNSET;
	bool inherits =
		given == SVG_INHERIT || (given == SVG_UNSET && svg_property_inherits(property));
	*base = inherits ? parent : initial;
	return value;
}

struct svg_style svg_style_compute(const struct svg_specified *specified,
				   const struct svg_style *parent)
{
	struct svg_style initial = svg_style_initial(), style = initial;
	const struct svg_style *base;
	const struct svg_value *value;
#define COMPUTE(property, field, given)                                                            \
	value = choose(specified, property, parent, &initial, &base);                              \
	style.field = value ? value->given : base->field

	COMPUTE(SVG_COLOR, colour, paint);
	COMPUTE(SVG_FILL, fill, paint);
	COMPUTE(SVG_STROKE, stroke, paint);
	COMPUTE(SVG_FILL_OPACITY, fill_opacity, number);
	COMPUTE(SVG_STROKE_OPACITY, stroke_opacity, number);
	COMPUTE(SVG_STROKE_WIDTH, stroke_width, length);
	COMPUTE(SVG_FILL_RULE, evenodd, flag);
	COMPUTE(SVG_STROKE_DASHARRAY, dashed, flag);
	COMPUTE(SVG_VISIBILITY, hidden, flag);
	COMPUTE(SVG_DISPLAY, no_display, flag);
	COMPUTE(SVG_CLIP_PATH, clipped, flag);
	COMPUTE(SVG_OVERFLOW, shows_overflow, flag);
	COMPUTE(SVG_VECTOR_EFFECT, fixed_stroke, flag);
	COMPUTE(SVG_MARKER_START, markers[0], text);
	COMPUTE(SVG_MARKER_MID, markers[1], text);
	COMPUTE(SVG_MARKER_END, markers[2], text);
#undef COMPUTE
	value = svg_specified_value(specified, SVG_MASK);
	style.clipped = style.clipped || (value && value->flag);
	value = svg_specified_value(specified, SVG_OPACITY);
	style.no_opacity = value && value->number <= 0;
	if (style.colour.kind == SVG_PAINT_CURRENT) /* on `color` itself: inherit */
		style.colour = parent->colour;
	return style;
}

struct cutlint_paint svg_paint_shown(struct svg_paint paint, struct svg_paint colour,
				     double opacity)
{
	if (paint.kind == SVG_PAINT_CURRENT)
		paint = colour;
	if (paint.kind == SVG_PAINT_NONE || !(opacity > 0))
		return (struct cutlint_paint){CUTLINT_PAINT_NONE, 0};
	if (paint.kind == SVG_PAINT_SERVER)
		return (struct cutlint_paint){CUTLINT_PAINT_SERVER, 0};
	if (paint.alpha <= 0)
		return (struct cutlint_paint){CUTLINT_PAINT_NONE, 0};
	return (struct cutlint_paint){CUTLINT_PAINT_COLOUR, paint.rgb};
}

#include "report/measure.h"

#include <math.h>

#include "engine/place.h"
#include "model/private.h"

/* Where the outline's first command stands; its element's start tag where it has none. */
static uint32_t byte_of(const struct cutlint_design *design, const struct cutlint_outline *outline)
{
	if (outline->command_count)
		return design->commands[outline->first_command].byte;
	return design->shapes[outline->shape].element->start_tag.byte;
}

static int measure_outline(struct measured_outline *out, struct arena *arena,
			   const struct cutlint_design *design, uint32_t number)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	const struct cutlint_element *element = design->shapes[outline->shape].element;
	struct source_position position = design_position(design, byte_of(design, outline));
	*out = (struct measured_outline){
		.line = position.line,
		.column = position.column,
		.element = place_element_name(arena, element),
		.id = element->id,
		.role = cutlint_outline_role(design, number),
		.closed = outline->closed,
		.length_mm = cutlint_outline_length(design, number),
		.area_mm2 = outline->closed ? fabs(cutlint_outline_area(design, number)) : 0,
		.box = cutlint_outline_box(design, number)};
	return out->element ? 0 : -1;
}

static void add_total(struct measured_total *total, const struct measured_outline *outline)
{
	total->outline_count++;
	total->closed_count += outline->closed;
	total->length_mm += outline->length_mm;
	total->area_mm2 += outline->area_mm2;
}

static const char *const REASONS[CUTLINT_UNBURNED_OTHER + 1] = {
	[CUTLINT_UNBURNED_DISPLAY] = "display", [CUTLINT_UNBURNED_VISIBILITY] = "visibility",
	[CUTLINT_UNBURNED_OPACITY] = "opacity", [CUTLINT_UNBURNED_PAINT] = "paint",
	[CUTLINT_UNBURNED_TEXT] = "text",       [CUTLINT_UNBURNED_IMAGE] = "image",
	[CUTLINT_UNBURNED_OTHER] = "other",
};

const char *measure_reason(enum cutlint_unburned reason)
{
	return REASONS[reason];
}

const char *measure_level(enum notice_level level)
{
	return level == NOTICE_NOTE ? "note" : level == NOTICE_WARNING ? "warning" : "error";
}

static void count_shapes(struct measures *out)
{
	for (uint32_t i = 0; i < out->design->shape_count; i++) {
		const struct cutlint_shape *shape = &out->design->shapes[i];
		bool burned = shape->unburned == CUTLINT_BURNED;
		out->unburned[shape->unburned]++;
		out->clipped += burned && shape->clipped;
		out->dashed += burned && shape->dashed;
	}
}

int measure_design(struct measures *out, struct arena *arena, const struct cutlint_design *design,
		   const struct svg_report *reading)
{
	*out = (struct measures){
		.design = design, .count = design->outline_count, .reading = reading};
	count_shapes(out);
	out->outlines = ARENA_ARRAY(arena, struct measured_outline, design->outline_count);
	if (!out->outlines)
		return -1;
	for (uint32_t i = 0; i < out->count; i++) {
		if (measure_outline(&out->outlines[i], arena, design, i) < 0)
			return -1;
		add_total(&out->totals[out->outlines[i].role], &out->outlines[i]);
	}
	return 0;
}

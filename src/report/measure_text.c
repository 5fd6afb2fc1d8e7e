#include "report/measure.h"

static void add_outline(struct text *out, const char *file, const struct measured_outline *outline)
{
	text_add_escaped(out, file);
	text_format(out, ":%u:%u: %s %s, %.3f mm", outline->line, outline->column,
		    cutlint_role_word(outline->role), outline->closed ? "closed" : "open",
		    outline->length_mm);
	if (outline->closed)
		text_format(out, ", %.3f mm2", outline->area_mm2);
	text_format(out, ", box %.3f %.3f to %.3f %.3f mm (%s)\n", outline->box.left,
		    outline->box.top, outline->box.right, outline->box.bottom, outline->element);
}

static void add_total(struct text *out, enum cutlint_role role, const struct measured_total *total)
{
	text_format(out, "%-8s %5u outline%s %5u closed %12.3f mm %14.3f mm2\n",
		    cutlint_role_word(role), total->outline_count,
		    total->outline_count == 1 ? ", " : "s,", total->closed_count, total->length_mm,
		    total->area_mm2);
}

static void add_count(struct text *out, const char *what, uint32_t count, const char *unit)
{
	if (count)
		text_format(out, "%-20s %5u %s%s\n", what, count, unit, count == 1 ? "" : "s");
}

/* What of the drawing stands in no line above: shapes that are not burned, and what was said. */
static void add_rest(struct text *out, const struct measures *measures)
{
	const struct svg_heard *heard = measures->reading->heard;
	size_t before = out->length;
	text_add_string(out, "not burned\n");
	size_t heading = out->length;
	for (int i = CUTLINT_UNBURNED_DISPLAY; i <= CUTLINT_UNBURNED_OTHER; i++)
		add_count(out, measure_reason((enum cutlint_unburned)i), measures->unburned[i],
			  "shape");
	add_count(out, "template", measures->reading->template_shapes, "shape");
	if (out->length == heading)
		out->length = before;
	add_count(out, "burned though clipped", measures->clipped, "shape");
	add_count(out, "dashed", measures->dashed, "shape");
	if (heard->code)
		text_add_string(out, "said by the reader\n");
	for (int i = 0; i < SVG_MOST_CODES && heard[i].code; i++)
		add_count(out, heard[i].code, heard[i].count, measure_level(heard[i].level));
}

void measure_add_text(struct text *out, const struct measures *measures)
{
	for (uint32_t i = 0; i < measures->count; i++)
		add_outline(out, measures->design->file, &measures->outlines[i]);
	if (measures->count)
		text_add_string(out, "total\n");
	else
		text_add_string(out, "no outlines\n");
	for (int i = 0; i < CUTLINT_ROLE_COUNT; i++) {
		if (measures->totals[i].outline_count)
			add_total(out, (enum cutlint_role)i, &measures->totals[i]);
	}
	add_rest(out, measures);
}

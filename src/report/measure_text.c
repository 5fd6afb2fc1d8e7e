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
}

#include "report/measure.h"

#include "report/json.h"

/* Each takes what it is given, also where it fails: then it gives NULL. */
static json_t *box_of(const struct cutlint_box *box)
{
	return json_pack("{s:o, s:o, s:o, s:o}", "left", json_of_figure(box->left), "top",
			 json_of_figure(box->top), "right", json_of_figure(box->right), "bottom",
			 json_of_figure(box->bottom));
}

static json_t *outline_of(const struct measured_outline *outline)
{
	return json_pack("{s:i, s:i, s:o, s:o, s:s, s:b, s:o, s:o, s:o}", "line",
			 (int)outline->line, "column", (int)outline->column, "element",
			 json_of_string(outline->element), "id", json_of_string(outline->id),
			 "role", cutlint_role_word(outline->role), "closed", (int)outline->closed,
			 "length_mm", json_of_figure(outline->length_mm), "area_mm2",
			 outline->closed ? json_of_figure(outline->area_mm2) : json_null(),
			 "box_mm", box_of(&outline->box));
}

static json_t *outlines_of(const struct measures *measures)
{
	json_t *list = json_array();
	for (uint32_t i = 0; list && i < measures->count; i++) {
		if (json_array_append_new(list, outline_of(&measures->outlines[i])) < 0) {
			json_decref(list);
			return NULL;
		}
	}
	return list;
}

static json_t *total_of(enum cutlint_role role, const struct measured_total *total)
{
	return json_pack("{s:s, s:i, s:i, s:o, s:o}", "role", cutlint_role_word(role), "outlines",
			 (int)total->outline_count, "closed", (int)total->closed_count, "length_mm",
			 json_of_figure(total->length_mm), "area_mm2",
			 json_of_figure(total->area_mm2));
}

static json_t *totals_of(const struct measures *measures)
{
	json_t *list = json_array();
	for (int i = 0; list && i < CUTLINT_ROLE_COUNT; i++) {
		const struct measured_total *total = &measures->totals[i];
		if (!total->outline_count)
			continue;
		if (json_array_append_new(list, total_of((enum cutlint_role)i, total)) < 0) {
			json_decref(list);
			return NULL;
		}
	}
	return list;
}

static json_t *page_of(const struct cutlint_design *design)
{
	if (!(design->page_width_mm > 0) || !(design->page_height_mm > 0))
		return json_null();
	return json_pack("{s:o, s:o}", "width_mm", json_of_figure(design->page_width_mm),
			 "height_mm", json_of_figure(design->page_height_mm));
}

static json_t *reasons_of(const struct measures *measures)
{
	json_t *object =
		json_pack("{s:I}", "template", (json_int_t)measures->reading->template_shapes);
	for (int i = CUTLINT_UNBURNED_DISPLAY; object && i <= CUTLINT_UNBURNED_OTHER; i++) {
		json_t *count = json_integer(measures->unburned[i]);
		if (json_object_set_new(object, measure_reason((enum cutlint_unburned)i), count) <
		    0) {
			json_decref(object);
			return NULL;
		}
	}
	return object;
}

static json_t *heard_of(const struct measures *measures)
{
	const struct svg_heard *heard = measures->reading->heard;
	json_t *list = json_array();
	for (int i = 0; list && i < SVG_MOST_CODES && heard[i].code; i++) {
		json_t *one =
			json_pack("{s:s, s:s, s:i}", "kind", heard[i].code, "severity",
				  measure_level(heard[i].level), "count", (int)heard[i].count);
		if (json_array_append_new(list, one) < 0) {
			json_decref(list);
			return NULL;
		}
	}
	return list;
}

int measure_add_json(struct text *out, const struct measures *measures)
{
	const struct cutlint_design *design = measures->design;
	json_t *root =
		json_pack("{s:o, s:b, s:o, s:o, s:o, s:o, s:o, s:i, s:i, s:o}", "file",
			  json_of_string(design->file), "physical", (int)design->physical, "page",
			  page_of(design), "flatness_mm", json_of_figure(design->flatness_mm),
			  "outlines", outlines_of(measures), "totals", totals_of(measures),
			  "not_burned", reasons_of(measures), "clipped", (int)measures->clipped,
			  "dashed", (int)measures->dashed, "notices", heard_of(measures));
	int result = json_add_text(out, root, 2);
	json_decref(root);
	text_add_string(out, "\n");
	return result;
}

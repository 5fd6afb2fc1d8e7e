#include "proof/facts.h"

#include <math.h>

#include "proof/store.h"

#define NOT_KNOWN "not known"

void text_add_time(struct text *text, double seconds)
{
	unsigned long whole = (unsigned long)ceil(seconds);
	if (whole >= 3600)
		text_format(text, "%lu h %lu min", whole / 3600, whole % 3600 / 60);
	else if (whole >= 60)
		text_format(text, "%lu min %lu s", whole / 60, whole % 60);
	else
		text_format(text, "%lu s", whole);
}

static void write_fact(struct writer *writer, const char *name, struct text *value)
{
	writer->failed = writer->failed || value->failed;
	writer_open(writer, "div");
	writer_leaf(writer, "dt", NULL, name);
	writer_leaf(writer, "dd", NULL, value->bytes);
	writer_close(writer);
	text_finish(value);
}

static void write_size(struct writer *writer, const struct scene *scene)
{
	const struct cutlint_sheet *sheet = scene->proof->sheet;
	struct text text = {0};
	if (!sheet->card_count) {
		text_add_string(&text, NOT_KNOWN);
		write_fact(writer, "Card", &text);
		return;
	}
	const struct cutlint_card *card = &sheet->cards[0];
	text_format(&text, "%.1f mm \xc3\x97 %.1f mm open", box_width(card->box),
		    box_height(card->box));
	if (scene->card == 0) {
		struct cutlint_box face = view_box(&scene->front, card->panels[card->face].box);
		text_format(&text, ", %.1f mm \xc3\x97 %.1f mm folded", box_width(face),
			    box_height(face));
	}
	if (sheet->card_count > 1)
		text_format(&text, "; %u cards on the sheet", (unsigned)sheet->card_count);
	write_fact(writer, "Card", &text);
}

/* What the envelope leaves of its sides, the card turned so that the lesser is larger. */
static void write_envelope(struct writer *writer, const struct scene *scene)
{
	const struct cutlint_job *job = scene->proof->job;
	struct text text = {0};
	if (!job->envelope) {
		text_add_string(&text, "none named in the job");
		write_fact(writer, "Envelope", &text);
		return;
	}
	text_format(&text, "%s, %.0f mm \xc3\x97 %.0f mm", job->envelope, job->envelope_width_mm,
		    job->envelope_height_mm);
	if (scene->card != CUTLINT_NONE) {
		const struct cutlint_card *card = &scene->proof->sheet->cards[scene->card];
		struct cutlint_box face = card->panels[card->face].box;
		double longer = fmax(box_width(face), box_height(face));
		double shorter = fmin(box_width(face), box_height(face));
		double room[] = {fmax(job->envelope_width_mm, job->envelope_height_mm) - longer,
				 fmin(job->envelope_width_mm, job->envelope_height_mm) - shorter};
		text_format(&text, "; the folded card leaves %.1f mm and %.1f mm", room[0],
			    room[1]);
	}
	write_fact(writer, "Envelope", &text);
}

static void write_parts(struct writer *writer, const struct scene *scene)
{
	const struct cutlint_sheet *sheet = scene->proof->sheet;
	uint32_t counts[CUTLINT_PART_WASTE + 1] = {0};
	double areas[CUTLINT_PART_WASTE + 1] = {0};
	struct text text = {0};
	for (uint32_t i = 0; i < sheet->part_count; i++) {
		counts[sheet->parts[i].kind]++;
		areas[sheet->parts[i].kind] += sheet->parts[i].area_mm2;
	}
	text_format(&text, "%u, %.1f cm\xc2\xb2 in all", (unsigned)counts[CUTLINT_PART_WINDOW],
		    areas[CUTLINT_PART_WINDOW] / 100);
	write_fact(writer, "Windows", &text);
	text_format(&text, "%u held by bridges, %u loose", (unsigned)counts[CUTLINT_PART_HELD],
		    (unsigned)counts[CUTLINT_PART_LOOSE]);
	write_fact(writer, "Parts", &text);
}

static void write_stock(struct writer *writer, const struct scene *scene)
{
	const struct cutlint_job *job = scene->proof->job;
	struct text text = {0};
	text_format(&text, "%s, %.2f mm thick", job->stock_name ? job->stock_name : "card",
		    job->stock_thickness_mm);
	if (job->stock_grammage > 0)
		text_format(&text, ", %.0f g/m\xc2\xb2", job->stock_grammage);
	write_fact(writer, "Stock", &text);
	double cards_mm2 = 0;
	for (uint32_t i = 0; i < scene->proof->sheet->card_count; i++)
		cards_mm2 += scene->proof->sheet->cards[i].area_mm2;
	text_format(&text, "%.1f cm\xc2\xb2 of cards", cards_mm2 / 100);
	bool named = job->sheet_width_mm > 0;
	double width = named ? job->sheet_width_mm : scene->proof->design->page_width_mm;
	double height = named ? job->sheet_height_mm : scene->proof->design->page_height_mm;
	if (width > 0 && height > 0)
		text_format(&text, ", %.0f %% of the %s of %.0f mm \xc3\x97 %.0f mm",
			    100 * cards_mm2 / (width * height), named ? "sheet" : "page", width,
			    height);
	write_fact(writer, "Stock used", &text);
	text_format(&text, "%.3g mm, cut from the %s", job->kerf_mm,
		    job->side == CUTLINT_SIDE_BACK ? "back" : "front");
	write_fact(writer, "Kerf", &text);
}

static void write_cell(struct writer *writer, struct text *value)
{
	writer->failed = writer->failed || value->failed;
	writer_leaf(writer, "td", NULL, value->bytes);
	text_finish(value);
}

static void write_row(const struct proof *proof, struct writer *writer, enum cutlint_role role,
		      const struct burn_cost *cost)
{
	const struct cutlint_recipe *recipe = &proof->job->recipe[role];
	struct text cell = {0};
	writer_open(writer, "tr");
	writer_open(writer, "th");
	writer_attribute(writer, "scope", "row");
	writer_text(writer, cutlint_role_word(role));
	writer_close(writer);
	text_format(&cell, "%u", (unsigned)cost->count);
	write_cell(writer, &cell);
	text_format(&cell, "%.0f mm", cost->length_mm);
	write_cell(writer, &cell);
	if (recipe->given)
		text_format(&cell, "%u \xc3\x97 %.3g mm/s at %.0f %%", recipe->passes,
			    recipe->speed_mm_s, 100 * recipe->power);
	else
		text_add_string(&cell, "no recipe");
	write_cell(writer, &cell);
	if (isnan(cost->time_s))
		text_add_string(&cell, NOT_KNOWN);
	else
		text_add_time(&cell, cost->time_s);
	write_cell(writer, &cell);
	if (isnan(cost->energy_j))
		text_add_string(&cell, NOT_KNOWN);
	else
		text_format(&cell, "%.0f J", cost->energy_j);
	write_cell(writer, &cell);
	writer_close(writer);
}

static void write_head(struct writer *writer)
{
	static const char *const HEADS[] = {"Lines of", "Number", "Length",
					    "Passes",   "Time",   "Energy"};
	writer_open(writer, "thead");
	writer_open(writer, "tr");
	for (int i = 0; i < 6; i++) {
		writer_open(writer, "th");
		writer_attribute(writer, "scope", "col");
		writer_text(writer, HEADS[i]);
		writer_close(writer);
	}
	writer_close(writer);
	writer_close(writer);
}

/* Time at work over all roles with a recipe; says by the way whether some have none. */
static double write_rows(const struct proof *proof, struct writer *writer, bool *known)
{
	double total = 0;
	*known = true;
	writer_open(writer, "tbody");
	for (int i = 0; i < CUTLINT_ROLE_COUNT; i++) {
		enum cutlint_role role = (enum cutlint_role)i;
		struct burn_cost cost = burn_cost_of(proof, role);
		if (!cutlint_role_burned(role) || !cost.count)
			continue;
		write_row(proof, writer, role, &cost);
		if (role == CUTLINT_ROLE_INSET)
			continue;
		if (isnan(cost.time_s))
			*known = false;
		else
			total += cost.time_s;
	}
	writer_close(writer);
	return total;
}

static void write_times(const struct proof *proof, struct writer *writer, const struct order *order,
			double burn_s, bool known)
{
	struct text text = {0};
	double speed = burn_travel_speed(proof->job), travel = order_travel_mm(order);
	writer_open_class(writer, "dl", "facts");
	if (known)
		text_add_time(&text, burn_s);
	else
		text_add_string(&text, "not known: a recipe is missing in the job");
	write_fact(writer, "Burn time", &text);
	text_add_time(&text, travel / speed);
	text_format(&text, " for %.0f mm between %u lines", travel, (unsigned)order->count);
	write_fact(writer, "Travel time", &text);
	if (known) {
		text_add_time(&text, burn_s + travel / speed);
		write_fact(writer, "Together", &text);
	}
	writer_close(writer);
	writer_leaf_format(
		writer, "p", "small",
		"Taken for granted: every pass at the recipe's full speed, without slowing at "
		"corners; moves at %.0f mm/s%s; the order %s; lines for an inset are cut from "
		"another sheet and are not in the times. A real burn takes longer, the more so the "
		"more corners it has.",
		speed, proof->job->fastest_mm_s > 0 ? ", the job's fastest" : ", a usual speed",
		order->drawn ? "of the drawing, which the machine keeps"
			     : "scores, inner cuts, outlines, each as drawn");
}

static void write_lines(const struct scene *scene, struct writer *writer, const struct order *order)
{
	bool known;
	writer_open_class(writer, "div", "wide");
	writer_attribute(writer, "tabindex", "0");
	writer_attribute(writer, "role", "region");
	writer_attribute(writer, "aria-label", "Lines by role");
	writer_open(writer, "table");
	write_head(writer);
	double burn_s = write_rows(scene->proof, writer, &known);
	writer_close(writer);
	writer_close(writer);
	write_times(scene->proof, writer, order, burn_s, known);
}

static bool burns_anything(const struct scene *scene)
{
	for (int i = 0; i < CUTLINT_ROLE_COUNT; i++) {
		enum cutlint_role role = (enum cutlint_role)i;
		if (cutlint_role_burned(role) && store_has_lines(scene, role))
			return true;
	}
	return false;
}

void facts_write(const struct scene *scene, struct writer *writer, const struct order *order)
{
	writer_open_class(writer, "dl", "facts");
	write_size(writer, scene);
	write_envelope(writer, scene);
	write_parts(writer, scene);
	write_stock(writer, scene);
	writer_close(writer);
	if (burns_anything(scene))
		write_lines(scene, writer, order);
}

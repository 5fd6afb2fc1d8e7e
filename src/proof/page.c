/* page.c - the proof as one page of HTML that asks for nothing from anywhere. */
#include <string.h>

#include "proof/burn.h"
#include "proof/caution.h"
#include "proof/embedded.h"
#include "proof/facts.h"
#include "proof/figure.h"
#include "proof/heat.h"
#include "proof/key.h"
#include "proof/list.h"
#include "proof/look.h"
#include "proof/marks.h"
#include "proof/plate.h"
#include "proof/proof.h"
#include "proof/store.h"

/* Everything a page needs at once. */
struct page {
	struct writer writer;
	struct scene scene;
	struct order order;
	struct heat heat;
};

static const char *last_name(const char *file)
{
	const char *slash = strrchr(file, '/');
	return slash && slash[1] ? slash + 1 : file;
}

static void write_meta(struct writer *writer, const char *name, const char *content)
{
	writer_open(writer, "meta");
	writer_attribute(writer, "name", name);
	writer_attribute(writer, "content", content);
	writer_close_empty(writer);
}

static void write_policy(struct writer *writer)
{
	writer_open(writer, "meta");
	writer_attribute(writer, "http-equiv", "Content-Security-Policy");
	writer_format(writer, "content",
		      "default-src 'none'; style-src %s; script-src %s; base-uri 'none'; "
		      "form-action 'none'",
		      page_style_hash, page_script_hash);
	writer_close_empty(writer);
}

static void write_head(struct page *page)
{
	struct writer *writer = &page->writer;
	writer_open(writer, "head");
	writer_open(writer, "meta");
	writer_attribute(writer, "charset", "utf-8");
	writer_close_empty(writer);
	write_policy(writer);
	write_meta(writer, "viewport", "width=device-width, initial-scale=1");
	write_meta(writer, "color-scheme", "light dark");
	writer_leaf_format(writer, "title", NULL, "Proof of %s",
			   last_name(page->scene.proof->design->file));
	writer_open(writer, "style");
	writer_own(writer, page_style);
	writer_close(writer);
	writer_close(writer);
}

static void add_count(struct text *text, uint32_t count, const char *what)
{
	if (count)
		text_format(text, "%s%u %s%s", text->length ? ", " : "", (unsigned)count, what,
			    count == 1 ? "" : "s");
}

static void write_verdict(struct page *page)
{
	struct list_tally tally = list_count(page->scene.proof->findings);
	struct text text = {0};
	add_count(&text, tally.by_severity[CUTLINT_ERROR], "error");
	add_count(&text, tally.by_severity[CUTLINT_WARNING], "warning");
	add_count(&text, tally.by_severity[CUTLINT_NOTE], "note");
	bool bad = tally.by_severity[CUTLINT_ERROR] || tally.by_severity[CUTLINT_WARNING];
	if (!text.length)
		text_add_string(&text, "Nothing found");
	if (tally.silenced)
		text_format(&text, "; %u silenced", (unsigned)tally.silenced);
	page->writer.failed = page->writer.failed || text.failed;
	writer_leaf_format(&page->writer, "p", "verdict", "%s%s", text.bytes,
			   bad ? ": not ready to cut." : ".");
	text_finish(&text);
	if (page->scene.proof->incomplete)
		writer_leaf(&page->writer, "p", "verdict",
			    "Not all rules could look: this proof may show less than there is.");
}

static void write_links(struct writer *writer)
{
	static const struct {
		const char *to, *text;
	} LINKS[] = {{"#look", "Finished card"},
		     {"#burn", "Burn and findings"},
		     {"#heat", "Heat"},
		     {"#facts", "Facts"},
		     {"#cautions", "Cautions"}};
	writer_open(writer, "nav");
	writer_attribute(writer, "aria-label", "On this page");
	for (size_t i = 0; i < sizeof(LINKS) / sizeof(*LINKS); i++) {
		writer_open(writer, "a");
		writer_attribute(writer, "href", LINKS[i].to);
		writer_text(writer, LINKS[i].text);
		writer_close(writer);
		writer_text(writer, " ");
	}
	writer_close(writer);
}

static void write_header(struct page *page)
{
	struct writer *writer = &page->writer;
	writer_open(writer, "header");
	writer_leaf(writer, "p", "kicker", "Proof before the burn");
	writer_leaf(writer, "h1", NULL, last_name(page->scene.proof->design->file));
	write_verdict(page);
	write_links(writer);
	writer_close(writer);
}

static const char *how_seen(const struct scene *scene)
{
	return scene->mirrored
		       ? "The whole card from its outside. The job cuts from the back, so this is "
			 "the mirror image of what the beam sees."
		       : "The whole card from its outside, as the beam sees it.";
}

/* What of the picture was taken for granted. */
static void write_colours(const struct scene *scene, struct writer *writer)
{
	writer_open_class(writer, "p", "small");
	if (!scene->stock_given)
		writer_text(writer, "The job names no colour of the stock (colour in [stock]): an "
				    "ivory is taken. ");
	if (!scene->inset_given)
		writer_text(writer, "It names none of the inset (inset-colour in [stock]): a teal "
				    "is taken. ");
	if (scene->inset_outline == CUTLINT_NONE)
		writer_text(writer, "No inset is drawn: the windows of the front are shown as if "
				    "one covered it.");
	else if (scene->inset_moved)
		writer_text(writer, "The inset is drawn beside the card; it is shown centred "
				    "behind the front.");
	writer_close(writer);
}

static void write_look(struct page *page)
{
	struct writer *writer = &page->writer;
	const struct scene *scene = &page->scene;
	plate_open_section(writer, "look", "The finished card");
	struct cutlint_box box = look_open_box(scene);
	plate_open(writer, "open", box);
	plate_open_picture(writer, box, "img", "The open card, seen from its outside");
	look_open(scene, writer);
	writer_close_empty(writer);
	plate_close_true(writer, box, how_seen(scene));
	if (scene->card != CUTLINT_NONE) {
		box = look_folded_box(scene);
		plate_open(writer, "folded", box);
		plate_open_picture(writer, box, "img", "The folded card, seen from the front");
		look_folded(scene, writer);
		writer_close_empty(writer);
		plate_close_true(writer, box, "Folded, as it comes out of its envelope.");
	}
	key_write_look(scene, writer);
	if (scene->card == CUTLINT_NONE && scene->proof->sheet->fold_count > 0)
		writer_leaf(writer, "p", "small",
			    "The folded card is not shown: which panel is the front can't be told. "
			    "Name the spine in [card], or draw a guide with the role face.");
	write_colours(scene, writer);
	writer_close(writer);
}

static void write_button(struct writer *writer, const char *action, const char *text,
			 const char *label)
{
	writer_open(writer, "button");
	writer_attribute(writer, "type", "button");
	writer_attribute(writer, "data-zoom", action);
	writer_attribute(writer, "aria-label", label);
	writer_text(writer, text);
	writer_close(writer);
}

static void write_switch(struct writer *writer, const char *id, const char *text)
{
	writer_open(writer, "label");
	writer_open(writer, "input");
	writer_attribute(writer, "type", "checkbox");
	writer_attribute(writer, "id", id);
	writer_attribute(writer, "checked", "checked");
	writer_close_empty(writer);
	writer_text_format(writer, " %s", text);
	writer_close(writer);
}

/* Buttons need the script, which shows them; switches work without. */
static void write_controls(struct writer *writer)
{
	writer_open_class(writer, "div", "controls");
	writer_open_class(writer, "span", "buttons");
	writer_attribute(writer, "hidden", "hidden");
	write_button(writer, "out", "\xe2\x88\x92", "smaller");
	write_button(writer, "in", "+", "larger");
	write_button(writer, "all", "whole sheet", "whole sheet");
	writer_close(writer);
	write_switch(writer, "show-marks", "findings");
	write_switch(writer, "show-order", "order and travel");
	writer_close(writer);
}

static void write_stage(struct page *page)
{
	struct writer *writer = &page->writer;
	struct cutlint_box box = page->scene.box;
	double ruler = figure_ruler_length(box_width(box));
	box.bottom += 8;
	plate_open(writer, "bench", box);
	write_controls(writer);
	writer_open_class(writer, "div", "stage");
	writer_attribute(writer, "id", "stage");
	writer_attribute(writer, "tabindex", "0");
	writer_attribute(writer, "role", "region");
	writer_attribute(writer, "aria-label", "The sheet as the beam sees it, with the findings");
	plate_open_picture(writer, box, "group", "Burn lines and findings");
	burn_draw(&page->scene, writer, &page->order);
	writer_open_class(writer, "g", "marks");
	marks_draw(&page->scene, writer);
	writer_close_empty(writer);
	figure_ruler(writer, (struct cutlint_xy){box.left + 5, box.bottom - 4.6}, ruler);
	writer_close_empty(writer);
	writer_close(writer);
	writer_open(writer, "p");
	writer_attribute(writer, "class", "voice");
	writer_attribute(writer, "id", "voice");
	writer_attribute(writer, "aria-live", "polite");
	writer_close(writer);
	plate_close_true(writer, box,
			 page->scene.mirrored
				 ? "The sheet as the beam sees it: the inside of the card."
				 : "The sheet as the beam sees it: the outside of the card.");
}

static void write_grain(struct page *page)
{
	const struct path_grain *grain = &page->scene.grain;
	struct writer *writer = &page->writer;
	if (grain->tolerance_nm > 0)
		writer_leaf_format(
			writer, "p", "small simplified",
			"This is a large drawing: the lines on this page are simplified and lie "
			"within %.2f mm of it. The findings come from the drawing as it is.",
			path_deviation_mm(grain) + page->scene.proof->design->flatness_mm);
	if (page->order.count > BURN_NUMBERED)
		writer_leaf_format(writer, "p", "small",
				   "Numbers of the order are left out: there are %u lines.",
				   (unsigned)page->order.count);
}

static void write_burn(struct page *page)
{
	struct writer *writer = &page->writer;
	plate_open_section(writer, "burn", "What the beam does");
	write_stage(page);
	writer_open_class(writer, "div", "beside");
	writer_open(writer, "h3");
	writer_attribute(writer, "id", "findings");
	writer_text(writer, "Findings");
	writer_close(writer);
	writer_leaf(writer, "p", "small help",
		    "Choose one to see it closely. Arrow keys go through them, Enter shows one, "
		    "Escape the whole sheet.");
	list_write(&page->scene, writer);
	writer_close(writer);
	key_write_lines(&page->scene, writer);
	writer_leaf_format(
		writer, "p", "small",
		"Brown is the kerf in its true width of %.3g mm; the thin line in it tells the "
		"role. Arrow heads show where a line starts and which way it goes, dots the way "
		"between lines. The order is %s.",
		page->scene.proof->job->kerf_mm,
		page->order.drawn ? "the drawing's, which the machine keeps"
				  : "an assumption: scores, inner cuts, outlines, each as drawn");
	write_grain(page);
	writer_close(writer);
}

static void write_scale(struct page *page)
{
	struct writer *writer = &page->writer;
	writer_open_class(writer, "ul", "scale");
	for (int i = 0; i < HEAT_SHADES; i++) {
		writer_open(writer, "li");
		figure_open(writer, "sample", (struct cutlint_box){0, 0, 14, 5});
		writer_attribute(writer, "aria-hidden", "true");
		writer_open(writer, "rect");
		writer_attribute(writer, "width", "14");
		writer_attribute(writer, "height", "5");
		writer_attribute(writer, "fill", heat_shade(i));
		writer_close_empty(writer);
		writer_close_empty(writer);
		writer_leaf_format(writer, "span", NULL, "%g to %g J/mm\xc2\xb2",
				   i * page->heat.step, (i + 1) * page->heat.step);
		writer_close(writer);
	}
	writer_close(writer);
}

static void write_heat(struct page *page)
{
	struct writer *writer = &page->writer;
	const struct heat *heat = &page->heat;
	plate_open_section(writer, "heat", "Heat");
	plate_open(writer, "map", heat->box);
	plate_open_picture(writer, heat->box, "img", "Energy per area");
	heat_draw(heat, &page->scene, writer);
	writer_close_empty(writer);
	struct text text = {0};
	if (heat->disc_mm > 0)
		text_format(&text, "Energy of the burn per area, the mean over a disc of %.0f mm.",
			    heat->disc_mm);
	else
		text_format(&text, "Energy of the burn per area, the mean over squares of %.1f mm.",
			    heat->cell_mm);
	if (heat->most > 0)
		text_format(&text, " The ring marks the hottest place, %.3f J/mm\xc2\xb2.",
			    heat->most);
	writer->failed = writer->failed || text.failed;
	plate_close(writer, text.bytes);
	text_finish(&text);
	write_scale(page);
	if (heat->nominal)
		writer_leaf(writer, "p", "small",
			    "A recipe or the machine's power is missing in the job: 0.1 J is taken "
			    "for a mm of cut, half of it for a mm of score. The map then shows "
			    "where it is hot, not how hot.");
	writer_close(writer);
}

static void write_facts(struct page *page)
{
	plate_open_section(&page->writer, "facts", "Facts");
	facts_write(&page->scene, &page->writer, &page->order);
	writer_close(&page->writer);
}

static void write_body(struct page *page)
{
	struct writer *writer = &page->writer;
	writer_open(writer, "body");
	writer_open_class(writer, "a", "skip");
	writer_attribute(writer, "href", "#findings");
	writer_text(writer, "To the findings");
	writer_close(writer);
	figure_open(writer, "store", (struct cutlint_box){0, 0, 1, 1});
	writer_attribute(writer, "aria-hidden", "true");
	store_write(&page->scene, writer);
	writer_close_empty(writer);
	write_header(page);
	writer_open(writer, "main");
	write_look(page);
	write_burn(page);
	write_heat(page);
	write_facts(page);
	caution_write(writer);
	writer_close(writer);
	writer_open(writer, "footer");
	writer_leaf_format(writer, "p", NULL,
			   "Made by %s from %s. Lines are drawn anew, within "
			   "%.3g mm of the drawing's curves.",
			   page->scene.proof->maker, page->scene.proof->design->file,
			   page->scene.proof->design->flatness_mm);
	writer_close(writer);
	writer_open(writer, "script");
	writer_own(writer, page_script);
	writer_close(writer);
	writer_close(writer);
}

static int write_page(struct page *page, struct text *out)
{
	text_add_string(out, "<!DOCTYPE html>\n");
	writer_open(&page->writer, "html");
	writer_attribute(&page->writer, "xmlns", "http://www.w3.org/1999/xhtml");
	writer_attribute(&page->writer, "lang", "en");
	writer_attribute(&page->writer, "class", "plain");
	write_head(page);
	write_body(page);
	writer_close(&page->writer);
	return writer_take(&page->writer, out);
}

int proof_page(struct text *out, const struct proof *proof)
{
	struct page page = {.scene = scene_of(proof)};
	int status = -1;
	if (writer_init(&page.writer) == 0 && order_init(&page.order, proof) == 0 &&
	    heat_init(&page.heat, &page.scene) == 0)
		status = write_page(&page, out);
	heat_finish(&page.heat);
	order_finish(&page.order);
	writer_finish(&page.writer);
	return status;
}

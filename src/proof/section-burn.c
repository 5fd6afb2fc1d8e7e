/* section-burn.c - what the beam does: the stage, and the findings beside it. */
#include "proof/burn.h"
#include "proof/figure.h"
#include "proof/key.h"
#include "proof/list.h"
#include "proof/marks.h"
#include "proof/plate.h"
#include "proof/section.h"

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

void section_burn(struct page *page)
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
	if (page->order.count)
		writer_leaf_format(
			writer, "p", "small",
			"Brown is the kerf in its true width of %.3g mm; the thin line in it tells "
			"the "
			"role. Arrow heads show where a line starts and which way it goes, dots "
			"the way "
			"between lines. The order is %s.",
			page->scene.proof->job->kerf_mm,
			page->order.drawn
				? "the drawing's, which the machine keeps"
				: "an assumption: scores, inner cuts, outlines, each as drawn");
	write_grain(page);
	writer_close(writer);
}

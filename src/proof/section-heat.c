/* section-heat.c - the map of energy per area, with its scale. */
#include "proof/figure.h"
#include "proof/plate.h"
#include "proof/section.h"

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

void section_heat(struct page *page)
{
	struct writer *writer = &page->writer;
	const struct heat *heat = &page->heat;
	plate_open_section(writer, "heat", "Heat");
	if (!(heat->most > 0)) {
		writer_leaf(writer, "p", NULL, "No line of the card is burned: there is no heat.");
		writer_close(writer);
		return;
	}
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
	text_format(&text, " The ring marks the hottest place, %.3f J/mm\xc2\xb2.", heat->most);
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

/* section-look.c - the finished card: open, and folded. */
#include "proof/folded.h"
#include "proof/key.h"
#include "proof/look.h"
#include "proof/plate.h"
#include "proof/section.h"

static bool has_windows(const struct scene *scene)
{
	const struct cutlint_sheet *sheet = scene->proof->sheet;
	for (uint32_t i = 0; i < sheet->part_count; i++) {
		if (sheet->parts[i].kind == CUTLINT_PART_WINDOW)
			return true;
	}
	return false;
}

static const char *how_many(const struct scene *scene)
{
	return scene->proof->sheet->card_count > 1 ? "All cards from their outside"
						   : "The whole card from its outside";
}

/* The open picture's caption. */
static void close_open(const struct scene *scene, struct writer *writer, struct cutlint_box box)
{
	struct text text = {0};
	text_format(&text, "%s%s", how_many(scene),
		    scene->mirrored
			    ? ". The job cuts from the back, so this is the mirror image of "
			      "what the beam sees."
			    : ", as the beam sees it.");
	writer->failed = writer->failed || text.failed;
	plate_close_true(writer, box, text.failed ? "" : text.bytes);
	text_finish(&text);
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
	if (scene->inset_outline == CUTLINT_NONE && has_windows(scene))
		writer_text(writer, "No inset is drawn: the windows of the front are shown as if "
				    "one covered it.");
	if (scene->inset_beside != CUTLINT_NONE)
		writer_text(writer, "The inset is drawn beside the card; it is shown centred "
				    "behind the front.");
	writer_close(writer);
}

static void write_folded(const struct scene *scene, struct writer *writer, uint32_t card)
{
	struct cutlint_box box = folded_box(scene, card);
	struct text label = {0}, caption = {0};
	text_add_string(&label, "Folded, seen from the front: ");
	folded_add_name(scene, &label, card);
	text_add_string(&caption, "Folded, as it comes out of its envelope");
	if (scene->proof->sheet->card_count > 1) {
		text_add_string(&caption, ": ");
		folded_add_name(scene, &caption, card);
	}
	text_add_string(&caption, ".");
	writer->failed = writer->failed || label.failed || caption.failed;
	plate_open(writer, "folded", box);
	plate_open_picture(writer, box, "img", label.bytes);
	folded_draw(scene, writer, card);
	writer_close_empty(writer);
	plate_close_true(writer, box, caption.bytes);
	text_finish(&label);
	text_finish(&caption);
}

static void write_folded_cards(const struct scene *scene, struct writer *writer)
{
	uint32_t count = folded_count(scene), card = scene->card;
	if (count > 1)
		writer_open_class(writer, "div", "folded-cards");
	for (uint32_t i = 0; i < count && i < FOLDED_MOST; i++) {
		write_folded(scene, writer, card);
		card = scene_next_folded(scene, card);
	}
	if (count > 1)
		writer_close(writer);
	if (count > FOLDED_MOST)
		writer_leaf_format(writer, "p", "small",
				   "The first %u of %u cards are shown folded.",
				   (unsigned)FOLDED_MOST, (unsigned)count);
}

void section_look(struct page *page)
{
	struct writer *writer = &page->writer;
	const struct scene *scene = &page->scene;
	plate_open_section(writer, "look", "The finished card");
	struct cutlint_box box = look_open_box(scene);
	plate_open(writer, "open", box);
	plate_open_picture(writer, box, "img", "The open card, seen from its outside");
	look_open(scene, writer);
	writer_close_empty(writer);
	close_open(scene, writer, box);
	write_folded_cards(scene, writer);
	key_write_look(scene, writer);
	if (scene->card == CUTLINT_NONE && scene->proof->sheet->fold_count > 0)
		writer_leaf(writer, "p", "small",
			    "The folded card is not shown: which panel is the front can't be told. "
			    "Name the spine in [card], or draw a guide with the role face.");
	write_colours(scene, writer);
	writer_close(writer);
}

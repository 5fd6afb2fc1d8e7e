#include "proof/inset.h"

#include <stdlib.h>

static bool is_inset(const struct scene *scene, uint32_t outline)
{
	const struct cutlint_design *design = scene->proof->design;
	return cutlint_outline_role(design, outline) == CUTLINT_ROLE_INSET &&
	       design->outlines[outline].closed;
}

/* What lies on top of the inset: the face; where no face can be told, the first card. */
static struct cutlint_box face_box(const struct scene *scene, uint32_t number)
{
	const struct cutlint_sheet *sheet = scene->proof->sheet;
	if (number == sheet->card_count)
		return scene->box;
	const struct cutlint_card *card = &sheet->cards[number];
	return scene_folds(scene, number) ? card->panels[card->face].box : card->box;
}

/* The first card that has something to lie an inset behind, and the next ones; NONE behind them. */
static uint32_t next_face(const struct scene *scene, uint32_t card)
{
	if (scene->card == CUTLINT_NONE)
		return card == CUTLINT_NONE ? 0 : CUTLINT_NONE;
	return scene_next_folded(scene, card);
}

/* The card on whose face an inset is drawn; CUTLINT_NONE where it lies on none. */
static uint32_t card_under(const struct scene *scene, struct cutlint_box inset)
{
	uint32_t card = next_face(scene, CUTLINT_NONE);
	while (card != CUTLINT_NONE &&
	       !cutlint_box_contains(face_box(scene, card), cutlint_box_middle(inset)))
		card = next_face(scene, card);
	return card;
}

void inset_find(struct scene *scene)
{
	const struct cutlint_design *design = scene->proof->design;
	scene->inset_outline = scene->inset_beside = CUTLINT_NONE;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (!is_inset(scene, i))
			continue;
		if (scene->inset_outline == CUTLINT_NONE)
			scene->inset_outline = i;
		if (card_under(scene, cutlint_outline_box(design, i)) != CUTLINT_NONE)
			continue;
		scene->inset_beside = i;
		return;
	}
}

/* Centred, with its long side along the face's. */
static struct cutlint_box centred(struct cutlint_box inset, struct cutlint_box face)
{
	struct cutlint_xy there = cutlint_box_middle(face);
	bool turned =
		(box_width(inset) > box_height(inset)) != (box_width(face) > box_height(face));
	double across = (turned ? box_height(inset) : box_width(inset)) / 2;
	double down = (turned ? box_width(inset) : box_height(inset)) / 2;
	return (struct cutlint_box){there.x - across, there.y - down, there.x + across,
				    there.y + down};
}

static void write_box(struct writer *writer, struct cutlint_box box, double scale,
		      const char *paint)
{
	writer_open(writer, "rect");
	writer_number(writer, "x", box.left * scale);
	writer_number(writer, "y", box.top * scale);
	writer_number(writer, "width", box_width(box) * scale);
	writer_number(writer, "height", box_height(box) * scale);
	writer_attribute(writer, "fill", paint);
	writer_close_empty(writer);
}

/* The insets that are drawn on faces, and which cards have one. */
static void write_in_place(const struct scene *scene, struct writer *writer, double scale,
			   const char *paint, bool *covered)
{
	const struct cutlint_design *design = scene->proof->design;
	for (uint32_t i = scene->inset_outline; i < design->outline_count; i++) {
		if (!is_inset(scene, i))
			continue;
		struct cutlint_box box = cutlint_outline_box(design, i);
		uint32_t card = card_under(scene, box);
		if (card == CUTLINT_NONE || covered[card])
			continue;
		covered[card] = true;
		write_box(writer, box, scale, paint);
	}
}

void inset_write(const struct scene *scene, struct writer *writer, double scale, const char *paint)
{
	bool *covered = calloc((size_t)scene->proof->sheet->card_count + 1, sizeof(*covered));
	if (!covered) {
		writer->failed = true;
		return;
	}
	write_in_place(scene, writer, scale, paint, covered);
	bool none = scene->inset_outline == CUTLINT_NONE;
	bool beside = scene->inset_beside != CUTLINT_NONE;
	uint32_t card = next_face(scene, CUTLINT_NONE);
	for (; card != CUTLINT_NONE && (none || beside); card = next_face(scene, card)) {
		struct cutlint_box face = face_box(scene, card);
		if (covered[card])
			continue;
		if (beside)
			face = centred(
				cutlint_outline_box(scene->proof->design, scene->inset_beside),
				face);
		write_box(writer, face, scale, paint);
	}
	free(covered);
}

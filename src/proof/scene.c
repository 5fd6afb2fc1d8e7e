#include "proof/scene.h"

#include <math.h>

#include "proof/inset.h"

/* Room round cards and lines, and the sizes below which a picture has nothing to show. */
static const double MARGIN_MM = 5;
static const double LEAST_MM = 10;

/* Plain colours where the job names none: ivory card, and a teal behind it. */
static const uint32_t STOCK = 0xefe4cd, INSET = 0x2f6f73;

struct cutlint_box box_wider(struct cutlint_box box, double margin_mm)
{
	return (struct cutlint_box){box.left - margin_mm, box.top - margin_mm,
				    box.right + margin_mm, box.bottom + margin_mm};
}

struct cutlint_xy view_apply(const struct view *view, struct cutlint_xy at)
{
	return (struct cutlint_xy){view->a * at.x + view->c * at.y + view->e,
				   view->b * at.x + view->d * at.y + view->f};
}

struct cutlint_box view_box(const struct view *view, struct cutlint_box box)
{
	const struct cutlint_xy corners[] = {{box.left, box.top},
					     {box.right, box.top},
					     {box.right, box.bottom},
					     {box.left, box.bottom}};
	struct cutlint_box seen = cutlint_box_empty();
	for (int i = 0; i < 4; i++) {
		struct cutlint_xy at = view_apply(view, corners[i]);
		cutlint_box_add(&seen, at);
	}
	return seen;
}

void view_write(const struct view *view, struct writer *writer)
{
	const double figures[] = {view->a, view->b, view->c, view->d, view->e, view->f};
	struct text text = {0};
	text_add_string(&text, "matrix(");
	for (int i = 0; i < 6; i++) {
		text_add_string(&text, i ? " " : "");
		text_add_figure(&text, figures[i]);
	}
	text_add_string(&text, ")");
	writer->failed = writer->failed || text.failed;
	writer_attribute(writer, "transform", text.bytes);
	text_finish(&text);
}

void scene_write_frame(struct writer *writer, struct cutlint_box box)
{
	writer_format(writer, "width", "%.2fmm", box_width(box));
	writer_format(writer, "height", "%.2fmm", box_height(box));
	writer_format(writer, "viewBox", "%.3f %.3f %.3f %.3f", box.left, box.top, box_width(box),
		      box_height(box));
}

static struct cutlint_box find_box(const struct proof *proof)
{
	struct cutlint_box box = cutlint_box_empty();
	for (uint32_t i = 0; i < proof->sheet->card_count; i++)
		cutlint_box_join(&box, proof->sheet->cards[i].box);
	for (uint32_t i = 0; i < proof->design->outline_count; i++) {
		if (cutlint_role_burned(cutlint_outline_role(proof->design, i)) &&
		    proof->design->outlines[i].vertex_count)
			cutlint_box_join(&box, cutlint_outline_box(proof->design, i));
	}
	if (!(box_width(box) > 0) && !(box_height(box) > 0))
		box = (struct cutlint_box){0, 0, LEAST_MM, LEAST_MM};
	return box_wider(box, MARGIN_MM);
}

bool scene_folds(const struct scene *scene, uint32_t card)
{
	const struct cutlint_sheet *sheet = scene->proof->sheet;
	return sheet->cards[card].fold != CUTLINT_NONE && sheet->cards[card].face >= 0;
}

uint32_t scene_next_folded(const struct scene *scene, uint32_t card)
{
	uint32_t next = card == CUTLINT_NONE ? 0 : card + 1;
	for (; next < scene->proof->sheet->card_count; next++) {
		if (scene_folds(scene, next))
			return next;
	}
	return CUTLINT_NONE;
}

/* Where the face lies from the spine, as seen on the upright front. */
static struct cutlint_xy away_from_spine(enum cutlint_spine spine)
{
	switch (spine) {
	case CUTLINT_SPINE_RIGHT:
		return (struct cutlint_xy){-1, 0};
	case CUTLINT_SPINE_TOP:
		return (struct cutlint_xy){0, 1};
	case CUTLINT_SPINE_BOTTOM:
		return (struct cutlint_xy){0, -1};
	case CUTLINT_SPINE_LEFT:
		break;
	}
	return (struct cutlint_xy){1, 0};
}

/* Square to the fold, into the face, as the front view's mirror image leaves it. */
static struct cutlint_xy into_face(const struct scene *scene, uint32_t number)
{
	const struct cutlint_sheet *sheet = scene->proof->sheet;
	const struct cutlint_card *card = &sheet->cards[number];
	const struct cutlint_fold *fold = &sheet->folds[card->fold];
	double x = fold->to.x - fold->from.x, y = fold->to.y - fold->from.y, size = hypot(x, y);
	struct cutlint_xy square = {-y / size, x / size};
	struct cutlint_xy face = cutlint_box_middle(card->panels[card->face].box);
	if ((face.x - fold->from.x) * square.x + (face.y - fold->from.y) * square.y < 0)
		square = (struct cutlint_xy){-square.x, -square.y};
	if (scene->mirrored)
		square.x = -square.x;
	return square;
}

/*
 * Mirrored back about the upright middle of the box, then turned so that the card's spine lies as
 * named; without a card only mirrored back.
 */
struct view scene_view(const struct scene *scene, uint32_t card)
{
	struct cutlint_xy middle = cutlint_box_middle(scene->box);
	double flip = scene->mirrored ? -1 : 1, cosine = 1, sine = 0;
	if (card != CUTLINT_NONE) {
		struct cutlint_xy face = into_face(scene, card);
		struct cutlint_xy wanted = away_from_spine(scene->proof->job->spine);
		cosine = face.x * wanted.x + face.y * wanted.y;
		sine = face.x * wanted.y - face.y * wanted.x;
	}
	struct view view = {flip * cosine, flip * sine, -sine, cosine, 0, 0};
	struct cutlint_xy moved = view_apply(&view, middle);
	view.e = middle.x - moved.x;
	view.f = middle.y - moved.y;
	return view;
}

static void find_colours(struct scene *scene)
{
	const struct cutlint_job *job = scene->proof->job;
	scene->stock_given = job->stock_colour != CUTLINT_NO_COLOUR;
	scene->stock = scene->stock_given ? job->stock_colour : STOCK;
	scene->inset_given = job->inset_colour != CUTLINT_NO_COLOUR;
	scene->inset = scene->inset_given ? job->inset_colour : INSET;
	if (scene->inset_given || scene->inset_outline == CUTLINT_NONE)
		return;
	const struct cutlint_paint *fill =
		&cutlint_outline_shape(scene->proof->design, scene->inset_outline)->fill;
	if (fill->kind != CUTLINT_PAINT_COLOUR)
		return;
	scene->inset = fill->rgb;
	scene->inset_given = true;
}

struct scene scene_of(const struct proof *proof)
{
	struct scene scene = {.proof = proof,
			      .grain = path_grain_for(proof->design),
			      .box = find_box(proof),
			      .mirrored = proof->job->side == CUTLINT_SIDE_BACK};
	scene.card = scene_next_folded(&scene, CUTLINT_NONE);
	scene.unit_mm = fmax(box_width(scene.box), box_height(scene.box)) / 100;
	scene.front = scene_view(&scene, scene.card);
	inset_find(&scene);
	find_colours(&scene);
	return scene;
}

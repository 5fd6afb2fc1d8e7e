#include "proof/folded.h"

#include <math.h>
#include <stdio.h>

#include "proof/figure.h"
#include "proof/look.h"

/* About how wide caption and ruler are at least. */
static const double LEAST_MM = 50;

uint32_t folded_count(const struct scene *scene)
{
	uint32_t count = 0, card = scene->card;
	for (; card != CUTLINT_NONE; card = scene_next_folded(scene, card))
		count++;
	return count;
}

static struct cutlint_box face_box(const struct scene *scene, uint32_t number)
{
	const struct cutlint_card *card = &scene->proof->sheet->cards[number];
	struct view view = scene_view(scene, number);
	return view_box(&view, card->panels[card->face].box);
}

struct cutlint_box folded_box(const struct scene *scene, uint32_t card)
{
	return look_frame(face_box(scene, card), LEAST_MM);
}

/* The element that placed it tells copies of one drawn edge apart. */
void folded_add_name(const struct scene *scene, struct text *text, uint32_t card)
{
	const struct cutlint_sheet *sheet = scene->proof->sheet;
	uint32_t outline = sheet->cards[card].outline;
	text_add_string(text, "card");
	if (sheet->card_count < 2)
		return;
	text_format(text, " %u of %u", (unsigned)card + 1, (unsigned)sheet->card_count);
	if (outline == CUTLINT_NONE)
		return;
	const struct cutlint_shape *shape = cutlint_outline_shape(scene->proof->design, outline);
	char name[80];
	cutlint_element_name(shape->placement ? shape->placement->use : shape->element, name,
			     sizeof(name));
	text_format(text, ", %s", name);
}

/* All of the sheet on the face's side of the fold, as a polygon. */
static void write_half(const struct scene *scene, struct writer *writer, uint32_t number)
{
	const struct cutlint_card *card = &scene->proof->sheet->cards[number];
	const struct cutlint_fold *fold = &scene->proof->sheet->folds[card->fold];
	struct cutlint_xy middle = cutlint_box_middle(card->panels[card->face].box);
	double x = fold->to.x - fold->from.x, y = fold->to.y - fold->from.y, size = hypot(x, y);
	double far = 4 * (box_width(card->box) + box_height(card->box));
	double ux = x / size * far, uy = y / size * far, side = 1;
	if ((middle.x - fold->from.x) * -uy + (middle.y - fold->from.y) * ux < 0)
		side = -1;
	const struct cutlint_xy corners[] = {
		{fold->from.x - ux, fold->from.y - uy},
		{fold->from.x + ux, fold->from.y + uy},
		{fold->from.x + ux - side * uy, fold->from.y + uy + side * ux},
		{fold->from.x - ux - side * uy, fold->from.y - uy + side * ux}};
	struct text points = {0};
	for (int i = 0; i < 4; i++) {
		text_add_figure(&points, corners[i].x);
		text_add_string(&points, " ");
		text_add_figure(&points, corners[i].y);
		text_add_string(&points, " ");
	}
	writer->failed = writer->failed || points.failed;
	writer_open(writer, "polygon");
	writer_attribute(writer, "points", points.bytes);
	writer_close_empty(writer);
	text_finish(&points);
}

static void open_clip(struct writer *writer, const char *name, uint32_t card)
{
	writer_open(writer, "clipPath");
	writer_format(writer, "id", "%s-%u", name, (unsigned)card + 1);
}

/* The card's own edge, which keeps its neighbours on the sheet out of the picture. */
static void write_edge(const struct scene *scene, struct writer *writer, uint32_t card)
{
	const struct cutlint_design *design = scene->proof->design;
	uint32_t number = scene->proof->sheet->cards[card].outline;
	struct path_run run = path_run_start(writer, &scene->grain);
	if (number != CUTLINT_NONE)
		path_run_add(&run, &design->vertices[design->outlines[number].first_vertex],
			     design->outlines[number].vertex_count, true);
	path_run_end(&run);
}

static void write_clips(const struct scene *scene, struct writer *writer, uint32_t card)
{
	open_clip(writer, "face-side", card);
	write_half(scene, writer, card);
	writer_close_empty(writer);
	if (scene->proof->sheet->cards[card].outline == CUTLINT_NONE)
		return;
	open_clip(writer, "card-edge", card);
	writer_format(writer, "transform", "scale(%g)", scene->grain.unit_mm);
	write_edge(scene, writer, card);
	writer_close_empty(writer);
}

static void open_clipped(struct writer *writer, const char *name, uint32_t card)
{
	writer_open(writer, "g");
	writer_format(writer, "clip-path", "url(#%s-%u)", name, (unsigned)card + 1);
}

/* The spine of the folded card: two thicknesses of stock, rounded. */
static void write_spine(const struct scene *scene, struct writer *writer, uint32_t card)
{
	const struct cutlint_sheet *sheet = scene->proof->sheet;
	const struct cutlint_fold *fold = &sheet->folds[sheet->cards[card].fold];
	writer_open(writer, "g");
	writer_attribute(writer, "stroke-linecap", "round");
	figure_line(writer, fold->from, fold->to, FIGURE_INK,
		    fmax(0.5, 2 * scene->proof->job->stock_thickness_mm));
	writer_close_empty(writer);
}

/* The clip takes half of the edge's line away. */
static void draw_edge(const struct scene *scene, struct writer *writer, uint32_t card)
{
	writer_open(writer, "g");
	writer_format(writer, "transform", "scale(%g)", scene->grain.unit_mm);
	writer_attribute(writer, "fill", "none");
	writer_attribute(writer, "stroke", FIGURE_INK);
	writer_number(writer, "stroke-width", 0.15 / scene->grain.unit_mm);
	write_edge(scene, writer, card);
	writer_close_empty(writer);
}

static void write_half_card(const struct scene *scene, struct writer *writer, uint32_t card)
{
	bool page = scene->proof->sheet->cards[card].outline == CUTLINT_NONE;
	open_clipped(writer, "face-side", card);
	if (!page)
		open_clipped(writer, "card-edge", card);
	writer_open(writer, "use");
	writer_attribute(writer, "xlink:href", "#card");
	writer_close_empty(writer);
	if (!page) {
		writer_close_empty(writer);
		draw_edge(scene, writer, card);
	}
	writer_close_empty(writer);
}

void folded_draw(const struct scene *scene, struct writer *writer, uint32_t card)
{
	struct cutlint_box face = face_box(scene, card);
	struct view view = scene_view(scene, card);
	char caption[48] = "folded, the front";
	if (scene->proof->sheet->card_count > 1)
		snprintf(caption, sizeof(caption), "card %u, folded, the front",
			 (unsigned)card + 1);
	write_clips(scene, writer, card);
	writer_open(writer, "g");
	view_write(&view, writer);
	write_half_card(scene, writer, card);
	write_spine(scene, writer, card);
	writer_close_empty(writer);
	look_open_caption(writer,
			  (struct cutlint_xy){(face.left + face.right) / 2, face.bottom + 4},
			  "below");
	writer_text(writer, caption);
	writer_close(writer);
	look_ruler(writer, folded_box(scene, card));
}

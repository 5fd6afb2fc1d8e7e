#include "proof/look.h"

#include <math.h>

#include "proof/figure.h"
#include "proof/store.h"

/* Room below a picture for its captions and ruler; so many loose parts are labelled. */
static const double CAPTION_MM = 14;
enum { LABELS_MOST = 40 };

/* About how wide a label is. */
static const double LABEL_MM = 38;

static struct cutlint_box cards_box(const struct scene *scene)
{
	const struct cutlint_sheet *sheet = scene->proof->sheet;
	struct cutlint_box box = box_empty();
	for (uint32_t i = 0; i < sheet->card_count; i++)
		box_grow(&box, view_box(&scene->front, sheet->cards[i].box));
	return sheet->card_count ? box : view_box(&scene->front, scene->box);
}

static bool has_labels(const struct scene *scene)
{
	for (uint32_t i = 0; i < scene->proof->sheet->part_count; i++) {
		if (scene->proof->sheet->parts[i].kind == CUTLINT_PART_LOOSE)
			return true;
	}
	return false;
}

/* Wide enough for its labels and the ruler's. */
struct cutlint_box look_open_box(const struct scene *scene)
{
	struct cutlint_box box = box_wider(cards_box(scene), 5);
	double missing = (has_labels(scene) ? LABEL_MM + 10 : 50) - box_width(box);
	if (missing > 0) {
		box.left -= missing / 2;
		box.right += missing / 2;
	}
	box.bottom += CAPTION_MM - 5;
	return box;
}

static const struct cutlint_card *folded_card(const struct scene *scene)
{
	return &scene->proof->sheet->cards[scene->card];
}

static struct cutlint_box face_box(const struct scene *scene)
{
	const struct cutlint_card *card = folded_card(scene);
	return view_box(&scene->front, card->panels[card->face].box);
}

struct cutlint_box look_folded_box(const struct scene *scene)
{
	struct cutlint_box box = box_wider(face_box(scene), 5);
	box.bottom += CAPTION_MM - 5;
	return box;
}

/* The kerf shows what lies behind, like a window; the fold is drawn as dashes. */
static void write_card(const struct scene *scene, struct writer *writer)
{
	double kerf = scene->proof->job->kerf_mm;
	writer_open(writer, "g");
	writer_attribute(writer, "id", "card");
	view_write(&scene->front, writer);
	store_use_regions(writer);
	/* Where a million sides are drawn, what the kerf takes from a window's edge is not. */
	if (scene->grain.tolerance_nm <= 0)
		store_use_kerf(scene, writer);
	store_use_lines(scene, writer, CUTLINT_ROLE_SLIT, "kerf", FIGURE_INK, kerf);
	for (uint32_t i = 0; i < scene->proof->sheet->fold_count; i++) {
		const struct cutlint_fold *fold = &scene->proof->sheet->folds[i];
		writer_open(writer, "g");
		writer_attribute(writer, "stroke-dasharray", "2.4 1.6");
		figure_line(writer, fold->from, fold->to, FIGURE_PAPER, 0.7);
		figure_line(writer, fold->from, fold->to, FIGURE_INK, 0.35);
		writer_close_empty(writer);
	}
	writer_close_empty(writer);
}

/* Of the rule loose-part the finding about a part: its number, or 0. */
static uint32_t finding_of(const struct scene *scene, const struct cutlint_part *part)
{
	const struct findings *findings = scene->proof->findings;
	for (uint32_t i = 0; i < findings->count; i++) {
		const struct finding_place *place = &findings->items[i].place;
		if (place->on_sheet && place->at.x == part->at.x && place->at.y == part->at.y)
			return i + 1;
	}
	return 0;
}

static void write_label(const struct scene *scene, struct writer *writer,
			const struct cutlint_part *part)
{
	struct cutlint_xy at = view_apply(&scene->front, part->at);
	double size = 3, out = fmax(4, sqrt(part->area_mm2) / 2);
	struct cutlint_box box = look_open_box(scene);
	struct cutlint_xy beside = {at.x + out, fmax(at.y - out, box.top + size)};
	/* Where there is no room at its side the label stands above the card. */
	if (beside.x > box.right - LABEL_MM)
		beside = (struct cutlint_xy){box.right - LABEL_MM, box.top + size};
	uint32_t number = finding_of(scene, part);
	writer_open_class(writer, "g", "label");
	figure_line(writer, at, beside, FIGURE_PAPER, 0.9);
	figure_line(writer, at, beside, FIGURE_INK, 0.3);
	for (int halo = 1; halo >= 0; halo--) {
		figure_open_text(writer, (struct cutlint_xy){beside.x + 0.6, beside.y + 1}, size,
				 "start", FIGURE_INK);
		if (halo) {
			writer_attribute(writer, "stroke", FIGURE_PAPER);
			writer_attribute(writer, "stroke-width", "1");
			writer_attribute(writer, "stroke-linejoin", "round");
			writer_attribute(writer, "aria-hidden", "true");
		}
		if (number)
			writer_text_format(writer, "falls out by mistake (%u)", (unsigned)number);
		else
			writer_text(writer, "falls out by mistake");
		writer_close(writer);
	}
	writer_close_empty(writer);
}

static void write_labels(const struct scene *scene, struct writer *writer)
{
	const struct cutlint_sheet *sheet = scene->proof->sheet;
	uint32_t count = 0;
	for (uint32_t i = 0; i < sheet->part_count && count < LABELS_MOST; i++) {
		if (sheet->parts[i].kind != CUTLINT_PART_LOOSE)
			continue;
		write_label(scene, writer, &sheet->parts[i]);
		count++;
	}
}

static void write_caption(struct writer *writer, struct cutlint_xy at, const char *text)
{
	figure_open_text(writer, at, 3.2, "middle", FIGURE_FAINT);
	writer_text(writer, text);
	writer_close(writer);
}

/* Names both panels under the card, or beside it where one lies above the other. */
static void name_panels(const struct scene *scene, struct writer *writer)
{
	if (scene->card == CUTLINT_NONE)
		return;
	const struct cutlint_card *card = folded_card(scene);
	struct cutlint_box whole = view_box(&scene->front, card->box);
	for (int i = 0; i < 2; i++) {
		struct cutlint_box box = view_box(&scene->front, card->panels[i].box);
		bool above = box.bottom < whole.bottom - 1;
		struct cutlint_xy at = {(box.left + box.right) / 2,
					above ? whole.top - 1.2 : whole.bottom + 4};
		write_caption(writer, at, i == card->face ? "front" : "back");
	}
}

/* Says at its upper or left end what the dashes are. */
static void name_folds(const struct scene *scene, struct writer *writer)
{
	for (uint32_t i = 0; i < scene->proof->sheet->fold_count; i++) {
		const struct cutlint_fold *fold = &scene->proof->sheet->folds[i];
		struct cutlint_xy a = view_apply(&scene->front, fold->from);
		struct cutlint_xy b = view_apply(&scene->front, fold->to);
		struct cutlint_xy at = a.y < b.y || (a.y == b.y && a.x < b.x) ? a : b;
		bool upright = fabs(a.x - b.x) < fabs(a.y - b.y);
		write_caption(writer,
			      (struct cutlint_xy){upright ? at.x : at.x + 6,
						  upright ? at.y - 1.2 : at.y - 1},
			      "fold");
	}
}

static void write_ruler(struct writer *writer, struct cutlint_box box)
{
	figure_ruler(writer, (struct cutlint_xy){box.left + 5, box.bottom - 4.6},
		     figure_ruler_length(box_width(box)));
}

void look_open(const struct scene *scene, struct writer *writer)
{
	write_card(scene, writer);
	name_panels(scene, writer);
	name_folds(scene, writer);
	write_labels(scene, writer);
	write_ruler(writer, look_open_box(scene));
}

/* All of the sheet on the face's side of the fold, as a polygon to clip with. */
static void write_clip(const struct scene *scene, struct writer *writer)
{
	const struct cutlint_card *card = folded_card(scene);
	const struct cutlint_fold *fold = &scene->proof->sheet->folds[card->fold];
	struct cutlint_box face = card->panels[card->face].box;
	double x = fold->to.x - fold->from.x, y = fold->to.y - fold->from.y, size = hypot(x, y);
	double far = 4 * (box_width(card->box) + box_height(card->box));
	double ux = x / size * far, uy = y / size * far, side = 1;
	struct cutlint_xy middle = {(face.left + face.right) / 2, (face.top + face.bottom) / 2};
	if ((middle.x - fold->from.x) * -uy + (middle.y - fold->from.y) * ux < 0)
		side = -1;
	const struct cutlint_xy corners[] = {
		{fold->from.x - ux, fold->from.y - uy},
		{fold->from.x + ux, fold->from.y + uy},
		{fold->from.x + ux - side * uy, fold->from.y + uy + side * ux},
		{fold->from.x - ux - side * uy, fold->from.y - uy + side * ux}};
	struct text points = {0};
	for (int i = 0; i < 4; i++) {
		struct cutlint_xy at = view_apply(&scene->front, corners[i]);
		text_add_figure(&points, at.x);
		text_add_string(&points, " ");
		text_add_figure(&points, at.y);
		text_add_string(&points, " ");
	}
	writer->failed = writer->failed || points.failed;
	writer_open(writer, "clipPath");
	writer_attribute(writer, "id", "face-side");
	writer_open(writer, "polygon");
	writer_attribute(writer, "points", points.bytes);
	writer_close_empty(writer);
	writer_close_empty(writer);
	text_finish(&points);
}

/* The spine of the folded card: two thicknesses of stock, rounded. */
static void write_spine(const struct scene *scene, struct writer *writer)
{
	const struct cutlint_fold *fold = &scene->proof->sheet->folds[folded_card(scene)->fold];
	writer_open(writer, "g");
	writer_attribute(writer, "stroke-linecap", "round");
	figure_line(writer, view_apply(&scene->front, fold->from),
		    view_apply(&scene->front, fold->to), FIGURE_INK,
		    fmax(0.5, 2 * scene->proof->job->stock_thickness_mm));
	writer_close_empty(writer);
}

void look_folded(const struct scene *scene, struct writer *writer)
{
	struct cutlint_box face = face_box(scene);
	write_clip(scene, writer);
	writer_open(writer, "g");
	writer_attribute(writer, "clip-path", "url(#face-side)");
	writer_open(writer, "use");
	writer_attribute(writer, "xlink:href", "#card");
	writer_close_empty(writer);
	writer_close_empty(writer);
	write_spine(scene, writer);
	write_caption(writer, (struct cutlint_xy){(face.left + face.right) / 2, face.bottom + 4},
		      "folded, the front");
	write_ruler(writer, look_folded_box(scene));
}

#include "proof/look.h"

#include <math.h>

#include "proof/figure.h"
#include "proof/store.h"

/* Room below a picture for its captions and ruler. */
static const double CAPTION_MM = 14;

/* So many loose parts are labelled, and so many cards. */
enum { LABELS_MOST = 40 };

/* About how wide a label is; on a narrow screen, in larger letters, a share of the picture. */
static const double LABEL_MM = 38, LABEL_SHARE = 0.25;

static struct cutlint_box cards_box(const struct scene *scene)
{
	const struct cutlint_sheet *sheet = scene->proof->sheet;
	struct cutlint_box box = cutlint_box_empty();
	for (uint32_t i = 0; i < sheet->card_count; i++)
		cutlint_box_join(&box, view_box(&scene->front, sheet->cards[i].box));
	return sheet->card_count ? box : view_box(&scene->front, scene->box);
}

struct cutlint_box look_frame(struct cutlint_box cards, double least_width_mm)
{
	struct cutlint_box box = box_wider(cards, 5);
	double missing = least_width_mm - box_width(box);
	if (missing > 0) {
		box.left -= missing / 2;
		box.right += missing / 2;
	}
	box.bottom += CAPTION_MM - 5;
	return box;
}

void look_open_caption(struct writer *writer, struct cutlint_xy at, const char *class)
{
	figure_open_text(writer, at, 3.2, "middle", FIGURE_FAINT);
	writer_attribute(writer, "class", class);
}

void look_write_long(struct writer *writer, const char *text)
{
	writer_leaf(writer, "tspan", "long", text);
}

void look_ruler(struct writer *writer, struct cutlint_box box)
{
	figure_ruler(writer, (struct cutlint_xy){box.left + 5, box.bottom - 4.6},
		     figure_ruler_length(box_width(box)));
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
	return look_frame(cards_box(scene), has_labels(scene) ? LABEL_MM + 10 : 50);
}

/* The kerf shows what lies behind, like a window; the folds are dashes. Folded cards use it again.
 */
static void write_card(const struct scene *scene, struct writer *writer)
{
	double kerf = scene->proof->job->kerf_mm;
	writer_open(writer, "g");
	view_write(&scene->front, writer);
	writer_open(writer, "g");
	writer_attribute(writer, "id", "card");
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
	double room = fmax(LABEL_MM, LABEL_SHARE * box_width(box));
	struct cutlint_xy beside = {at.x + out, fmax(at.y - out, box.top + size)};
	/* Where there is no room at its side the label stands above the card. */
	if (beside.x > box.right - room)
		beside = (struct cutlint_xy){box.right - room, box.top + size};
	uint32_t number = finding_of(scene, part);
	writer_open_class(writer, "g", "label");
	figure_line(writer, at, beside, FIGURE_PAPER, 0.9);
	figure_line(writer, at, beside, FIGURE_INK, 0.3);
	for (int halo = 1; halo >= 0; halo--) {
		figure_open_text(writer, (struct cutlint_xy){beside.x + 1.2, beside.y + 1}, size,
				 "start", FIGURE_INK);
		if (halo) {
			writer_attribute(writer, "stroke", FIGURE_PAPER);
			writer_attribute(writer, "stroke-width", "1");
			writer_attribute(writer, "stroke-linejoin", "round");
			writer_attribute(writer, "aria-hidden", "true");
		}
		look_write_long(writer, "falls out by");
		writer_text(writer, " mistake");
		if (number)
			writer_text_format(writer, " (%u)", (unsigned)number);
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

/* Names both panels under a card, or above it the one that lies above the other. */
static void name_panels(const struct scene *scene, struct writer *writer, uint32_t number)
{
	const struct cutlint_card *card = &scene->proof->sheet->cards[number];
	struct cutlint_box whole = view_box(&scene->front, card->box);
	for (int i = 0; i < 2; i++) {
		struct cutlint_box box = view_box(&scene->front, card->panels[i].box);
		bool above = box.bottom < whole.bottom - 1;
		struct cutlint_xy at = {(box.left + box.right) / 2,
					above ? whole.top - 1.2 : whole.bottom + 4};
		look_open_caption(writer, at, above ? "above" : "below");
		if (scene->proof->sheet->card_count > 1) {
			look_write_long(writer, "card");
			writer_text_format(writer, " %u", (unsigned)number + 1);
			look_write_long(writer, ",");
			writer_text(writer, " ");
		}
		writer_text(writer, i == card->face ? "front" : "back");
		writer_close(writer);
	}
}

static void name_cards(const struct scene *scene, struct writer *writer)
{
	uint32_t card = scene->card;
	for (int i = 0; i < LABELS_MOST && card != CUTLINT_NONE; i++) {
		name_panels(scene, writer, card);
		card = scene_next_folded(scene, card);
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
		look_open_caption(writer,
				  (struct cutlint_xy){upright ? at.x : at.x + 6,
						      upright ? at.y - 1.2 : at.y - 1},
				  "above");
		writer_text(writer, "fold");
		writer_close(writer);
	}
}

void look_open(const struct scene *scene, struct writer *writer)
{
	write_card(scene, writer);
	name_cards(scene, writer);
	name_folds(scene, writer);
	write_labels(scene, writer);
	look_ruler(writer, look_open_box(scene));
}

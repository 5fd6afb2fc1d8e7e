/* drawing.c - the proof as a plain SVG: the same pictures, one below the other. */
#include <math.h>
#include <string.h>

#include "proof/burn.h"
#include "proof/figure.h"
#include "proof/folded.h"
#include "proof/key.h"
#include "proof/look.h"
#include "proof/marks.h"
#include "proof/proof.h"
#include "proof/store.h"

static const double GAP_MM = 10, MARGIN_MM = 8, LINE_MM = 5;

/* The scene's unit at least: figures of 2 mm, six points, can be read on paper. */
static const double UNIT_MM = 1.6;

/* So many findings are listed: some 1.5 m of text. */
enum { LISTED_MOST = 200 };

/* One below the other, from `top` on, at the left margin. */
struct column {
	struct writer *writer;
	double top, right;
};

/* Moves what follows so that a picture's box stands at the column's foot. */
static void open_box(struct column *column, struct cutlint_box box)
{
	writer_open(column->writer, "g");
	writer_format(column->writer, "transform", "translate(%.4f %.4f)", MARGIN_MM - box.left,
		      column->top - box.top);
	column->top += box_height(box) + GAP_MM;
	column->right = fmax(column->right, MARGIN_MM + box_width(box));
}

static void write_line(struct column *column, double size, const char *text)
{
	column->top += size;
	figure_open_text(column->writer, (struct cutlint_xy){MARGIN_MM, column->top}, size, "start",
			 FIGURE_INK);
	writer_text(column->writer, text);
	writer_close(column->writer);
	column->top += LINE_MM;
}

/* How many bytes of a text fill a line: up to a space, else as many as fit. */
static size_t line_length(const char *text, size_t most)
{
	size_t length = strlen(text), space = 0;
	if (length <= most)
		return length;
	for (size_t i = 0; i <= most; i++) {
		if (text[i] == ' ')
			space = i;
	}
	while (!space && ((unsigned char)text[most] & 0xc0) == 0x80)
		most--;
	return space ? space : most;
}

/* Several lines, about two characters a size wide. */
static void write_wrapped(struct column *column, double size, const char *text)
{
	size_t most = (size_t)((column->right - MARGIN_MM) / size * 1.9);
	while (*text) {
		size_t length = line_length(text, most);
		struct text line = {0};
		text_add(&line, text, length);
		column->writer->failed = column->writer->failed || line.failed;
		write_line(column, size, line.failed ? "" : line.bytes);
		column->top -= LINE_MM - 1.4;
		text_finish(&line);
		text += length;
		text += *text == ' ';
	}
}

static void write_finding(struct column *column, const struct finding *finding, uint32_t number)
{
	struct text text = {0};
	text_format(&text, "%u %s: %s (%s:%u:%u)", (unsigned)number + 1,
		    severity_word(finding->severity), finding->message, finding->place.file,
		    (unsigned)finding->place.line, (unsigned)finding->place.column);
	column->writer->failed = column->writer->failed || text.failed;
	write_wrapped(column, 3.2, text.failed ? "" : text.bytes);
	column->top += 1.6;
	text_finish(&text);
}

static void write_more(struct column *column, uint32_t count)
{
	struct text text = {0};
	text_format(&text, "The first %u of %u cards are shown folded.", (unsigned)FOLDED_MOST,
		    (unsigned)count);
	column->writer->failed = column->writer->failed || text.failed;
	write_line(column, 3.2, text.failed ? "" : text.bytes);
	text_finish(&text);
}

/* Each under its name where there are several. */
static void write_folded_cards(const struct scene *scene, struct column *column)
{
	uint32_t count = folded_count(scene), card = scene->card;
	for (uint32_t i = 0; i < count && i < FOLDED_MOST; i++) {
		struct text name = {0};
		folded_add_name(scene, &name, card);
		column->writer->failed = column->writer->failed || name.failed;
		if (count > 1)
			write_line(column, 3.2, name.failed ? "" : name.bytes);
		open_box(column, folded_box(scene, card));
		folded_draw(scene, column->writer, card);
		writer_close_empty(column->writer);
		card = scene_next_folded(scene, card);
		text_finish(&name);
	}
	if (count > FOLDED_MOST)
		write_more(column, count);
}

static void write_pictures(const struct scene *scene, struct column *column,
			   const struct order *order)
{
	struct writer *writer = column->writer;
	write_line(column, 5, "The finished card");
	open_box(column, look_open_box(scene));
	look_open(scene, writer);
	writer_close_empty(writer);
	write_folded_cards(scene, column);
	write_line(column, 5, "What the beam does");
	open_box(column, scene->box);
	burn_draw(scene, writer, order);
	marks_draw(scene, writer);
	writer_close_empty(writer);
}

static void write_grain(const struct scene *scene, struct column *column)
{
	struct text text = {0};
	text_format(&text,
		    "The lines of this large drawing are simplified and lie within %.2f mm of it.",
		    path_deviation_mm(&scene->grain) + scene->proof->design->flatness_mm);
	column->writer->failed = column->writer->failed || text.failed;
	write_line(column, 3.2, text.bytes);
	text_finish(&text);
}

static void write_unlisted(struct column *column, const uint32_t count[CUTLINT_ERROR + 1])
{
	struct text text = {0};
	text_format(
		&text,
		"Not listed here, but marked: errors %u, warnings %u, notes %u. The page of the "
		"proof lists them all, and so does cutlint check.",
		(unsigned)count[CUTLINT_ERROR], (unsigned)count[CUTLINT_WARNING],
		(unsigned)count[CUTLINT_NOTE]);
	column->writer->failed = column->writer->failed || text.failed;
	write_wrapped(column, 3.2, text.failed ? "" : text.bytes);
	text_finish(&text);
}

static void write_findings(const struct findings *findings, struct column *column)
{
	uint32_t listed = 0, more = 0, unlisted[CUTLINT_ERROR + 1] = {0};
	for (uint32_t i = 0; i < findings->count; i++) {
		if (findings->items[i].silence)
			continue;
		if (listed < LISTED_MOST) {
			write_finding(column, &findings->items[i], i);
			listed++;
		} else {
			unlisted[findings->items[i].severity]++;
			more++;
		}
	}
	if (more)
		write_unlisted(column, unlisted);
}

static void write_all(const struct scene *scene, struct column *column, const struct order *order)
{
	write_pictures(scene, column, order);
	write_findings(scene->proof->findings, column);
	column->top += GAP_MM;
	column->top += key_draw(scene, column->writer, (struct cutlint_xy){MARGIN_MM, column->top});
	if (scene->grain.tolerance_nm > 0)
		write_grain(scene, column);
	write_line(column, 3.2, scene->proof->maker);
}

/* The size is known only when all is laid out: a first pass writes to nowhere. */
static int write_drawing(const struct scene *scene, const struct order *order, struct text *out,
			 double *wide, double *high)
{
	struct writer writer;
	struct cutlint_box box = {0, 0, *wide, *high};
	int status = writer_init(&writer);
	struct column column = {.writer = &writer, .top = MARGIN_MM, .right = 120};
	if (status == 0) {
		figure_open(&writer, NULL, box);
		writer_open(&writer, "title");
		writer_text_format(&writer, "Proof of %s", scene->proof->design->file);
		writer_close(&writer);
		writer_open(&writer, "rect");
		writer_number(&writer, "width", *wide);
		writer_number(&writer, "height", *high);
		writer_attribute(&writer, "fill", FIGURE_PAPER);
		writer_close_empty(&writer);
		store_write(scene, &writer);
		write_all(scene, &column, order);
		writer_close_empty(&writer);
		status = writer_take(&writer, out);
	}
	*wide = column.right + MARGIN_MM;
	*high = column.top + MARGIN_MM;
	writer_finish(&writer);
	return status;
}

int proof_drawing(struct text *out, const struct proof *proof)
{
	struct scene scene = scene_of(proof);
	struct order order;
	struct text draft = {0};
	double wide = 1, high = 1;
	int status = order_init(&order, proof);
	scene.unit_mm = fmax(scene.unit_mm, UNIT_MM);
	if (status == 0)
		status = write_drawing(&scene, &order, &draft, &wide, &high);
	text_finish(&draft);
	if (status == 0)
		status = write_drawing(&scene, &order, out, &wide, &high);
	order_finish(&order);
	return status;
}

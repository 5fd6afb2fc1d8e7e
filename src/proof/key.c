#include "proof/key.h"

#include "proof/burn.h"
#include "proof/figure.h"
#include "proof/store.h"

static const double SAMPLE_MM = 14, SAMPLE_HIGH_MM = 5, ROW_MM = 7;

static const struct {
	enum store_patch patch;
	const char *meaning;
} PATCHES[] = {
	{STORE_KEPT, "kept: the stock"},
	{STORE_WINDOW, "falls out as meant: a window, with the inset behind it"},
	{STORE_BARE, "falls out as meant, with nothing behind it"},
	{STORE_LOOSE, "falls out by mistake: a loose part"},
};
#define PATCH_COUNT (sizeof(PATCHES) / sizeof(*PATCHES))

static void open_sample(struct writer *writer)
{
	writer_open(writer, "li");
	figure_open(writer, "sample", (struct cutlint_box){0, 0, SAMPLE_MM, SAMPLE_HIGH_MM});
	writer_attribute(writer, "aria-hidden", "true");
}

static void close_sample(struct writer *writer, const char *meaning)
{
	writer_close_empty(writer);
	writer_leaf(writer, "span", NULL, meaning);
	writer_close(writer);
}

void key_write_look(const struct scene *scene, struct writer *writer)
{
	writer_open_class(writer, "ul", "key");
	for (size_t i = 0; i < PATCH_COUNT; i++) {
		open_sample(writer);
		store_patch(scene, writer, PATCHES[i].patch, SAMPLE_MM, SAMPLE_HIGH_MM);
		close_sample(writer, PATCHES[i].meaning);
	}
	writer_close(writer);
}

void key_write_lines(const struct scene *scene, struct writer *writer)
{
	struct burn_style style;
	writer_open_class(writer, "ul", "key");
	for (uint32_t i = 0; burn_style(scene, i, &style); i++) {
		open_sample(writer);
		burn_sample(scene, writer, &style, SAMPLE_MM, SAMPLE_HIGH_MM / 2);
		close_sample(writer, style.meaning);
	}
	writer_close(writer);
}

static void open_row(struct writer *writer, struct cutlint_xy at)
{
	writer_open(writer, "g");
	writer_format(writer, "transform", "translate(%.3f %.3f)", at.x, at.y);
}

static void close_row(struct writer *writer, const char *meaning)
{
	figure_open_text(writer, (struct cutlint_xy){SAMPLE_MM + 3, SAMPLE_HIGH_MM / 2 + 1.1}, 3.2,
			 "start", FIGURE_INK);
	writer_text(writer, meaning);
	writer_close(writer);
	writer_close_empty(writer);
}

double key_draw(const struct scene *scene, struct writer *writer, struct cutlint_xy corner)
{
	struct burn_style style;
	double top = corner.y;
	for (size_t i = 0; i < PATCH_COUNT; i++, corner.y += ROW_MM) {
		open_row(writer, corner);
		store_patch(scene, writer, PATCHES[i].patch, SAMPLE_MM, SAMPLE_HIGH_MM);
		close_row(writer, PATCHES[i].meaning);
	}
	for (uint32_t i = 0; burn_style(scene, i, &style); i++, corner.y += ROW_MM) {
		open_row(writer, corner);
		burn_sample(scene, writer, &style, SAMPLE_MM, SAMPLE_HIGH_MM / 2);
		close_row(writer, style.meaning);
	}
	return corner.y - top;
}

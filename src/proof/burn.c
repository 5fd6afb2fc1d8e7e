#include "proof/burn.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"
#include "proof/figure.h"
#include "proof/store.h"

/* The line in the middle of a kerf, which tells the role, and the kerf below it. */
static const double CENTRE_MM = 0.12;
/* So many moves are one path. */
enum { TRAVEL_MOST = 250 };

#define CHAR  "#8f7a63"
#define SCORE "#b9a88f"

static const struct burn_style STYLES[] = {
	{CUTLINT_ROLE_ART, "", "art: cut through"},
	{CUTLINT_ROLE_OUTLINE, "6 1.2", "outline: cut through, frees the card"},
	{CUTLINT_ROLE_SLIT, "3 0.9", "slit: cut through, stays open"},
	{CUTLINT_ROLE_FOLD, "0.1 0.9", "fold: scored, not through"},
	{CUTLINT_ROLE_INSET, "3.6 0.8 0.1 0.8", "inset: burned from another sheet"},
	{CUTLINT_ROLE_BLANK, "0.6 2.4", "blank: comes ready cut, not burned"},
	{CUTLINT_ROLE_FACE, "0.1 2.4", "face: marks the front, not burned"},
};
#define STYLE_COUNT (sizeof(STYLES) / sizeof(*STYLES))

bool burn_style(const struct scene *scene, uint32_t number, struct burn_style *out)
{
	for (size_t i = 0; i < STYLE_COUNT; i++) {
		if (!store_has_lines(scene, STYLES[i].role) || number-- > 0)
			continue;
		*out = STYLES[i];
		return true;
	}
	return false;
}

/* Dashes are mm; paths are in the grain's unit. */
static void write_dashes(struct writer *writer, const char *dashes, double unit_mm)
{
	struct text text = {0};
	double length;
	const char *end = dashes + strlen(dashes);
	while (dashes < end) {
		size_t taken = number_parse(dashes, end, &length);
		text_add_figure(&text, length / unit_mm);
		text_add_string(&text, " ");
		dashes += taken + strspn(dashes + taken, " ");
	}
	writer->failed = writer->failed || text.failed;
	if (text.length)
		writer_attribute(writer, "stroke-dasharray", text.bytes);
	text_finish(&text);
}

/* In large drawings the kerf alone stands for a line without dashes. */
static bool has_centre(const struct scene *scene, const struct burn_style *style)
{
	return scene->grain.tolerance_nm <= 0 || *style->dashes;
}

static void draw_style(const struct scene *scene, struct writer *writer,
		       const struct burn_style *style, double centre_mm)
{
	char class[48];
	bool centre = has_centre(scene, style);
	snprintf(class, sizeof(class), "centre %s", cutlint_role_word(style->role));
	if (cutlint_role_burned(style->role))
		store_use_lines(scene, writer, style->role, "kerf",
				!centre                            ? FIGURE_INK
				: style->role == CUTLINT_ROLE_FOLD ? SCORE
								   : CHAR,
				scene->proof->job->kerf_mm);
	if (!centre)
		return;
	writer_open(writer, "g");
	write_dashes(writer, style->dashes, scene->grain.unit_mm);
	store_use_lines(scene, writer, style->role, class, FIGURE_INK,
			fmin(centre_mm, scene->proof->job->kerf_mm * 0.6));
	writer_close_empty(writer);
}

void burn_draw_lines(const struct scene *scene, struct writer *writer, double centre_mm)
{
	struct burn_style style;
	for (uint32_t i = 0; burn_style(scene, i, &style); i++)
		draw_style(scene, writer, &style, centre_mm);
}

static void write_travel(struct writer *writer, struct text *data, double unit_mm, bool dotted)
{
	writer->failed = writer->failed || data->failed;
	writer_open(writer, "path");
	writer_attribute(writer, "class", dotted ? "travel dotted" : "travel");
	writer_attribute(writer, "d", data->bytes);
	writer_attribute(writer, "fill", "none");
	writer_attribute(writer, "stroke", FIGURE_FAINT);
	writer_number(writer, "stroke-width", unit_mm * 0.05);
	if (dotted)
		writer_format(writer, "stroke-dasharray", "%.3g %.3g", unit_mm * 0.2,
			      unit_mm * 0.5);
	writer_close_empty(writer);
	data->length = 0;
}

/* How much of the way from one figure to another lies before the span between two others. */
static double share_before(double from, double to, double least, double most)
{
	double outside = fmax(least - from, from - most);
	return outside > 0 && from != to ? fmin(1, outside / fabs(to - from)) : 0;
}

/* Where the way from the page's corner, which may not be shown, comes into the picture. */
static struct cutlint_xy entry_of(struct cutlint_box box, struct cutlint_xy from,
				  struct cutlint_xy to)
{
	double share = fmax(share_before(from.x, to.x, box.left, box.right),
			    share_before(from.y, to.y, box.top, box.bottom));
	return (struct cutlint_xy){from.x + share * (to.x - from.x),
				   from.y + share * (to.y - from.y)};
}

/* From line to line in their order, the beam off. Dots of many lines would be slow to draw. */
static void draw_travel(const struct scene *scene, const struct order *order, struct writer *writer)
{
	double unit_mm = scene->unit_mm;
	struct text data = {0};
	struct cutlint_xy corner = {0, 0};
	struct cutlint_xy at =
		order->count ? entry_of(scene->box, corner, order->stops[0].from) : corner;
	bool dotted = order->count <= BURN_NUMBERED;
	for (uint32_t i = 0; i < order->count; i++) {
		const struct stop *stop = &order->stops[i];
		text_format(&data, "M%.2f %.2fL%.2f %.2f", at.x, at.y, stop->from.x, stop->from.y);
		at = stop->to;
		if ((i + 1) % TRAVEL_MOST == 0 || i + 1 == order->count)
			write_travel(writer, &data, unit_mm, dotted);
	}
	text_finish(&data);
}

/* The way that the beam leaves a line's start, as a unit vector. */
static struct cutlint_xy direction_of(const struct cutlint_design *design, uint32_t outline)
{
	const struct cutlint_outline *line = &design->outlines[outline];
	struct cutlint_xy from = cutlint_point_mm(design->vertices[line->first_vertex]);
	for (uint32_t i = 1; i < line->vertex_count; i++) {
		struct cutlint_xy to = cutlint_point_mm(design->vertices[line->first_vertex + i]);
		double length = hypot(to.x - from.x, to.y - from.y);
		if (length > 0.05)
			return (struct cutlint_xy){(to.x - from.x) / length,
						   (to.y - from.y) / length};
	}
	return (struct cutlint_xy){1, 0};
}

/* An arrow head where a line starts, pointing the way that it is burned, with its number. */
static void draw_start(const struct scene *scene, struct writer *writer, const struct stop *stop,
		       uint32_t number)
{
	struct cutlint_xy way = direction_of(scene->proof->design, stop->outline);
	double size = scene->unit_mm * 0.42, side = size * 0.4;
	writer_open(writer, "g");
	writer_format(writer, "transform", "translate(%.3f %.3f)", stop->from.x, stop->from.y);
	writer_open_class(writer, "g", "tag");
	writer_open(writer, "path");
	writer_format(writer, "d", "M%.3f %.3fL%.3f %.3fL%.3f %.3fz", way.x * size, way.y * size,
		      -way.y * side, way.x * side, way.y * side, -way.x * side);
	writer_attribute(writer, "fill", FIGURE_FAINT);
	writer_close_empty(writer);
	figure_open_text(writer,
			 (struct cutlint_xy){-way.y * size * 1.4 - way.x * side,
					     way.x * size * 1.4 + side - way.y * side},
			 scene->unit_mm * 0.8, "middle", FIGURE_FAINT);
	writer_text_format(writer, "%u", (unsigned)number);
	writer_close(writer);
	writer_close_empty(writer);
	writer_close_empty(writer);
}

void burn_draw(const struct scene *scene, struct writer *writer, const struct order *order)
{
	burn_draw_lines(scene, writer, CENTRE_MM);
	writer_open_class(writer, "g", "order");
	draw_travel(scene, order, writer);
	for (uint32_t i = 0; i < order->count && order->count <= BURN_NUMBERED; i++)
		draw_start(scene, writer, &order->stops[i], i + 1);
	writer_close_empty(writer);
}

void burn_sample(const struct scene *scene, struct writer *writer, const struct burn_style *style,
		 double width_mm, double middle_mm)
{
	struct cutlint_xy from = {0, middle_mm}, to = {width_mm, middle_mm};
	writer_open(writer, "g");
	writer_attribute(writer, "stroke-linecap", "round");
	if (cutlint_role_burned(style->role))
		figure_line(writer, from, to, style->role == CUTLINT_ROLE_FOLD ? SCORE : CHAR,
			    fmax(0.5, scene->proof->job->kerf_mm));
	writer_open(writer, "g");
	write_dashes(writer, style->dashes, 1);
	figure_line(writer, from, to, FIGURE_INK, 0.25);
	writer_close_empty(writer);
	writer_close_empty(writer);
}

#include "proof/dimension.h"

#include <math.h>
#include <string.h>

#include "proof/figure.h"

static const char INK[] = "#8c1d23";

/* Of one outline that is shown, so many vertices are drawn: a page holds many findings. */
enum { VERTICES_MOST = 2000 };

/* A group at a place whose contents keep their size when the picture is enlarged. */
static void open_tag(struct writer *writer, struct cutlint_xy at)
{
	writer_open(writer, "g");
	writer_format(writer, "transform", "translate(%.4f %.4f)", at.x, at.y);
	writer_open_class(writer, "g", "tag");
}

static void close_tag(struct writer *writer)
{
	writer_close_empty(writer);
	writer_close_empty(writer);
}

/* A short stroke square to a line at one of its ends. */
static void write_end(struct writer *writer, struct cutlint_xy end, struct cutlint_xy other,
		      double text_mm)
{
	double x = other.x - end.x, y = other.y - end.y, length = hypot(x, y);
	double tick = text_mm * 0.5;
	double ux = length > 0 ? x / length : 1, uy = length > 0 ? y / length : 0;
	struct cutlint_xy a = {-uy * tick, ux * tick}, b = {uy * tick, -ux * tick};
	open_tag(writer, end);
	figure_line(writer, a, b, INK, text_mm * 0.08);
	close_tag(writer);
}

static double line_width(const struct finding_figure *figure, double text_mm)
{
	return fmin(text_mm * 0.08, figure->length_mm * 0.04);
}

static void write_chain(struct writer *writer, const struct finding_figure *figure, double width)
{
	struct text points = {0};
	for (uint32_t i = 0; i < figure->point_count; i++) {
		text_add_string(&points, i ? " " : "");
		text_add_figure(&points, figure->points[i].x);
		text_add_string(&points, " ");
		text_add_figure(&points, figure->points[i].y);
	}
	writer->failed = writer->failed || points.failed;
	writer_open(writer, "polyline");
	writer_attribute(writer, "points", points.bytes);
	writer_attribute(writer, "fill", "none");
	writer_attribute(writer, "stroke", INK);
	writer_number(writer, "stroke-width", width);
	text_finish(&points);
}

/* So many labels of one finding are kept apart. */
enum { LABELS_MOST = 32 };

/* A finding's figures at work. Sizes are mm on the sheet. */
struct drawing {
	const struct scene *scene;
	struct writer *writer;
	double text_mm, seen_mm;
	struct cutlint_box labels[LABELS_MOST]; /* as they are seen */
	int label_count;
};

static bool overlaps(struct cutlint_box a, struct cutlint_box b)
{
	return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

static bool is_free(const struct drawing *drawing, struct cutlint_box box)
{
	for (int i = 0; i < drawing->label_count; i++) {
		if (overlaps(drawing->labels[i], box))
			return false;
	}
	return true;
}

/* A label of so many letters, with its foot so many text heights below a place. */
static struct cutlint_box label_box(const struct drawing *drawing, struct cutlint_xy at,
				    double down, size_t letters)
{
	double size = drawing->seen_mm;
	return (struct cutlint_box){at.x + 0.4 * size, at.y + (down - 1) * size,
				    at.x + (0.8 + 0.65 * (double)letters) * size,
				    at.y + (down + 0.3) * size};
}

/* Below a place, else above it, else farther off: how many text heights below its foot lies. */
static double foot_of(struct drawing *drawing, struct cutlint_xy at, const char *text)
{
	static const double FEET[] = {1.2, -0.5, 2.6, -1.9, 4.0, -3.3};
	for (size_t i = 0; i < sizeof(FEET) / sizeof(*FEET); i++) {
		struct cutlint_box box = label_box(drawing, at, FEET[i], strlen(text));
		if (!is_free(drawing, box))
			continue;
		if (drawing->label_count < LABELS_MOST)
			drawing->labels[drawing->label_count++] = box;
		return FEET[i];
	}
	return FEET[0];
}

/* A length, or the word for a shape, beside a place. */
static void write_label(struct drawing *drawing, struct cutlint_xy at, const char *class,
			const char *text)
{
	struct writer *writer = drawing->writer;
	double text_mm = drawing->text_mm, foot = foot_of(drawing, at, text);
	open_tag(writer, at);
	for (int halo = 1; halo >= 0; halo--) {
		figure_open_text(writer, (struct cutlint_xy){text_mm * 0.6, text_mm * foot},
				 text_mm, "start", INK);
		writer_attribute(writer, "class", class);
		writer_attribute(writer, "font-weight", "bold");
		if (halo) {
			writer_attribute(writer, "stroke", FIGURE_PAPER);
			writer_number(writer, "stroke-width", text_mm * 0.3);
			writer_attribute(writer, "stroke-linejoin", "round");
			writer_attribute(writer, "aria-hidden", "true");
		}
		writer_text(writer, text);
		writer_close(writer);
	}
	close_tag(writer);
}

static void write_length(struct drawing *drawing, struct cutlint_xy at, const char *before,
			 double length)
{
	struct writer *writer = drawing->writer;
	struct text text = {0};
	text_format(&text, "%s%.2f mm", before, length);
	writer->failed = writer->failed || text.failed;
	write_label(drawing, at, "length", text.failed ? "" : text.bytes);
	text_finish(&text);
}

static void draw_span(struct drawing *drawing, const struct finding_figure *figure)
{
	struct writer *writer = drawing->writer;
	double text_mm = drawing->text_mm;
	struct cutlint_xy label = {fmax(figure->from.x, figure->to.x),
				   (figure->from.y + figure->to.y) / 2};
	bool level = fabs(figure->to.y - figure->from.y) < fabs(figure->to.x - figure->from.x);
	if (level && figure->length_mm > 8 * text_mm)
		label.x = (figure->from.x + figure->to.x) / 2;
	writer_open_class(writer, "g", "span");
	figure_line(writer, figure->from, figure->to, INK, line_width(figure, text_mm));
	write_end(writer, figure->from, figure->to, text_mm);
	write_end(writer, figure->to, figure->from, text_mm);
	writer_close_empty(writer);
	write_length(drawing, label, "", figure->length_mm);
}

static void draw_circle(struct drawing *drawing, const struct finding_figure *figure)
{
	struct writer *writer = drawing->writer;
	double text_mm = drawing->text_mm;
	double radius = figure->diameter_mm / 2;
	figure_circle(writer, "measured", figure->from, radius, "none", INK,
		      fmin(text_mm * 0.08, figure->diameter_mm * 0.05));
	write_length(drawing, (struct cutlint_xy){figure->from.x + radius, figure->from.y},
		     "\xc3\x98 ", figure->diameter_mm);
}

static void draw_way(struct drawing *drawing, const struct finding_figure *figure)
{
	struct writer *writer = drawing->writer;
	double text_mm = drawing->text_mm;
	const struct cutlint_xy *points = figure->points;
	uint32_t last = figure->point_count - 1;
	writer_open_class(writer, "g", "way");
	write_chain(writer, figure, line_width(figure, text_mm));
	writer_close_empty(writer);
	write_end(writer, points[0], points[1], text_mm);
	write_end(writer, points[last], points[last - 1], text_mm);
	writer_close_empty(writer);
	write_length(drawing, points[last / 2], "", figure->length_mm);
}

/* Broad enough to stand out under the burn line that it lies on. */
static void draw_outline(struct drawing *drawing, const struct finding_figure *figure)
{
	const struct scene *scene = drawing->scene;
	struct writer *writer = drawing->writer;
	double text_mm = drawing->text_mm;
	const struct cutlint_design *design = scene->proof->design;
	if (figure->outline >= design->outline_count)
		return;
	const struct cutlint_outline *outline = &design->outlines[figure->outline];
	if (outline->vertex_count <= VERTICES_MOST) {
		struct path_run run = path_run_start(writer, &scene->grain);
		writer_open_class(writer, "g", "whole");
		writer_format(writer, "transform", "scale(%g)", scene->grain.unit_mm);
		writer_attribute(writer, "fill", "none");
		writer_attribute(writer, "stroke", INK);
		writer_number(writer, "stroke-width", text_mm * 0.16 / scene->grain.unit_mm);
		path_run_add(&run, &design->vertices[outline->first_vertex], outline->vertex_count,
			     outline->closed);
		path_run_end(&run);
		writer_close_empty(writer);
	}
	struct cutlint_point first = design->vertices[outline->first_vertex];
	write_length(drawing, cutlint_point_mm(first), "", figure->length_mm);
}

static void draw_shape(struct drawing *drawing, const struct finding_figure *figure)
{
	struct writer *writer = drawing->writer;
	double text_mm = drawing->text_mm;
	if (figure->point_count == 1) {
		open_tag(writer, figure->points[0]);
		figure_circle(writer, "place", (struct cutlint_xy){0, 0}, text_mm * 0.45, "none",
			      FIGURE_PAPER, text_mm * 0.3);
		figure_circle(writer, "place", (struct cutlint_xy){0, 0}, text_mm * 0.45, "none",
			      INK, text_mm * 0.12);
		close_tag(writer);
	} else {
		writer_open_class(writer, "g", "shape");
		write_chain(writer, figure, text_mm * 0.1);
		writer_format(writer, "stroke-dasharray", "%.4g %.4g", text_mm * 0.5,
			      text_mm * 0.3);
		writer_close_empty(writer);
		writer_close_empty(writer);
	}
	if (figure->label)
		write_label(drawing, figure->points[0], "word", figure->label);
}

static void draw_measure(struct drawing *drawing, const struct finding_figure *figure)
{
	switch (figure->kind) {
	case FIGURE_SPAN:
		draw_span(drawing, figure);
		break;
	case FIGURE_CIRCLE:
		draw_circle(drawing, figure);
		break;
	case FIGURE_WAY:
		draw_way(drawing, figure);
		break;
	case FIGURE_OUTLINE:
		draw_outline(drawing, figure);
		break;
	case FIGURE_SHAPE:
		break;
	}
}

void dimension_draw(const struct scene *scene, struct writer *writer, const struct finding *finding,
		    double text_mm, double seen_mm)
{
	struct drawing drawing = {
		.scene = scene, .writer = writer, .text_mm = text_mm, .seen_mm = seen_mm};
	for (uint32_t i = 0; i < finding->figure_count; i++)
		draw_measure(&drawing, &finding->figures[i]);
	for (uint32_t i = 0; i < finding->figure_count; i++) {
		if (finding->figures[i].kind == FIGURE_SHAPE)
			draw_shape(&drawing, &finding->figures[i]);
	}
}

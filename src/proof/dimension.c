#include "proof/dimension.h"

#include <math.h>

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

/* A length, or the word for a shape, beside a place. */
static void write_label(struct writer *writer, struct cutlint_xy at, double text_mm,
			const char *class, const char *text)
{
	open_tag(writer, at);
	for (int halo = 1; halo >= 0; halo--) {
		figure_open_text(writer, (struct cutlint_xy){text_mm * 0.6, text_mm * 1.2}, text_mm,
				 "start", INK);
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

static void write_length(struct writer *writer, struct cutlint_xy at, double text_mm,
			 const char *before, double length)
{
	struct text text = {0};
	text_format(&text, "%s%.2f mm", before, length);
	writer->failed = writer->failed || text.failed;
	write_label(writer, at, text_mm, "length", text.failed ? "" : text.bytes);
	text_finish(&text);
}

static void draw_span(struct writer *writer, const struct finding_figure *figure, double text_mm)
{
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
	write_length(writer, label, text_mm, "", figure->length_mm);
}

static void draw_circle(struct writer *writer, const struct finding_figure *figure, double text_mm)
{
	double radius = figure->diameter_mm / 2;
	figure_circle(writer, "measured", figure->from, radius, "none", INK,
		      fmin(text_mm * 0.08, figure->diameter_mm * 0.05));
	write_length(writer, (struct cutlint_xy){figure->from.x + radius, figure->from.y}, text_mm,
		     "\xc3\x98 ", figure->diameter_mm);
}

static void draw_way(struct writer *writer, const struct finding_figure *figure, double text_mm)
{
	const struct cutlint_xy *points = figure->points;
	uint32_t last = figure->point_count - 1;
	writer_open_class(writer, "g", "way");
	write_chain(writer, figure, line_width(figure, text_mm));
	writer_close_empty(writer);
	write_end(writer, points[0], points[1], text_mm);
	write_end(writer, points[last], points[last - 1], text_mm);
	writer_close_empty(writer);
	write_length(writer, points[last / 2], text_mm, "", figure->length_mm);
}

/* Broad enough to stand out under the burn line that it lies on. */
static void draw_outline(const struct scene *scene, struct writer *writer,
			 const struct finding_figure *figure, double text_mm)
{
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
	write_length(writer, cutlint_point_mm(first), text_mm, "", figure->length_mm);
}

static void draw_shape(struct writer *writer, const struct finding_figure *figure, double text_mm)
{
	if (figure->point_count == 1) {
		open_tag(writer, figure->points[0]);
		figure_circle(writer, "place", (struct cutlint_xy){0, 0}, text_mm * 0.25, "none",
			      INK, text_mm * 0.1);
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
		write_label(writer, figure->points[0], text_mm, "word", figure->label);
}

void dimension_draw(const struct scene *scene, struct writer *writer, const struct finding *finding,
		    double text_mm)
{
	/* What is dashed lies under what is measured. */
	for (uint32_t i = 0; i < finding->figure_count; i++) {
		if (finding->figures[i].kind == FIGURE_SHAPE)
			draw_shape(writer, &finding->figures[i], text_mm);
	}
	for (uint32_t i = 0; i < finding->figure_count; i++) {
		const struct finding_figure *figure = &finding->figures[i];
		if (figure->kind == FIGURE_SPAN)
			draw_span(writer, figure, text_mm);
		else if (figure->kind == FIGURE_CIRCLE)
			draw_circle(writer, figure, text_mm);
		else if (figure->kind == FIGURE_WAY)
			draw_way(writer, figure, text_mm);
		else if (figure->kind == FIGURE_OUTLINE)
			draw_outline(scene, writer, figure, text_mm);
	}
}

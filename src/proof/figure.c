#include "proof/figure.h"

void figure_open(struct writer *writer, const char *class, struct cutlint_box box)
{
	writer_open(writer, "svg");
	writer_attribute(writer, "xmlns", "http://www.w3.org/2000/svg");
	writer_attribute(writer, "xmlns:xlink", "http://www.w3.org/1999/xlink");
	if (class)
		writer_attribute(writer, "class", class);
	scene_write_frame(writer, box);
}

void figure_line(struct writer *writer, struct cutlint_xy from, struct cutlint_xy to,
		 const char *stroke, double width_mm)
{
	writer_open(writer, "line");
	writer_number(writer, "x1", from.x);
	writer_number(writer, "y1", from.y);
	writer_number(writer, "x2", to.x);
	writer_number(writer, "y2", to.y);
	writer_attribute(writer, "stroke", stroke);
	writer_number(writer, "stroke-width", width_mm);
	writer_close_empty(writer);
}

void figure_circle(struct writer *writer, const char *class, struct cutlint_xy at, double radius,
		   const char *fill, const char *stroke, double width)
{
	writer_open(writer, "circle");
	writer_attribute(writer, "class", class);
	writer_number(writer, "cx", at.x);
	writer_number(writer, "cy", at.y);
	writer_number(writer, "r", radius);
	writer_attribute(writer, "fill", fill);
	writer_attribute(writer, "stroke", stroke);
	writer_number(writer, "stroke-width", width);
	writer_close_empty(writer);
}

void figure_open_text(struct writer *writer, struct cutlint_xy at, double size_mm,
		      const char *anchor, const char *fill)
{
	writer_open(writer, "text");
	writer_number(writer, "x", at.x);
	writer_number(writer, "y", at.y);
	writer_number(writer, "font-size", size_mm);
	writer_attribute(writer, "font-family", "Georgia, 'DejaVu Serif', serif");
	writer_attribute(writer, "text-anchor", anchor);
	writer_attribute(writer, "fill", fill);
}

double figure_ruler_length(double width_mm)
{
	static const double LENGTHS[] = {100, 50, 20};
	for (int i = 0; i < 3; i++) {
		if (width_mm >= LENGTHS[i] + 10)
			return LENGTHS[i];
	}
	return 10;
}

void figure_ruler(struct writer *writer, struct cutlint_xy at, double length_mm)
{
	struct text ticks = {0};
	for (int i = 0; i <= (int)length_mm; i++) {
		double height = i % 10 == 0 ? 3 : i % 5 == 0 ? 2.2 : 1.4;
		text_add_string(&ticks, "M");
		text_add_figure(&ticks, at.x + i);
		text_add_string(&ticks, " ");
		text_add_figure(&ticks, at.y);
		text_add_string(&ticks, "v");
		text_add_figure(&ticks, -height);
	}
	writer->failed = writer->failed || ticks.failed;
	writer_open_class(writer, "g", "ruler");
	writer_open(writer, "path");
	writer_attribute(writer, "d", ticks.bytes);
	writer_attribute(writer, "stroke", FIGURE_INK);
	writer_attribute(writer, "stroke-width", "0.15");
	writer_close_empty(writer);
	text_finish(&ticks);
	figure_line(writer, at, (struct cutlint_xy){at.x + length_mm, at.y}, FIGURE_INK, 0.15);
	figure_open_text(writer, (struct cutlint_xy){at.x, at.y + 3.4}, 2.8, "start", FIGURE_FAINT);
	writer_text_format(writer, "%.0f mm on paper: measure it", length_mm);
	writer_close(writer);
	writer_close_empty(writer);
}

#include "svg/shape.h"

#include <math.h>

/* Draws from one point to the next. */
struct pen {
	struct svg_sink sink;
	struct cutlint_xy at, start;
	bool stopped;
};

static void give(struct pen *pen, struct svg_segment segment)
{
	if (pen->stopped)
		return;
	segment.from = pen->at;
	pen->stopped = !pen->sink.take(pen->sink.user, &segment);
	pen->at = segment.p[0];
}

static void move(struct pen *pen, double x, double y)
{
	give(pen, (struct svg_segment){.kind = SVG_MOVE, .p = {{x, y}}});
	pen->start = pen->at;
}

static void line(struct pen *pen, double x, double y)
{
	give(pen, (struct svg_segment){.kind = SVG_LINE, .p = {{x, y}}});
}

static void arc(struct pen *pen, double rx, double ry, double x, double y)
{
	give(pen, (struct svg_segment){.kind = SVG_ARC,
				       .p = {{x, y}},
				       .arc = {.rx = rx, .ry = ry, .sweep = true}});
}

static void close(struct pen *pen)
{
	give(pen, (struct svg_segment){.kind = SVG_CLOSE, .p = {pen->start}});
}

/* Whether a size can be drawn: above 0. */
static bool is_size(const struct svg_subject *subject, enum svg_property property, double value)
{
	if (value > 0)
		return true;
	if (!(value < 0))
		return false;
	struct notice *notice = svg_say(&subject->document->say, NOTICE_ERROR, "length",
					subject->element, subject->element->start_tag,
					"%s is negative (%g): the element is not drawn",
					svg_property_name(property), value);
	svg_suggest(&subject->document->say, notice, "mend the number, or remove the element");
	return false;
}

/*
 * Both radii: one that is not given, or negative, follows the other; each is at most half the side
 * (SVG 2, 10.2).
 */
static struct cutlint_xy corner_radii(const struct svg_subject *subject, double width,
				      double height)
{
	double rx = svg_property_number(subject, SVG_RX, SVG_ACROSS, -1);
	double ry = svg_property_number(subject, SVG_RY, SVG_DOWN, -1);
	if (rx < 0)
		rx = ry;
	if (ry < 0)
		ry = rx;
	if (!(rx > 0) || !(ry > 0))
		return (struct cutlint_xy){0, 0};
	return (struct cutlint_xy){fmin(rx, width / 2), fmin(ry, height / 2)};
}

static void draw_rect(const struct svg_subject *subject, struct pen *pen)
{
	double x = svg_property_number(subject, SVG_X, SVG_ACROSS, 0);
	double y = svg_property_number(subject, SVG_Y, SVG_DOWN, 0);
	double width = svg_property_number(subject, SVG_WIDTH, SVG_ACROSS, 0);
	double height = svg_property_number(subject, SVG_HEIGHT, SVG_DOWN, 0);
	if (!is_size(subject, SVG_WIDTH, width) || !is_size(subject, SVG_HEIGHT, height))
		return;
	struct cutlint_xy r = corner_radii(subject, width, height);
	double right = x + width, bottom = y + height;
	move(pen, x + r.x, y);
	line(pen, right - r.x, y);
	arc(pen, r.x, r.y, right, y + r.y);
	line(pen, right, bottom - r.y);
	arc(pen, r.x, r.y, right - r.x, bottom);
	line(pen, x + r.x, bottom);
	arc(pen, r.x, r.y, x, bottom - r.y);
	line(pen, x, y + r.y);
	arc(pen, r.x, r.y, x + r.x, y);
	close(pen);
}

/* Four quarters from the rightmost point on, clockwise on the screen (SVG 2, 10.3 and 10.4). */
static void draw_round(const struct svg_subject *subject, struct pen *pen, double rx, double ry)
{
	double x = svg_property_number(subject, SVG_CX, SVG_ACROSS, 0);
	double y = svg_property_number(subject, SVG_CY, SVG_DOWN, 0);
	move(pen, x + rx, y);
	arc(pen, rx, ry, x, y + ry);
	arc(pen, rx, ry, x - rx, y);
	arc(pen, rx, ry, x, y - ry);
	arc(pen, rx, ry, x + rx, y);
	close(pen);
}

static void draw_circle(const struct svg_subject *subject, struct pen *pen)
{
	double r = svg_property_number(subject, SVG_R, SVG_OTHER, 0);
	if (is_size(subject, SVG_R, r))
		draw_round(subject, pen, r, r);
}

static void draw_ellipse(const struct svg_subject *subject, struct pen *pen)
{
	double rx = svg_property_number(subject, SVG_RX, SVG_ACROSS, NAN);
	double ry = svg_property_number(subject, SVG_RY, SVG_DOWN, NAN);
	if (isnan(rx) && isnan(ry))
		return;
	if (isnan(rx)) /* auto: a circle */
		rx = ry;
	if (isnan(ry))
		ry = rx;
	if (is_size(subject, SVG_RX, rx) && is_size(subject, SVG_RY, ry))
		draw_round(subject, pen, rx, ry);
}

static void draw_line(const struct svg_subject *subject, struct pen *pen)
{
	move(pen, svg_attribute_number(subject, "x1", SVG_ACROSS, 0),
	     svg_attribute_number(subject, "y1", SVG_DOWN, 0));
	line(pen, svg_attribute_number(subject, "x2", SVG_ACROSS, 0),
	     svg_attribute_number(subject, "y2", SVG_DOWN, 0));
}

void svg_shape_draw(const struct svg_subject *subject, enum svg_kind kind, struct svg_sink sink)
{
	struct pen pen = {.sink = sink};
	switch (kind) {
	case SVG_KIND_RECT:
		draw_rect(subject, &pen);
		break;
	case SVG_KIND_CIRCLE:
		draw_circle(subject, &pen);
		break;
	case SVG_KIND_ELLIPSE:
		draw_ellipse(subject, &pen);
		break;
	default:
		draw_line(subject, &pen);
		break;
	}
}

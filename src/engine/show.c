/* show.c - what a picture of a finding shows to scale. */
#include <math.h>

#include "base/text.h"
#include "engine/rule_check.h"

/* A way that is this much longer than the straight line between its ends (mm) is no straight line.
 */
static const double STRAIGHT_MM = 0.005;

static void show(struct cutlint_finding *finding, struct finding_figure figure)
{
	if (rule_check_is_dummy(finding))
		return;
	struct finding *found = &finding->found;
	struct finding_figure *figures =
		rule_check_room(finding->check, found->figures, found->figure_count,
				&finding->figure_capacity, sizeof(*figures));
	if (!figures)
		return;
	figures[found->figure_count++] = figure;
	found->figures = figures;
}

static double distance(struct cutlint_xy a, struct cutlint_xy b)
{
	return hypot(b.x - a.x, b.y - a.y);
}

void cutlint_show_span(struct cutlint_finding *finding, struct cutlint_xy from,
		       struct cutlint_xy to)
{
	show(finding,
	     (struct finding_figure){
		     .kind = FIGURE_SPAN, .from = from, .to = to, .length_mm = distance(from, to)});
}

void cutlint_show_circle(struct cutlint_finding *finding, struct cutlint_xy centre,
			 double diameter_mm)
{
	show(finding, (struct finding_figure){.kind = FIGURE_CIRCLE,
					      .from = centre,
					      .to = centre,
					      .diameter_mm = diameter_mm});
}

void cutlint_show_outline(struct cutlint_finding *finding, uint32_t outline, double length_mm)
{
	const struct cutlint_design *design = finding->check->design;
	if (rule_check_is_dummy(finding) || outline >= design->outline_count)
		return;
	struct cutlint_box box = cutlint_outline_box(design, outline);
	show(finding, (struct finding_figure){.kind = FIGURE_OUTLINE,
					      .from = {box.left, box.top},
					      .to = {box.right, box.bottom},
					      .length_mm = length_mm,
					      .outline = outline});
}

/* A chain of points, copied, with its box. False where memory ran out. */
static bool set_points(struct cutlint_check *check, struct finding_figure *figure,
		       const struct cutlint_xy *points, uint32_t count)
{
	struct cutlint_xy *copied = rule_check_array(check, count, sizeof(*copied));
	if (!copied)
		return false;
	figure->from = figure->to = points[0];
	for (uint32_t i = 0; i < count; i++) {
		copied[i] = points[i];
		figure->from.x = fmin(figure->from.x, points[i].x);
		figure->from.y = fmin(figure->from.y, points[i].y);
		figure->to.x = fmax(figure->to.x, points[i].x);
		figure->to.y = fmax(figure->to.y, points[i].y);
	}
	figure->points = copied;
	figure->point_count = count;
	return true;
}

void cutlint_show_way(struct cutlint_finding *finding, const struct cutlint_xy *points,
		      uint32_t count, double length_mm)
{
	struct finding_figure figure = {.kind = FIGURE_WAY, .length_mm = length_mm};
	if (rule_check_is_dummy(finding) || count < 2)
		return;
	if (fabs(length_mm - distance(points[0], points[count - 1])) <= STRAIGHT_MM)
		cutlint_show_span(finding, points[0], points[count - 1]);
	else if (set_points(finding->check, &figure, points, count))
		show(finding, figure);
}

static struct cutlint_xy middle_of(const struct cutlint_xy sides[2])
{
	return (struct cutlint_xy){(sides[0].x + sides[1].x) / 2, (sides[0].y + sides[1].y) / 2};
}

void cutlint_show_tip(struct cutlint_finding *finding, const struct cutlint_tip *tip,
		      double along_mm)
{
	struct cutlint_check *check = finding->check;
	struct cutlint_tip_width end = cutlint_tip_at(tip, along_mm);
	struct cutlint_xy *points =
		rule_check_array(check, (size_t)tip->width_count + 1, sizeof(*points));
	uint32_t count = 0;
	if (!points)
		return;
	points[count++] = tip->at;
	for (uint32_t i = 1; i < tip->width_count && tip->widths[i].along_mm < end.along_mm; i++)
		points[count++] = middle_of(tip->widths[i].sides);
	points[count++] = middle_of(end.sides);
	cutlint_show_way(finding, points, count, end.along_mm);
	cutlint_show_span(finding, end.sides[0], end.sides[1]);
}

void cutlint_show_shape(struct cutlint_finding *finding, const struct cutlint_xy *points,
			uint32_t count, const char *label)
{
	struct finding_figure figure = {.kind = FIGURE_SHAPE};
	if (rule_check_is_dummy(finding) || count == 0)
		return;
	figure.label = label ? rule_check_copy(finding->check, label) : NULL;
	if (set_points(finding->check, &figure, points, count))
		show(finding, figure);
}

void cutlint_show_box(struct cutlint_finding *finding, struct cutlint_box box, const char *label)
{
	const struct cutlint_xy corners[] = {{box.left, box.top},
					     {box.right, box.top},
					     {box.right, box.bottom},
					     {box.left, box.bottom},
					     {box.left, box.top}};
	cutlint_show_shape(finding, corners, 5, label);
}

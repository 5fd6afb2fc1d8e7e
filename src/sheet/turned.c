/* Outlines turned about their middle. */
#include <math.h>

#include "cutlint/sheet.h"
#include "sheet/nearest.h"

struct cutlint_xy cutlint_outlines_middle(const struct cutlint_design *design,
					  const uint32_t *outlines, size_t count)
{
	double x = 0, y = 0, weight = 0;
	for (size_t i = 0; i < count; i++) {
		const struct cutlint_outline *outline = &design->outlines[outlines[i]];
		const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
		for (uint32_t k = outline->closed ? 0 : 1; k < outline->vertex_count; k++) {
			struct cutlint_xy a = cutlint_point_mm(
				vertices[k > 0 ? k - 1 : outline->vertex_count - 1]);
			struct cutlint_xy b = cutlint_point_mm(vertices[k]);
			double length = hypot(b.x - a.x, b.y - a.y);
			x += length * (a.x + b.x) / 2;
			y += length * (a.y + b.y) / 2;
			weight += length;
		}
	}
	return (struct cutlint_xy){x / weight, y / weight};
}

static bool lies_near(const struct cutlint_design *design, const uint32_t *outlines, size_t count,
		      struct cutlint_xy at, double tolerance_mm)
{
	for (size_t i = 0; i < count; i++) {
		if (nearest_within(design, outlines[i], at, tolerance_mm))
			return true;
	}
	return false;
}

bool cutlint_same_turned(const struct cutlint_design *design, const uint32_t *outlines,
			 size_t count, double turn_rad, double tolerance_mm)
{
	struct cutlint_xy middle = cutlint_outlines_middle(design, outlines, count);
	uint32_t total = 0, number = 0;
	for (size_t i = 0; i < count; i++)
		total += design->outlines[outlines[i]].vertex_count;
	for (size_t i = 0; i < count; i++) {
		const struct cutlint_outline *outline = &design->outlines[outlines[i]];
		for (uint32_t k = 0; k < outline->vertex_count; k++) {
			if (number++ % (total / 64 + 1) != 0)
				continue;
			struct cutlint_xy at =
				cutlint_point_mm(design->vertices[outline->first_vertex + k]);
			double x = at.x - middle.x, y = at.y - middle.y;
			at.x = middle.x + x * cos(turn_rad) + y * sin(turn_rad);
			at.y = middle.y - x * sin(turn_rad) + y * cos(turn_rad);
			if (!lies_near(design, outlines, count, at, tolerance_mm))
				return false;
		}
	}
	return true;
}

#include "svg/arc.h"

#include <math.h>

#define PI 3.14159265358979323846

/* Middle and half-difference of the ends in the ellipse's own axes (B.2.4, step 1). */
struct chord {
	struct cutlint_xy middle;
	double x, y; /* x1', y1' */
	double cosine, sine;
};

static struct chord chord_of(struct cutlint_xy from, struct cutlint_xy to, double rotation)
{
	double angle = fmod(rotation, 360) * PI / 180;
	double dx = (from.x - to.x) / 2, dy = (from.y - to.y) / 2;
	struct chord chord = {.middle = {(from.x + to.x) / 2, (from.y + to.y) / 2},
			      .cosine = cos(angle),
			      .sine = sin(angle)};
	chord.x = chord.cosine * dx + chord.sine * dy;
	chord.y = -chord.sine * dx + chord.cosine * dy;
	return chord;
}

/*
 * The centre in units of the radii: with p = (x1'/rx, y1'/ry) the ends are p and -p on a unit
 * circle, so the centre is square to p at the distance sqrt(1 - |p|²) (B.2.4, step 2).
 */
static struct cutlint_xy unit_centre(struct cutlint_xy p, bool other_side)
{
	double square = p.x * p.x + p.y * p.y;
	double factor = sqrt(fmax(0, 1 / square - 1));
	if (other_side)
		factor = -factor;
	return (struct cutlint_xy){factor * p.y, -factor * p.x};
}

bool svg_arc_centre(struct cutlint_xy from, struct cutlint_xy to, const struct svg_arc *arc,
		    struct svg_centre_arc *out)
{
	double rx = fabs(arc->rx), ry = fabs(arc->ry);
	if (rx == 0 || ry == 0 || (from.x == to.x && from.y == to.y))
		return false;

	struct chord chord = chord_of(from, to, arc->rotation);
	struct cutlint_xy p = {chord.x / rx, chord.y / ry};
	double scale = hypot(p.x, p.y);
	if (scale > 1) { /* B.2.5, step 3 */
		rx *= scale;
		ry *= scale;
		p = (struct cutlint_xy){p.x / scale, p.y / scale};
	}
	struct cutlint_xy c =
		scale >= 1 ? (struct cutlint_xy){0, 0} : unit_centre(p, arc->large == arc->sweep);

	out->start = atan2(p.y - c.y, p.x - c.x);
	out->sweep = atan2(-p.y - c.y, -p.x - c.x) - out->start;
	if (arc->sweep && out->sweep < 0)
		out->sweep += 2 * PI;
	if (!arc->sweep && out->sweep > 0)
		out->sweep -= 2 * PI;
	out->u = (struct cutlint_xy){rx * chord.cosine, rx * chord.sine};
	out->v = (struct cutlint_xy){-ry * chord.sine, ry * chord.cosine};
	out->centre = (struct cutlint_xy){chord.middle.x + out->u.x * c.x + out->v.x * c.y,
					  chord.middle.y + out->u.y * c.x + out->v.y * c.y};
	return true;
}

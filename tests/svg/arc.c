/* Elliptical arcs: SVG 2, appendix B.2 (implementation notes), worked by hand. */
#include "svg/arc.h"

#include <math.h>

#include "helper.h"

#define PI 3.14159265358979323846

static struct svg_centre_arc centre_of(struct cutlint_xy from, struct cutlint_xy to,
				       struct svg_arc arc)
{
	struct svg_centre_arc out;
	assert_true(svg_arc_centre(from, to, &arc, &out));
	return out;
}

static struct cutlint_xy at_angle(const struct svg_centre_arc *arc, double angle)
{
	return (struct cutlint_xy){
		arc->centre.x + arc->u.x * cos(angle) + arc->v.x * sin(angle),
		arc->centre.y + arc->u.y * cos(angle) + arc->v.y * sin(angle),
	};
}

static void assert_at(struct cutlint_xy at, double x, double y)
{
	assert_near(at.x, x, 1e-9);
	assert_near(at.y, y, 1e-9);
}

/* Ends are 10 apart on circles of radius 5·√2: the chord is seen from the centre at 90°. */
static void the_flags_choose_one_of_four_arcs(void **state)
{
	(void)state;
	double r = 5 * sqrt(2);
	struct cutlint_xy from = {0, 0}, to = {10, 0};
	struct svg_centre_arc arc = centre_of(from, to, (struct svg_arc){r, r, 0, false, true});
	assert_at(arc.centre, 5, 5); /* clockwise on the screen, over the top */
	assert_near(arc.sweep, PI / 2, 1e-12);
	arc = centre_of(from, to, (struct svg_arc){r, r, 0, false, false});
	assert_at(arc.centre, 5, -5);
	assert_near(arc.sweep, -PI / 2, 1e-12);
	arc = centre_of(from, to, (struct svg_arc){r, r, 0, true, true});
	assert_at(arc.centre, 5, -5);
	assert_near(arc.sweep, 3 * PI / 2, 1e-12);
	arc = centre_of(from, to, (struct svg_arc){r, r, 0, true, false});
	assert_at(arc.centre, 5, 5);
	assert_near(arc.sweep, -3 * PI / 2, 1e-12);
}

static void the_pie_of_the_specification_turns_about_its_corner(void **state)
{
	(void)state;
	/* SVG 2, 9.3.8, arcs01: M300,200 h-150 a150,150 0 1,0 150,-150 z */
	struct svg_centre_arc arc =
		centre_of((struct cutlint_xy){150, 200}, (struct cutlint_xy){300, 50},
			  (struct svg_arc){150, 150, 0, true, false});
	assert_at(arc.centre, 300, 200);
	assert_near(fabs(arc.start), PI, 1e-12);
	assert_near(arc.sweep, -3 * PI / 2, 1e-12);
}

static void an_arc_ends_where_it_should_whatever_its_rotation(void **state)
{
	(void)state;
	for (int degrees = -360; degrees <= 360; degrees += 15) {
		struct svg_centre_arc arc =
			centre_of((struct cutlint_xy){3, 4}, (struct cutlint_xy){-2, 9},
				  (struct svg_arc){9, 5, degrees, degrees % 2, true});
		assert_at(at_angle(&arc, arc.start), 3, 4);
		assert_at(at_angle(&arc, arc.start + arc.sweep), -2, 9);
		assert_near(hypot(arc.u.x, arc.u.y), 9, 1e-9);
		assert_near(hypot(arc.v.x, arc.v.y), 5, 1e-9);
		assert_near(arc.u.x * arc.v.x + arc.u.y * arc.v.y, 0, 1e-9);
	}
}

static void radii_that_are_too_small_are_scaled_up(void **state)
{
	(void)state;
	/* B.2.5, step 3: both by the same factor, until there is exactly one solution */
	struct svg_centre_arc arc = centre_of((struct cutlint_xy){0, 0}, (struct cutlint_xy){12, 0},
					      (struct svg_arc){3, 1, 0, false, true});
	assert_at(arc.centre, 6, 0);
	assert_at(arc.u, 6, 0);
	assert_at(arc.v, 0, 2);
	assert_near(arc.sweep, PI, 1e-12);
}

static void negative_radii_lose_their_sign(void **state)
{
	(void)state;
	/* SVG 2, 9.5.1 and B.2.5, step 2 */
	struct svg_centre_arc arc = centre_of((struct cutlint_xy){0, 0}, (struct cutlint_xy){12, 0},
					      (struct svg_arc){-6, -6, 0, false, true});
	assert_at(arc.centre, 6, 0);
	assert_at(arc.u, 6, 0);
}

static void an_arc_without_radius_or_length_is_none(void **state)
{
	(void)state;
	/* SVG 2, 9.5.1: a radius of 0 makes a line; equal ends make nothing */
	struct svg_centre_arc out;
	struct svg_arc flat = {0, 5, 0, false, true}, round = {5, 5, 0, false, true};
	struct cutlint_xy a = {1, 1}, b = {2, 2};
	assert_false(svg_arc_centre(a, b, &flat, &out));
	assert_false(svg_arc_centre(a, a, &round, &out));
}

static void a_flattened_arc_stays_on_its_ellipse_under_any_transform(void **state)
{
	(void)state;
	/* ((x-20)/10)² + ((y-30)/5)² = 1, seen through a skew: x' = x + y/2, y' = y */
	struct loaded loaded =
		load(DRAWING("<path fill=\"none\" stroke=\"red\" transform=\"matrix(1 0 .5 1 0 0)\""
			     " d=\"M10 30a10 5 0 1 1 20 0\"/>"));
	assert_no_notices(&loaded);
	uint32_t count = loaded.design->outlines[0].vertex_count;
	assert_true(count > 10);
	for (uint32_t i = 0; i < count; i++) {
		struct cutlint_xy at = vertex(&loaded, 0, i);
		double x = (at.x - at.y / 2 - 20) / 10, y = (at.y - 30) / 5;
		assert_near(x * x + y * y, 1, 1e-6);
	}
	assert_vertex(&loaded, 0, 0, 25, 30);
	assert_vertex(&loaded, 0, count - 1, 45, 30);
	unload(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_flags_choose_one_of_four_arcs),
		cmocka_unit_test(the_pie_of_the_specification_turns_about_its_corner),
		cmocka_unit_test(an_arc_ends_where_it_should_whatever_its_rotation),
		cmocka_unit_test(radii_that_are_too_small_are_scaled_up),
		cmocka_unit_test(negative_radii_lose_their_sign),
		cmocka_unit_test(an_arc_without_radius_or_length_is_none),
		cmocka_unit_test(a_flattened_arc_stays_on_its_ellipse_under_any_transform),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

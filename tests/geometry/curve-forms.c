/*
 * Figures of curves and of their chords that are published or follow from plane trigonometry: the
 * error of circles drawn as cubics, of polygons in place of circles, of formulas for an ellipse.
 */
#include "geometry/curve.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static const double pi = 3.14159265358979323846;

static void close_to(double value, double expected, double tolerance)
{
	if (!(fabs(value - expected) <= tolerance))
		fail_msg("%.12g instead of %.12g, within %g", value, expected, tolerance);
}

/* An arc of a circle of radius 1 as one cubic, its handles h long. */
static struct curve cubic_arc(double sweep, double h)
{
	double c = cos(sweep), s = sin(sweep);
	return (struct curve){.kind = CURVE_CUBIC,
			      .p = {{1, 0}, {1, h}, {c + h * s, s - h * c}, {c, s}}};
}

/* The most and the least that a curve strays from the circle of radius 1. */
static void stray(const struct curve *curve, double *least, double *most)
{
	*least = INFINITY;
	*most = -INFINITY;
	for (int i = 0; i <= 20000; i++) {
		struct cutlint_xy p = curve_at(curve, i / 20000.0);
		*least = fmin(*least, hypot(p.x, p.y) - 1);
		*most = fmax(*most, hypot(p.x, p.y) - 1);
	}
}

/*
 * Handles of (4/3) tan(th/4), T. Goldapp, "Approximation of circular arcs by cubic polynomials",
 * Computer Aided Geometric Design 8, 1991 (title from memory); figures computed from the formula.
 * The error goes with the sixth power of the angle, about th^6/55296.
 */
static void an_arc_as_one_cubic_strays_with_the_sixth_power_of_its_angle(void **state)
{
	(void)state;
	static const double CASES[][2] = {{30, 3.73e-7},  {45, 4.25e-6},  {60, 2.39e-5},
					  {90, 2.725e-4}, {120, 1.54e-3}, {180, 1.835e-2}};
	for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
		double sweep = CASES[i][0] * pi / 180, least, most;
		struct curve curve = cubic_arc(sweep, 4.0 / 3 * tan(sweep / 4));
		stray(&curve, &least, &most);
		close_to(most, CASES[i][1], CASES[i][1] * 0.003);
		assert_true(least > -1e-12);
		if (CASES[i][0] <= 90)
			close_to(most, pow(sweep, 6) / 55296, most * 0.02);
	}
}

/* Four cubics for a circle with other handles: computed from the cubic's own formula. */
static void a_circle_of_four_cubics_is_best_with_shorter_handles(void **state)
{
	(void)state;
	static const struct {
		double handle, least, most; /* in percent of the radius */
	} CASES[] = {{0.5522847498, 0, 0.027253},
		     {0.551915024494, -0.019608, 0.019608},
		     {0.5519, -0.0204, 0.0193},
		     {0.552, -0.0151, 0.0212}};
	for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
		double least, most;
		struct curve curve = cubic_arc(pi / 2, CASES[i].handle);
		stray(&curve, &least, &most);
		close_to(100 * least, CASES[i].least, 6e-5);
		close_to(100 * most, CASES[i].most, 6e-5);
	}
}

/* Area by Green's theorem, 1/2 of the integral of x dy - y dx, exact for cubics by Gauss's rule. */
static double area_under(const struct curve *curve)
{
	static const double NODES[] = {-0.774596669241483, 0, 0.774596669241483};
	static const double WEIGHTS[] = {5.0 / 18, 8.0 / 18, 5.0 / 18};
	double area = 0;
	for (int i = 0; i < 3; i++) {
		double t = (1 + NODES[i]) / 2;
		struct cutlint_xy p = curve_at(curve, t), d = curve_derivative(curve, t);
		area += WEIGHTS[i] * (p.x * d.y - p.y * d.x) / 2;
	}
	return area;
}

static void a_circle_of_four_cubics_is_a_little_too_large(void **state)
{
	(void)state;
	struct curve curve = cubic_arc(pi / 2, 4 * (sqrt(2) - 1) / 3);
	close_to(4 * area_under(&curve) / pi - 1, 0.00028, 5e-8);
}

/* At a radius of 100 mm it is 0.027 mm off: under a kerf, over a flatness of 0.01. */
static void at_a_radius_of_100_mm_the_cubics_are_farther_off_than_the_chords(void **state)
{
	(void)state;
	double least, most;
	struct curve curve = cubic_arc(pi / 2, 4 * (sqrt(2) - 1) / 3);
	stray(&curve, &least, &most);
	close_to(100 * most, 0.027253, 1e-6);
	assert_true(100 * most > 0.01 && 100 * most < 0.15);
}

/* Chords of an arc in n equal steps: area, length, and sagitta, all short with the square of n. */
static void an_inscribed_polygon_is_short_with_the_square_of_its_sides(void **state)
{
	(void)state;
	struct curve circle = {.kind = CURVE_ARC, .p = {{0, 0}, {1, 0}, {0, 1}, {0, 2 * pi}}};
	for (int n = 16; n <= 1024; n *= 2) {
		double area = 0, length = 0;
		for (int i = 0; i < n; i++) {
			struct cutlint_xy a = curve_at(&circle, (double)i / n);
			struct cutlint_xy b = curve_at(&circle, (i + 1.0) / n);
			area += (a.x * b.y - b.x * a.y) / 2;
			length += hypot(b.x - a.x, b.y - a.y);
		}
		double square = (double)n * n;
		close_to((area / pi - 1) * square, -2 * pi * pi / 3, 13.0 / n);
		close_to((length / curve_length(&circle) - 1) * square, -pi * pi / 6, 13.0 / n);
		close_to((1 - cos(pi / n)) * square, pi * pi / 2, 13.0 / n);
	}
	/* n = 64: -0.1605 %, -0.0402 %, 0.00120 R. */
	close_to(64 / (2 * pi) * sin(2 * pi / 64) - 1, -0.001605, 1e-6);
	close_to(64 / pi * sin(pi / 64) - 1, -0.000402, 1e-6);
	close_to(1 - cos(pi / 64), 0.00120, 5e-6);
}

/* A curve's error over a step is a quarter after halving the step. */
static void halving_an_arc_quarters_its_error(void **state)
{
	(void)state;
	struct curve circle = {.kind = CURVE_ARC, .p = {{0, 0}, {1, 0}, {0, 1}, {0, 2 * pi}}};
	double before = 0;
	for (int n = 32; n <= 4096; n *= 2) {
		struct cutlint_xy a = curve_at(&circle, 0), b = curve_at(&circle, 1.0 / n);
		double sagitta = 1 - hypot((a.x + b.x) / 2, (a.y + b.y) / 2);
		if (before > 0)
			close_to(before / sagitta, 4, 0.01);
		before = sagitta;
	}
}

/*
 * Control points in one line do not prove that a curve stays between its ends: here it runs past
 * both, and all of it has to be drawn. A cubic over a chord of no length is no spot either.
 */
static void control_points_in_one_line_do_not_prove_flatness(void **state)
{
	(void)state;
	struct curve beyond = {.kind = CURVE_CUBIC, .p = {{0, 0}, {-30, 0}, {40, 0}, {10, 0}}};
	assert_true(curve_steps(&beyond, 0.01) > 10);
	assert_true(curve_length(&beyond) > 25);
	struct curve loop = {.kind = CURVE_CUBIC, .p = {{0, 0}, {10, 10}, {-10, 10}, {0, 0}}};
	assert_true(curve_steps(&loop, 0.01) > 10);
}

/* Second differences that cancel at the middle: a symmetric S is not flat. */
static void a_middle_on_the_chord_does_not_prove_flatness(void **state)
{
	(void)state;
	struct curve s = {.kind = CURVE_CUBIC, .p = {{0, 0}, {10, 10}, {20, -10}, {30, 0}}};
	struct cutlint_xy middle = curve_at(&s, 0.5);
	close_to(middle.y, 0, 1e-12);
	assert_true(curve_steps(&s, 0.01) > 10);
}

static double first_formula(double a, double b)
{
	return pi * (3 * (a + b) - sqrt((3 * a + b) * (a + 3 * b)));
}

static double second_formula(double a, double b)
{
	double h = (a - b) / (a + b) * ((a - b) / (a + b));
	return pi * (a + b) * (1 + 3 * h / (10 + sqrt(4 - 3 * h)));
}

/*
 * S. Ramanujan, "Modular equations and approximations to pi", Quarterly Journal of Mathematics 45,
 * 1914: both formulas; their errors against the true perimeter, as fractions of it.
 */
static void ramanujans_perimeters_differ_by_their_known_errors(void **state)
{
	(void)state;
	static const double CASES[][3] = {{2, -2.8e-6, -4.6e-10},
					  {3, -3.4e-5, -3.3e-8},
					  {5, -2.1e-4, -8.5e-7},
					  {10, -8.4e-4, -1.16e-5}};
	for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
		double a = CASES[i][0];
		struct curve ellipse = {.kind = CURVE_ARC,
					.p = {{3, -2}, {a, 0}, {0, 1}, {0.4, 2 * pi}}};
		double length = curve_length(&ellipse);
		close_to(first_formula(a, 1) / length - 1, CASES[i][1], 0.03 * -CASES[i][1]);
		close_to(second_formula(a, 1) / length - 1, CASES[i][2],
			 0.03 * -CASES[i][2] + 2e-10);
	}
	/* Flat: 4 a is the perimeter. */
	close_to(first_formula(1, 0) / 4 - 1, -0.004155, 5e-7);
	close_to(second_formula(1, 0) / 4 - 1, 7 * pi / 22 - 1, 1e-12);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_arc_as_one_cubic_strays_with_the_sixth_power_of_its_angle),
		cmocka_unit_test(a_circle_of_four_cubics_is_best_with_shorter_handles),
		cmocka_unit_test(a_circle_of_four_cubics_is_a_little_too_large),
		cmocka_unit_test(at_a_radius_of_100_mm_the_cubics_are_farther_off_than_the_chords),
		cmocka_unit_test(an_inscribed_polygon_is_short_with_the_square_of_its_sides),
		cmocka_unit_test(halving_an_arc_quarters_its_error),
		cmocka_unit_test(control_points_in_one_line_do_not_prove_flatness),
		cmocka_unit_test(a_middle_on_the_chord_does_not_prove_flatness),
		cmocka_unit_test(ramanujans_perimeters_differ_by_their_known_errors),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

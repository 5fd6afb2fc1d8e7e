/* Curves: closed forms of circle, ellipse and parabola; flattening measured by dense sampling. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include "check.h"
#include "geometry/curve.h"
#include "random.h"

static const double pi = 3.14159265358979323846;

static struct curve ellipse(double a, double b, double turn, double start, double sweep)
{
	return (struct curve){.kind = CURVE_ARC,
			      .p = {{3, 4},
				    {a * cos(turn), a * sin(turn)},
				    {-b * sin(turn), b * cos(turn)},
				    {start, sweep}}};
}

static struct curve circle(double radius)
{
	return ellipse(radius, radius, 0.3, 0, 2 * pi);
}

/* A quarter of a circle round 0,0 as a cubic, with the usual handle 4(sqrt 2 - 1)/3. */
static struct curve quarter(double radius)
{
	double handle = radius * 4 * (sqrt(2) - 1) / 3;
	return (struct curve){.kind = CURVE_CUBIC,
			      .p = {{radius, 0}, {radius, handle}, {handle, radius}, {0, radius}}};
}

static struct curve random_curve(struct random *random)
{
	double size = exp(random_between(random, log(0.01), log(500)));
	struct curve curve = {.kind = (enum curve_kind)random_below(random, 3)};
	for (int i = 0; i < 4; i++) {
		curve.p[i].x = random_between(random, -size, size);
		curve.p[i].y = random_between(random, -size, size);
	}
	if (curve.kind == CURVE_ARC) {
		curve.p[3].x = random_between(random, -pi, pi);
		curve.p[3].y = random_between(random, -2 * pi, 2 * pi);
	}
	return curve;
}

static double from_chord(struct cutlint_xy a, struct cutlint_xy b, struct cutlint_xy p)
{
	double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
	double t = square > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / square : 0;
	t = fmin(1, fmax(0, t));
	return hypot(a.x + t * dx - p.x, a.y + t * dy - p.y);
}

/* The largest distance from the curve to the chord of the same parameters. */
static double flattening_error(const struct curve *curve, uint32_t steps, int samples)
{
	double most = 0;
	struct cutlint_xy from = curve_at(curve, 0);
	for (uint32_t i = 0; i < steps; i++) {
		struct cutlint_xy to = curve_at(curve, (i + 1.0) / steps);
		for (int k = 1; k < samples; k++) {
			double t = (i + (double)k / samples) / steps;
			most = fmax(most, from_chord(from, to, curve_at(curve, t)));
		}
		from = to;
	}
	return most;
}

static void flattening_stays_within_flatness_on_thousands_of_curves(void **state)
{
	(void)state;
	struct random random = {1};
	for (int i = 0; i < 4000; i++) {
		struct curve curve = random_curve(&random);
		double flatness = exp(random_between(&random, log(0.002), log(0.5)));
		uint32_t steps = curve_steps(&curve, flatness);
		double error = flattening_error(&curve, steps, 16);
		if (error > flatness * (1 + 1e-9))
			fail_msg("curve %d: error %g at flatness %g", i, error, flatness);
	}
}

/* Halving an arc quarters the error, so half the steps of a tight bound break the flatness. */
static void half_the_steps_are_too_few(void **state)
{
	(void)state;
	for (double radius = 1; radius < 200; radius *= 2) {
		struct curve curve = circle(radius);
		uint32_t steps = curve_steps(&curve, 0.01);
		assert_true(flattening_error(&curve, steps / 2, 16) > 0.03);
	}
}

/* The sagitta R(1 - cos(h/2)) gives n = ceil(pi / acos(1 - s/R)) chords for a circle. */
static void circle_takes_the_chords_that_its_sagitta_asks_for(void **state)
{
	(void)state;
	static const struct {
		double radius;
		uint32_t chords;
	} cases[] = {{1, 23}, {5, 50}, {10, 71}, {25, 112}, {50, 158}, {100, 223}};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct curve curve = circle(cases[i].radius);
		uint32_t steps = curve_steps(&curve, 0.01);
		double ideal = ceil(pi / acos(1 - 0.01 / cases[i].radius));
		close_to(ideal, cases[i].chords, 0);
		assert_in_range(steps, cases[i].chords, cases[i].chords + 1);
		double sagitta = cases[i].radius * (1 - cos(pi / steps));
		close_to(flattening_error(&curve, steps, 2), sagitta, 1e-9);
	}
}

/* Wang's bound for a cubic: n = ceil(sqrt(6 M / (8 tolerance))), M the largest second difference of
 * the control points. A quarter circle of radius 25 at 0.01 mm: 30 steps. */
static void quarter_circle_as_cubic_takes_thirty_steps(void **state)
{
	(void)state;
	struct curve curve = quarter(25);
	assert_int_equal(curve_steps(&curve, 0.01), 30);
	close_to(flattening_error(&curve, 30, 64), 0.0093, 0.0002);
}

static void straight_curves_take_one_step(void **state)
{
	(void)state;
	struct curve line = {.kind = CURVE_CUBIC, .p = {{0, 0}, {1, 2}, {2, 4}, {3, 6}}};
	struct curve spot = {.kind = CURVE_QUADRATIC, .p = {{5, 5}, {5, 5}, {5, 5}}};
	struct curve standing = ellipse(10, 10, 0, 1, 0);
	assert_int_equal(curve_steps(&line, 0.005), 1);
	assert_int_equal(curve_steps(&spot, 0.005), 1);
	assert_int_equal(curve_steps(&standing, 0.005), 1);
}

static void steps_are_capped_where_the_figures_are_absurd(void **state)
{
	(void)state;
	struct curve curve = circle(1e300);
	assert_int_equal(curve_steps(&curve, 0.005), 1000000);
	assert_int_equal(curve_steps(&curve, 0), 1000000);
	assert_int_equal(curve_steps(&curve, NAN), 1000000);
	curve.p[1].x = NAN;
	assert_int_equal(curve_steps(&curve, 0.005), 1000000);
	curve.p[1].x = INFINITY;
	assert_int_equal(curve_steps(&curve, 0.005), 1000000);
}

static void bezier_curves_start_and_end_exactly_at_their_ends(void **state)
{
	(void)state;
	struct random random = {2};
	for (int i = 0; i < 1000; i++) {
		struct curve curve = random_curve(&random);
		if (curve.kind == CURVE_ARC)
			continue;
		int last = curve.kind == CURVE_QUADRATIC ? 2 : 3;
		struct cutlint_xy from = curve_at(&curve, 0), to = curve_at(&curve, 1);
		assert_true(from.x == curve.p[0].x && from.y == curve.p[0].y);
		assert_true(to.x == curve.p[last].x && to.y == curve.p[last].y);
	}
}

/* Four cubics with the usual handle are outside the circle by 0 to 0.027253 % of the radius. */
static void cubic_circle_strays_by_its_published_error(void **state)
{
	(void)state;
	struct curve curve = quarter(100);
	double most = 0, least = 0;
	for (int i = 0; i <= 10000; i++) {
		struct cutlint_xy p = curve_at(&curve, i / 10000.0);
		most = fmax(most, hypot(p.x, p.y) - 100);
		least = fmin(least, hypot(p.x, p.y) - 100);
	}
	close_to(most, 0.027253, 1e-6);
	close_to(least, 0, 1e-12);
}

static void derivative_is_the_limit_of_differences(void **state)
{
	(void)state;
	struct random random = {3};
	for (int i = 0; i < 1000; i++) {
		struct curve curve = random_curve(&random);
		double t = random_between(&random, 0.01, 0.99), h = 1e-6;
		struct cutlint_xy a = curve_at(&curve, t - h), b = curve_at(&curve, t + h);
		struct cutlint_xy d = curve_derivative(&curve, t);
		double scale = fmax(1, hypot(d.x, d.y));
		close_to((b.x - a.x) / (2 * h), d.x, 1e-5 * scale);
		close_to((b.y - a.y) / (2 * h), d.y, 1e-5 * scale);
	}
}

/* The perimeter of an ellipse by the arithmetic-geometric mean: NIST Digital Library of
 * Mathematical Functions, 19.8. */
static double perimeter(double a, double b)
{
	double x = a, y = b, sum = (a * a + b * b) / 2, power = 0.5;
	while (fabs(x - y) > 1e-15 * x) {
		double half = (x - y) / 2, mean = (x + y) / 2;
		y = sqrt(x * y);
		x = mean;
		power *= 2;
		sum -= power * half * half;
	}
	return 2 * pi * sum / x;
}

static void ellipse_has_its_perimeter(void **state)
{
	(void)state;
	static const double cases[][3] = {
		{2, 1, 9.688448220548}, {3, 1, 13.364893220555}, {7, 4, 35.203162197287}};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct curve curve = ellipse(cases[i][0], cases[i][1], 0.7, -1, 2 * pi);
		close_to(curve_length(&curve), cases[i][2], 1e-9);
		close_to(perimeter(cases[i][0], cases[i][1]), cases[i][2], 1e-11);
	}
	struct random random = {4};
	for (int i = 0; i < 300; i++) {
		double a = random_between(&random, 0.01, 300), b = a;
		b *= exp(random_between(&random, log(1e-4), 0));
		struct curve curve = ellipse(a, b, i, 0, -2 * pi);
		close_to(curve_length(&curve), perimeter(a, b), 1e-9 * a);
	}
}

/* The arc of y = x² from 0 to a: a/2 sqrt(1 + 4a²) + asinh(2a)/4 (calculus textbooks). */
static void parabola_has_its_length(void **state)
{
	(void)state;
	for (double a = 0.01; a < 100; a *= 3) {
		struct curve curve = {.kind = CURVE_QUADRATIC,
				      .p = {{0, 0}, {a / 2, 0}, {a, a * a}}};
		double exact = a / 2 * sqrt(1 + 4 * a * a) + asinh(2 * a) / 4;
		close_to(curve_length(&curve), exact, 1e-9 * exact);
	}
}

/* The cubic (3t², 2t³)·s has the cusp of a semicubical parabola at t = 0; its length to 1 is
 * s·2(2 sqrt 2 - 1) (Neile 1657). */
static void cusp_and_retraced_line_have_their_lengths(void **state)
{
	(void)state;
	struct curve cusp = {.kind = CURVE_CUBIC, .p = {{0, 0}, {0, 0}, {10, 0}, {30, 20}}};
	double exact = 10 * 2 * (2 * sqrt(2) - 1);
	close_to(curve_length(&cusp), exact, 1e-9 * exact);
	struct curve back = {.kind = CURVE_QUADRATIC, .p = {{0, 0}, {7, 0}, {0, 0}}};
	close_to(curve_length(&back), 7, 7e-9);
	struct curve spot = {.kind = CURVE_CUBIC, .p = {{1, 1}, {1, 1}, {1, 1}, {1, 1}}};
	close_to(curve_length(&spot), 0, 0);
}

/* The nearest points of y = x² to (0, h), h > 1/2, are at x = ± sqrt(h - 1/2). */
static void nearest_point_of_a_parabola(void **state)
{
	(void)state;
	struct curve curve = {.kind = CURVE_QUADRATIC, .p = {{-4, 16}, {0, -16}, {4, 16}}};
	for (double h = 0.6; h < 12; h += 0.37) {
		double right = curve_nearest(&curve, (struct cutlint_xy){0, h}, 0.5, 1);
		double left = curve_nearest(&curve, (struct cutlint_xy){0, h}, 0, 0.5);
		close_to(curve_at(&curve, right).x, sqrt(h - 0.5), 1e-9);
		close_to(curve_at(&curve, left).x, -sqrt(h - 0.5), 1e-9);
	}
}

static void nearest_point_of_a_circle_lies_on_the_ray_from_its_centre(void **state)
{
	(void)state;
	struct curve curve = circle(20);
	for (int i = 0; i < 200; i++) {
		double angle = i * 0.1, reach = 1 + i * 0.3;
		struct cutlint_xy at = {3 + reach * cos(angle), 4 + reach * sin(angle)};
		struct cutlint_xy got = curve_at(&curve, curve_nearest(&curve, at, 0, 1));
		close_to(got.x, 3 + 20 * cos(angle), 1e-9);
		close_to(got.y, 4 + 20 * sin(angle), 1e-9);
	}
}

static void nearest_point_stays_between_its_bounds(void **state)
{
	(void)state;
	struct curve curve = circle(20);
	struct cutlint_xy at = {50 + 3, 4 - 1};
	close_to(curve_nearest(&curve, at, 0.3, 0.5), 0.3, 1e-12);
	close_to(curve_nearest(&curve, at, 0.6, 0.8), 0.8, 1e-12);
	close_to(curve_nearest(&curve, at, 0.25, 0.25), 0.25, 0);
}

/* Against 20,000 samples a curve, which can only be farther away. */
static void nearest_point_is_no_farther_than_any_sample(void **state)
{
	(void)state;
	struct random random = {5};
	for (int i = 0; i < 400; i++) {
		struct curve curve = random_curve(&random);
		double size = curve_length(&curve);
		struct cutlint_xy at = {random_between(&random, -size, size),
					random_between(&random, -size, size)};
		struct cutlint_xy got = curve_at(&curve, curve_nearest(&curve, at, 0, 1));
		double least = INFINITY;
		for (int k = 0; k <= 20000; k++) {
			struct cutlint_xy p = curve_at(&curve, k / 20000.0);
			least = fmin(least, hypot(p.x - at.x, p.y - at.y));
		}
		double distance = hypot(got.x - at.x, got.y - at.y);
		if (distance > least + 1e-9)
			fail_msg("curve %d: %.12g, a sample has %.12g", i, distance, least);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(flattening_stays_within_flatness_on_thousands_of_curves),
		cmocka_unit_test(half_the_steps_are_too_few),
		cmocka_unit_test(circle_takes_the_chords_that_its_sagitta_asks_for),
		cmocka_unit_test(quarter_circle_as_cubic_takes_thirty_steps),
		cmocka_unit_test(straight_curves_take_one_step),
		cmocka_unit_test(steps_are_capped_where_the_figures_are_absurd),
		cmocka_unit_test(bezier_curves_start_and_end_exactly_at_their_ends),
		cmocka_unit_test(cubic_circle_strays_by_its_published_error),
		cmocka_unit_test(derivative_is_the_limit_of_differences),
		cmocka_unit_test(ellipse_has_its_perimeter),
		cmocka_unit_test(parabola_has_its_length),
		cmocka_unit_test(cusp_and_retraced_line_have_their_lengths),
		cmocka_unit_test(nearest_point_of_a_parabola),
		cmocka_unit_test(nearest_point_of_a_circle_lies_on_the_ray_from_its_centre),
		cmocka_unit_test(nearest_point_stays_between_its_bounds),
		cmocka_unit_test(nearest_point_is_no_farther_than_any_sample),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

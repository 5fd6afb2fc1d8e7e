/* png.c - the proof as a PNG: what libpng reads from it stands where the drawing has it. */
#define _GNU_SOURCE /* M_PI */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "edges.h"
#include "file.h"
#include "pixels.h"
#include "scene.h"

/*
 * An A6 card, folded from A5 (ISO 216: 210 mm x 148 mm), its front on the right: a window there
 * with the inset behind it, one in the back with nothing behind, and a dot too small to burn.
 */
#define CARD                                                                                       \
	"<svg xmlns='http://www.w3.org/2000/svg' width='230mm' height='168mm' "                    \
	"viewBox='0 0 230 168'>"                                                                   \
	"<rect id='outline' x='10' y='10' width='210' height='148'/>"                              \
	"<line id='fold' x1='115' y1='10' x2='115' y2='158' stroke='black'/>"                      \
	"<rect id='inset' x='120' y='15' width='90' height='130'/>"                                \
	"<rect id='front-window' x='140' y='40' width='50' height='60'/>"                          \
	"<rect id='back-window' x='30' y='40' width='20' height='60'/>"                            \
	"<circle id='dot' cx='70' cy='120' r='.2'/></svg>"
#define STOCK 0x5d7288
#define INSET 0xf2c14e
#define PAPER 0xfdfbf6
#define KERF  0.2
#define JOB                                                                                        \
	"[burn]\nkerf = 0.2 mm\ncut-from = front\n[card]\nspine = left\n"                          \
	"[stock]\ncolour = #5d7288\ninset-colour = #f2c14e\n"

static const double DPI[] = {300, 96};
#define DPI_COUNT (sizeof(DPI) / sizeof(*DPI))

/* 0.1 mm or half a pixel, whichever is larger, in pixels. */
static double near_px(double dpi)
{
	return fmax(0.1 * dpi / 25.4, 0.5);
}

static void assert_near_px(double found, double wanted, double dpi)
{
	if (!(fabs(found - wanted) <= near_px(dpi)))
		fail_msg("%.2f px is not %.2f px at %g dpi", found, wanted, dpi);
}

static void draw(const struct scene *scene, double dpi, struct pixels *pixels)
{
	char word[16];
	snprintf(word, sizeof(word), "%g", dpi);
	scene_write(scene, "card.svg", CARD);
	scene_write(scene, "cutlint.job", JOB);
	struct ran ran = CUTLINT(scene, "proof", "-q", "card.svg", "-o", "card.png", "--dpi", word);
	assert_string_equal(ran.err, "");
	assert_int_equal(ran.status, 0);
	ran_finish(&ran);
	char *path = scene_path(scene, "card.png");
	pixels_read(pixels, path);
	test_free(path);
}

/* The picture of the card, found by its pixels alone. */
struct seen {
	struct pixels pixels;
	double dpi;
	double left, top; /* the corner of the card, in pixels */
};

/* The first pixel of a colour, from the top. */
static int first_of(const struct pixels *pixels, uint32_t colour, int *x)
{
	for (int y = 0; y < pixels->height; y++) {
		for (*x = 0; *x < pixels->width; ++*x) {
			if (pixels_at(pixels, *x, y) == colour)
				return y;
		}
	}
	fail_msg("nothing has the colour %06x", (unsigned)colour);
	return 0;
}

/* The corner of the front's window, where nothing blurs it, leads to the corner of the card. */
static struct seen see(const struct scene *scene, double dpi)
{
	struct seen seen = {.dpi = dpi};
	int x = 0, mm = (int)(dpi / 25.4);
	draw(scene, dpi, &seen.pixels);
	int y = first_of(&seen.pixels, INSET, &x);
	const struct edges_line row = {.pixels = &seen.pixels, .across = y + 4 * mm};
	const struct edges_line column = {
		.pixels = &seen.pixels, .across = x + 4 * mm, .along_column = true};
	seen.left = edges_where(&row, x - 2 * mm, x + 2 * mm, STOCK, INSET) -
		    (130 - KERF / 2) / 25.4 * dpi;
	seen.top = edges_where(&column, y - 2 * mm, y + 2 * mm, STOCK, INSET) -
		   (30 - KERF / 2) / 25.4 * dpi;
	return seen;
}

/* The pixel of a place of the drawing, in the picture of the open card. */
static int across(const struct seen *seen, double x_mm)
{
	return (int)floor(seen->left + (x_mm - 10) / 25.4 * seen->dpi);
}

static int down(const struct seen *seen, double y_mm)
{
	return (int)floor(seen->top + (y_mm - 10) / 25.4 * seen->dpi);
}

static uint32_t colour_at(const struct seen *seen, double x_mm, double y_mm)
{
	return pixels_at(&seen->pixels, across(seen, x_mm), down(seen, y_mm));
}

static void kept_material_has_the_colour_of_the_stock(void **state)
{
	for (const struct seen *seen = *state; seen->dpi > 0; seen++) {
		assert_int_equal(colour_at(seen, 12, 12), STOCK);
		assert_int_equal(colour_at(seen, 60, 70), STOCK);
		assert_int_equal(colour_at(seen, 139, 70), STOCK);
		assert_int_equal(colour_at(seen, 191, 70), STOCK);
		assert_int_equal(colour_at(seen, 218, 156), STOCK);
		assert_int_equal(colour_at(seen, 224, 60), PAPER);
	}
}

/* Of a rectangle of the drawing in mm, the share that has exactly a colour. */
static double share_of(const struct seen *seen, const double box[4], uint32_t colour)
{
	int count = 0, all = 0;
	for (int y = down(seen, box[1]); y < down(seen, box[3]); y++) {
		for (int x = across(seen, box[0]); x < across(seen, box[2]); x++, all++)
			count += pixels_at(&seen->pixels, x, y) == colour;
	}
	return (double)count / all;
}

/* The inset is dotted, so that it is told apart without colour; the dots are the lesser part. */
static void a_window_shows_the_inset_behind_it_and_no_other_does(void **state)
{
	static const double FRONT[] = {141, 41, 189, 99}, BACK[] = {31, 41, 49, 99};
	for (const struct seen *seen = *state; seen->dpi > 0; seen++) {
		double share = share_of(seen, FRONT, INSET);
		if (!(share > 0.4 && share < 1))
			fail_msg("%.3f of the window shows the inset at %g dpi", share, seen->dpi);
		assert_true(share_of(seen, BACK, INSET) <= 0);
		assert_true(share_of(seen, BACK, STOCK) <= 0);
	}
}

/* The beam takes half of the kerf on either side of a line. */
static void a_window_is_wider_than_drawn_by_the_kerf(void **state)
{
	for (const struct seen *seen = *state; seen->dpi > 0; seen++) {
		const struct edges_line row = {.pixels = &seen->pixels, .across = down(seen, 70)};
		double left = edges_where(&row, across(seen, 138), across(seen, 142), STOCK, INSET);
		double right =
			edges_where(&row, across(seen, 192), across(seen, 188), STOCK, INSET);
		assert_near_px(right - left, (50 + KERF) / 25.4 * seen->dpi, seen->dpi);
	}
}

/* On paper 210 mm are 210 mm, and the fold halves them. Its dashes are 4 mm apart. */
static void the_fold_and_the_edges_stand_in_their_places(void **state)
{
	for (const struct seen *seen = *state; seen->dpi > 0; seen++) {
		const struct edges_line row = {.pixels = &seen->pixels, .across = down(seen, 14)};
		const struct edges_block end = {across(seen, 114), down(seen, 20),
						across(seen, 116), down(seen, 24)};
		double fold = edges_middle(&seen->pixels, &end, STOCK);
		double left = edges_border(&row, across(seen, 9), across(seen, 11), PAPER, STOCK);
		double right =
			edges_border(&row, across(seen, 219), across(seen, 221), STOCK, PAPER);
		assert_near_px(left, seen->left, seen->dpi);
		assert_near_px(fold, seen->left + 105 / 25.4 * seen->dpi, seen->dpi);
		assert_near_px(right, seen->left + 210 / 25.4 * seen->dpi, seen->dpi);
	}
}

/* Marks are red or brown: no other ink of the burn's picture is so far from grey. */
static bool is_mark(uint32_t colour)
{
	int r = (int)(colour >> 16 & 0xff), b = (int)(colour & 0xff);
	return r - b > 60 && r < 0xc0;
}

/* The first row that is dark over more than 150 mm below the last one of the finished card. */
static int row_of_outline(const struct seen *seen)
{
	const struct pixels *pixels = &seen->pixels;
	int stock_last = 0;
	for (int y = 0; y < pixels->height; y++) {
		int stock = 0, ink = 0;
		for (int x = 0; x < pixels->width; x++) {
			stock += pixels_at(pixels, x, y) == STOCK;
			ink += edges_difference(pixels_at(pixels, x, y), PAPER) > 60;
		}
		if (stock > 50 / 25.4 * seen->dpi)
			stock_last = y;
		else if (stock_last && ink > 150 / 25.4 * seen->dpi &&
			 y > stock_last + seen->dpi / 2.54)
			return y;
	}
	fail_msg("the burn has no outline");
	return 0;
}

/* The middle of the dark pixels of a column round a row. */
static double line_near(const struct pixels *pixels, int x, int y, int reach)
{
	double sum = 0, moment = 0;
	for (int at = y - reach; at <= y + reach; at++) {
		double weight = edges_difference(pixels_at(pixels, x, at), PAPER);
		sum += weight;
		moment += weight * (at + 0.5);
	}
	return moment / sum;
}

/* How far from a place the ring of a mark ends on a ray, coming from 1.2 mm; -1 without one. */
static double ring_end(const struct seen *seen, double x, double y, double angle)
{
	for (double r = 1.2 / 25.4 * seen->dpi; r > 0; r -= 0.05) {
		int at_x = (int)floor(x + r * cos(angle)), at_y = (int)floor(y + r * sin(angle));
		if (is_mark(pixels_at(&seen->pixels, at_x, at_y)))
			return r;
	}
	return -1;
}

/* The ring stands round the place: most rays that are opposite find its end equally far. */
static void a_mark_stands_at_the_place_of_its_finding(void **state)
{
	enum { RAYS = 24 };
	for (const struct seen *seen = *state; seen->dpi > 0; seen++) {
		int row = row_of_outline(seen), reach = (int)(0.6 / 25.4 * seen->dpi) + 1;
		/* The burn's picture has as much room at its left as the card's. */
		double left = seen->left, x = left + 60 / 25.4 * seen->dpi;
		double y =
			line_near(&seen->pixels, (int)(left + 170 / 25.4 * seen->dpi), row, reach) +
			110 / 25.4 * seen->dpi;
		int alike = 0;
		for (int ray = 0; ray < RAYS / 2; ray++) {
			double angle = 2 * M_PI * (ray + 0.5) / RAYS;
			double one = ring_end(seen, x, y, angle);
			double other = ring_end(seen, x, y, angle + M_PI);
			alike +=
				one > 0 && other > 0 && fabs(one - other) / 2 <= near_px(seen->dpi);
		}
		if (alike < RAYS / 2 - 4)
			fail_msg("%d of %d rays at %g dpi", alike, RAYS / 2, seen->dpi);
	}
}

/* The same figures in the SVG: `width="246.00mm"`. */
static double svg_length(const char *svg, const char *name)
{
	const char *at = strstr(svg, name);
	assert_non_null(at);
	return strtod(at + strlen(name), NULL);
}

/* As many whole pixels as hold a length, but for a hundredth. */
static void assert_holds(int pixels, double length_mm, double dpi)
{
	double spare = pixels - length_mm / 25.4 * dpi;
	if (!(spare > -0.01 && spare < 1))
		fail_msg("%d pixels at %g dpi are not %.3f mm", pixels, dpi, length_mm);
}

/* ISO/IEC 15948, 11.3.5.3: pHYs counts pixels per metre; an inch is 25.4 mm. */
static void it_prints_in_the_size_of_the_svg(void **state)
{
	static const struct {
		double dpi;
		uint32_t per_metre;
	} SIZES[] = {{300, 11811}, {96, 3780}, {254, 10000}};
	for (int i = 0; i < 3; i++) {
		struct pixels pixels;
		draw(*state, SIZES[i].dpi, &pixels);
		struct ran ran = CUTLINT(*state, "proof", "-q", "card.svg", "-o", "proof.svg");
		assert_int_equal(ran.status, 0);
		ran_finish(&ran);
		char *path = scene_path(*state, "proof.svg"), *svg = file_read(path);
		assert_holds(pixels.width, svg_length(svg, "width=\""), SIZES[i].dpi);
		assert_holds(pixels.height, svg_length(svg, "height=\""), SIZES[i].dpi);
		assert_int_equal(pixels.across_per_metre, SIZES[i].per_metre);
		assert_int_equal(pixels.down_per_metre, SIZES[i].per_metre);
		free(svg);
		test_free(path);
		pixels_free(&pixels);
	}
}

static void the_resolution_is_300_dpi_if_none_is_said(void **state)
{
	struct pixels pixels;
	scene_write(*state, "card.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(*state, "proof", "-q", "card.svg", "-o", "CARD.PNG");
	assert_int_equal(ran.status, 0);
	ran_finish(&ran);
	char *path = scene_path(*state, "CARD.PNG");
	pixels_read(&pixels, path);
	assert_int_equal(pixels.across_per_metre, 11811);
	pixels_free(&pixels);
	test_free(path);
}

/* All that are looked at closely, drawn once: the last has no resolution. */
static int see_all(void **state)
{
	struct seen *seen = calloc(DPI_COUNT + 1, sizeof(*seen));
	void *scene = NULL;
	if (!seen || scene_open(&scene) < 0)
		return -1;
	for (size_t i = 0; i < DPI_COUNT; i++)
		seen[i] = see(scene, DPI[i]);
	*state = seen;
	return scene_close(&scene);
}

static int forget_all(void **state)
{
	struct seen *seen = *state;
	for (size_t i = 0; i < DPI_COUNT; i++)
		pixels_free(&seen[i].pixels);
	free(seen);
	return 0;
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(kept_material_has_the_colour_of_the_stock),
		cmocka_unit_test(a_window_shows_the_inset_behind_it_and_no_other_does),
		cmocka_unit_test(a_window_is_wider_than_drawn_by_the_kerf),
		cmocka_unit_test(the_fold_and_the_edges_stand_in_their_places),
		cmocka_unit_test(a_mark_stands_at_the_place_of_its_finding),
		SCENE(it_prints_in_the_size_of_the_svg),
		SCENE(the_resolution_is_300_dpi_if_none_is_said),
	};
	return cmocka_run_group_tests(tests, see_all, forget_all);
}

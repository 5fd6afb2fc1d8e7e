/*
 * png-refused.c - when there is no PNG: what is said, and that nothing is lost. What the module
 * itself refuses is tested where it is built.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "file.h"
#include "scene.h"

static void assert_old_picture(const struct scene *scene)
{
	char *path = scene_path(scene, "card.png"), *text = file_read(path);
	assert_string_equal(text, "the old one");
	free(text);
	test_free(path);
}

static void wrong_resolutions_are_refused(void **state)
{
	static const char *const WRONG[] = {"0", "29.9", "1201", "-300", "300dpi", "", "nan"};
	scene_write(*state, "card.svg", GOOD_DRAWING);
	for (size_t i = 0; i < sizeof(WRONG) / sizeof(*WRONG); i++)
		REFUSES(*state, "option '--dpi' takes pixels per inch from 30 to 1200", "proof",
			"--dpi", WRONG[i], "-o", "card.png", "card.svg");
	REFUSES(*state, "option '--dpi' is for a proof that ends in .png", "proof", "--dpi", "300",
		"-o", "card.html", "card.svg");
}

#ifdef RASTER_BUILT

/* A page of 2 m x 2 m has over four square metres of proof: 200 million pixels are 180 dpi of it.
 */
static void too_many_pixels_are_refused_with_what_would_fit(void **state)
{
	scene_write(*state, "card.png", "the old one");
	scene_write(*state, "big.svg",
		    "<svg xmlns='http://www.w3.org/2000/svg' width='1900mm' height='1900mm' "
		    "viewBox='0 0 1900 1900'><rect id='outline' x='5' y='5' width='1890' "
		    "height='1890'/></svg>");
	REFUSES(*state, "the most are 200 million, and 32767 in a row: take --dpi ", "proof", "-q",
		"-o", "card.png", "big.svg");
	assert_old_picture(*state);
	struct ran ran = CUTLINT(*state, "proof", "-q", "-o", "card.png", "big.svg");
	char *advice = strstr(ran.err, "--dpi "), dpi[16] = "";
	assert_non_null(advice);
	assert_int_equal(sscanf(advice, "--dpi %7[0-9]", dpi), 1);
	int fitting = atoi(dpi);
	ran_finish(&ran);
	assert_in_range(fitting, 100, 200);
	snprintf(dpi, sizeof(dpi), "%d", fitting + 2);
	REFUSES(*state, "the most are", "proof", "-q", "-o", "card.png", "--dpi", dpi, "big.svg");
}

static void what_can_not_be_written_is_said(void **state)
{
	scene_write(*state, "card.svg", GOOD_DRAWING);
	REFUSES(*state, "cannot write 'no/folder/card.png': ", "proof", "-q", "-o",
		"no/folder/card.png", "--dpi", "60", "card.svg");
	scene_write(*state, "job.png", "[burn]\nkerf = 0.2 mm\n");
	REFUSES(*state, "it is to be read", "proof", "-q", "--job", "job.png", "-o", "job.png",
		"card.svg");
}

/* fontconfig(5): an empty configuration names no folder of fonts. */
static void without_fonts_there_is_no_picture_without_text(void **state)
{
	scene_write(*state, "card.svg", GOOD_DRAWING);
	scene_write(*state, "card.png", "the old one");
	scene_write(*state, "fonts.conf", "<fontconfig/>");
	char *path = scene_path(*state, "fonts.conf"), variable[128];
	snprintf(variable, sizeof(variable), "FONTCONFIG_FILE=%s", path);
	const struct surroundings bare = {.environment = (const char *const[]){variable, NULL}};
	struct ran ran = scene_cutlint_in(
		*state, &bare,
		(const char *const[]){"proof", "-q", "-o", "card.png", "card.svg", NULL});
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "fontconfig finds no font");
	assert_has(ran.err, "fonts-dejavu-core");
	ran_finish(&ran);
	assert_old_picture(*state);
	test_free(path);
}

#endif

/* Another place for the library, without the module for PNG or with one of the test's own. */
static struct ran run_elsewhere(const struct scene *scene, const char *output)
{
	char *folder = scene_path(scene, "lib"), variable[64];
	snprintf(variable, sizeof(variable), "LD_LIBRARY_PATH=%s", folder);
	test_free(folder);
	const struct surroundings there = {.environment = (const char *const[]){variable, NULL}};
	const char *const arguments[] = {"proof", "-q", "-o", output, "card.svg", NULL};
	return scene_cutlint_in(scene, &there, arguments);
}

static struct ran draw_elsewhere(const struct scene *scene)
{
	scene_write(scene, "card.svg", GOOD_DRAWING);
	scene_write(scene, "card.png", "the old one");
	return run_elsewhere(scene, "card.png");
}

static void copy(const struct scene *scene, const char *from, const char *to)
{
	char *path = scene_path(scene, to);
	struct ran ran = run((const char *const[]){"/bin/cp", from, path, NULL}, NULL);
	assert_int_equal(ran.status, 0);
	ran_finish(&ran);
	test_free(path);
}

static void make_elsewhere(const struct scene *scene)
{
	scene_make_folder(scene, "lib");
	scene_make_folder(scene, "lib/cutlint");
	scene_make_folder(scene, "lib/cutlint/rules");
	copy(scene, LIBRARY, "lib/libcutlint.so.0");
	copy(scene, RULES "/speck.so", "lib/cutlint/rules/speck.so");
}

static void assert_refused_elsewhere(const struct scene *scene, const char *why)
{
	struct ran ran = draw_elsewhere(scene);
	assert_int_equal(ran.status, 2);
	assert_string_equal(ran.out, "");
	assert_has(ran.err, "cutlint: error: cannot draw 'card.png': ");
	assert_has(ran.err, why);
	assert_has(ran.err, "a proof in .html or .svg works without");
	assert_null(strchr(strchr(ran.err, '\n') + 1, '\n'));
	ran_finish(&ran);
	assert_old_picture(scene);
}

static void a_module_that_is_not_there_is_said(void **state)
{
	make_elsewhere(*state);
	assert_refused_elsewhere(*state, "lib/cutlint/png.so'; it is built with cutlint where "
					 "librsvg is found (Debian's package librsvg2-dev)");
}

static void a_module_that_can_not_be_opened_is_said(void **state)
{
	make_elsewhere(*state);
	scene_write(*state, "lib/cutlint/png.so", "no module at all");
	assert_refused_elsewhere(*state, "it is not a shared object");
	copy(*state, RULES "/speck.so", "lib/cutlint/png.so");
	assert_refused_elsewhere(*state, "belongs to another cutlint");
	copy(*state, MODULES "/other-abi.so", "lib/cutlint/png.so");
	assert_refused_elsewhere(*state, "belongs to another cutlint");
}

static void a_library_that_is_missing_is_said(void **state)
{
	make_elsewhere(*state);
	copy(*state, MODULES "/lacks-library.so", "lib/cutlint/png.so");
	assert_refused_elsewhere(*state, "libgone.so: cannot open shared object file");
	assert_refused_elsewhere(*state, "Debian's package librsvg2-2");
}

static void a_module_that_fails_half_way_leaves_the_old_picture(void **state)
{
	make_elsewhere(*state);
	copy(*state, MODULES "/crashes.so", "lib/cutlint/png.so");
	assert_refused_elsewhere(*state, "its module crashed (Aborted)");
	copy(*state, MODULES "/breaks-off.so", "lib/cutlint/png.so");
	struct ran ran = draw_elsewhere(*state);
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "cannot draw 'card.png': the ink ran out\n");
	ran_finish(&ran);
	assert_old_picture(*state);
}

/* One that could not even be opened is of no matter to all else. */
static void nothing_but_a_png_opens_the_module(void **state)
{
	make_elsewhere(*state);
	scene_write(*state, "lib/cutlint/png.so", "no module at all");
	assert_refused_elsewhere(*state, "it is not a shared object");
	static const char *const OUTPUTS[] = {"card-proof.svg", "card.html"};
	for (int i = 0; i < 2; i++) {
		struct ran ran = run_elsewhere(*state, OUTPUTS[i]);
		assert_int_equal(ran.status, 0);
		assert_string_equal(ran.err, "");
		ran_finish(&ran);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
#ifdef RASTER_BUILT
		SCENE(too_many_pixels_are_refused_with_what_would_fit),
		SCENE(what_can_not_be_written_is_said),
		SCENE(without_fonts_there_is_no_picture_without_text),
#endif
		SCENE(wrong_resolutions_are_refused),
		SCENE(a_module_that_is_not_there_is_said),
		SCENE(a_module_that_can_not_be_opened_is_said),
		SCENE(a_library_that_is_missing_is_said),
		SCENE(a_module_that_fails_half_way_leaves_the_old_picture),
		SCENE(nothing_but_a_png_opens_the_module),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

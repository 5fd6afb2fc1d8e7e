/* helper.h - drawings in tests: loaded from text, asked for what they became. */
#ifndef TESTS_SVG_HELPER_H
#define TESTS_SVG_HELPER_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "model/private.h"
#include "svg/load.h"

#define ROOT_OPEN  "<svg xmlns=\"http://www.w3.org/2000/svg\" "
#define ROOT_100MM ROOT_OPEN "width=\"100mm\" height=\"100mm\" viewBox=\"0 0 100 100\">"

/* A drawing of 100 mm x 100 mm whose user unit is 1 mm. */
#define DRAWING(body) ROOT_100MM body "</svg>"

struct loaded {
	struct arena *arena;
	struct notices notices;
	struct cutlint_design *design; /* NULL after a fatal notice */
	int result;
};

struct loaded load_with_options(const char *bytes, size_t length,
				const struct svg_options *options);

/* With a flatness of 0.005 mm. */
struct loaded load_bytes(const char *bytes, size_t length);
struct loaded load(const char *text);

/* Loads a text without its mark '@', and fails the test unless the first notice of the code stands
 * there. */
struct loaded load_marked(const char *text, const char *code);
void unload(struct loaded *loaded);

/* Fails the test if there is any notice. */
void assert_no_notices(const struct loaded *loaded);

/* The first notice of a code; fails the test if there is none. */
const struct notice *notice_of(const struct loaded *loaded, const char *code);
unsigned count_notices(const struct loaded *loaded, const char *code);

/* Fails the test unless a notice of the code and level stands where `text` stands in the source. */
const struct notice *assert_notice_at(const struct loaded *loaded, const char *code,
				      enum notice_level level, const char *text);

void assert_near(double value, double expected, double tolerance);

/* Vertex i of an outline, in mm. */
struct cutlint_xy vertex(const struct loaded *loaded, uint32_t outline, uint32_t i);
void assert_vertex(const struct loaded *loaded, uint32_t outline, uint32_t i, double x, double y);
void assert_box(const struct loaded *loaded, uint32_t outline, double left, double top,
		double right, double bottom);

/* The text of the source from the byte of command i of an outline on. */
const char *command_text(const struct loaded *loaded, uint32_t outline, uint32_t i);
void assert_command_at(const struct loaded *loaded, uint32_t outline, uint32_t i, const char *text);

/* The shape of the first element with the id; fails the test if there is none. */
const struct cutlint_shape *shape_of(const struct loaded *loaded, const char *id);

#endif

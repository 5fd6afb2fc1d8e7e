/* drawing.h - a sheet computed from SVG text, for tests. */
#ifndef TESTS_SHEET_DRAWING_H
#define TESTS_SHEET_DRAWING_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "cutlint/rule.h"
#include "job/job.h"
#include "sheet/build.h"

/* A page of so many millimetres, its user unit 1 mm. */
#define PAGE_START(width, height)                                                                  \
	"<svg xmlns='http://www.w3.org/2000/svg' width='" #width "mm' height='" #height            \
	"mm' viewBox='0 0 " #width " " #height "'>"
#define PAGE(width, height, body) PAGE_START(width, height) body "</svg>"

#define LINE " fill='none' stroke='black' "

struct drawing {
	struct arena *arena;
	struct notices notices;
	struct job *job;
	struct cutlint_job facts; /* the default job's, to be changed before the sheet is built */
	struct cutlint_design *design;
	const struct cutlint_sheet *sheet;
	struct sheet_picture picture;
};

/* Reads SVG text, gives the roles of the default job: kerf 0.15 mm, join 0.05 mm, scan 3 mm. */
void drawing_read(struct drawing *drawing, const char *svg);

/* The same, flattened within so many mm; 0: as the default job says. */
void drawing_read_flat(struct drawing *drawing, const char *svg, double flatness_mm);

/* A sheet in this arena with all that a rule can need; NULL where memory runs out. */
const struct cutlint_sheet *drawing_sheet(struct drawing *drawing, struct arena *arena);

/* Builds the drawing's sheet; necks up to 3 mm. */
void drawing_build(struct drawing *drawing);

/* Both. */
void drawing_open(struct drawing *drawing, const char *svg);
void drawing_close(struct drawing *drawing);

/* The number of the outline of the element with an id; fails the test without one. */
uint32_t drawing_outline(const struct drawing *drawing, const char *id);

/* Parts of a kind, and the only one of its kind. */
uint32_t drawing_part_count(const struct drawing *drawing, enum cutlint_part_kind kind);
const struct cutlint_part *drawing_part(const struct drawing *drawing, enum cutlint_part_kind kind);

/* Necks of a kind, and the only one of its kind. */
uint32_t drawing_neck_count(const struct drawing *drawing, enum cutlint_neck_kind kind);
const struct cutlint_neck *drawing_neck(const struct drawing *drawing, enum cutlint_neck_kind kind);

/* Fails unless two figures agree within a tolerance. */
#define assert_near(value, expected, tolerance)                                                    \
	drawing_assert_near((value), (expected), (tolerance), #value, __FILE__, __LINE__)
void drawing_assert_near(double value, double expected, double tolerance, const char *what,
			 const char *file, int line);

#endif

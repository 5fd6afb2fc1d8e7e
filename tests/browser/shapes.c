/*
 * Prints what cutlint reads of drawings, a line a shape, for compare.mjs: the drawing's number, the
 * indices of the uses that place the shape (from the outermost on) and its own, the corners of its
 * user-space box on the sheet, its length in user units, and the millimetres of a user unit. For a
 * drawing that is refused because it reaches farther than a drawing may: its number and
 * "too-large". Usage: shapes LIST, a file that names a drawing a line.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "cutlint/model.h"
#include "svg/load.h"

/*
 * Much finer than what is compared, and than the smallest curves that there are, so that lengths
 * are those of the true curves.
 */
static const double FLATNESS_MM = 0.00002;

static struct cutlint_xy map(const double m[6], double x, double y)
{
	return (struct cutlint_xy){m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]};
}

static struct cutlint_xy unmap(const double m[6], struct cutlint_point vertex)
{
	struct cutlint_xy mm = cutlint_point_mm(vertex);
	double determinant = m[0] * m[3] - m[1] * m[2];
	double x = mm.x - m[4], y = mm.y - m[5];
	return (struct cutlint_xy){(m[3] * x - m[2] * y) / determinant,
				   (m[0] * y - m[1] * x) / determinant};
}

struct figures {
	double left, top, right, bottom, length;
};

static void add_outline(struct figures *figures, const struct cutlint_design *design,
			const struct cutlint_outline *outline, const double m[6])
{
	struct cutlint_xy first = {0, 0}, before = {0, 0};
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		struct cutlint_xy at = unmap(m, design->vertices[outline->first_vertex + i]);
		figures->left = fmin(figures->left, at.x);
		figures->top = fmin(figures->top, at.y);
		figures->right = fmax(figures->right, at.x);
		figures->bottom = fmax(figures->bottom, at.y);
		if (i)
			figures->length += hypot(at.x - before.x, at.y - before.y);
		else
			first = at;
		before = at;
	}
	if (outline->closed)
		figures->length += hypot(first.x - before.x, first.y - before.y);
}

static void print_uses(const struct cutlint_placement *placement)
{
	if (!placement)
		return;
	print_uses(placement->outer);
	printf("%u.", placement->use->index);
}

static void print_shape(const struct cutlint_design *design, const struct cutlint_shape *shape,
			int number)
{
	const double *m = shape->matrix;
	struct figures box = {INFINITY, INFINITY, -INFINITY, -INFINITY, 0};
	if (!shape->outline_count)
		return;
	for (uint32_t i = 0; i < shape->outline_count; i++)
		add_outline(&box, design, &design->outlines[shape->first_outline + i], m);
	struct cutlint_xy corners[] = {map(m, box.left, box.top), map(m, box.right, box.top),
				       map(m, box.right, box.bottom), map(m, box.left, box.bottom)};
	printf("%d ", number);
	print_uses(shape->placement);
	printf("%u", shape->element->index);
	for (int i = 0; i < 4; i++)
		printf(" %.9g %.9g", corners[i].x, corners[i].y);
	printf(" %.9g %.9g\n", box.length, sqrt(fabs(m[0] * m[3] - m[1] * m[2])));
}

static int print_drawing(const char *path, int number)
{
	struct svg_options options = {.flatness_mm = FLATNESS_MM};
	struct notices notices = {.arena = arena_create()};
	struct cutlint_design *design = NULL;
	int result = -1;
	if (notices.arena)
		result = svg_load(notices.arena, path, path, &options, &notices, &design);
	for (uint32_t i = 0; result < 0 && i < notices.count; i++)
		fprintf(stderr, "%s: %s\n", path, notices.items[i].message);
	if (result < 0 && notices.count &&
	    strcmp(notices.items[notices.count - 1].code, "too-large") == 0) {
		printf("%d too-large\n", number);
		result = 1;
	}
	for (uint32_t i = 0; result == 0 && i < design->shape_count; i++) {
		if (design->shapes[i].unburned != CUTLINT_UNBURNED_DISPLAY)
			print_shape(design, &design->shapes[i], number);
	}
	arena_destroy(notices.arena);
	return result;
}

int main(int argc, char **argv)
{
	char path[4096];
	FILE *list = argc == 2 ? fopen(argv[1], "r") : NULL;
	if (!list) {
		fprintf(stderr, "usage: shapes LIST\n");
		return 2;
	}
	int failed = 0;
	for (int number = 0; fgets(path, sizeof(path), list); number++) {
		path[strcspn(path, "\n")] = '\0';
		failed |= print_drawing(path, number) < 0;
	}
	fclose(list);
	return failed;
}

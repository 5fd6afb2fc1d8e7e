#include "drawing.h"

#include <stdio.h>

#include "job/roles.h"
#include "svg/load.h"

void drawing_read(struct drawing *drawing, const char *svg)
{
	drawing_read_flat(drawing, svg, 0);
}

void drawing_read_flat(struct drawing *drawing, const char *svg, double flatness_mm)
{
	*drawing = (struct drawing){.arena = arena_create()};
	assert_non_null(drawing->arena);
	drawing->notices.arena = drawing->arena;
	assert_int_equal(job_load(drawing->arena, NULL, &drawing->notices, &drawing->job), 0);
	drawing->facts = drawing->job->facts;
	if (flatness_mm > 0)
		drawing->facts.flatness_mm = flatness_mm;
	const struct svg_options options = {.flatness_mm = drawing->facts.flatness_mm};
	assert_int_equal(svg_load_bytes(drawing->arena, svg, strlen(svg), "test.svg", &options,
					&drawing->notices, &drawing->design),
			 0);
	assert_int_equal(job_assign_roles(drawing->job, drawing->design, &drawing->notices), 0);
}

const struct cutlint_sheet *drawing_sheet(struct drawing *drawing, struct arena *arena)
{
	const uint32_t all = CUTLINT_NEEDS_CARDS | CUTLINT_NEEDS_NECKS | CUTLINT_NEEDS_HOLES |
			     CUTLINT_NEEDS_ENDS | CUTLINT_NEEDS_OVERLAPS | CUTLINT_NEEDS_CROSSINGS |
			     CUTLINT_NEEDS_TIPS;
	const struct sheet_question question = {
		.needs = all, .hole_limit_mm = INFINITY, .picture = &drawing->picture};
	uint32_t crowded;
	return sheet_build(arena, drawing->design, &drawing->facts, &question, &crowded);
}

void drawing_build(struct drawing *drawing)
{
	drawing->sheet = drawing_sheet(drawing, drawing->arena);
	assert_non_null(drawing->sheet);
}

void drawing_open(struct drawing *drawing, const char *svg)
{
	drawing_read(drawing, svg);
	drawing_build(drawing);
}

void drawing_close(struct drawing *drawing)
{
	job_finish(drawing->job);
	arena_destroy(drawing->arena);
}

uint32_t drawing_outline(const struct drawing *drawing, const char *id)
{
	const struct cutlint_design *design = drawing->design;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		const char *found = cutlint_outline_shape(design, i)->element->id;
		if (found && strcmp(found, id) == 0)
			return i;
	}
	fail_msg("no outline of #%s", id);
	return CUTLINT_NONE;
}

uint32_t drawing_part_count(const struct drawing *drawing, enum cutlint_part_kind kind)
{
	uint32_t count = 0;
	for (uint32_t i = 0; i < drawing->sheet->part_count; i++)
		count += drawing->sheet->parts[i].kind == kind ? 1 : 0;
	return count;
}

const struct cutlint_part *drawing_part(const struct drawing *drawing, enum cutlint_part_kind kind)
{
	assert_int_equal(drawing_part_count(drawing, kind), 1);
	const struct cutlint_part *part = drawing->sheet->parts;
	while (part->kind != kind)
		part++;
	return part;
}

uint32_t drawing_neck_count(const struct drawing *drawing, enum cutlint_neck_kind kind)
{
	uint32_t count = 0;
	for (uint32_t i = 0; i < drawing->sheet->neck_count; i++)
		count += drawing->sheet->necks[i].kind == kind ? 1 : 0;
	return count;
}

const struct cutlint_neck *drawing_neck(const struct drawing *drawing, enum cutlint_neck_kind kind)
{
	assert_int_equal(drawing_neck_count(drawing, kind), 1);
	const struct cutlint_neck *neck = drawing->sheet->necks;
	while (neck->kind != kind)
		neck++;
	return neck;
}

void drawing_assert_near(double value, double expected, double tolerance, const char *what,
			 const char *file, int line)
{
	if (fabs(value - expected) <= tolerance)
		return;
	print_error("%s is %.9f, not %.9f within %g\n", what, value, expected, tolerance);
	_fail(file, line);
}

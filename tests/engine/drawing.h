/*
 * drawing.h - a drawing made by hand, for tests of what happens after the reader: a root with one
 * path, a triangle, whose three commands stand on line 2.
 */
#ifndef TESTS_DRAWING_H
#define TESTS_DRAWING_H

#include "base/arena.h"
#include "model/private.h"

struct drawing {
	struct cutlint_design design;
	struct cutlint_private priv;
	struct cutlint_element root, path;
	const struct cutlint_element *elements[2];
	struct cutlint_shape shape;
	struct cutlint_outline outline;
	struct cutlint_point vertices[3];
	struct cutlint_command commands[3];
	struct cutlint_placement placement;
};

/* The text that the places count in. */
#define DRAWING_TEXT "<svg>\n  <path id=\"tri\" d=\"M0 0 H10 V10 z\"/>\n</svg>\n"

/* Places in that text, counted by hand. */
enum { PATH_LINE = 2, PATH_COLUMN = 3, SECOND_COMMAND_COLUMN = 26 };

static inline void drawing_init(struct drawing *drawing, struct arena *arena)
{
	*drawing = (struct drawing){0};
	const char *text = DRAWING_TEXT;
	uint32_t path = (uint32_t)(strstr(text, "<path") - text);
	uint32_t data = (uint32_t)(strstr(text, "M0") - text);
	source_index(&drawing->priv.source, arena, "tri.svg", text, (uint32_t)strlen(text));
	drawing->root = (struct cutlint_element){.tag = "svg", .nth = 1, .start_tag = {0, 5}};
	drawing->path = (struct cutlint_element){.parent = &drawing->root,
						 .tag = "path",
						 .id = "tri",
						 .index = 1,
						 .nth = 1,
						 .start_tag = {path, 37}};
	drawing->elements[0] = &drawing->root;
	drawing->elements[1] = &drawing->path;
	drawing->shape = (struct cutlint_shape){.element = &drawing->path, .outline_count = 1};
	drawing->outline =
		(struct cutlint_outline){.vertex_count = 3, .command_count = 3, .closed = true};
	drawing->vertices[1] = (struct cutlint_point){10000000, 0};
	drawing->vertices[2] = (struct cutlint_point){10000000, 10000000};
	for (uint32_t i = 0; i < 3; i++)
		drawing->commands[i] = (struct cutlint_command){.first_vertex = i,
								.byte = data + (i ? 1 + 4 * i : 0),
								.curve = CUTLINT_NONE};
	drawing->design = (struct cutlint_design){.file = "tri.svg",
						  .elements = drawing->elements,
						  .shapes = &drawing->shape,
						  .outlines = &drawing->outline,
						  .vertices = drawing->vertices,
						  .commands = drawing->commands,
						  .element_count = 2,
						  .shape_count = 1,
						  .outline_count = 1,
						  .vertex_count = 3,
						  .command_count = 3,
						  .priv = &drawing->priv};
}

#endif

#include "svg/load.h"

#include <stdlib.h>
#include <string.h>

#include "model/private.h"
#include "svg/encoding.h"
#include "svg/walk.h"
#include "svg/xml.h"

#define MOST_BYTES          (UINT32_C(256) * 1024 * 1024)
#define DEFAULT_FLATNESS_MM 0.005

static uint32_t most_bytes(const struct svg_options *options)
{
	uint32_t most = options->most_bytes ? options->most_bytes : MOST_BYTES;
	return most < INT32_MAX ? most : INT32_MAX;
}

static bool is_blank(const struct source *source)
{
	uint32_t at = 0;
	while (at < source->length && svg_is_space(source->bytes[at]))
		at++;
	return at == source->length;
}

/* What was gathered in arrays that grow goes to the arena. */
static const void *hand_over(struct arena *arena, const void *items, uint32_t count, size_t size)
{
	void *copy = arena_take(arena, count, size);
	if (copy && count)
		memcpy(copy, items, count * size);
	return copy;
}

static struct cutlint_design *make_design(const struct svg_document *document,
					  const struct svg_walk *walk)
{
	struct arena *arena = document->arena;
	const struct svg_outliner *outliner = &walk->outliner;
	const struct svg_outline_counts *count = &outliner->count;
	struct cutlint_private *priv = ARENA_NEW(arena, struct cutlint_private);
	struct cutlint_design *design = ARENA_NEW(arena, struct cutlint_design);
	struct cutlint_shape *shapes = ARENA_ARRAY(arena, struct cutlint_shape, walk->shape_count);
	if (!priv || !design || !shapes)
		return NULL;
	if (walk->shape_count)
		memcpy(shapes, walk->shapes, walk->shape_count * sizeof(*shapes));
	priv->source = document->source;
	priv->shapes = shapes;
	priv->curve_count = count->curves;
	priv->curves = hand_over(arena, outliner->curves, count->curves, sizeof(struct curve));

	*design = (struct cutlint_design){
		.file = document->source.name,
		.elements = hand_over(arena, document->elements, document->count,
				      sizeof(*document->elements)),
		.shapes = shapes,
		.outlines = hand_over(arena, outliner->outlines, count->outlines,
				      sizeof(*outliner->outlines)),
		.vertices = hand_over(arena, outliner->vertices, count->vertices,
				      sizeof(*outliner->vertices)),
		.commands = hand_over(arena, outliner->commands, count->commands,
				      sizeof(*outliner->commands)),
		.element_count = document->count,
		.shape_count = walk->shape_count,
		.outline_count = count->outlines,
		.vertex_count = count->vertices,
		.command_count = count->commands,
		.page_width_mm = walk->page.width_mm,
		.page_height_mm = walk->page.height_mm,
		.physical = walk->page.physical,
		.flatness_mm = outliner->flatness,
		.priv = priv,
	};
	bool whole = priv->curves && design->elements && design->outlines && design->vertices &&
		     design->commands;
	return whole ? design : NULL;
}

static struct cutlint_design *build(struct svg_document *document)
{
	struct svg_walk *walk = calloc(1, sizeof(*walk));
	if (!walk)
		return NULL;
	double flatness = document->options->flatness_mm;
	walk->document = document;
	walk->outliner.flatness = flatness > 0 ? flatness : DEFAULT_FLATNESS_MM;
	struct cutlint_design *design = NULL;
	if (svg_walk_root(walk) == 0) {
		svg_note_unfollowed(document);
		svg_count_templates(document);
		design = make_design(document, walk);
	}
	svg_walk_finish(walk);
	free(walk);
	return design;
}

static struct cutlint_design *read_document(struct svg_document *document)
{
	struct notices *notices = document->say.notices;
	if (is_blank(&document->source)) {
		notice_add(notices, NOTICE_FATAL, "empty-file", 0, 0, "the file is empty");
		return NULL;
	}
	if (svg_to_utf8(&document->source, document->arena, notices) < 0 ||
	    svg_xml_read(document) < 0)
		return NULL;
	return build(document);
}

static int load(struct arena *arena, const struct source *source, const struct svg_options *options,
		struct notices *notices, struct cutlint_design **out)
{
	struct svg_document document = {
		.arena = arena, .source = *source, .options = options, .say = {.notices = notices}};
	struct cutlint_design *design = read_document(&document);
	document.say.quiet = false;
	svg_say_rest(&document.say);
	if (document.say.failed)
		design = NULL;
	svg_document_finish(&document);
	if (!design && notices->fatal_count == 0)
		notice_add(notices, NOTICE_FATAL, "out-of-memory", 0, 0,
			   "memory ran out while reading the drawing");
	*out = design;
	return design ? 0 : -1;
}

int svg_load(struct arena *arena, const char *path, const char *name,
	     const struct svg_options *options, struct notices *notices,
	     struct cutlint_design **out)
{
	struct source source;
	*out = NULL;
	if (source_read(&source, arena, path, name, most_bytes(options), notices) < 0)
		return -1;
	return load(arena, &source, options, notices, out);
}

int svg_load_bytes(struct arena *arena, const char *bytes, size_t length, const char *name,
		   const struct svg_options *options, struct notices *notices,
		   struct cutlint_design **out)
{
	*out = NULL;
	if (length > most_bytes(options)) {
		notice_add(notices, NOTICE_FATAL, "too-large", 0, 0,
			   "the drawing has %zu bytes; at most %u are read", length,
			   most_bytes(options));
		return -1;
	}
	struct source source;
	const char *copy = arena_copy(arena, bytes, length);
	if (!copy || source_index(&source, arena, name, copy, (uint32_t)length) < 0) {
		notice_add(notices, NOTICE_FATAL, "out-of-memory", 0, 0,
			   "memory ran out while reading the drawing");
		return -1;
	}
	return load(arena, &source, options, notices, out);
}

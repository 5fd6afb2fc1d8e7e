#include "svg/load.h"

#include <stdlib.h>
#include <string.h>

#include "model/private.h"
#include "svg/encoding.h"
#include "svg/foreign.h"
#include "svg/unpack.h"
#include "svg/walk.h"
#include "svg/xml.h"

#define DEFAULT_FLATNESS_MM 0.005

static bool is_blank(const struct source *source)
{
	uint32_t at = 0;
	while (at < source->length && svg_is_space(source->bytes[at]))
		at++;
	return at == source->length;
}

/* What was gathered in an array that grew goes to the arena, and the array goes. */
static const void *hand_over(struct arena *arena, void *array, uint32_t count, size_t size)
{
	void *items;
	memcpy(&items, array, sizeof(items));
	void *copy = arena_take(arena, count, size);
	if (copy && count)
		memcpy(copy, items, count * size);
	free(items);
	items = NULL;
	memcpy(array, &items, sizeof(items));
	return copy;
}

#define HAND_OVER(arena, items, count) hand_over((arena), &(items), (count), sizeof(*(items)))

static void describe(struct cutlint_design *design, const struct svg_walk *walk)
{
	const struct svg_outline_counts *count = &walk->outliner.count;
	design->file = walk->document->source.name;
	design->element_count = walk->document->count;
	design->shape_count = walk->shape_count;
	design->outline_count = count->outlines;
	design->vertex_count = count->vertices;
	design->command_count = count->commands;
	design->page_width_mm = walk->page.width_mm;
	design->page_height_mm = walk->page.height_mm;
	design->physical = walk->page.physical;
	design->flatness_mm = walk->outliner.flatness;
}

static struct cutlint_design *make_design(struct svg_walk *walk)
{
	struct arena *arena = walk->document->arena;
	struct svg_outliner *outliner = &walk->outliner;
	const struct svg_outline_counts *count = &outliner->count;
	struct cutlint_private *priv = ARENA_NEW(arena, struct cutlint_private);
	struct cutlint_design *design = ARENA_NEW(arena, struct cutlint_design);
	if (!priv || !design)
		return NULL;
	priv->source = walk->document->source;
	priv->curve_count = count->curves;
	priv->curves = HAND_OVER(arena, outliner->curves, count->curves);
	design->vertices = HAND_OVER(arena, outliner->vertices, count->vertices);
	design->commands = HAND_OVER(arena, outliner->commands, count->commands);
	design->outlines = HAND_OVER(arena, outliner->outlines, count->outlines);
	design->shapes =
		walk->settled ? walk->shapes : HAND_OVER(arena, walk->shapes, walk->shape_count);
	design->elements = HAND_OVER(arena, walk->document->elements, walk->document->count);
	priv->remark_count = walk->document->remark_count;
	priv->remarks = HAND_OVER(arena, walk->document->remarks, priv->remark_count);
	priv->shapes = (struct cutlint_shape *)(uintptr_t)design->shapes;
	design->priv = priv;
	describe(design, walk);
	bool whole = priv->curves && priv->remarks && design->elements && design->shapes &&
		     design->outlines && design->vertices && design->commands;
	return whole ? design : NULL;
}

/*
 * Without `use` there are no more shapes than elements that draw, so their array need not grow.
 * Room that is not used costs nothing: it is never touched.
 */
static int settle_shapes(struct svg_walk *walk)
{
	const struct svg_document *document = walk->document;
	uint32_t shapes = 0, uses = 0;
	for (uint32_t i = 0; i < document->count; i++) {
		shapes += svg_kind_is_graphic(document->nodes[i].kind);
		uses += document->nodes[i].kind == SVG_KIND_USE;
	}
	if (uses)
		return 0;
	walk->shapes = ARENA_ARRAY(document->arena, struct cutlint_shape, shapes);
	walk->shape_capacity = shapes;
	walk->settled = true;
	return walk->shapes ? 0 : -1;
}

static struct cutlint_design *build(struct svg_document *document)
{
	struct svg_walk *walk = calloc(1, sizeof(*walk));
	if (!walk)
		return NULL;
	double flatness = document->options->flatness_mm;
	walk->document = document;
	walk->outliner.most_vertices = svg_limit_of(&document->options->limits, SVG_LIMIT_VERTICES);
	walk->outliner.flatness = flatness > 0 ? flatness : DEFAULT_FLATNESS_MM;
	struct cutlint_design *design = NULL;
	if (settle_shapes(walk) == 0 && svg_walk_root(walk) == 0) {
		svg_note_unfollowed(document);
		svg_count_templates(document);
		design = make_design(walk);
	}
	svg_walk_finish(walk);
	free(walk);
	return design;
}

static struct cutlint_design *read_document(struct svg_document *document)
{
	struct notices *notices = document->say.notices;
	if (is_blank(&document->source)) {
		notice_suggest(
			notices,
			notice_add(notices, NOTICE_FATAL, "empty-file", 0, 0, "the file is empty"),
			"save the drawing anew; see that the disk is not full");
		return NULL;
	}
	const char *kind = svg_foreign_kind(&document->source);
	if (kind) {
		struct notice *notice = notice_add(notices, NOTICE_FATAL, "not-svg", 0, 0,
						   "this is %s, not an SVG drawing", kind);
		notice_suggest(notices, notice, "give the drawing as SVG, saved or exported");
		return NULL;
	}
	if (svg_is_packed(&document->source) &&
	    svg_unpack(&document->source, document->arena, &document->say) < 0)
		return NULL;
	if (svg_to_utf8(&document->source, document->arena, notices) < 0 ||
	    svg_xml_read(document) < 0)
		return NULL;
	return build(document);
}

static void report(const struct svg_document *document)
{
	struct svg_report *out = document->options->report;
	if (!out)
		return;
	out->source = document->source;
	memcpy(out->heard, document->say.heard, sizeof(out->heard));
}

static int load(struct arena *arena, const struct source *source, const struct svg_options *options,
		struct notices *notices, struct cutlint_design **out)
{
	struct svg_document document = {.arena = arena,
					.source = *source,
					.options = options,
					.say = {.notices = notices, .limits = &options->limits}};
	struct cutlint_design *design = read_document(&document);
	document.say.quiet = false;
	svg_say_rest(&document.say);
	if (document.say.failed)
		design = NULL;
	report(&document);
	svg_document_finish(&document);
	if (!design && notices->fatal_count == 0)
		notice_add(notices, NOTICE_FATAL, "out-of-memory", 0, 0,
			   "memory ran out while reading the drawing");
	*out = design;
	return design ? 0 : -1;
}

static int refuse_size(const struct svg_options *options, struct notices *notices)
{
	struct svg_say say = {.notices = notices, .limits = &options->limits};
	svg_say_limit(&say, SVG_LIMIT_FILE_BYTES, NULL, (struct cutlint_span){0, 0},
		      "the drawing has more bytes than may be read");
	return -1;
}

static void clear(struct svg_report *report, const char *name)
{
	if (report)
		*report = (struct svg_report){.source = {.name = name, .bytes = ""}};
}

int svg_load(struct arena *arena, const char *path, const char *name,
	     const struct svg_options *options, struct notices *notices,
	     struct cutlint_design **out)
{
	struct source source;
	struct source_limit most = {svg_limit_of(&options->limits, SVG_LIMIT_FILE_BYTES),
				    svg_limit_row(SVG_LIMIT_FILE_BYTES)->name};
	*out = NULL;
	clear(options->report, name);
	enum source_state state = source_read(&source, arena, path, name, most, notices);
	return state == SOURCE_READ ? load(arena, &source, options, notices, out) : -1;
}

int svg_load_bytes(struct arena *arena, const char *bytes, size_t length, const char *name,
		   const struct svg_options *options, struct notices *notices,
		   struct cutlint_design **out)
{
	*out = NULL;
	clear(options->report, name);
	if (length > svg_limit_of(&options->limits, SVG_LIMIT_FILE_BYTES))
		return refuse_size(options, notices);
	struct source source;
	const char *copy = arena_copy(arena, bytes, length);
	if (!copy || source_index(&source, arena, name, copy, (uint32_t)length) < 0) {
		notice_add(notices, NOTICE_FATAL, "out-of-memory", 0, 0,
			   "memory ran out while reading the drawing");
		return -1;
	}
	return load(arena, &source, options, notices, out);
}

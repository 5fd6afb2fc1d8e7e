/* A whole drawing from any bytes: XML, encodings, packed files, and all that a design must hold. */
#include "fuzz.h"
#include "model/private.h"
#include "svg/load.h"

static const struct svg_limits LIMITS = {{
	[SVG_LIMIT_ELEMENTS] = 20000,
	[SVG_LIMIT_PLACED] = 5000,
	[SVG_LIMIT_PLACED_BYTES] = 500000,
	[SVG_LIMIT_STYLE_STEPS] = 1000000,
	[SVG_LIMIT_VERTICES] = 200000,
	[SVG_LIMIT_FILE_BYTES] = 4000000,
}};

static void check_span(const struct source *source, struct cutlint_span span)
{
	HOLDS(span.byte <= source->length && span.length <= source->length - span.byte);
}

static void check_elements(const struct cutlint_design *design, const struct source *source)
{
	for (uint32_t i = 0; i < design->element_count; i++) {
		const struct cutlint_element *element = design->elements[i];
		HOLDS(element->index == i && element->nth > 0);
		HOLDS(!element->parent || element->parent->index < i);
		check_span(source, element->start_tag);
		for (uint32_t k = 0; k < element->attribute_count; k++) {
			check_span(source, element->attributes[k].name_span);
			check_span(source, element->attributes[k].value_span);
		}
	}
}

static void check_outlines(const struct cutlint_design *design, const struct source *source)
{
	uint32_t vertex = 0, command = 0;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		const struct cutlint_outline *outline = &design->outlines[i];
		HOLDS(outline->shape < design->shape_count);
		HOLDS(outline->first_vertex == vertex && outline->vertex_count > 0);
		HOLDS(outline->first_command == command && outline->command_count > 0);
		vertex += outline->vertex_count;
		command += outline->command_count;
	}
	HOLDS(vertex == design->vertex_count && command == design->command_count);
	for (uint32_t i = 0; i < design->command_count; i++) {
		HOLDS(design->commands[i].byte <= source->length);
		HOLDS(design->commands[i].first_vertex < design->vertex_count);
	}
}

static void check_notices(const struct notices *notices, const struct source *source)
{
	for (uint32_t i = 0; i < notices->count; i++) {
		HOLDS(notices->items[i].message && *notices->items[i].message);
		if (!source->lines)
			continue;
		HOLDS(notices->items[i].byte <= source->length);
		source_position(source, notices->items[i].byte);
	}
}

static void read_drawing(struct arena *arena, const uint8_t *bytes, size_t length)
{
	struct svg_report report;
	struct svg_options options = {.flatness_mm = 0.05, .limits = LIMITS, .report = &report};
	struct notices notices = {.arena = arena};
	struct cutlint_design *design;
	int result = svg_load_bytes(arena, (const char *)bytes, length, "drawing.svg", &options,
				    &notices, &design);
	HOLDS((result == 0) == (design != NULL));
	HOLDS((result == 0) == (notices.fatal_count == 0));
	check_notices(&notices, &report.source);
	if (!design)
		return;
	check_elements(design, &report.source);
	check_outlines(design, &report.source);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	struct arena *arena = arena_create();
	if (arena)
		read_drawing(arena, bytes, length);
	arena_destroy(arena);
	return 0;
}

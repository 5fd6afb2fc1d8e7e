/* place.c - the places that a rule can name, and how they are shown. */
#include "engine/place.h"

#include <string.h>

#include "model/private.h"

struct cutlint_place cutlint_place_element(const struct cutlint_element *element)
{
	return (struct cutlint_place){.element = element, .span = element->start_tag};
}

struct cutlint_place cutlint_place_design(const struct cutlint_design *design)
{
	if (!design->element_count)
		return (struct cutlint_place){0};
	return cutlint_place_element(design->elements[0]);
}

static struct cutlint_place place_shape(const struct cutlint_shape *shape)
{
	struct cutlint_place place = cutlint_place_element(shape->element);
	place.placement = shape->placement;
	return place;
}

/* The white space of SVG 2, 9.3.9, and the comma. */
static bool separates(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' || c == ',';
}

static bool in_number(char c)
{
	return (c >= '0' && c <= '9') || c == '+' || c == '-' || c == '.' || c == 'e' || c == 'E';
}

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* The text of a command: its letter, if it has one, and numbers up to `end`. */
static uint32_t command_length(const struct source *source, uint32_t byte, uint32_t end)
{
	const char *text = source->bytes;
	uint32_t at = byte, last = byte;
	if (at < end && is_letter(text[at]))
		last = ++at;
	for (; at < end && (in_number(text[at]) || separates(text[at])); at++) {
		if (!separates(text[at]))
			last = at + 1;
	}
	return last - byte;
}

/*
 * Commands that repeat a letter stand one behind the other without one, so the next command, if it
 * stands farther on, ends this one.
 */
static void point_at(struct cutlint_place *place, const struct cutlint_design *design,
		     const struct cutlint_command *command)
{
	if (!command || command->byte == place->span.byte)
		return;
	const struct source *source = &design->priv->source;
	const struct cutlint_command *next = command + 1;
	bool followed = next < design->commands + design->command_count &&
			next->byte > command->byte && next->byte < source->length;
	uint32_t end = followed ? next->byte : source->length;
	place->span = (struct cutlint_span){.byte = command->byte,
					    .length = command_length(source, command->byte, end)};
}

struct cutlint_place cutlint_place_outline(const struct cutlint_design *design, uint32_t outline)
{
	if (outline >= design->outline_count)
		return cutlint_place_design(design);
	const struct cutlint_outline *line = &design->outlines[outline];
	if (!line->vertex_count)
		return place_shape(&design->shapes[line->shape]);
	return cutlint_place_vertex(design, line->first_vertex);
}

struct cutlint_place cutlint_place_vertex(const struct cutlint_design *design, uint32_t vertex)
{
	uint32_t outline = cutlint_vertex_outline(design, vertex);
	if (outline == CUTLINT_NONE)
		return cutlint_place_design(design);
	struct cutlint_place place = place_shape(cutlint_outline_shape(design, outline));
	point_at(&place, design, cutlint_vertex_command(design, vertex));
	place.at = cutlint_point_mm(design->vertices[vertex]);
	place.on_sheet = true;
	return place;
}

struct cutlint_place cutlint_place_wall(const struct cutlint_design *design,
					const struct cutlint_wall *wall)
{
	struct cutlint_place place = wall->outline == CUTLINT_NONE
					     ? cutlint_place_design(design)
					     : cutlint_place_vertex(design, wall->vertex);
	place.at = wall->at;
	place.on_sheet = true;
	return place;
}

const char *place_element_name(struct arena *arena, const struct cutlint_element *element)
{
	int length = cutlint_element_name(element, NULL, 0);
	char *name = length < 0 ? NULL : arena_take(arena, (size_t)length + 1, 1);
	if (name)
		cutlint_element_name(element, name, (size_t)length + 1);
	return name;
}

int place_set_element(struct finding_place *out, struct arena *arena,
		      const struct cutlint_element *element)
{
	if (!element || !element->parent)
		return 0;
	out->index = element->index;
	out->element = place_element_name(arena, element);
	return out->element ? 0 : -1;
}

int place_set(struct finding_place *out, struct arena *arena, const struct cutlint_design *design,
	      const struct cutlint_place *place, const char *text)
{
	struct source_position position = design_position(design, place->span.byte);
	*out = (struct finding_place){.file = design->file,
				      .line = position.line,
				      .column = position.column,
				      .byte = place->span.byte,
				      .length = place->span.length,
				      .at = place->at,
				      .on_sheet = place->on_sheet,
				      .text = text};
	return place_set_element(out, arena, place->element);
}

struct finding_place place_for(struct findings *findings, const struct cutlint_design *design,
			       const struct cutlint_place *place)
{
	struct finding_place out;
	if (place_set(&out, findings->arena, design, place, NULL) < 0)
		findings->failed = true;
	return out;
}

static bool same_name(const char *a, const char *b)
{
	return a && b ? strcmp(a, b) == 0 : a == b;
}

static const struct job_section *find_section(const struct job *job, const char *kind,
					      const char *name)
{
	for (uint32_t i = 0; i < job->section_count; i++) {
		const struct job_section *section = &job->sections[i];
		if (strcmp(section->kind, kind) == 0 && same_name(section->name, name))
			return section;
	}
	return NULL;
}

static const struct job_entry *find_key(const struct job_section *section, const char *key)
{
	return section && key ? job_find_entry(section, key) : NULL;
}

const struct job_entry *place_find_entry(const struct job *job, const char *section,
					 const char *name, const char *key)
{
	return find_key(find_section(job, section, name), key);
}

struct cutlint_place place_in_job(const struct job *job, const char *section, const char *name,
				  const char *key)
{
	struct cutlint_place place = {.in_job = true};
	const struct job_section *found = find_section(job, section, name);
	const struct job_entry *entry = find_key(found, key);
	if (found)
		place.span = (struct cutlint_span){.byte = found->byte, .length = found->length};
	if (entry)
		place.span =
			(struct cutlint_span){.byte = entry->key_byte, .length = entry->key_length};
	return place;
}

void place_set_job(struct finding_place *out, const struct job *job,
		   const struct cutlint_place *place, const char *text)
{
	struct source_position position = source_position(&job->source, place->span.byte);
	*out = (struct finding_place){.file = job->source.name,
				      .line = position.line,
				      .column = position.column,
				      .byte = place->span.byte,
				      .length = place->span.length,
				      .in_job = true,
				      .text = text};
}

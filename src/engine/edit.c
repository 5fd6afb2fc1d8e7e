#include "engine/edit.h"

#include <stdlib.h>
#include <string.h>

#include "engine/grow.h"
#include "model/private.h"

static int compare_ids(const void *left, const void *right)
{
	const struct edit_id *a = left, *b = right;
	if (a->length != b->length)
		return a->length < b->length ? -1 : 1;
	return memcmp(a->text, b->text, a->length);
}

static int add_id(struct edit_facts *facts, struct arena *arena, const char *text, size_t length)
{
	struct edit_id *items =
		list_grow(arena, facts->ids, facts->count, &facts->capacity, sizeof(*items));
	if (!items)
		return -1;
	facts->ids = items;
	facts->ids[facts->count++] = (struct edit_id){text, length};
	return 0;
}

/* href="#a", fill="url(#a)", style="clip-path: url('#a')". A colour is gathered, too: no matter. */
static int gather_value(struct edit_facts *facts, struct arena *arena, const char *value)
{
	for (const char *at = strchr(value, '#'); at; at = strchr(at + 1, '#')) {
		if (add_id(facts, arena, at + 1, strcspn(at + 1, ")'\" ;,#")) < 0)
			return -1;
	}
	return 0;
}

static int count_drawn(struct edit_facts *facts, struct arena *arena,
		       const struct cutlint_design *design)
{
	facts->drawn = ARENA_ARRAY(arena, uint32_t, design->element_count);
	if (!facts->drawn)
		return -1;
	for (uint32_t i = 0; i < design->shape_count; i++)
		facts->drawn[design->shapes[i].element->index]++;
	return 0;
}

static int gather(struct edit_facts *facts, struct arena *arena,
		  const struct cutlint_design *design)
{
	for (uint32_t i = 0; i < design->element_count; i++) {
		const struct cutlint_element *element = design->elements[i];
		for (uint32_t j = 0; j < element->attribute_count; j++) {
			if (gather_value(facts, arena, element->attributes[j].value) < 0)
				return -1;
		}
	}
	if (facts->count)
		qsort(facts->ids, facts->count, sizeof(*facts->ids), compare_ids);
	return count_drawn(facts, arena, design);
}

static bool is_referred_to(const struct edit_facts *facts, const struct cutlint_element *element)
{
	if (!element->id || !facts->count)
		return false;
	const struct edit_id id = {element->id, strlen(element->id)};
	return bsearch(&id, facts->ids, facts->count, sizeof(id), compare_ids) != NULL;
}

/* Whether the drawing stays the same but for the element itself. */
static bool stands_alone(struct edit_facts *facts, struct arena *arena,
			 const struct cutlint_design *design, const struct cutlint_element *element)
{
	if (!facts->drawn && gather(facts, arena, design) < 0)
		return false;
	return facts->drawn[element->index] <= 1 && !is_referred_to(facts, element);
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t';
}

static bool is_space(char c)
{
	return is_blank(c) || c == '\n' || c == '\r';
}

static uint32_t skip_spaces(const struct source *source, uint32_t byte)
{
	while (byte < source->length && is_space(source->bytes[byte]))
		byte++;
	return byte;
}

/* Where an element without content ends; 0 for one with content. */
static uint32_t end_of(const struct source *source, const struct cutlint_span *tag)
{
	uint32_t end = tag->byte + tag->length;
	if (tag->length < 4 || end > source->length)
		return 0;
	if (source->bytes[end - 2] == '/')
		return end;
	end = skip_spaces(source, end);
	if (source->length - end < 3 || memcmp(source->bytes + end, "</", 2) != 0)
		return 0;
	const char *close = memchr(source->bytes + end, '>', source->length - end);
	return close ? (uint32_t)(close - source->bytes) + 1 : 0;
}

/* A line that holds nothing else goes with it. */
static struct cutlint_span with_line(const struct source *source, uint32_t start, uint32_t end)
{
	uint32_t from = start, to = end;
	while (from > 0 && is_blank(source->bytes[from - 1]))
		from--;
	while (to < source->length && is_blank(source->bytes[to]))
		to++;
	bool begins = from > 0 && source->bytes[from - 1] == '\n';
	bool crlf = to + 1 < source->length && memcmp(source->bytes + to, "\r\n", 2) == 0;
	bool ends = crlf || (to < source->length && source->bytes[to] == '\n');
	if (!begins || !ends)
		return (struct cutlint_span){start, end - start};
	return (struct cutlint_span){from, to + (crlf ? 2 : 1) - from};
}

struct cutlint_span edit_element_span(struct edit_facts *facts, struct arena *arena,
				      const struct cutlint_design *design,
				      const struct cutlint_element *element)
{
	const struct source *source = &design->priv->source;
	uint32_t end = element->from_entity ? 0 : end_of(source, &element->start_tag);
	if (!end || !stands_alone(facts, arena, design, element))
		return (struct cutlint_span){0, 0};
	return with_line(source, element->start_tag.byte, end);
}

#include "engine/wire.h"

#include <string.h>

#define HEADER_BYTES 5
#define NO_STRING    UINT32_MAX

/* Every related place, every measure, every figure and every edit takes more. */
#define LEAST_ITEM_BYTES sizeof(uint32_t)

static void put_u32(struct text *out, uint32_t value)
{
	char bytes[sizeof(value)];
	memcpy(bytes, &value, sizeof(value));
	text_add(out, bytes, sizeof(value));
}

static void put_double(struct text *out, double value)
{
	char bytes[sizeof(value)];
	memcpy(bytes, &value, sizeof(value));
	text_add(out, bytes, sizeof(value));
}

static void put_string(struct text *out, const char *string)
{
	size_t length = string ? strlen(string) : 0;
	if (length > WIRE_MOST) {
		out->failed = true;
		return;
	}
	put_u32(out, string ? (uint32_t)length : NO_STRING);
	if (length)
		text_add(out, string, length);
}

/* A frame's length is known only when its body is written. */
static size_t begin(struct text *out, enum wire_kind kind)
{
	size_t start = out->length;
	put_u32(out, 0);
	text_add(out, (const char[]){(char)kind}, 1);
	return start;
}

static int end(struct text *out, size_t start)
{
	if (out->failed || out->length - start - HEADER_BYTES > WIRE_MOST)
		return -1;
	uint32_t length = (uint32_t)(out->length - start - HEADER_BYTES);
	memcpy(out->bytes + start, &length, sizeof(length));
	return 0;
}

int wire_put_number(struct text *out, enum wire_kind kind, uint32_t number)
{
	size_t start = begin(out, kind);
	put_u32(out, number);
	return end(out, start);
}

int wire_put_string(struct text *out, enum wire_kind kind, const char *string)
{
	size_t start = begin(out, kind);
	put_string(out, string);
	return end(out, start);
}

static void put_place(struct text *out, const struct finding_place *place)
{
	put_u32(out, place->line);
	put_u32(out, place->column);
	put_u32(out, place->byte);
	put_u32(out, place->length);
	put_string(out, place->element);
	put_u32(out, place->index);
	put_double(out, place->at.x);
	put_double(out, place->at.y);
	put_u32(out, place->on_sheet);
	put_u32(out, place->in_job);
	put_string(out, place->text);
}

static void put_figure(struct text *out, const struct finding_figure *figure)
{
	put_u32(out, figure->kind);
	put_double(out, figure->from.x);
	put_double(out, figure->from.y);
	put_double(out, figure->to.x);
	put_double(out, figure->to.y);
	put_double(out, figure->diameter_mm);
	put_double(out, figure->length_mm);
	put_u32(out, figure->outline);
	put_u32(out, figure->point_count);
	for (uint32_t i = 0; i < figure->point_count; i++) {
		put_double(out, figure->points[i].x);
		put_double(out, figure->points[i].y);
	}
	put_string(out, figure->label);
}

static void put_edits(struct text *out, const struct finding *finding)
{
	put_u32(out, finding->edit_count);
	for (uint32_t i = 0; i < finding->edit_count; i++) {
		put_u32(out, finding->edits[i].byte);
		put_u32(out, finding->edits[i].length);
		put_string(out, finding->edits[i].text);
	}
}

int wire_put_finding(struct text *out, const struct finding *finding)
{
	size_t start = begin(out, WIRE_FINDING);
	put_u32(out, finding->severity);
	put_string(out, finding->message);
	put_string(out, finding->suggestion);
	put_place(out, &finding->place);
	put_u32(out, finding->related_count);
	for (uint32_t i = 0; i < finding->related_count; i++)
		put_place(out, &finding->related[i]);
	put_u32(out, finding->measure_count);
	for (uint32_t i = 0; i < finding->measure_count; i++) {
		put_string(out, finding->measures[i].what);
		put_string(out, finding->measures[i].unit);
		put_double(out, finding->measures[i].value);
		put_double(out, finding->measures[i].limit);
	}
	put_u32(out, finding->figure_count);
	for (uint32_t i = 0; i < finding->figure_count; i++)
		put_figure(out, &finding->figures[i]);
	put_edits(out, finding);
	return end(out, start);
}

ptrdiff_t wire_take_frame(const unsigned char *bytes, size_t length, struct wire_frame *out)
{
	if (length < HEADER_BYTES)
		return 0;
	memcpy(&out->length, bytes, sizeof(out->length));
	unsigned kind = bytes[sizeof(out->length)];
	if (out->length > WIRE_MOST || kind < WIRE_RULE_BEGINS || kind > WIRE_RULE_ENDS)
		return -1;
	if (length - HEADER_BYTES < out->length)
		return 0;
	out->kind = (enum wire_kind)kind;
	out->body = bytes + HEADER_BYTES;
	return (ptrdiff_t)HEADER_BYTES + out->length;
}

/* Reads a body from front to back; after the first fault all that follows reads as nothing. */
struct reader {
	const unsigned char *at, *end;
	struct arena *arena;
	bool failed;
};

static void get(struct reader *reader, void *out, size_t size)
{
	memset(out, 0, size);
	if (reader->failed || (size_t)(reader->end - reader->at) < size) {
		reader->failed = true;
		return;
	}
	memcpy(out, reader->at, size);
	reader->at += size;
}

static uint32_t get_u32(struct reader *reader)
{
	uint32_t value;
	get(reader, &value, sizeof(value));
	return value;
}

static double get_double(struct reader *reader)
{
	double value;
	get(reader, &value, sizeof(value));
	return value;
}

static const char *get_string(struct reader *reader)
{
	uint32_t length = get_u32(reader);
	if (reader->failed || length == NO_STRING)
		return NULL;
	if (length > (size_t)(reader->end - reader->at)) {
		reader->failed = true;
		return NULL;
	}
	const char *string = arena_copy(reader->arena, (const char *)reader->at, length);
	reader->failed = !string;
	reader->at += length;
	return string;
}

/* A count of things that take at least `least` bytes each: never more than the body can hold. */
static uint32_t get_count(struct reader *reader, size_t least)
{
	uint32_t count = get_u32(reader);
	if (count > (size_t)(reader->end - reader->at) / least)
		reader->failed = true;
	return reader->failed ? 0 : count;
}

static struct finding_place get_place(struct reader *reader)
{
	struct finding_place place = {0};
	place.line = get_u32(reader);
	place.column = get_u32(reader);
	place.byte = get_u32(reader);
	place.length = get_u32(reader);
	place.element = get_string(reader);
	place.index = get_u32(reader);
	place.at.x = get_double(reader);
	place.at.y = get_double(reader);
	place.on_sheet = get_u32(reader) != 0;
	place.in_job = get_u32(reader) != 0;
	place.text = get_string(reader);
	return place;
}

static struct reader reader_of(const struct wire_frame *frame, struct arena *arena)
{
	return (struct reader){
		.at = frame->body, .end = frame->body + frame->length, .arena = arena};
}

/* A body must be read whole. */
static int close_reader(const struct reader *reader)
{
	return reader->failed || reader->at != reader->end ? -1 : 0;
}

int wire_get_number(const struct wire_frame *frame, uint32_t *out)
{
	struct reader reader = reader_of(frame, NULL);
	*out = get_u32(&reader);
	return close_reader(&reader);
}

int wire_get_string(const struct wire_frame *frame, struct arena *arena, const char **out)
{
	struct reader reader = reader_of(frame, arena);
	*out = get_string(&reader);
	return *out ? close_reader(&reader) : -1;
}

static void get_related(struct reader *reader, struct finding *out)
{
	out->related_count = get_count(reader, LEAST_ITEM_BYTES);
	out->related = ARENA_ARRAY(reader->arena, struct finding_place, out->related_count);
	reader->failed = reader->failed || !out->related;
	for (uint32_t i = 0; i < out->related_count && !reader->failed; i++)
		out->related[i] = get_place(reader);
}

static void get_measures(struct reader *reader, struct finding *out)
{
	out->measure_count = get_count(reader, LEAST_ITEM_BYTES);
	out->measures = ARENA_ARRAY(reader->arena, struct finding_measure, out->measure_count);
	reader->failed = reader->failed || !out->measures;
	for (uint32_t i = 0; i < out->measure_count && !reader->failed; i++) {
		out->measures[i].what = get_string(reader);
		out->measures[i].unit = get_string(reader);
		out->measures[i].value = get_double(reader);
		out->measures[i].limit = get_double(reader);
	}
}

static void get_points(struct reader *reader, struct finding_figure *out)
{
	uint32_t count = get_count(reader, 2 * sizeof(double));
	struct cutlint_xy *points = ARENA_ARRAY(reader->arena, struct cutlint_xy, count);
	reader->failed = reader->failed || !points;
	for (uint32_t i = 0; i < count && !reader->failed; i++) {
		points[i].x = get_double(reader);
		points[i].y = get_double(reader);
	}
	out->points = points;
	out->point_count = reader->failed ? 0 : count;
}

static struct finding_figure get_figure(struct reader *reader)
{
	struct finding_figure figure = {0};
	uint32_t kind = get_u32(reader);
	figure.kind = (enum figure_kind)kind;
	figure.from.x = get_double(reader);
	figure.from.y = get_double(reader);
	figure.to.x = get_double(reader);
	figure.to.y = get_double(reader);
	figure.diameter_mm = get_double(reader);
	figure.length_mm = get_double(reader);
	figure.outline = get_u32(reader);
	get_points(reader, &figure);
	figure.label = get_string(reader);
	bool chain = kind == FIGURE_WAY || kind == FIGURE_SHAPE;
	if (kind > FIGURE_SHAPE || (chain && figure.point_count < (kind == FIGURE_WAY ? 2 : 1)))
		reader->failed = true;
	return figure;
}

static void get_figures(struct reader *reader, struct finding *out)
{
	out->figure_count = get_count(reader, LEAST_ITEM_BYTES);
	out->figures = ARENA_ARRAY(reader->arena, struct finding_figure, out->figure_count);
	reader->failed = reader->failed || !out->figures;
	for (uint32_t i = 0; i < out->figure_count && !reader->failed; i++)
		out->figures[i] = get_figure(reader);
}

static void get_edits(struct reader *reader, struct finding *out)
{
	out->edit_count = get_count(reader, LEAST_ITEM_BYTES);
	out->edits = ARENA_ARRAY(reader->arena, struct finding_edit, out->edit_count);
	reader->failed = reader->failed || !out->edits;
	for (uint32_t i = 0; i < out->edit_count && !reader->failed; i++) {
		out->edits[i].byte = get_u32(reader);
		out->edits[i].length = get_u32(reader);
		out->edits[i].text = get_string(reader);
		reader->failed = reader->failed || !out->edits[i].text;
	}
}

int wire_get_finding(const struct wire_frame *frame, struct arena *arena, struct finding *out)
{
	struct reader reader = reader_of(frame, arena);
	*out = (struct finding){0};
	uint32_t severity = get_u32(&reader);
	out->severity = severity > CUTLINT_ERROR ? CUTLINT_ERROR : (enum cutlint_severity)severity;
	out->message = get_string(&reader);
	out->suggestion = get_string(&reader);
	out->place = get_place(&reader);
	get_related(&reader, out);
	get_measures(&reader, out);
	get_figures(&reader, out);
	get_edits(&reader, out);
	return out->message ? close_reader(&reader) : -1;
}

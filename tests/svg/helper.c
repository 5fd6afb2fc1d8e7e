#include "helper.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct loaded load_with_options(const char *bytes, size_t length, const struct svg_options *options)
{
	struct loaded loaded = {.arena = arena_create()};
	assert_non_null(loaded.arena);
	loaded.notices.arena = loaded.arena;
	loaded.result = svg_load_bytes(loaded.arena, bytes, length, "drawing.svg", options,
				       &loaded.notices, &loaded.design);
	assert_true((loaded.result == 0) == (loaded.design != NULL));
	assert_true((loaded.result == 0) == (loaded.notices.fatal_count == 0));
	return loaded;
}

struct loaded load_bytes(const char *bytes, size_t length)
{
	const struct svg_options options = {.flatness_mm = 0.005};
	return load_with_options(bytes, length, &options);
}

struct loaded load_marked(const char *text, const char *code)
{
	char plain[2048];
	const char *mark = strchr(text, '@');
	assert_true(mark && strlen(text) < sizeof(plain));
	snprintf(plain, sizeof(plain), "%.*s%s", (int)(mark - text), text, mark + 1);
	struct loaded loaded = load(plain);
	uint32_t byte = notice_of(&loaded, code)->byte;
	if (byte != mark - text)
		fail_msg("'%s': %s stands at byte %u, not %d", text, code, byte,
			 (int)(mark - text));
	return loaded;
}

struct loaded load(const char *text)
{
	return load_bytes(text, strlen(text));
}

void unload(struct loaded *loaded)
{
	arena_destroy(loaded->arena);
}

void assert_no_notices(const struct loaded *loaded)
{
	for (uint32_t i = 0; i < loaded->notices.count; i++)
		print_error("notice: %s [%s]\n", loaded->notices.items[i].message,
			    loaded->notices.items[i].code);
	assert_int_equal(loaded->notices.count, 0);
}

const struct notice *notice_of(const struct loaded *loaded, const char *code)
{
	for (uint32_t i = 0; i < loaded->notices.count; i++) {
		if (strcmp(loaded->notices.items[i].code, code) == 0)
			return &loaded->notices.items[i];
	}
	fail_msg("there is no notice %s", code);
	return NULL;
}

unsigned count_notices(const struct loaded *loaded, const char *code)
{
	unsigned count = 0;
	for (uint32_t i = 0; i < loaded->notices.count; i++)
		count += strcmp(loaded->notices.items[i].code, code) == 0;
	return count;
}

static void assert_source_at(const struct loaded *loaded, uint32_t byte, const char *text)
{
	const struct source *source = &loaded->design->priv->source;
	assert_true(byte + strlen(text) <= source->length);
	if (strncmp(source->bytes + byte, text, strlen(text)) != 0)
		fail_msg("at byte %u stands \"%.20s\", not \"%s\"", byte, source->bytes + byte,
			 text);
}

const struct notice *assert_notice_at(const struct loaded *loaded, const char *code,
				      enum notice_level level, const char *text)
{
	const struct notice *notice = notice_of(loaded, code);
	assert_int_equal(notice->level, level);
	assert_source_at(loaded, notice->byte, text);
	return notice;
}

void assert_near(double value, double expected, double tolerance)
{
	if (!(fabs(value - expected) <= tolerance))
		fail_msg("%.12g is not within %g of %.12g", value, tolerance, expected);
}

static const struct cutlint_outline *outline_of(const struct loaded *loaded, uint32_t outline)
{
	assert_non_null(loaded->design);
	assert_true(outline < loaded->design->outline_count);
	return &loaded->design->outlines[outline];
}

struct cutlint_xy vertex(const struct loaded *loaded, uint32_t outline, uint32_t i)
{
	const struct cutlint_outline *line = outline_of(loaded, outline);
	assert_true(i < line->vertex_count);
	return cutlint_point_mm(loaded->design->vertices[line->first_vertex + i]);
}

/* Vertices are whole nanometres: half of one is the rounding. */
static const double ROUNDING_MM = 0.6e-6;

void assert_vertex(const struct loaded *loaded, uint32_t outline, uint32_t i, double x, double y)
{
	struct cutlint_xy at = vertex(loaded, outline, i);
	assert_near(at.x, x, ROUNDING_MM);
	assert_near(at.y, y, ROUNDING_MM);
}

void assert_box(const struct loaded *loaded, uint32_t outline, double left, double top,
		double right, double bottom)
{
	struct cutlint_box box = cutlint_outline_box(loaded->design, outline);
	assert_near(box.left, left, ROUNDING_MM);
	assert_near(box.top, top, ROUNDING_MM);
	assert_near(box.right, right, ROUNDING_MM);
	assert_near(box.bottom, bottom, ROUNDING_MM);
}

const char *command_text(const struct loaded *loaded, uint32_t outline, uint32_t i)
{
	const struct cutlint_outline *line = outline_of(loaded, outline);
	assert_true(i < line->command_count);
	return loaded->design->priv->source.bytes +
	       loaded->design->commands[line->first_command + i].byte;
}

void assert_command_at(const struct loaded *loaded, uint32_t outline, uint32_t i, const char *text)
{
	const struct cutlint_outline *line = outline_of(loaded, outline);
	assert_true(i < line->command_count);
	assert_source_at(loaded, loaded->design->commands[line->first_command + i].byte, text);
}

const struct cutlint_shape *shape_of(const struct loaded *loaded, const char *id)
{
	assert_non_null(loaded->design);
	for (uint32_t i = 0; i < loaded->design->shape_count; i++) {
		const struct cutlint_shape *shape = &loaded->design->shapes[i];
		if (shape->element->id && strcmp(shape->element->id, id) == 0)
			return shape;
	}
	fail_msg("there is no shape %s", id);
	return NULL;
}

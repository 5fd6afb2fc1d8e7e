/* sarif-place.c - where something stands: files, regions, elements. */
#include <string.h>

#include "base/utf8.h"
#include "model/private.h"
#include "report/sarif-log.h"
#include "report/uri.h"

/* A stretch up to this long is quoted, and so much of its lines on both sides. */
#define SNIPPET_BYTES 120
#define CONTEXT_BYTES 100
#define QUOTE_BYTES   (SNIPPET_BYTES + 2 * CONTEXT_BYTES)

/* The name without its last letter, as gunzip names what comes out of a .svgz. */
static json_t *unpacked_location(const char *name)
{
	struct text text = {0};
	const char *slash = strrchr(name, '/');
	uri_add_path(&text, slash ? slash + 1 : name, NULL);
	if (text.length > 5 && strcmp(text.bytes + text.length - 5, ".svgz") == 0)
		text.bytes[text.length - 1] = '\0';
	json_t *location = text.failed ? NULL : json_pack("{s:s}", "uri", text.bytes);
	text_finish(&text);
	return location;
}

static json_t *file_location(struct sarif *sarif, const char *name)
{
	struct text text = {0};
	bool relative = uri_add_path(&text, name, sarif->folder);
	json_t *location =
		text.failed || !text.bytes ? NULL : json_pack("{s:s}", "uri", text.bytes);
	if (relative && location)
		sarif_put(sarif, location, "uriBaseId", json_string("SRCROOT"));
	text_finish(&text);
	return location;
}

static uint32_t add_artifact(struct sarif *sarif, json_t *artifact)
{
	sarif_push(sarif, sarif->artifacts, artifact);
	return (uint32_t)json_array_size(sarif->artifacts) - 1;
}

/* 3.24.9: by its IANA name; 3.24.5: as the file is, if that was seen. */
static void put_text(struct sarif *sarif, json_t *artifact, const struct source *source)
{
	if (!source->lines)
		return;
	if (!source->encoding)
		sarif_put(sarif, artifact, "length", json_integer(source->length));
	sarif_put_string(sarif, artifact, "encoding",
			 source->encoding ? source->encoding : "UTF-8");
}

/*
 * A compressed drawing is a binary file with the text nested in it (3.24.3): a region of a text can
 * only lie in the latter (3.30.1).
 */
static uint32_t add_packed(struct sarif *sarif, const struct source *source, const char *role)
{
	json_t *outer =
		json_pack("{s:o, s:[s], s:s}", "location", file_location(sarif, source->name),
			  "roles", role, "mimeType", "application/gzip");
	uint32_t parent = add_artifact(sarif, outer);
	json_t *inner = json_pack("{s:o, s:I}", "location", unpacked_location(source->name),
				  "parentIndex", (json_int_t)parent);
	put_text(sarif, inner, source);
	return add_artifact(sarif, inner);
}

static uint32_t add_plain(struct sarif *sarif, const struct source *source, const char *role)
{
	json_t *artifact = json_pack("{s:o, s:[s]}", "location", file_location(sarif, source->name),
				     "roles", role);
	put_text(sarif, artifact, source);
	return add_artifact(sarif, artifact);
}

uint32_t sarif_artifact(struct sarif *sarif, const struct source *source, const char *role)
{
	json_t *known = json_object_get(sarif->artifact_index, source->name);
	if (known)
		return (uint32_t)json_integer_value(known);
	uint32_t artifact =
		source->packed ? add_packed(sarif, source, role) : add_plain(sarif, source, role);
	if (json_object_set_new_nocheck(sarif->artifact_index, source->name,
					json_integer(artifact)) < 0)
		sarif->failed = true;
	return artifact;
}

json_t *sarif_artifact_location(struct sarif *sarif, uint32_t artifact)
{
	const json_t *known =
		json_object_get(json_array_get(sarif->artifacts, artifact), "location");
	json_t *uri = json_object_get(known, "uri"), *base = json_object_get(known, "uriBaseId");
	json_t *location = json_object();
	sarif_put(sarif, location, "uri", json_incref(uri));
	if (base)
		sarif_put(sarif, location, "uriBaseId", json_incref(base));
	sarif_put(sarif, location, "index", json_integer(artifact));
	return location;
}

static bool ends_line(const struct source *source, uint32_t byte)
{
	return byte == source->length && byte > 0 &&
	       (source->bytes[byte - 1] == '\n' || source->bytes[byte - 1] == '\r');
}

/*
 * 3.30.2: behind a line end that closes the file there is no further line; that place is past the
 * last line's own line end.
 */
static struct source_position position_of(const struct source *source, uint32_t byte)
{
	struct source_position position = source_position(source, byte);
	if (!ends_line(source, byte) || position.line < 2)
		return position;
	uint32_t start = source->lines[position.line - 2];
	position.line--;
	position.column = source_characters(source, byte) - source_characters(source, start) + 1;
	return position;
}

static void put_integer(struct sarif *sarif, json_t *object, const char *key, uint32_t value)
{
	sarif_put(sarif, object, key, json_integer(value));
}

static void put_snippet(struct sarif *sarif, json_t *region, const char *bytes, uint32_t length)
{
	sarif_put(sarif, region, "snippet",
		  json_pack("{s:o}", "text", json_stringn(bytes, length)));
}

/* What is quoted must be UTF-8; a job file need not be. */
static bool is_quotable(const struct source *source, uint32_t from, uint32_t to)
{
	if (to <= from || to - from > QUOTE_BYTES)
		return false;
	char quote[QUOTE_BYTES + 1];
	memcpy(quote, source->bytes + from, to - from);
	quote[to - from] = '\0';
	return utf8_valid(quote, to - from);
}

/* A stretch of a text, without its byte order mark. */
struct stretch {
	uint32_t from, to;
};

static struct stretch stretch_in(const struct source *source, uint32_t byte, uint32_t length)
{
	uint32_t start = source_start(source), end = source->length;
	uint32_t from = byte < start ? start : byte > end ? end : byte;
	return (struct stretch){from, length > end - from ? end : from + length};
}

static json_t *region_of(struct sarif *sarif, const struct source *source, uint32_t from,
			 uint32_t to, uint32_t most_quoted)
{
	struct source_position first = position_of(source, from), last = position_of(source, to);
	uint32_t before = source_characters(source, from);
	json_t *region = json_object();
	put_integer(sarif, region, "startLine", first.line);
	put_integer(sarif, region, "startColumn", first.column);
	put_integer(sarif, region, "endLine", last.line);
	put_integer(sarif, region, "endColumn", last.column);
	put_integer(sarif, region, "charOffset", before);
	put_integer(sarif, region, "charLength", source_characters(source, to) - before);
	if (!source->encoding && !source->packed) {
		put_integer(sarif, region, "byteOffset", from);
		put_integer(sarif, region, "byteLength", to - from);
	}
	if (to - from <= most_quoted && is_quotable(source, from, to))
		put_snippet(sarif, region, source->bytes + from, to - from);
	return region;
}

json_t *sarif_region(struct sarif *sarif, const struct source *source, uint32_t byte,
		     uint32_t length)
{
	struct stretch stretch = stretch_in(source, byte, length);
	return region_of(sarif, source, stretch.from, stretch.to, SNIPPET_BYTES);
}

static bool is_line_end(char c)
{
	return c == '\n' || c == '\r';
}

/* Whether a byte is inside a character of UTF-8. */
static bool is_inside(const struct source *source, uint32_t byte)
{
	return byte < source->length && ((unsigned char)source->bytes[byte] & 0xc0) == 0x80;
}

/* What stands round a stretch on its own lines, up to a bound. */
static struct stretch widened(const struct source *source, struct stretch stretch)
{
	uint32_t start = source_start(source);
	struct stretch wide = stretch;
	while (wide.from > start && stretch.from - wide.from < CONTEXT_BYTES &&
	       !is_line_end(source->bytes[wide.from - 1]))
		wide.from--;
	while (wide.to < source->length && wide.to - stretch.to < CONTEXT_BYTES &&
	       !is_line_end(source->bytes[wide.to]))
		wide.to++;
	while (wide.from < stretch.from && is_inside(source, wide.from))
		wide.from++;
	while (wide.to > stretch.to && is_inside(source, wide.to))
		wide.to--;
	return wide;
}

/* 3.29.5: more than the region itself; nothing for one that is long enough to look at alone. */
static void put_context(struct sarif *sarif, json_t *physical, const struct source *source,
			const struct finding_place *place)
{
	struct stretch stretch = stretch_in(source, place->byte, place->length);
	struct stretch wide = widened(source, stretch);
	if (stretch.to - stretch.from > SNIPPET_BYTES ||
	    (wide.from == stretch.from && wide.to == stretch.to))
		return;
	sarif_put(sarif, physical, "contextRegion",
		  region_of(sarif, source, wide.from, wide.to, QUOTE_BYTES));
}

/* An element's path as in XPath, and its name: "path#star", or the last step of the path. */
static json_t *logical_location(const struct cutlint_element *element)
{
	struct text path = {0}, name = {0};
	element_add_path(&path, element);
	element_add_name(&name, element);
	json_t *location = NULL;
	if (!path.failed && !name.failed)
		location = json_pack("{s:o, s:o, s:s}", "name", json_of_string(name.bytes),
				     "fullyQualifiedName", json_of_string(path.bytes), "kind",
				     "element");
	text_finish(&path);
	text_finish(&name);
	return location;
}

static void put_logical(struct sarif *sarif, json_t *location, const struct sarif_files *files,
			const struct finding_place *place)
{
	const struct cutlint_design *design = files->design;
	if (!design || place->index >= design->element_count)
		return;
	sarif_put(sarif, location, "logicalLocations",
		  json_pack("[o]", logical_location(design->elements[place->index])));
}

static json_t *location_of(struct sarif *sarif, const struct sarif_files *files,
			   const struct finding_place *place, bool context)
{
	bool in_job = files->job && place->file && strcmp(place->file, files->job->name) == 0;
	/* A silence of another job of several: its text is not at hand. */
	const struct source other = {.name = place->file};
	bool elsewhere = place->in_job && !in_job;
	const struct source *source = in_job ? files->job : elsewhere ? &other : files->drawing;
	uint32_t artifact = in_job      ? files->job_artifact
			    : elsewhere ? sarif_artifact(sarif, &other, SARIF_ROLE_CONFIG)
					: files->drawing_artifact;
	json_t *physical = json_object(), *location = json_object();
	sarif_put(sarif, physical, "artifactLocation", sarif_artifact_location(sarif, artifact));
	if (source->lines)
		sarif_put(sarif, physical, "region",
			  sarif_region(sarif, source, place->byte, place->length));
	if (source->lines && context)
		put_context(sarif, physical, source, place);
	sarif_put(sarif, location, "physicalLocation", physical);
	if (!in_job && !elsewhere)
		put_logical(sarif, location, files, place);
	if (place->text)
		sarif_put(sarif, location, "message", sarif_message(place->text));
	if (place->on_sheet)
		sarif_put(sarif, location, "properties",
			  json_pack("{s:o, s:o}", "sheet_x_mm", json_of_figure(place->at.x),
				    "sheet_y_mm", json_of_figure(place->at.y)));
	return location;
}

json_t *sarif_location(struct sarif *sarif, const struct sarif_files *files,
		       const struct finding_place *place)
{
	return location_of(sarif, files, place, false);
}

json_t *sarif_location_in_context(struct sarif *sarif, const struct sarif_files *files,
				  const struct finding_place *place)
{
	return location_of(sarif, files, place, true);
}

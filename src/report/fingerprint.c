#include "report/fingerprint.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/sha256.h"
#include "base/text.h"
#include "cutlint/model.h"

#define STEP_MM 0.1

/* Steps end where no figure of few decimals lies, so that noise does not tip one over. */
#define STEP_OFFSET 0.2718

struct fingerprints {
	const struct cutlint_design *design;
	const struct source *job;
	uint32_t *first_shape;                /* of each element; CUTLINT_NONE without one */
	char (*drawn)[SHA256_HEX_LENGTH + 1]; /* digests of attributes, made when asked for */
	json_t *seen;                         /* how often each key came */
};

static void find_first_shapes(struct fingerprints *fingerprints)
{
	const struct cutlint_design *design = fingerprints->design;
	for (uint32_t i = 0; i < design->element_count; i++)
		fingerprints->first_shape[i] = CUTLINT_NONE;
	for (uint32_t i = design->shape_count; i-- > 0;)
		fingerprints->first_shape[design->shapes[i].element->index] = i;
}

struct fingerprints *fingerprints_create(const struct cutlint_design *design,
					 const struct source *job)
{
	struct fingerprints *fingerprints = calloc(1, sizeof(*fingerprints));
	if (!fingerprints)
		return NULL;
	size_t count = design ? design->element_count : 0;
	fingerprints->design = design;
	fingerprints->job = job;
	fingerprints->first_shape = calloc(count + 1, sizeof(*fingerprints->first_shape));
	fingerprints->drawn = calloc(count + 1, sizeof(*fingerprints->drawn));
	fingerprints->seen = json_object();
	if (!fingerprints->first_shape || !fingerprints->drawn || !fingerprints->seen) {
		fingerprints_destroy(fingerprints);
		return NULL;
	}
	if (design)
		find_first_shapes(fingerprints);
	return fingerprints;
}

void fingerprints_destroy(struct fingerprints *fingerprints)
{
	if (!fingerprints)
		return;
	free(fingerprints->first_shape);
	free(fingerprints->drawn);
	json_decref(fingerprints->seen);
	free(fingerprints);
}

/* The attributes that place and draw: SVG 2, chapters 5, 8, 9 and 10. */
static bool draws(const char *name)
{
	static const char *const NAMES[] = {"cx",         "cy",    "d",  "height", "href",
					    "points",     "r",     "rx", "ry",     "transform",
					    "viewBox",    "width", "x",  "x1",     "x2",
					    "xlink:href", "y",     "y1", "y2"};
	for (size_t i = 0; i < sizeof(NAMES) / sizeof(*NAMES); i++) {
		if (strcmp(NAMES[i], name) == 0)
			return true;
	}
	return false;
}

static int compare_names(const void *left, const void *right)
{
	const struct cutlint_attribute *const *a = left, *const *b = right;
	return strcmp((*a)->name, (*b)->name);
}

static bool is_space(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* A value with all white space in it as one space, and none at its ends. */
static void add_value(struct text *out, const char *value)
{
	bool any = false;
	while (*value) {
		size_t length = 0;
		while (value[length] && !is_space(value[length]))
			length++;
		if (length && any)
			text_add_string(out, " ");
		text_add(out, value, length);
		any = any || length;
		value += length;
		while (is_space(*value))
			value++;
	}
}

static void add_drawing_attributes(struct text *out, const struct cutlint_element *element)
{
	const struct cutlint_attribute **sorted =
		calloc(element->attribute_count + 1, sizeof(*sorted));
	uint32_t count = 0;
	if (!sorted) {
		out->failed = true;
		return;
	}
	for (uint32_t i = 0; i < element->attribute_count; i++) {
		if (draws(element->attributes[i].name))
			sorted[count++] = &element->attributes[i];
	}
	qsort(sorted, count, sizeof(*sorted), compare_names);
	for (uint32_t i = 0; i < count; i++) {
		text_format(out, "%s=", sorted[i]->name);
		add_value(out, sorted[i]->value);
		text_add_string(out, "\n");
	}
	free(sorted);
}

/* Path data may be long and its element be named by many findings: digested once. */
static const char *drawn(struct fingerprints *fingerprints, const struct cutlint_element *element)
{
	char *digest = fingerprints->drawn[element->index];
	if (*digest)
		return digest;
	struct text text = {0};
	add_drawing_attributes(&text, element);
	text_add(&text, "", 0);
	if (!text.failed)
		sha256_hex(text.bytes, text.length, digest);
	text_finish(&text);
	return *digest ? digest : NULL;
}

static bool has_id(const struct cutlint_element *element)
{
	return element->id && *element->id;
}

static void add_tags(struct text *out, const struct cutlint_element *element)
{
	if (element->parent && !has_id(element))
		add_tags(out, element->parent);
	text_format(out, "/%s", element->tag);
	if (has_id(element))
		text_format(out, "#%s", element->id);
}

static void add_element(struct text *out, struct fingerprints *fingerprints, uint32_t index)
{
	const struct cutlint_design *design = fingerprints->design;
	if (!design || index >= design->element_count)
		return;
	const struct cutlint_element *element = design->elements[index];
	const char *digest = has_id(element) ? "" : drawn(fingerprints, element);
	out->failed = out->failed || !digest;
	text_add_string(out, "element ");
	add_tags(out, element);
	text_format(out, " %s\n", digest ? digest : "");
}

static double step_of(double mm)
{
	return floor(mm / STEP_MM + STEP_OFFSET);
}

static void add_spot(struct text *out, const struct fingerprints *fingerprints,
		     const struct finding_place *place)
{
	const struct cutlint_design *design = fingerprints->design;
	if (!place->on_sheet || !design || place->index >= design->element_count)
		return;
	uint32_t shape = fingerprints->first_shape[place->index];
	struct cutlint_xy from = {0, 0};
	if (shape != CUTLINT_NONE && design->shapes[shape].outline_count)
		from = cutlint_point_mm(
			design->vertices[design->outlines[design->shapes[shape].first_outline]
						 .first_vertex]);
	text_format(out, "spot %.0f %.0f\n", step_of(place->at.x - from.x),
		    step_of(place->at.y - from.y));
}

static void add_job_text(struct text *out, const struct fingerprints *fingerprints,
			 const struct finding_place *place)
{
	const struct source *job = fingerprints->job;
	text_add_string(out, "job ");
	if (job && place->byte <= job->length && place->length <= job->length - place->byte)
		text_add(out, job->bytes + place->byte, place->length);
	text_add_string(out, "\n");
}

static void add_key(struct text *out, struct fingerprints *fingerprints,
		    const struct finding *finding)
{
	text_format(out, "rule %s\n", finding->rule);
	if (finding->place.in_job) {
		add_job_text(out, fingerprints, &finding->place);
		return;
	}
	add_element(out, fingerprints, finding->place.index);
	add_spot(out, fingerprints, &finding->place);
	for (uint32_t i = 0; i < finding->related_count; i++) {
		if (!finding->related[i].in_job)
			add_element(out, fingerprints, finding->related[i].index);
	}
}

/* How often the key came before. Returns -1 where memory ran out. */
static json_int_t count_key(struct fingerprints *fingerprints, const char *key)
{
	json_int_t count = json_integer_value(json_object_get(fingerprints->seen, key));
	json_t *more = json_integer(count + 1);
	return json_object_set_new_nocheck(fingerprints->seen, key, more) < 0 ? -1 : count;
}

int fingerprints_next(struct fingerprints *fingerprints, const struct finding *finding,
		      char out[FINGERPRINT_LENGTH + 1])
{
	struct text key = {0};
	char digest[SHA256_HEX_LENGTH + 1];
	add_key(&key, fingerprints, finding);
	json_int_t nth = key.failed ? -1 : count_key(fingerprints, key.bytes);
	text_format(&key, "nth %lld\n", (long long)nth);
	int result = key.failed || nth < 0 ? -1 : 0;
	if (result == 0) {
		sha256_hex(key.bytes, key.length, digest);
		memcpy(out, digest, FINGERPRINT_LENGTH);
		out[FINGERPRINT_LENGTH] = '\0';
	}
	text_finish(&key);
	return result;
}

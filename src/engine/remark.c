#include "engine/remark.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "engine/place.h"
#include "job/nearest.h"
#include "job/word.h"

#define BAD       "bad-silence"
#define HALF_TURN 3.14159265358979323846

/* A stretch of an attribute's value. */
struct stretch {
	const char *from, *to;
};

static const char *const KINDS[] = {[REMARK_SILENCE] = "silence", [REMARK_SEVERITY] = "severity"};
#define KIND_COUNT (sizeof(KINDS) / sizeof(KINDS[0]))

static const char *const LEVELS[] = {
	[CUTLINT_NOTE] = "note", [CUTLINT_WARNING] = "warning", [CUTLINT_ERROR] = "error"};
#define LEVEL_COUNT (sizeof(LEVELS) / sizeof(LEVELS[0]))

static bool is_space(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

static struct stretch trim(struct stretch text)
{
	while (text.from < text.to && is_space(*text.from))
		text.from++;
	while (text.from < text.to && is_space(text.to[-1]))
		text.to--;
	return text;
}

static bool is_empty(struct stretch text)
{
	return text.from == text.to;
}

/* Up to the first `mark`, all of it without one. */
static struct stretch before(struct stretch text, char mark)
{
	const char *found = memchr(text.from, mark, (size_t)(text.to - text.from));
	return (struct stretch){text.from, found ? found : text.to};
}

/* Where a stretch stands in the source: exactly, unless the value is written with entities. */
static struct cutlint_span span_of(const struct remark_reader *reader, struct stretch text)
{
	const struct cutlint_attribute *attribute = reader->remark->attribute;
	if (strlen(attribute->value) != attribute->value_span.length)
		return attribute->value_span;
	uint32_t offset = (uint32_t)(text.from - attribute->value);
	return (struct cutlint_span){attribute->value_span.byte + offset,
				     (uint32_t)(text.to - text.from)};
}

static struct finding_place place_of(const struct remark_reader *reader, struct cutlint_span span)
{
	struct cutlint_place named = {.element = reader->remark->element, .span = span};
	return place_for(reader->findings, reader->design, &named);
}

CUTLINT_PRINTF(4, 5)
static bool refuse(const struct remark_reader *reader, struct stretch text, const char *suggestion,
		   const char *format, ...)
{
	char message[256];
	va_list arguments;
	va_start(arguments, format);
	vsnprintf(message, sizeof(message), format, arguments);
	va_end(arguments);
	struct finding_place place = place_of(reader, span_of(reader, text));
	struct finding *finding =
		findings_say(reader->findings, BAD, CUTLINT_WARNING, &place, "%s", message);
	findings_suggest(reader->findings, finding, "%s", suggestion);
	return false;
}

static const char *copy(const struct remark_reader *reader, struct stretch text)
{
	const char *made =
		arena_copy(reader->findings->arena, text.from, (size_t)(text.to - text.from));
	if (!made)
		reader->findings->failed = true;
	return made ? made : "";
}

static struct shown_word show(struct stretch text)
{
	return word_shown(text.from, (size_t)(text.to - text.from));
}

/* A limit has its unit, so its kind is the first that takes it; a bare number is a number. */
static bool read_limit(const struct remark_reader *reader, struct stretch text,
		       struct remark_word *out)
{
	static const enum value_kind ORDER[] = {VALUE_NUMBER, VALUE_AREA, VALUE_ANGLE, VALUE_SHARE,
						VALUE_LENGTH};
	const char *written = copy(reader, text);
	struct value_error error = {{0}, 0, 0};
	for (size_t i = 0; i < sizeof(ORDER) / sizeof(ORDER[0]); i++) {
		if (value_parse(written, ORDER[i], &out->limit, &error) == 0) {
			out->limited = true;
			out->limit_kind = ORDER[i];
			return true;
		}
	}
	return refuse(reader, text, "write the figure that is accepted, such as \"0.30 mm\"",
		      "'%s' behind the rule is no figure: %s", show(text).text, error.text);
}

static bool read_level(const struct remark_reader *reader, struct stretch text,
		       struct remark_word *out)
{
	size_t level = word_find(copy(reader, text), LEVELS, LEVEL_COUNT);
	out->severity = (enum cutlint_severity)level;
	if (level < LEVEL_COUNT)
		return true;
	return refuse(reader, text,
		      "write \"RULE note: reason\"; to silence a rule, use the attribute silence",
		      "'%s' is no severity; there are note, warning and error", show(text).text);
}

/* What stands before the colon. */
static bool read_head(const struct remark_reader *reader, struct stretch head,
		      struct remark_word *out)
{
	struct stretch rule = {head.from, head.from};
	while (rule.to < head.to && !is_space(*rule.to))
		rule.to++;
	struct stretch rest = trim((struct stretch){rule.to, head.to});
	if (is_empty(rule))
		return refuse(reader, head, "write \"RULE: reason\"", "a %s without a rule's name",
			      KINDS[out->kind]);
	out->silence.rule = copy(reader, rule);
	if (out->kind == REMARK_SEVERITY)
		return read_level(reader, rest, out);
	return is_empty(rest) || read_limit(reader, rest, out);
}

static bool read_word(const struct remark_reader *reader, struct stretch text,
		      struct remark_word *out)
{
	*out = (struct remark_word){.kind = reader->kind, .element = reader->remark->element};
	struct stretch head = before(text, ':');
	struct stretch reason = trim((struct stretch){head.to + (head.to < text.to), text.to});
	if (is_empty(text))
		return refuse(reader, text, "write \"RULE: reason\", or remove it", "an empty %s",
			      KINDS[out->kind]);
	if (is_empty(reason))
		return refuse(reader, text,
			      "write behind a colon why the finding may stand: \"RULE: reason\"",
			      "'%s' has no reason, so it is not followed", show(trim(head)).text);
	out->silence.reason = copy(reader, reason);
	out->silence.place = place_of(reader, span_of(reader, text));
	return read_head(reader, trim(head), out);
}

static void refuse_name(const struct remark_reader *reader, const char *local)
{
	struct finding_place place = place_of(reader, reader->remark->attribute->name_span);
	struct finding *finding = findings_say(reader->findings, BAD, CUTLINT_WARNING, &place,
					       "there is no attribute '%s' in cutlint's namespace",
					       word_shown(local, strlen(local)).text);
	const char *near = nearest_word(local, KINDS, KIND_COUNT);
	findings_suggest(reader->findings, finding, near ? "did you mean '%s'?" : "%s",
			 near ? near : "the attributes are silence and severity");
}

void remark_start(struct remark_reader *reader, const struct cutlint_design *design,
		  const struct remark *remark, struct findings *findings)
{
	const struct cutlint_attribute *attribute = remark->attribute;
	const char *colon = strchr(attribute->name, ':');
	const char *local = colon ? colon + 1 : attribute->name;
	size_t kind = word_find(local, KINDS, KIND_COUNT);
	*reader = (struct remark_reader){design, remark, findings, (enum remark_kind)kind,
					 attribute->value};
	struct stretch text = {attribute->value, attribute->value + strlen(attribute->value)};
	struct remark_word none;
	if (kind == KIND_COUNT)
		refuse_name(reader, local);
	else if (is_empty(trim(text)))
		read_word(reader, trim(text), &none);
	else
		return;
	reader->at = NULL;
}

bool remark_next(struct remark_reader *reader, struct remark_word *out)
{
	while (reader->at) {
		struct stretch rest = {reader->at, reader->at + strlen(reader->at)};
		struct stretch text = before(rest, ';');
		reader->at = text.to < rest.to ? text.to + 1 : NULL;
		text = trim(text);
		if (!is_empty(text) && read_word(reader, text, out))
			return true;
	}
	return false;
}

/* A measure's figures in the unit of a kind; NAN where they are of another kind. */
static double to_kind(double value, const char *unit, enum value_kind kind)
{
	if (strcmp(unit, "mm") == 0)
		return kind == VALUE_LENGTH ? value : NAN;
	if (strcmp(unit, "mm²") == 0)
		return kind == VALUE_AREA ? value : NAN;
	if (strcmp(unit, "deg") == 0)
		return kind == VALUE_ANGLE ? value * HALF_TURN / 180 : NAN;
	return kind == VALUE_NUMBER || kind == VALUE_SHARE ? value : NAN;
}

bool remark_reaches(const struct remark_word *word, const struct finding *finding)
{
	/* Half of the last digit that a message shows, in the unit that it shows. */
	static const double PRINTED = 0.005;
	if (!word->limited)
		return true;
	for (uint32_t i = 0; i < finding->measure_count; i++) {
		const struct finding_measure *measure = &finding->measures[i];
		double value = to_kind(measure->value, measure->unit, word->limit_kind);
		double slack = fabs(to_kind(PRINTED, measure->unit, word->limit_kind));
		if (isnan(value) || isnan(measure->limit))
			continue;
		return measure->value < measure->limit ? value >= word->limit - slack
						       : value <= word->limit + slack;
	}
	return false;
}

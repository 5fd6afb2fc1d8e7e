/*
 * The syntax of a job file. A reader of our own, since each mistake is to be shown at its line and
 * column: Debian builds libinih so that its handlers are given no line, and it splits long lines.
 */
#include <string.h>

#include "base/utf8.h"
#include "job/reading.h"
#include "job/word.h"

/* A stretch of one line of the source. */
struct stretch {
	uint32_t from, to;
};

struct reader {
	struct reading *reading;
	const char *bytes;
	struct job_section *sections;
	struct job_entry *entries;
	uint32_t section_count, entry_count;
	bool any_section;            /* a line with brackets was met, right or wrong */
	struct job_section *section; /* NULL where that line was wrong: its keys are not kept */
	bool failed;                 /* memory ran out */
};

static bool is_space(char c)
{
	return c == ' ' || c == '\t';
}

static struct stretch trim(const struct reader *reader, struct stretch text)
{
	while (text.from < text.to && is_space(reader->bytes[text.from]))
		text.from++;
	while (text.from < text.to && is_space(reader->bytes[text.to - 1]))
		text.to--;
	return text;
}

/* A byte in a stretch, its end where there is none. */
static uint32_t find_byte(const struct reader *reader, struct stretch text, char c)
{
	const char *found = memchr(reader->bytes + text.from, c, text.to - text.from);
	return found ? (uint32_t)(found - reader->bytes) : text.to;
}

static struct shown_word show(const struct reader *reader, struct stretch text)
{
	return word_shown(reader->bytes + text.from, text.to - text.from);
}

static const char *copy(struct reader *reader, struct stretch text)
{
	const char *made =
		arena_copy(reader->reading->arena, reader->bytes + text.from, text.to - text.from);
	reader->failed = reader->failed || !made;
	return made ? made : "";
}

/* Whether a line is text; one that is not is read no further. */
static bool check_bytes(struct reader *reader, struct stretch line)
{
	for (uint32_t at = line.from; at < line.to;) {
		const unsigned char *byte = (const unsigned char *)reader->bytes + at;
		if (*byte == 0) {
			job_mistake(reader->reading, at, 1, "NUL byte; a job file is plain text");
			return false;
		}
		size_t step = utf8_length(byte);
		if (step == 0) {
			job_mistake(reader->reading, at, 1, "byte 0x%02x is not UTF-8", *byte);
			return false;
		}
		at += (uint32_t)step;
	}
	return true;
}

/* Refuses what stands behind a closing mark, unless it is a comment. */
static bool check_behind(struct reader *reader, struct stretch behind, const char *mark)
{
	struct stretch text = trim(reader, behind);
	bool comment = text.from > behind.from && reader->bytes[text.from] == '#';
	if (text.from == text.to || comment)
		return true;
	job_mistake(reader->reading, text.from, text.to - text.from, "unexpected '%s' behind %s",
		    show(reader, text).text, mark);
	return false;
}

/* The line before its comment. */
static struct stretch without_comment(const struct reader *reader, struct stretch line)
{
	for (uint32_t at = line.from + 1; at < line.to; at++) {
		if (reader->bytes[at] == '#' && is_space(reader->bytes[at - 1]))
			return trim(reader, (struct stretch){line.from, at});
	}
	return line;
}

/* `[kind]` or `[kind name]`; `line` starts with the bracket. */
static void read_section(struct reader *reader, struct stretch line)
{
	reader->any_section = true;
	reader->section = NULL;
	struct stretch text = without_comment(reader, line);
	uint32_t close = find_byte(reader, text, ']');
	if (close == text.to) {
		job_mistake(reader->reading, text.to, 0, "missing ']' behind '%s'",
			    show(reader, text).text);
		return;
	}
	struct stretch inside = trim(reader, (struct stretch){line.from + 1, close});
	if (inside.from == inside.to) {
		job_mistake(reader->reading, line.from, close + 1 - line.from,
			    "section without a word in its brackets");
		return;
	}
	if (!check_behind(reader, (struct stretch){close + 1, line.to}, "']'"))
		return;

	uint32_t gap = inside.from;
	while (gap < inside.to && !is_space(reader->bytes[gap]))
		gap++;
	struct stretch name = trim(reader, (struct stretch){gap, inside.to});
	reader->section = &reader->sections[reader->section_count++];
	*reader->section = (struct job_section){
		.kind = copy(reader, (struct stretch){inside.from, gap}),
		.name = name.from < name.to ? copy(reader, name) : NULL,
		.byte = line.from,
		.length = close + 1 - line.from,
	};
}

/* `text` starts with a quote. Takes out the escapes; the value's place is that inside the quotes.
 */
static bool read_quoted(struct reader *reader, struct stretch text, struct job_entry *entry)
{
	struct reading *reading = reader->reading;
	char *value = arena_take(reading->arena, text.to - text.from, 1);
	uint32_t length = 0, at = text.from + 1;
	reader->failed = reader->failed || !value;
	if (!value)
		return false;
	while (at < text.to && reader->bytes[at] != '"') {
		char c = reader->bytes[at];
		char next = at + 1 < text.to ? reader->bytes[at + 1] : '\0';
		if (c == '\\' && next != '"' && next != '\\') {
			job_mistake(reading, at, 1,
				    "a backslash in quotes stands before '\"' or another "
				    "backslash only");
			return false;
		}
		at += c == '\\';
		value[length++] = reader->bytes[at++];
	}
	if (at == text.to) {
		job_mistake(reading, text.from, 1, "missing closing '\"'");
		return false;
	}
	entry->value = value;
	entry->value_byte = text.from + 1;
	entry->value_length = at - text.from - 1;
	return check_behind(reader, (struct stretch){at + 1, text.to}, "the closing '\"'");
}

/*
 * Where a bare value ends: before a `#` that follows white space. At the value's own start a `#`
 * with something right behind it is no comment but a colour.
 */
static struct stretch bare_value(const struct reader *reader, struct stretch text)
{
	const char *bytes = reader->bytes;
	for (uint32_t at = text.from; at < text.to; at++) {
		bool last = at + 1 == text.to || is_space(bytes[at + 1]);
		bool comment = at > text.from ? is_space(bytes[at - 1]) : last;
		if (bytes[at] == '#' && comment)
			return trim(reader, (struct stretch){text.from, at});
	}
	return text;
}

static bool read_value(struct reader *reader, struct stretch text, struct job_entry *entry)
{
	if (text.from < text.to && reader->bytes[text.from] == '"') {
		if (!read_quoted(reader, text, entry))
			return false;
	} else {
		struct stretch value = bare_value(reader, text);
		entry->value = copy(reader, value);
		entry->value_byte = value.from;
		entry->value_length = value.to - value.from;
	}
	if (entry->value_length > 0)
		return true;
	job_mistake(reader->reading, entry->key_byte, entry->key_length, "'%s' has no value",
		    word_shown(entry->key, entry->key_length).text);
	return false;
}

static void read_entry(struct reader *reader, struct stretch line)
{
	struct reading *reading = reader->reading;
	struct stretch text = without_comment(reader, line);
	uint32_t equals = find_byte(reader, text, '=');
	if (equals == text.to) {
		job_mistake(reading, text.from, text.to - text.from, "missing '=' in '%s'",
			    show(reader, text).text);
		return;
	}
	struct stretch key = trim(reader, (struct stretch){line.from, equals});
	if (key.from == key.to) {
		job_mistake(reading, equals, 1, "missing key before '='");
		return;
	}
	if (!reader->any_section) {
		job_mistake(reading, key.from, key.to - key.from,
			    "key '%s' stands before any section", show(reader, key).text);
		return;
	}
	struct job_entry *entry = &reader->entries[reader->entry_count];
	*entry = (struct job_entry){
		.key = copy(reader, key), .key_byte = key.from, .key_length = key.to - key.from};
	struct stretch value = trim(reader, (struct stretch){equals + 1, line.to});
	if (!read_value(reader, value, entry) || !reader->section)
		return;
	reader->entry_count++;
	reader->section->entry_count++;
}

static void read_line(struct reader *reader, uint32_t number)
{
	const struct source *source = &reader->reading->job->source;
	struct stretch line = {source->lines[number], number + 1 < source->line_count
							      ? source->lines[number + 1]
							      : source->length};
	while (line.to > line.from &&
	       (reader->bytes[line.to - 1] == '\n' || reader->bytes[line.to - 1] == '\r'))
		line.to--;
	if (number == 0 && line.to - line.from >= 3 &&
	    memcmp(reader->bytes, "\xef\xbb\xbf", 3) == 0)
		line.from += 3;

	line = trim(reader, line);
	if (!check_bytes(reader, line) || line.from == line.to || reader->bytes[line.from] == '#')
		return;
	if (reader->bytes[line.from] == '[')
		read_section(reader, line);
	else
		read_entry(reader, line);
}

int job_read_sections(struct reading *reading)
{
	struct job *job = reading->job;
	uint32_t lines = job->source.line_count;
	struct reader reader = {.reading = reading,
				.bytes = job->source.bytes,
				.sections = ARENA_ARRAY(reading->arena, struct job_section, lines),
				.entries = ARENA_ARRAY(reading->arena, struct job_entry, lines)};
	if (!reader.sections || !reader.entries)
		return -1;
	for (uint32_t i = 0; i < lines; i++)
		read_line(&reader, i);
	if (reader.failed)
		return -1;

	const struct job_entry *entries = reader.entries;
	for (uint32_t i = 0; i < reader.section_count; i++) {
		reader.sections[i].entries = entries;
		entries += reader.sections[i].entry_count;
	}
	job->sections = reader.sections;
	job->section_count = reader.section_count;
	return 0;
}

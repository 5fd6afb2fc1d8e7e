/* The single facts of a job file, as rules see them. */
#include <stdio.h>
#include <string.h>

#include "base/number.h"
#include "job/envelope.h"
#include "job/paper.h"
#include "job/reading.h"
#include "job/value.h"
#include "job/word.h"

struct fact;
typedef void read_fact(struct reading *reading, const struct job_entry *entry,
		       const struct fact *fact);

/* One key of one section. */
struct fact {
	const char *kind, *key;
	read_fact *read;
	enum value_kind value;
	size_t offset;      /* of a figure: into struct cutlint_job */
	double least, most; /* of a figure, inclusive, in its kind's unit */
};

bool job_read_figure(struct reading *reading, const struct job_entry *entry, enum value_kind kind,
		     double least, double most, double *out)
{
	struct value_error error;
	if (value_parse(entry->value, kind, out, &error) < 0) {
		job_mistake_value(reading, entry, error.offset, error.length, error.text);
		return false;
	}
	if (*out >= least && *out <= most)
		return true;
	char low[48], high[48];
	value_format(least, kind, low);
	value_format(most, kind, high);
	job_mistake(reading, entry->value_byte, entry->value_length,
		    "%s '%s' is out of range; it lies from %s to %s", entry->key,
		    word_shown(entry->value, strlen(entry->value)).text, low, high);
	return false;
}

static void read_figure(struct reading *reading, const struct job_entry *entry,
			const struct fact *fact)
{
	double value;
	if (job_read_figure(reading, entry, fact->value, fact->least, fact->most, &value))
		memcpy((char *)&reading->job->facts + fact->offset, &value, sizeof(value));
}

static void read_unit(struct reading *reading, const struct job_entry *entry,
		      const struct fact *fact)
{
	job_read_figure(reading, entry, fact->value, fact->least, fact->most,
			&reading->job->unit_mm);
}

static void read_name(struct reading *reading, const struct job_entry *entry,
		      const struct fact *fact)
{
	(void)fact;
	reading->job->facts.stock_name = entry->value;
}

/* "#rrggbb"; false for all else. */
static bool parse_colour(const char *text, uint32_t *out)
{
	*out = 0;
	if (strlen(text) != 7 || text[0] != '#')
		return false;
	for (int i = 1; i < 7; i++) {
		int digit = number_hex_digit(text[i]);
		if (digit < 0)
			return false;
		*out = *out << 4 | (uint32_t)digit;
	}
	return true;
}

static void read_colour(struct reading *reading, const struct job_entry *entry,
			const struct fact *fact)
{
	uint32_t rgb;
	if (parse_colour(entry->value, &rgb))
		memcpy((char *)&reading->job->facts + fact->offset, &rgb, sizeof(rgb));
	else
		job_mistake(reading, entry->value_byte, entry->value_length,
			    "%s '%s' is no colour; write it as #rrggbb", entry->key,
			    word_shown(entry->value, strlen(entry->value)).text);
}

static bool read_word(struct reading *reading, const struct job_entry *entry,
		      const char *const *words, size_t count, size_t *out)
{
	*out = word_find(entry->value, words, count);
	if (*out < count)
		return true;
	char where[32];
	snprintf(where, sizeof(where), " for %s", entry->key);
	job_mistake_word(reading, entry->value_byte, entry->value_length, "word", entry->value,
			 where, words, count);
	return false;
}

const char *const job_side_words[] = {
	[CUTLINT_SIDE_FRONT] = "front", [CUTLINT_SIDE_BACK] = "back", NULL};

static void read_side(struct reading *reading, const struct job_entry *entry,
		      const struct fact *fact)
{
	struct cutlint_job *facts = &reading->job->facts;
	size_t word;
	(void)fact;
	if (read_word(reading, entry, job_side_words, 2, &word))
		facts->side = (enum cutlint_side)word;
	facts->side_given = true;
}

const char *const job_spine_words[] = {[CUTLINT_SPINE_LEFT] = "left",
				       [CUTLINT_SPINE_RIGHT] = "right",
				       [CUTLINT_SPINE_TOP] = "top",
				       [CUTLINT_SPINE_BOTTOM] = "bottom",
				       NULL};

static void read_spine(struct reading *reading, const struct job_entry *entry,
		       const struct fact *fact)
{
	struct cutlint_job *facts = &reading->job->facts;
	size_t word;
	(void)fact;
	if (read_word(reading, entry, job_spine_words, 4, &word))
		facts->spine = (enum cutlint_spine)word;
	facts->spine_given = true;
}

static void read_finish(struct reading *reading, const struct job_entry *entry,
			const struct fact *fact)
{
	static const char *const WORDS[] = {"uncoated", "coated"};
	size_t word;
	(void)fact;
	if (read_word(reading, entry, WORDS, 2, &word))
		reading->job->facts.stock_coated = word == 1;
}

/* A caliper in points is one in thousandths of an inch; "pt" is the type point, 14 times as long.
 */
static void read_thickness(struct reading *reading, const struct job_entry *entry,
			   const struct fact *fact)
{
	size_t length = strlen(entry->value);
	if (length > 2 && strcmp(entry->value + length - 2, "pt") == 0)
		job_mistake_value(reading, entry, (unsigned)length - 2, 2,
				  "'pt' is the type point of 1/72 in here; the points of card are "
				  "thousandths of an inch: write 14 points as '0.014 in'");
	else
		read_figure(reading, entry, fact);
}

static void read_grain(struct reading *reading, const struct job_entry *entry,
		       const struct fact *fact)
{
	static const char *const WORDS[] = {"upright", "level"};
	size_t word;
	(void)fact;
	if (read_word(reading, entry, WORDS, 2, &word))
		reading->job->facts.grain = word == 0 ? CUTLINT_GRAIN_UPRIGHT : CUTLINT_GRAIN_LEVEL;
}

static void read_order(struct reading *reading, const struct job_entry *entry,
		       const struct fact *fact)
{
	static const char *const WORDS[] = {"drawing", "own"};
	size_t word;
	(void)fact;
	if (read_word(reading, entry, WORDS, 2, &word))
		reading->job->facts.drawing_order = word == 0;
}

static void read_count(struct reading *reading, const struct job_entry *entry,
		       const struct fact *fact)
{
	double count;
	if (job_read_figure(reading, entry, VALUE_COUNT, fact->least, fact->most, &count))
		reading->job->facts.card_count = (unsigned)count;
}

typedef int parse_size(const char *text, struct paper_size *out, struct value_error *error);

/* Reads the two sides of what is called `what`; sides outside the fact's range are a mistake. */
static bool read_sides(struct reading *reading, const struct job_entry *entry,
		       const struct fact *fact, parse_size *parse, const char *what,
		       struct paper_size *out)
{
	struct value_error error;
	if (parse(entry->value, out, &error) < 0) {
		job_mistake_value(reading, entry, error.offset, error.length, error.text);
		return false;
	}
	if (out->width_mm >= fact->least && out->height_mm >= fact->least &&
	    out->width_mm <= fact->most && out->height_mm <= fact->most)
		return true;
	job_mistake(reading, entry->value_byte, entry->value_length,
		    "%s '%s' is out of range; both sides lie from %.0f mm to %.0f mm", what,
		    word_shown(entry->value, strlen(entry->value)).text, fact->least, fact->most);
	return false;
}

static void read_size(struct reading *reading, const struct job_entry *entry,
		      const struct fact *fact)
{
	struct cutlint_job *facts = &reading->job->facts;
	struct paper_size size;
	if (!read_sides(reading, entry, fact, paper_parse, "card size", &size))
		return;
	facts->card_given = true;
	facts->card_size = entry->value;
	facts->card_width_mm = size.width_mm;
	facts->card_height_mm = size.height_mm;
}

static void read_envelope(struct reading *reading, const struct job_entry *entry,
			  const struct fact *fact)
{
	struct cutlint_job *facts = &reading->job->facts;
	struct paper_size size;
	if (!read_sides(reading, entry, fact, envelope_parse, "envelope", &size))
		return;
	facts->envelope = entry->value;
	facts->envelope_width_mm = size.width_mm;
	facts->envelope_height_mm = size.height_mm;
}

static void read_sheet(struct reading *reading, const struct job_entry *entry,
		       const struct fact *fact)
{
	struct cutlint_job *facts = &reading->job->facts;
	struct paper_size size;
	if (!read_sides(reading, entry, fact, paper_parse, "sheet", &size))
		return;
	facts->sheet_width_mm = size.width_mm;
	facts->sheet_height_mm = size.height_mm;
}

static int parse_bed(const char *text, struct paper_size *out, struct value_error *error)
{
	return paper_parse_lengths(text, "bed", out, error);
}

static void read_bed(struct reading *reading, const struct job_entry *entry,
		     const struct fact *fact)
{
	struct cutlint_job *facts = &reading->job->facts;
	struct paper_size size;
	if (!read_sides(reading, entry, fact, parse_bed, "bed", &size))
		return;
	facts->bed_width_mm = size.width_mm;
	facts->bed_height_mm = size.height_mm;
}

#define AT(member) offsetof(struct cutlint_job, member)

/*
 * Ranges are wide: they catch a slip of the unit, not an unusual shop. A sheet is at most 2 m wide,
 * so is a card.
 */
static const struct fact FACTS[] = {
	{"stock", "name", read_name, 0, 0, 0, 0},
	{"stock", "thickness", read_thickness, VALUE_LENGTH, AT(stock_thickness_mm), 0.01, 10},
	{"stock", "grammage", read_figure, VALUE_GRAMMAGE, AT(stock_grammage), 10, 5000},
	{"stock", "colour", read_colour, 0, AT(stock_colour), 0, 0},
	{"stock", "inset-colour", read_colour, 0, AT(inset_colour), 0, 0},
	{"stock", "finish", read_finish, 0, 0, 0, 0},
	{"stock", "sheet", read_sheet, 0, 0, 20, 2000},
	{"stock", "grain", read_grain, 0, 0, 0, 0},
	{"burn", "kerf", read_figure, VALUE_LENGTH, AT(kerf_mm), 0.005, 2},
	{"burn", "cut-from", read_side, 0, 0, 0, 0},
	{"burn", "machine-power", read_figure, VALUE_POWER, AT(machine_power_w), 0.1, 10000},
	{"card", "size", read_size, 0, 0, 5, 2000},
	{"card", "spine", read_spine, 0, 0, 0, 0},
	{"card", "envelope", read_envelope, 0, 0, 20, 2000},
	{"card", "count", read_count, 0, 0, 1, 10000},
	{"machine", "bed", read_bed, 0, 0, 20, 2000},
	{"machine", "slowest", read_figure, VALUE_SPEED, AT(slowest_mm_s), 0.01, 10000},
	{"machine", "fastest", read_figure, VALUE_SPEED, AT(fastest_mm_s), 0.01, 10000},
	{"machine", "least-power", read_figure, VALUE_SHARE, AT(least_power), 0.001, 1},
	{"machine", "order", read_order, 0, 0, 0, 0},
	{"drawing", "flatness", read_figure, VALUE_LENGTH, AT(flatness_mm), 0.0001, 0.1},
	{"drawing", "join", read_figure, VALUE_LENGTH, AT(join_mm), 0, 2},
	{"drawing", "scan", read_figure, VALUE_LENGTH, AT(scan_mm), 0.1, 50},
	{"drawing", "unit", read_unit, VALUE_LENGTH, 0, 0.0001, 1000},
	{"modules", "require", NULL, 0, 0, 0, 0} /* read by read_modules */,
};
#define FACT_COUNT (sizeof(FACTS) / sizeof(*FACTS))

void job_refuse_key(struct reading *reading, const struct job_section *section,
		    const struct job_entry *entry)
{
	const char *keys[FACT_COUNT];
	size_t count = 0;
	for (size_t i = 0; i < FACT_COUNT; i++) {
		if (strcmp(FACTS[i].kind, section->kind) == 0) {
			keys[count++] = FACTS[i].key;
		} else if (strcmp(FACTS[i].key, entry->key) == 0) {
			job_mistake(reading, entry->key_byte, entry->key_length,
				    "unknown key '%s' in [%s]; it belongs in [%s]", entry->key,
				    section->kind, FACTS[i].kind);
			return;
		}
	}
	char where[32];
	snprintf(where, sizeof(where), " in [%s]", section->kind);
	job_mistake_word(reading, entry->key_byte, entry->key_length, "key", entry->key, where,
			 keys, count);
}

static const struct fact *find_fact(const char *kind, const char *key)
{
	for (size_t i = 0; i < FACT_COUNT; i++) {
		if (strcmp(FACTS[i].kind, kind) == 0 && strcmp(FACTS[i].key, key) == 0)
			return &FACTS[i];
	}
	return NULL;
}

void job_read_plain(struct reading *reading, const struct job_section *section)
{
	for (uint32_t i = 0; i < section->entry_count; i++) {
		const struct job_entry *entry = &section->entries[i];
		const struct fact *fact = find_fact(section->kind, entry->key);
		if (fact)
			fact->read(reading, entry, fact);
		else
			job_refuse_key(reading, section, entry);
	}
}

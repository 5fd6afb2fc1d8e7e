/* `[lettering]`: what of a drawing differs from card to card, and the box that it has. */
#include "job/lettering.h"

#include <stdlib.h>
#include <string.h>

#include "job/chain.h"
#include "job/paper.h"
#include "job/pattern.h"
#include "job/word.h"
#include "model/private.h"

/* Taken where the section names no pattern: these words in a name, whole and in any case. */
static const char DEFAULT_PATTERN[] = "(?i)(?<![a-z])(names?|lettering)(?![a-z])";

static int parse_box(const char *text, struct paper_size *out, struct value_error *error)
{
	return paper_parse_lengths(text, "box", out, error);
}

static void read_box(struct reading *reading, const struct job_entry *entry)
{
	struct cutlint_job *facts = &reading->job->facts;
	struct paper_size size;
	struct value_error error;
	if (parse_box(entry->value, &size, &error) < 0) {
		job_mistake_value(reading, entry, error.offset, error.length, error.text);
		return;
	}
	if (!(size.width_mm > 0 && size.height_mm > 0 && size.width_mm <= 2000 &&
	      size.height_mm <= 2000)) {
		job_mistake(reading, entry->value_byte, entry->value_length,
			    "box '%s' is out of range; both sides lie above 0 mm and up to 2000 mm",
			    word_shown(entry->value, strlen(entry->value)).text);
		return;
	}
	facts->lettering_width_mm = size.width_mm;
	facts->lettering_height_mm = size.height_mm;
}

void job_read_lettering(struct reading *reading, const struct job_section *section)
{
	static const char *const KEYS[] = {"elements", "box"};
	struct job_entry pattern = {.key = KEYS[0], .value = DEFAULT_PATTERN};
	struct job *job = reading->job;
	pattern.key_byte = pattern.value_byte = section->byte;
	for (uint32_t i = 0; i < section->entry_count; i++) {
		const struct job_entry *entry = &section->entries[i];
		size_t key = word_find(entry->key, KEYS, 2);
		if (key == 0)
			pattern = *entry;
		else if (key == 1)
			read_box(reading, entry);
		else
			job_mistake_word(reading, entry->key_byte, entry->key_length, "key",
					 entry->key, " in [lettering]", KEYS, 2);
	}
	if (job->lettering)
		return; /* a second section, which is said elsewhere */
	struct pattern *kept = ARENA_NEW(reading->arena, struct pattern);
	struct job_entry *copy = ARENA_NEW(reading->arena, struct job_entry);
	if (!kept || !copy) {
		job_mistake(reading, section->byte, section->length, "out of memory");
		return;
	}
	*copy = pattern;
	kept->subject = PATTERN_NAME;
	job->facts.lettering_given = true;
	if (pattern_compile(reading, copy, kept))
		job->lettering = kept;
}

void job_lettering_finish(struct job *job)
{
	if (job->lettering)
		pcre2_code_free(job->lettering->code);
	job->lettering = NULL;
}

/* The shapes' elements, from the root down, against one pattern. */
struct marking {
	const struct job *job;
	struct notices *notices;
	struct pattern_matcher matcher;
	struct chain chain;
	struct text path;
};

/* The outermost element whose path of names the pattern takes; NULL for none. Returns 0 or -1. */
static int find_taken(struct marking *marking, const struct cutlint_element **out)
{
	*out = NULL;
	marking->path.length = 0;
	for (size_t i = 0; i < marking->chain.count; i++) {
		size_t above = marking->path.length;
		struct pattern_result found;
		chain_add_names(&marking->path, marking->chain.elements[i]);
		if (marking->path.failed)
			return -1;
		if (marking->path.length == above)
			continue;
		if (pattern_search(&marking->matcher, marking->job->lettering, marking->path.bytes,
				   marking->path.length, above, marking->notices, &found) < 0)
			return -1;
		if (found.matched) {
			*out = marking->chain.elements[i];
			return 0;
		}
	}
	return 0;
}

static int mark(struct marking *marking, struct cutlint_design *design)
{
	for (uint32_t i = 0; i < design->shape_count; i++) {
		struct cutlint_shape *shape = &design->priv->shapes[i];
		if (shape->role != CUTLINT_ROLE_ART)
			continue;
		if (chain_set(&marking->chain, shape) < 0 ||
		    find_taken(marking, &shape->lettering) < 0)
			return -1;
	}
	return 0;
}

int job_mark_lettering(const struct job *job, struct cutlint_design *design,
		       struct notices *notices)
{
	if (!job->lettering)
		return 0;
	struct marking marking = {.job = job, .notices = notices};
	int fatal = notices->fatal_count;
	int result = pattern_matcher_init(&marking.matcher);
	if (result == 0)
		result = mark(&marking, design);
	if (result < 0 && notices->fatal_count == fatal)
		notice_add(notices, NOTICE_FATAL, "job", 0, 0, "out of memory");
	pattern_matcher_finish(&marking.matcher);
	text_finish(&marking.path);
	free(marking.chain.elements);
	return result;
}

/* `[roles]`: which patterns give which role. */
#include <stdio.h>
#include <string.h>

#include "job/pattern.h"
#include "job/word.h"

static bool read_role(struct reading *reading, const struct job_entry *entry, size_t length,
		      enum cutlint_role *out)
{
	/* The last is no role, but it stands where one may stand. */
	const char *words[CUTLINT_ROLE_COUNT + 1];
	for (int role = 0; role < CUTLINT_ROLE_COUNT; role++)
		words[role] = cutlint_role_word((enum cutlint_role)role);
	words[CUTLINT_ROLE_COUNT] = "default-words";

	const char *word = arena_copy(reading->arena, entry->key, length);
	size_t at = word ? word_find(word, words, CUTLINT_ROLE_COUNT) : CUTLINT_ROLE_COUNT;
	*out = (enum cutlint_role)at;
	if (at == CUTLINT_ROLE_COUNT)
		job_mistake_word(reading, entry->key_byte, (uint32_t)length, "role",
				 word ? word : "", " in [roles]", words, CUTLINT_ROLE_COUNT + 1);
	return at < CUTLINT_ROLE_COUNT;
}

/* The second word of a key: fill or stroke. */
static bool read_subject(struct reading *reading, const struct job_entry *entry, size_t at,
			 enum pattern_subject *out)
{
	static const char *const WORDS[] = {"fill", "stroke"};
	at += strspn(entry->key + at, " \t");
	*out = PATTERN_NAME;
	if (entry->key[at] == '\0')
		return true;
	size_t word = word_find(entry->key + at, WORDS, 2);
	if (word == 2)
		job_mistake_word(reading, entry->key_byte + (uint32_t)at,
				 entry->key_length - (uint32_t)at, "paint", entry->key + at,
				 " behind the role", WORDS, 2);
	*out = word == 0 ? PATTERN_FILL : PATTERN_STROKE;
	return word < 2;
}

static void read_pattern(struct reading *reading, const struct job_entry *entry)
{
	struct job_roles *roles = reading->job->roles;
	struct pattern pattern;
	size_t length = strcspn(entry->key, " \t");
	bool role = read_role(reading, entry, length, &pattern.role);
	bool subject = read_subject(reading, entry, length, &pattern.subject);
	if (!pattern_compile(reading, entry, &pattern))
		return;
	if (!role || !subject) {
		pcre2_code_free(pattern.code);
		return;
	}
	roles->patterns[roles->count++] = pattern;
	if (pattern.role == CUTLINT_ROLE_ART)
		reading->job->facts.art_named = true;
}

static void read_default_words(struct reading *reading, const struct job_entry *entry)
{
	double flag;
	if (job_read_figure(reading, entry, VALUE_FLAG, 0, 1, &flag))
		reading->job->roles->default_words = flag != 0;
}

void job_read_roles(struct reading *reading, const struct job_section *section)
{
	struct job_roles *roles = reading->job->roles;
	/* One [roles] is all that a job has: a second is a mistake that is reported elsewhere. */
	struct pattern *patterns =
		ARENA_ARRAY(reading->arena, struct pattern, roles->count + section->entry_count);
	if (!patterns) {
		job_mistake(reading, section->byte, section->length, "out of memory");
		return;
	}
	if (roles->count > 0)
		memcpy(patterns, roles->patterns, roles->count * sizeof(*patterns));
	roles->patterns = patterns;
	for (uint32_t i = 0; i < section->entry_count; i++) {
		const struct job_entry *entry = &section->entries[i];
		if (strcmp(entry->key, "default-words") == 0)
			read_default_words(reading, entry);
		else
			read_pattern(reading, entry);
	}
}

void job_roles_finish(struct job_roles *roles)
{
	if (!roles)
		return;
	for (uint32_t i = 0; i < roles->count; i++)
		pcre2_code_free(roles->patterns[i].code);
	roles->count = 0;
}

/* `[recipe ROLE]`: how the lines of one role are burned. */
#include <string.h>

#include "job/reading.h"
#include "job/word.h"

static const char *const KEYS[] = {"speed", "power", "passes"};
#define KEY_COUNT (sizeof(KEYS) / sizeof(*KEYS))

static const enum cutlint_role BURNED[] = {CUTLINT_ROLE_ART, CUTLINT_ROLE_OUTLINE,
					   CUTLINT_ROLE_SLIT, CUTLINT_ROLE_FOLD,
					   CUTLINT_ROLE_INSET};
#define BURNED_COUNT (sizeof(BURNED) / sizeof(*BURNED))

static struct cutlint_recipe *find_recipe(struct reading *reading,
					  const struct job_section *section)
{
	const char *words[BURNED_COUNT];
	for (size_t i = 0; i < BURNED_COUNT; i++)
		words[i] = cutlint_role_word(BURNED[i]);
	if (!section->name) {
		job_mistake(reading, section->byte, section->length,
			    "[recipe] without a role; write [recipe art], outline, slit, fold or "
			    "inset");
		return NULL;
	}
	size_t at = word_find(section->name, words, BURNED_COUNT);
	if (at < BURNED_COUNT)
		return &reading->job->facts.recipe[BURNED[at]];
	for (int role = 0; role < CUTLINT_ROLE_COUNT; role++) {
		if (strcmp(section->name, cutlint_role_word((enum cutlint_role)role)) == 0) {
			job_mistake(reading, section->byte, section->length,
				    "lines of the role '%s' are not burned; a recipe is for art, "
				    "outline, slit, fold or inset",
				    section->name);
			return NULL;
		}
	}
	job_mistake_word(reading, section->byte, section->length, "role", section->name,
			 " of a recipe", words, BURNED_COUNT);
	return NULL;
}

static void read_entry(struct reading *reading, const struct job_entry *entry,
		       struct cutlint_recipe *recipe)
{
	double passes;
	switch (word_find(entry->key, KEYS, KEY_COUNT)) {
	case 0:
		job_read_figure(reading, entry, VALUE_SPEED, 0.01, 10000, &recipe->speed_mm_s);
		break;
	case 1:
		job_read_figure(reading, entry, VALUE_SHARE, 0.001, 1, &recipe->power);
		break;
	case 2:
		if (job_read_figure(reading, entry, VALUE_COUNT, 1, 1000, &passes))
			recipe->passes = (unsigned)passes;
		break;
	default:
		job_mistake_word(reading, entry->key_byte, entry->key_length, "key", entry->key,
				 " in [recipe]", KEYS, KEY_COUNT);
	}
}

void job_read_recipe(struct reading *reading, const struct job_section *section)
{
	struct cutlint_recipe *recipe = find_recipe(reading, section);
	if (!recipe)
		return;
	*recipe = (struct cutlint_recipe){.given = true, .passes = 1};
	for (uint32_t i = 0; i < section->entry_count; i++)
		read_entry(reading, &section->entries[i], recipe);

	/* Without these two nothing can be told from a recipe; a guess would be silent. */
	for (size_t i = 0; i < 2; i++) {
		if (!job_find_entry(section, KEYS[i]))
			job_mistake(reading, section->byte, section->length,
				    "[recipe %s] has no %s", section->name, KEYS[i]);
	}
}

bool cutlint_energy_known(const struct cutlint_job *job, enum cutlint_role role)
{
	return job->recipe[role].given && job->machine_power_w > 0;
}

double cutlint_energy(const struct cutlint_job *job, enum cutlint_role role, double nominal)
{
	const double score_share = 0.5;
	const struct cutlint_recipe *recipe = &job->recipe[role];
	if (!cutlint_energy_known(job, role))
		return nominal * (role == CUTLINT_ROLE_FOLD ? score_share : 1);
	return job->machine_power_w * recipe->power * recipe->passes / recipe->speed_mm_s;
}

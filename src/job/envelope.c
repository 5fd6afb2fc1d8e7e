#include "job/envelope.h"

#include <stdio.h>
#include <string.h>

#include "job/nearest.h"
#include "job/word.h"

static const struct {
	const char *name, *width, *height, *card;
} ENVELOPES[] = {
	/* ISO 269; each C size holds the A size of its number. */
	{"C3", "324 mm", "458 mm", "ISO A3"},
	{"C4", "229 mm", "324 mm", "ISO A4"},
	{"C5", "162 mm", "229 mm", "ISO A5"},
	{"C6", "114 mm", "162 mm", "ISO A6"},
	{"C7", "81 mm", "114 mm", "ISO A7"},
	{"C7/6", "81 mm", "162 mm", NULL},
	{"DL", "110 mm", "220 mm", "DL"},
	/* Announcement envelopes: stationers' size tables, common practice, no standard. */
	{"US 4-bar", "3 5/8 in", "5 1/8 in", "US 4-bar"},
	{"US A1", "3 5/8 in", "5 1/8 in", "US A1"},
	{"US A2", "4 3/8 in", "5 3/4 in", "US A2"},
	{"US A6", "4 3/4 in", "6 1/2 in", "US A6"},
	{"US A7", "5 1/4 in", "7 1/4 in", "US A7"},
	{"US A8", "5 1/2 in", "8 1/8 in", "US A8"},
	{"US A9", "5 3/4 in", "8 3/4 in", "US A9"},
	{"US A10", "6 in", "9 1/2 in", "US A10"},
};
#define ENVELOPE_COUNT (sizeof(ENVELOPES) / sizeof(*ENVELOPES))

static size_t find(const char *system, const char *name)
{
	size_t i = 0, length = strlen(system);
	while (i < ENVELOPE_COUNT && (strncmp(ENVELOPES[i].name, system, length) != 0 ||
				      strcmp(ENVELOPES[i].name + length, name) != 0))
		i++;
	return i;
}

/* "ISO C6" is "C6"; the standard's own names have no prefix. */
static const char *without_prefix(const char *text)
{
	return strncmp(text, "ISO ", 4) == 0 ? text + 4 : text;
}

bool envelope_refuse(const char *text, struct value_error *error)
{
	size_t at = find("", without_prefix(text));
	if (at == ENVELOPE_COUNT || !ENVELOPES[at].card)
		return false;
	snprintf(error->text, sizeof(error->text),
		 "'%s' is an envelope (%s x %s); the card for it is '%s'", text,
		 ENVELOPES[at].width, ENVELOPES[at].height, ENVELOPES[at].card);
	return true;
}

const char *envelope_for(const char *card)
{
	for (size_t i = 0; i < ENVELOPE_COUNT; i++) {
		if (ENVELOPES[i].card && strcmp(ENVELOPES[i].card, card) == 0)
			return ENVELOPES[i].name;
	}
	return NULL;
}

static void refuse_name(const char *text, struct value_error *error)
{
	const char *names[ENVELOPE_COUNT];
	for (size_t i = 0; i < ENVELOPE_COUNT; i++)
		names[i] = ENVELOPES[i].name;
	struct shown_word shown = word_shown(text, strlen(text));
	const char *iso = envelope_for(text);
	size_t us = find("US ", text);
	if (us < ENVELOPE_COUNT)
		snprintf(error->text, sizeof(error->text),
			 "'%s' is not clear; write 'US %s' (%s x %s), or for a card of ISO %s the "
			 "envelope 'C%s'",
			 text, text, ENVELOPES[us].width, ENVELOPES[us].height, text, text + 1);
	else if (iso)
		snprintf(error->text, sizeof(error->text),
			 "'%s' is a card; the envelope for it is '%s'", text, iso);
	else
		snprintf(error->text, sizeof(error->text),
			 "unknown envelope '%s'; did you mean '%s'? else write two lengths",
			 shown.text,
			 nearest_word(text, names, ENVELOPE_COUNT)
				 ? nearest_word(text, names, ENVELOPE_COUNT)
				 : "C6");
}

int envelope_parse(const char *text, struct paper_size *out, struct value_error *error)
{
	if (paper_is_lengths(text))
		return paper_parse_lengths(text, "envelope", out, error);
	size_t at = find("", without_prefix(text));
	error->offset = 0;
	error->length = (unsigned)strlen(text);
	if (at == ENVELOPE_COUNT) {
		refuse_name(text, error);
		return -1;
	}
	int wide = value_parse(ENVELOPES[at].width, VALUE_LENGTH, &out->width_mm, error);
	int high = value_parse(ENVELOPES[at].height, VALUE_LENGTH, &out->height_mm, error);
	return wide < 0 || high < 0 ? -1 : 0;
}

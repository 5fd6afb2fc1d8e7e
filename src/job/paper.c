#include "job/paper.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "job/envelope.h"
#include "job/nearest.h"
#include "job/word.h"

struct paper {
	const char *name, *width, *height;
};

static const struct paper PAPERS[] = {
	/* ISO 216:2007, the main series A and the B series, trimmed sizes. */
	{"ISO A0", "841 mm", "1189 mm"},
	{"ISO A1", "594 mm", "841 mm"},
	{"ISO A2", "420 mm", "594 mm"},
	{"ISO A3", "297 mm", "420 mm"},
	{"ISO A4", "210 mm", "297 mm"},
	{"ISO A5", "148 mm", "210 mm"},
	{"ISO A6", "105 mm", "148 mm"},
	{"ISO A7", "74 mm", "105 mm"},
	{"ISO A8", "52 mm", "74 mm"},
	{"ISO A9", "37 mm", "52 mm"},
	{"ISO A10", "26 mm", "37 mm"},
	{"ISO B0", "1000 mm", "1414 mm"},
	{"ISO B1", "707 mm", "1000 mm"},
	{"ISO B2", "500 mm", "707 mm"},
	{"ISO B3", "353 mm", "500 mm"},
	{"ISO B4", "250 mm", "353 mm"},
	{"ISO B5", "176 mm", "250 mm"},
	{"ISO B6", "125 mm", "176 mm"},
	{"ISO B7", "88 mm", "125 mm"},
	{"ISO B8", "62 mm", "88 mm"},
	{"ISO B9", "44 mm", "62 mm"},
	{"ISO B10", "31 mm", "44 mm"},
	/* A third of A4, the card for the envelope DL of ISO 269. */
	{"DL", "99 mm", "210 mm"},
	/* Announcement cards: stationers' size tables, common practice, no standard. */
	{"US 4-bar", "3 1/2 in", "4 7/8 in"},
	{"US A1", "3 1/2 in", "4 7/8 in"},
	{"US A2", "4 1/4 in", "5 1/2 in"},
	{"US A6", "4 1/2 in", "6 1/4 in"},
	{"US A7", "5 in", "7 in"},
	{"US A8", "5 1/4 in", "7 7/8 in"},
	{"US A9", "5 1/2 in", "8 1/2 in"},
	{"US A10", "5 3/4 in", "9 1/4 in"},
};
#define PAPER_COUNT (sizeof(PAPERS) / sizeof(*PAPERS))

static const struct paper *find(const char *system, const char *name)
{
	for (size_t i = 0; i < PAPER_COUNT; i++) {
		size_t length = strlen(system);
		if (strncmp(PAPERS[i].name, system, length) == 0 &&
		    strcmp(PAPERS[i].name + length, name) == 0)
			return &PAPERS[i];
	}
	return NULL;
}

static int take(const struct paper *paper, struct paper_size *out, struct value_error *error)
{
	int wide = value_parse(paper->width, VALUE_LENGTH, &out->width_mm, error);
	int high = value_parse(paper->height, VALUE_LENGTH, &out->height_mm, error);
	return wide < 0 || high < 0 ? -1 : 0;
}

static int refuse_two(const struct paper *iso, const struct paper *us, const char *text,
		      struct value_error *error)
{
	snprintf(error->text, sizeof(error->text),
		 "'%s' names two sizes; write '%s' (%s x %s) or '%s' (%s x %s)", text, iso->name,
		 iso->width, iso->height, us->name, us->width, us->height);
	return -1;
}

static int refuse_unknown(const char *text, struct value_error *error)
{
	const char *names[PAPER_COUNT];
	for (size_t i = 0; i < PAPER_COUNT; i++)
		names[i] = PAPERS[i].name;
	char capitals[32] = "";
	for (size_t i = 0; text[i] && i + 1 < sizeof(capitals); i++)
		capitals[i] =
			(char)(text[i] >= 'a' && text[i] <= 'z' ? text[i] - 'a' + 'A' : text[i]);
	const char *near =
		strlen(text) < sizeof(capitals) ? nearest_word(capitals, names, PAPER_COUNT) : NULL;
	struct shown_word shown = word_shown(text, strlen(text));
	if (near)
		snprintf(error->text, sizeof(error->text),
			 "unknown card size '%s'; did you mean '%s'?", shown.text, near);
	else
		snprintf(error->text, sizeof(error->text),
			 "unknown card size '%s'; write a name such as 'ISO A6', or "
			 "'105 mm x 148 mm'",
			 shown.text);
	return -1;
}

static int parse_name(const char *text, struct paper_size *out, struct value_error *error)
{
	error->offset = 0;
	error->length = (unsigned)strlen(text);
	const struct paper *paper = find("", text);
	const struct paper *iso = find("ISO ", text), *us = find("US ", text);
	if (iso && us)
		return refuse_two(iso, us, text, error);
	if (paper || iso || us)
		return take(paper ? paper : iso ? iso : us, out, error);
	return envelope_refuse(text, error) ? -1 : refuse_unknown(text, error);
}

/* The sign between two lengths: an x that is not that of "px", or the multiplication sign. */
static const char *find_sign(const char *text, size_t *length)
{
	for (const char *at = text; *at; at++) {
		*length = strncmp(at, "\xc3\x97", 2) == 0 ? 2 : 1;
		if (*length == 2 || (*at == 'x' && at > text && at[-1] != 'p'))
			return at;
	}
	return NULL;
}

int paper_parse_lengths(const char *text, const char *what, struct paper_size *out,
			struct value_error *error)
{
	size_t sign_length;
	const char *sign = find_sign(text, &sign_length);
	char width[64];
	if (!sign || (size_t)(sign - text) >= sizeof(width)) {
		error->offset = 0;
		error->length = (unsigned)strlen(text);
		snprintf(error->text, sizeof(error->text),
			 "'%s' is no %s; write two lengths such as '105 mm x 148 mm'",
			 word_shown(text, strlen(text)).text, what);
		return -1;
	}
	memcpy(width, text, (size_t)(sign - text));
	width[sign - text] = '\0';
	if (value_parse(width, VALUE_LENGTH, &out->width_mm, error) < 0)
		return -1;
	const char *height = sign + sign_length;
	if (value_parse(height, VALUE_LENGTH, &out->height_mm, error) < 0) {
		error->offset += (unsigned)(height - text);
		return -1;
	}
	return 0;
}

bool paper_is_lengths(const char *text)
{
	return (*text >= '0' && *text <= '9') || *text == '.' || *text == '-' || *text == '+';
}

int paper_parse(const char *text, struct paper_size *out, struct value_error *error)
{
	bool name_of_digits = find("US ", text) != NULL;
	return paper_is_lengths(text) && !name_of_digits
		       ? paper_parse_lengths(text, "card size", out, error)
		       : parse_name(text, out, error);
}

bool cutlint_paper(size_t number, struct cutlint_paper *out)
{
	struct paper_size size;
	struct value_error error;
	if (number >= PAPER_COUNT || take(&PAPERS[number], &size, &error) < 0)
		return false;
	*out = (struct cutlint_paper){PAPERS[number].name, size.width_mm, size.height_mm};
	return true;
}

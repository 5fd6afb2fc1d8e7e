#include "job/stock.h"

#include <stdio.h>
#include <string.h>

#include "job/nearest.h"
#include "job/word.h"

#define BULK_UNCOATED 1.35
#define BULK_COATED   1.15

/*
 * Pounds of cover: basis weight tables of printers, whole g/m²; 1 lb is 453.592 g / (500 sheets of
 * 20 in x 26 in) = 2.7041 g/m². The metric ones are the grammages that card is sold in, common
 * practice, no source.
 */
static const struct stock STOCKS[] = {
	{"card 160", 160, false},       {"card 200", 200, false},
	{"card 220", 220, false},       {"card 250", 250, false},
	{"card 300", 300, false},       {"card 350", 350, false},
	{"coated card 250", 250, true}, {"coated card 300", 300, true},
	{"coated card 350", 350, true}, {"65 lb cover", 176, false},
	{"80 lb cover", 216, false},    {"90 lb cover", 243, false},
	{"100 lb cover", 270, false},   {"110 lb cover", 297, false},
	{"120 lb cover", 324, false},   {"130 lb cover", 352, false},
};
#define STOCK_COUNT (sizeof(STOCKS) / sizeof(*STOCKS))

double stock_caliper_mm(double grammage, bool coated)
{
	return grammage * (coated ? BULK_COATED : BULK_UNCOATED) / 1000;
}

bool stock_listed(size_t number, struct stock *out)
{
	if (number >= STOCK_COUNT)
		return false;
	*out = STOCKS[number];
	return true;
}

/* "270 g/m2 coated": what stands before the last word, if that is `word`. */
static bool cut_word(char *text, const char *word)
{
	char *space = strrchr(text, ' ');
	if (!space || strcmp(space + 1, word) != 0)
		return false;
	*space = '\0';
	return true;
}

static int parse_grammage(const char *text, struct stock *out, struct value_error *error)
{
	char figure[64];
	snprintf(figure, sizeof(figure), "%s", text);
	bool coated = cut_word(figure, "coated");
	double grammage;
	if (!coated)
		cut_word(figure, "uncoated");
	if (value_parse(figure, VALUE_GRAMMAGE, &grammage, error) < 0)
		return -1;
	if (!(grammage >= 10 && grammage <= 5000)) {
		snprintf(error->text, sizeof(error->text),
			 "a grammage of '%s' is out of range; it lies from 10 g/m2 to 5000 g/m2",
			 word_shown(figure, strlen(figure)).text);
		return -1;
	}
	*out = (struct stock){text, grammage, coated};
	return 0;
}

/* A pound is a weight of 500 sheets, and each kind of stock has its own size of sheet. */
static int refuse_pounds(const char *text, struct value_error *error)
{
	snprintf(error->text, sizeof(error->text),
		 "'%s' means another weight for each kind of stock; for card write '%s cover'",
		 word_shown(text, strlen(text)).text, word_shown(text, strlen(text)).text);
	return -1;
}

static int refuse(const char *text, struct value_error *error)
{
	const char *names[STOCK_COUNT];
	char near[72];
	for (size_t i = 0; i < STOCK_COUNT; i++)
		names[i] = STOCKS[i].name;
	nearest_list(near, sizeof(near), text, names, STOCK_COUNT);
	snprintf(error->text, sizeof(error->text),
		 "unknown stock '%s'; near names are %s; or write '250 g/m2'",
		 word_shown(text, strlen(text)).text, near);
	return -1;
}

int stock_parse(const char *text, struct stock *out, struct value_error *error)
{
	size_t length = strlen(text);
	error->offset = 0;
	error->length = (unsigned)length;
	for (size_t i = 0; i < STOCK_COUNT; i++) {
		if (strcmp(text, STOCKS[i].name) == 0) {
			*out = STOCKS[i];
			return 0;
		}
	}
	bool figure = *text >= '0' && *text <= '9';
	if (figure && length > 3 && strcmp(text + length - 3, " lb") == 0)
		return refuse_pounds(text, error);
	if (figure && !strstr(text, "lb"))
		return parse_grammage(text, out, error);
	return refuse(text, error);
}

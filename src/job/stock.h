/* stock.h - stocks that have a name, for those who know their card by its label. */
#ifndef JOB_STOCK_H
#define JOB_STOCK_H

#include <stdbool.h>

#include "job/value.h"

struct stock {
	const char *name; /* "80 lb cover"; for a grammage of its own as the user wrote it */
	double grammage;  /* g/m² */
	bool coated;
};

/*
 * Reads a stock's name ("card 250", "80 lb cover"), or a grammage ("270 g/m2", "270 g/m2 coated").
 * Returns 0, or -1 with a reason that lists near names.
 */
int stock_parse(const char *text, struct stock *out, struct value_error *error);

/* The named stocks, one after the other from 0 on. False past the last. */
bool stock_listed(size_t number, struct stock *out);

/*
 * Caliper of card: grammage times bulk. Bulk of uncoated card is about 1.35 cm³/g, of coated card
 * about 1.15: derived from printers' weight charts, common practice, no standard (ISO 534 says how
 * to measure both).
 */
double stock_caliper_mm(double grammage, bool coated);

#endif

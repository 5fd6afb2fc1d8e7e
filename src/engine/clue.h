/* clue.h - places of findings, sorted so that few are looked at. */
#ifndef ENGINE_CLUE_H
#define ENGINE_CLUE_H

#include "engine/finding.h"

/* A place of a finding that may be the cause of others. */
struct clue {
	uint64_t key;
	double value;
	const struct finding *cause;
	const struct finding_place *place;
};

/* A list of them; zero it first. The items lie in an arena. */
struct clues {
	struct clue *items;
	uint32_t count, capacity;
};

/* Of an element by its name; different names may rarely share a key. */
uint64_t clue_key(const char *element);

/* Of an element and a square cell of the sheet of that size, `across` and `down` cells off. */
uint64_t clue_cell_key(const struct finding_place *place, double cell_mm, int across, int down);

/* Returns 0, or -1 where memory ran out. */
int clues_add(struct arena *arena, struct clues *clues, const struct clue *clue);

/* To be called once all are added: by key, then by value. */
void clues_sort(struct clues *clues);

/* The first clue with that key and at least that value, or where it would stand. */
uint32_t clues_first(const struct clues *clues, uint64_t key, double least);

#endif

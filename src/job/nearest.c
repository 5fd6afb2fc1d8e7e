#define _POSIX_C_SOURCE 200809L /* strnlen */
#include "job/nearest.h"

#include <stdio.h>
#include <string.h>

/* No valid word comes near this length; a longer one is not worth the time. */
#define WORD_MOST 64

static int least(int a, int b)
{
	return a < b ? a : b;
}

/*
 * Edit distance with swaps of neighbours, no stretch edited twice ("optimal string alignment";
 * Damerau 1964, Wagner and Fischer 1974). Three rows of the table are enough.
 */
static int distance(const char *a, int a_length, const char *b, int b_length)
{
	int rows[3][WORD_MOST + 1];
	int *before = rows[0], *last = rows[1], *row = rows[2];
	for (int j = 0; j <= b_length; j++)
		last[j] = j;

	for (int i = 1; i <= a_length; i++) {
		row[0] = i;
		for (int j = 1; j <= b_length; j++) {
			int cost = a[i - 1] != b[j - 1];
			row[j] = least(least(last[j], row[j - 1]) + 1, last[j - 1] + cost);
			if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
				row[j] = least(row[j], before[j - 2] + 1);
		}
		int *spare = before;
		before = last;
		last = row;
		row = spare;
	}
	return last[b_length];
}

const char *nearest_word(const char *word, const char *const *words, size_t count)
{
	size_t length = strlen(word);
	if (length > WORD_MOST)
		return NULL;

	const char *nearest = NULL;
	int nearest_distance = 0;
	for (size_t i = 0; i < count; i++) {
		size_t other = strlen(words[i]);
		if (other > WORD_MOST)
			continue;
		int most = (int)((length > other ? length : other) + 2) / 3;
		int found = distance(word, (int)length, words[i], (int)other);
		if (found <= most && (!nearest || found < nearest_distance)) {
			nearest = words[i];
			nearest_distance = found;
		}
	}
	return nearest;
}

#define LISTED_MOST 3

/* Puts a word into the list of the nearest so far, which has room for one more. */
static size_t insert(size_t listed[LISTED_MOST + 1], int distances[LISTED_MOST + 1], size_t count,
		     size_t word, int distance_of_word)
{
	size_t at = count;
	for (; at > 0 && distances[at - 1] > distance_of_word; at--) {
		listed[at] = listed[at - 1];
		distances[at] = distances[at - 1];
	}
	listed[at] = word;
	distances[at] = distance_of_word;
	return count < LISTED_MOST ? count + 1 : count;
}

void nearest_list(char *out, size_t size, const char *word, const char *const *words, size_t count)
{
	size_t listed[LISTED_MOST + 1] = {0}, found = 0, length = 0;
	int distances[LISTED_MOST + 1] = {0};
	int word_length = (int)strnlen(word, WORD_MOST);
	for (size_t i = 0; i < count; i++) {
		int other = (int)strnlen(words[i], WORD_MOST);
		found = insert(listed, distances, found, i,
			       distance(word, word_length, words[i], other));
	}
	if (size)
		out[0] = '\0';
	for (size_t i = 0; i < found && length < size; i++) {
		const char *before = i == 0 ? "" : i + 1 < found ? ", " : " and ";
		int added =
			snprintf(out + length, size - length, "%s'%s'", before, words[listed[i]]);
		length += added > 0 ? (size_t)added : 0;
	}
}

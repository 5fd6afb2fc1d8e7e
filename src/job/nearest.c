#include "job/nearest.h"

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

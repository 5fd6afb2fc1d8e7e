/*
 * expected.h - what a drawing of the corpus says about itself: a comment `<!-- expect` with one
 * line a finding, "LINE:COLUMN SEVERITY RULE: TEXT", or the one word "nothing"; and if it needs a
 * job of its own, a comment `<!-- job` with the job file's text, whose places are written
 * "job:LINE:COLUMN". TEXT is part of the message.
 */
#ifndef TESTS_EXPECTED_H
#define TESTS_EXPECTED_H

#include <stdbool.h>
#include <stddef.h>

#define LINES_MOST 256

/* One finding, wanted or got. The strings belong to the text that it was read from. */
struct line {
	const char *place, *severity, *rule, *text;
};

struct lines {
	struct line items[LINES_MOST];
	size_t count;
	const char *fault; /* why they can't be read; NULL if they can */
	int fault_line;    /* the line of the text at fault, the first one being 0 */
};

/*
 * Cuts the comment that begins with "<!-- WORD" and a line's end out of a drawing: its inner text,
 * in memory of its own, and the line of the drawing on which that begins. NULL without one.
 */
char *comment_of(const char *drawing, const char *word, int *line);

/* Reads an expect comment's text, which is cut up. */
void expected_read(struct lines *out, char *text);

/*
 * Reads what `cutlint check` printed about one file, which is cut up: its findings without
 * suggestions and related places. A place in the job file (NULL without one) reads
 * "job:LINE:COLUMN".
 */
void printed_read(struct lines *out, char *text, const char *file, const char *job);

/* Whether a finding is the one that is wanted. */
bool line_meets(const struct line *wanted, const struct line *got);

#endif

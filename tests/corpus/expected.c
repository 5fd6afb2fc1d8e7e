#define _GNU_SOURCE /* asprintf, strndup */
#include "expected.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

char *comment_of(const char *drawing, const char *word, int *line)
{
	char start[32];
	snprintf(start, sizeof(start), "<!-- %s\n", word);
	const char *found = strstr(drawing, start);
	if (!found)
		return NULL;
	const char *inner = found + strlen(start);
	*line = 1;
	for (const char *at = drawing; at < inner; at++)
		*line += *at == '\n';
	const char *end = strstr(inner, "-->");
	return end ? strndup(inner, (size_t)(end - inner)) : NULL;
}

/* Cuts the text at the first `mark` and returns what follows; NULL without the mark. */
static char *cut(char *text, const char *mark)
{
	char *found = strstr(text, mark);
	if (!found)
		return NULL;
	*found = '\0';
	return found + strlen(mark);
}

/* The next line that is not blank, with its spaces off. NULL at the end. Counts the lines. */
static char *next_line(char **text, int *passed)
{
	for (;;) {
		char *line = strsep(text, "\n");
		if (!line)
			return NULL;
		++*passed;
		line += strspn(line, " \t\r");
		size_t length = strlen(line);
		while (length && strchr(" \t\r", line[length - 1]))
			line[--length] = '\0';
		if (length)
			return line;
	}
}

static bool read_wanted(struct line *out, char *line)
{
	char *severity = cut(line, " ");
	char *rule = severity ? cut(severity, " ") : NULL;
	char *text = rule ? cut(rule, ": ") : NULL;
	*out = (struct line){.place = line, .severity = severity, .rule = rule, .text = text};
	return text && *text;
}

static void set_fault(struct lines *out, const char *fault, int line)
{
	if (out->fault)
		return;
	out->fault = fault;
	out->fault_line = line;
}

void expected_read(struct lines *out, char *text)
{
	*out = (struct lines){0};
	bool nothing = false;
	char *line;
	int passed = 0;
	while ((line = next_line(&text, &passed))) {
		if (strcmp(line, "nothing") == 0)
			nothing = true;
		else if (out->count == LINES_MOST)
			set_fault(out, "there are too many expect lines", passed - 1);
		else if (read_wanted(&out->items[out->count], line))
			out->count++;
		else
			set_fault(out, "an expect line is not LINE:COLUMN SEVERITY RULE: TEXT",
				  passed - 1);
	}
	if (nothing == (out->count > 0))
		set_fault(out, "it must expect findings or the one word 'nothing'", 0);
}

/* What follows "file:" in a line; NULL where that does not begin it. */
static char *place_in(char *line, const char *file)
{
	size_t length = strlen(file);
	return strncmp(line, file, length) == 0 && line[length] == ':' ? line + length + 1 : NULL;
}

/* "job:LINE:COLUMN: ..." for a line about the job file, whatever that file is called. */
static char *place_in_job(char *line, const char *job)
{
	char *place = job ? place_in(line, job) : NULL;
	return place ? memcpy(place - strlen("job:"), "job:", strlen("job:")) : NULL;
}

/* "file:line:column: severity: message [rule]"; related places have no rule. */
static bool read_printed(struct line *out, char *line, const char *file, const char *job)
{
	char *rule = strrchr(line, '['), *place = place_in(line, file);
	if (!place)
		place = place_in_job(line, job);
	if (!rule || line[strlen(line) - 1] != ']' || !place)
		return false;
	line[strlen(line) - 1] = '\0';
	*rule++ = '\0';
	char *severity = cut(place, ": ");
	char *text = severity ? cut(severity, ": ") : NULL;
	*out = (struct line){.place = place, .severity = severity, .rule = rule, .text = text};
	return text != NULL;
}

void printed_read(struct lines *out, char *text, const char *file, const char *job)
{
	*out = (struct lines){0};
	char *line;
	while ((line = strsep(&text, "\n"))) {
		if (out->count == LINES_MOST) {
			out->fault = "there are too many findings";
			return;
		}
		if (line[0] != ' ' && read_printed(&out->items[out->count], line, file, job))
			out->count++;
	}
}

bool line_meets(const struct line *wanted, const struct line *got)
{
	return strcmp(wanted->place, got->place) == 0 &&
	       strcmp(wanted->severity, got->severity) == 0 &&
	       strcmp(wanted->rule, got->rule) == 0 && strstr(got->text, wanted->text);
}

/*
 * corpus.c - checks every drawing of the corpus (its rules, silences, sheets, demo and what lies
 * beside them) with the real command, all rules on, against what the drawing says of itself (see
 * expected.h). Prints TAP: one line a case, with the difference under each that fails.
 *
 * Usage: corpus CUTLINT CORPUS-FOLDER
 */
#define _GNU_SOURCE /* glob, mkstemp */
#include <glob.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "command.h"
#include "expected.h"
#include "file.h"

/* One case at work. */
struct attempt {
	const char *cutlint, *path, *name; /* name: from the corpus folder on */
	char *drawing;
	char job_path[32]; /* the job that it holds, in a file of its own; "" without one */
	int faults;
	char notes[16384]; /* the difference, as TAP diagnostics */
};

__attribute__((__format__(__printf__, 2, 3))) static void fault(struct attempt *attempt,
								const char *format, ...)
{
	size_t used = strlen(attempt->notes);
	va_list arguments;
	va_start(arguments, format);
	vsnprintf(attempt->notes + used, sizeof(attempt->notes) - used, format, arguments);
	va_end(arguments);
	attempt->faults++;
}

static void write_job(const char *text, char path[])
{
	int file = mkstemp(path);
	if (file < 0 || write(file, text, strlen(text)) != (ssize_t)strlen(text))
		abort();
	close(file);
}

static struct ran check(struct attempt *attempt)
{
	int line;
	char *job = comment_of(attempt->drawing, "job", &line);
	if (job) {
		strcpy(attempt->job_path, "/tmp/cutlint-job-XXXXXX");
		write_job(job, attempt->job_path);
	}
	const char *arguments[] = {attempt->cutlint,
				   "check",
				   "--quiet",
				   "--color=never",
				   "--job",
				   attempt->job_path,
				   "--",
				   attempt->path,
				   NULL};
	const char *without_job[] = {attempt->cutlint, "check", "--quiet", "--color=never", "--",
				     attempt->path,    NULL};
	struct ran ran = run(job ? arguments : without_job, NULL);
	if (job)
		unlink(attempt->job_path);
	free(job);
	return ran;
}

/* The longest run of findings in common, by dynamic programming, leaves what is missing or new. */
static void compare(struct attempt *attempt, const struct lines *wanted, const struct lines *got)
{
	static unsigned common[LINES_MOST + 1][LINES_MOST + 1];
	memset(common, 0, sizeof(common));
	for (size_t i = wanted->count; i-- > 0;) {
		for (size_t j = got->count; j-- > 0;) {
			unsigned skip = common[i + 1][j] > common[i][j + 1] ? common[i + 1][j]
									    : common[i][j + 1];
			unsigned both = common[i + 1][j + 1] + 1;
			bool meets = line_meets(&wanted->items[i], &got->items[j]);
			common[i][j] = meets && both > skip ? both : skip;
		}
	}
	for (size_t i = 0, j = 0; i < wanted->count || j < got->count;) {
		const struct line *want = &wanted->items[i], *have = &got->items[j];
		if (i < wanted->count && j < got->count && line_meets(want, have)) {
			i++, j++;
		} else if (j == got->count ||
			   (i < wanted->count && common[i + 1][j] >= common[i][j + 1])) {
			fault(attempt, "#   missing:    %s %s %s: %s\n", want->place,
			      want->severity, want->rule, want->text);
			i++;
		} else {
			fault(attempt, "#   unexpected: %s %s %s: %s\n", have->place,
			      have->severity, have->rule, have->text);
			j++;
		}
	}
}

static int status_for(const struct lines *wanted)
{
	for (size_t i = 0; i < wanted->count; i++) {
		if (strcmp(wanted->items[i].severity, "note") != 0)
			return 1;
	}
	return 0;
}

static bool has_prefix(const char *path, const char *prefix)
{
	const char *name = strrchr(path, '/') + 1;
	return strncmp(name, prefix, strlen(prefix)) == 0;
}

/* A case that is named one way and expects the other is a slip of its author. */
static void check_name(struct attempt *attempt, const struct lines *wanted)
{
	if (has_prefix(attempt->path, "ok-") && wanted->count)
		fault(attempt, "#   a case named ok- must expect nothing\n");
	if (has_prefix(attempt->path, "bad-") && !wanted->count)
		fault(attempt, "#   a case named bad- must expect something\n");
}

static void try_case(struct attempt *attempt)
{
	int line;
	char *text = comment_of(attempt->drawing, "expect", &line);
	if (!text) {
		fault(attempt, "#   it has no expect comment\n");
		return;
	}
	static struct lines wanted, got;
	expected_read(&wanted, text);
	if (wanted.fault)
		fault(attempt, "#   %s:%d: %s\n", attempt->path, line + wanted.fault_line,
		      wanted.fault);
	check_name(attempt, &wanted);

	struct ran ran = check(attempt);
	printed_read(&got, ran.out, attempt->path, *attempt->job_path ? attempt->job_path : NULL);
	if (got.fault)
		fault(attempt, "#   %s\n", got.fault);
	compare(attempt, &wanted, &got);
	if (ran.status != status_for(&wanted))
		fault(attempt, "#   exit status %d instead of %d\n", ran.status,
		      status_for(&wanted));
	if (ran.err_length)
		fault(attempt, "#   on standard error: %.1000s\n", ran.err);
	ran_finish(&ran);
	free(text);
}

/* Prints the case's line. Returns whether it passed. */
static bool report_case(const char *cutlint, const char *path, const char *name, size_t number)
{
	struct attempt attempt = {.cutlint = cutlint, .path = path, .name = name};
	attempt.drawing = file_read(path);
	if (attempt.drawing)
		try_case(&attempt);
	else
		fault(&attempt, "#   it can't be read\n");
	printf("%s %zu - %s\n%s", attempt.faults ? "not ok" : "ok", number, name, attempt.notes);
	fflush(stdout);
	free(attempt.drawing);
	return !attempt.faults;
}

int main(int argc, char **argv)
{
	if (argc != 3)
		return EXIT_FAILURE;
	static const char *const FOLDERS[] = {"rules/*", "silences", "sheets", "demo", "."};
	char pattern[4096];
	glob_t drawings = {0};
	for (size_t i = 0; i < sizeof(FOLDERS) / sizeof(FOLDERS[0]); i++) {
		snprintf(pattern, sizeof(pattern), "%s/%s/*.svg", argv[2], FOLDERS[i]);
		if (glob(pattern, i ? GLOB_APPEND : 0, NULL, &drawings) == 0)
			continue;
		printf("Bail out! no cases in %s/%s\n", argv[2], FOLDERS[i]);
		return EXIT_FAILURE;
	}

	size_t failed = 0;
	for (size_t i = 0; i < drawings.gl_pathc; i++) {
		const char *path = drawings.gl_pathv[i];
		failed += !report_case(argv[1], path, path + strlen(argv[2]) + 1, i + 1);
	}
	printf("1..%zu\n# %zu of %zu cases failed\n", drawings.gl_pathc, failed, drawings.gl_pathc);
	globfree(&drawings);
	return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

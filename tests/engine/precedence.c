/* precedence.c - which finding stands for which: what happens is what docs/output.md says. */
#define _GNU_SOURCE /* glob */
#include <glob.h>
#include <stdio.h>
#include <string.h>

#include "engine/priority.h"
#include "file.h"

#include "fresh.h"

enum { RULES_MOST = 64 };

/* The names of all rules: the pages of docs/rules. */
static size_t read_names(glob_t *pages, const char **names)
{
	assert_int_equal(glob(DOCS "/rules/*.md", 0, NULL, pages), 0);
	assert_in_range(pages->gl_pathc, 1, RULES_MOST);
	for (size_t i = 0; i < pages->gl_pathc; i++) {
		char *name = strrchr(pages->gl_pathv[i], '/') + 1;
		name[strlen(name) - strlen(".md")] = '\0';
		names[i] = name;
	}
	return pages->gl_pathc;
}

/* The rows of the table of what is said instead of what, in the text of the page. */
static const char *find_table(char *page)
{
	assert_non_null(page);
	char *table = strstr(page, "| said | instead of | when |");
	assert_non_null(table);
	char *end = strstr(table, "\n\n");
	assert_non_null(end);
	*end = '\0';
	return table;
}

static bool cell_names(const char *cell, const char *end, const char *name)
{
	char quoted[64];
	snprintf(quoted, sizeof quoted, "`%s`", name);
	const char *found = strstr(cell, quoted);
	return found && found < end;
}

/* Whether a row says that one rule is said instead of the other. */
static bool is_documented(const char *table, const char *cause, const char *effect)
{
	for (const char *row = strchr(table, '\n'); row; row = strchr(row + 1, '\n')) {
		const char *first = row + strlen("\n|"), *second = strchr(first, '|');
		const char *third = second ? strchr(second + 1, '|') : NULL;
		assert_non_null(third);
		if (cell_names(first, second, cause) && cell_names(second, third, effect))
			return true;
	}
	return false;
}

static void add(struct findings *findings, const char *rule, enum cutlint_severity severity)
{
	static struct finding_measure measures[] = {{"drawn", "mm", 0.5, 1},
						    {"area", "mm²", 0.5, 1},
						    {"length", "mm", 0.5, 1},
						    {"scored", "mm", 0.5, 1},
						    {"from the fold", "mm", 0.5, 1}};
	struct finding *finding = findings_add(findings);
	assert_non_null(finding);
	*finding = (struct finding){
		.rule = rule,
		.severity = severity,
		.message = "",
		.measures = measures,
		.measure_count = sizeof measures / sizeof measures[0],
		.place = {.file = "a.svg", .element = "path#a", .at = {10, 0}, .on_sheet = true}};
}

/* Of an error and a warning of one width, area and length at one spot, whether the error alone
 * stays. */
static bool stands_for(struct arena *arena, const char *cause, const char *effect)
{
	struct findings findings = {.arena = arena};
	add(&findings, cause, CUTLINT_ERROR);
	add(&findings, effect, CUTLINT_WARNING);
	priority_apply(&findings);
	assert_in_range(findings.count, 1, 2);
	return findings.count == 1 && strcmp(findings.items[0].rule, cause) == 0;
}

static void each_row_holds_and_there_is_no_other(void **state)
{
	char *page = file_read(DOCS "/output.md");
	const char *table = find_table(page), *names[RULES_MOST];
	glob_t pages;
	size_t count = read_names(&pages, names), pairs = 0;
	for (size_t i = 0; i < count; i++) {
		for (size_t k = 0; k < count; k++) {
			bool documented = is_documented(table, names[i], names[k]);
			if (i == k)
				continue;
			if (stands_for(*state, names[i], names[k]) != documented)
				fail_msg("%s instead of %s is %sdocumented", names[i], names[k],
					 documented ? "" : "not ");
			pairs += documented ? 1 : 0;
		}
	}
	assert_true(pairs > 10);
	globfree(&pages);
	free(page);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(each_row_holds_and_there_is_no_other),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

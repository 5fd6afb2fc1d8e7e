/*
 * dimensions.c - every finding of the rules' corpus that measures between two places shows it in
 * the proof: a mark, and a dimension line to scale whose length the message gives.
 *
 * Usage: dimensions CUTLINT CORPUS-FOLDER. Prints TAP, one line a rule.
 */
#define _GNU_SOURCE /* glob, mkdtemp, realpath */
#include <glob.h>
#include <libxml/parser.h>
#include <libxml/xpath.h>
#include <libxml/xpathInternals.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "command.h"
#include "expected.h"
#include "file.h"

/* Lengths in labels and messages have two places. */
static const double ROUNDED_MM = 0.0101;

/* Messages with lengths that do not lie between two places of the sheet, and why. */
static const struct {
	const char *rule, *words, *why;
} ELSEWHERE[] = {
	{"burn-order", "mm of moves between", "a sum of many moves"},
	{"burn-settings", "kerf of", "the job's kerf"},
	{"burn-settings", "stock '", "the stock's name"},
	{"burn-settings", "speed of the role", "mm/s"},
	{"crowded-cuts", "into a mm of line", "a share of a mm"},
	{"envelope-fit", "folded card of 105.00 mm x 148.00 mm has 1.00 mm and 1.00 mm",
	 "the job's card alone, none is drawn"},
	{"fold-score", "card has no fold", "the job's card"},
	{"needless-nodes", "nodes are needless", "a limit"},
	{"needless-nodes", "segments in a row are shorter", "a limit"},
	{"unseen-art", "off the page of", "the page's size, drawn as a box"},
};

/* Rules whose findings measure nothing on the sheet in mm, and why. */
static const struct {
	const char *rule, *why;
} UNMEASURED[] = {
	{"burn-order", "counts and sums"},
	{"burn-settings", "settings"},
	{"needless-nodes", "counts"},
	{"speck", "counts and areas"},
};

/* One rule at work. */
struct tally {
	const char *rule;
	int findings, measured, faults;
	char notes[8192];
};

__attribute__((__format__(__printf__, 2, 3))) static void fault(struct tally *tally,
								const char *format, ...)
{
	size_t used = strlen(tally->notes);
	va_list arguments;
	va_start(arguments, format);
	vsnprintf(tally->notes + used, sizeof(tally->notes) - used, format, arguments);
	va_end(arguments);
	tally->faults++;
}

/* A folder with a drawing and its job, and the proof that is made of it. */
struct made {
	char folder[32];
	xmlDocPtr page;
	xmlXPathContextPtr paths;
};

static void write_file(const char *folder, const char *name, const char *text)
{
	char path[64];
	snprintf(path, sizeof(path), "%s/%s", folder, name);
	FILE *file = fopen(path, "w");
	if (!file || fputs(text, file) < 0 || fclose(file) != 0)
		abort();
}

static void prove(struct made *made, const char *cutlint, char *drawing)
{
	int line;
	char *job = comment_of(drawing, "job", &line);
	strcpy(made->folder, "/tmp/cutlint-dim-XXXXXX");
	if (!mkdtemp(made->folder))
		abort();
	write_file(made->folder, "card.svg", drawing);
	write_file(made->folder, "the.job", job ? job : "");
	const char *arguments[] = {cutlint, "proof",   "-q",       "-o", "-",
				   "--job", "the.job", "card.svg", NULL};
	const char *without_job[] = {cutlint, "proof", "-q", "-o", "-", "card.svg", NULL};
	const struct surroundings inside = {.folder = made->folder};
	struct ran ran = run(job ? arguments : without_job, &inside);
	made->page = xmlReadMemory(ran.out, (int)ran.out_length, NULL, NULL,
				   XML_PARSE_NONET | XML_PARSE_HUGE);
	made->paths = made->page ? xmlXPathNewContext(made->page) : NULL;
	if (!made->paths)
		abort();
	xmlXPathRegisterNs(made->paths, (const xmlChar *)"h",
			   (const xmlChar *)"http://www.w3.org/1999/xhtml");
	xmlXPathRegisterNs(made->paths, (const xmlChar *)"s",
			   (const xmlChar *)"http://www.w3.org/2000/svg");
	ran_finish(&ran);
	free(job);
}

static void clear(struct made *made)
{
	static const char *const NAMES[] = {"card.svg", "the.job"};
	for (int i = 0; i < 2; i++) {
		char path[64];
		snprintf(path, sizeof(path), "%s/%s", made->folder, NAMES[i]);
		unlink(path);
	}
	rmdir(made->folder);
	xmlXPathFreeContext(made->paths);
	xmlFreeDoc(made->page);
}

/* What a path with the finding's number in it leads to; free with xmlXPathFreeObject. */
static xmlXPathObjectPtr find(const struct made *made, const char *format, int number)
{
	char path[160];
	snprintf(path, sizeof(path), format, number);
	xmlXPathObjectPtr found = xmlXPathEvalExpression((const xmlChar *)path, made->paths);
	if (!found)
		abort();
	return found;
}

static int count_of(const xmlXPathObject *found)
{
	return found->nodesetval ? found->nodesetval->nodeNr : 0;
}

static void copy_text(const struct made *made, const char *format, int number, char *out,
		      size_t size)
{
	xmlXPathObjectPtr found = find(made, format, number);
	xmlChar *text = xmlXPathCastToString(found);
	snprintf(out, size, "%s", (const char *)text);
	xmlFree(text);
	xmlXPathFreeObject(found);
}

/* Lengths in mm, each with how exactly it is given. */
struct lengths {
	double items[64], exact[64];
	int count;
};

static void add_length(struct lengths *lengths, double value, double exact)
{
	if (lengths->count == 64)
		return;
	lengths->items[lengths->count] = value;
	lengths->exact[lengths->count++] = exact;
}

static bool has_length(const struct lengths *lengths, double value, double exact)
{
	for (int i = 0; i < lengths->count; i++) {
		if (fabs(lengths->items[i] - value) <= fmax(lengths->exact[i], exact))
			return true;
	}
	return false;
}

static bool ends_with(const char *text, const char *end, const char *word)
{
	size_t length = strlen(word);
	return (size_t)(end - text) >= length && memcmp(end - length, word, length) == 0;
}

/* What a message measures in mm: not its limits, not mm² and mm/s. */
static struct lengths measured_in(const char *message)
{
	struct lengths lengths = {.count = 0};
	const char *stop = strstr(message, "; limit ");
	for (const char *at = message; *at && at != stop; at++) {
		bool starts = *at >= '0' && *at <= '9' &&
			      (at == message || (at[-1] != '.' && (at[-1] < '0' || at[-1] > '9')));
		char *end;
		double value = starts ? strtod(at, &end) : 0;
		if (!starts || strncmp(end, " mm", 3) != 0 || end[3] == '/' || end[3] == '2' ||
		    (unsigned char)end[3] == 0xc2)
			continue;
		bool limit = ends_with(message, at, "under ") ||
			     ends_with(message, at, ", over ") ||
			     ends_with(message, at, "kerf of ");
		const char *point = memchr(at, '.', (size_t)(end - at));
		double exact = point ? pow(10, -(double)(end - point - 1)) / 2 : 0.5;
		if (!limit)
			add_length(&lengths, value, fmax(exact, ROUNDED_MM));
	}
	return lengths;
}

#define MARK "//s:a[@id='mark-%d']"

/* The lengths that a mark's dimension lines are labelled with. */
static struct lengths shown_at(const struct made *made, int number)
{
	struct lengths lengths = {.count = 0};
	xmlXPathObjectPtr found =
		find(made, MARK "//s:text[@class='length'][not(@aria-hidden)]", number);
	for (int i = 0; i < count_of(found); i++) {
		xmlChar *text = xmlNodeGetContent(found->nodesetval->nodeTab[i]);
		const char *figure = strpbrk((const char *)text, "0123456789");
		add_length(&lengths, figure ? strtod(figure, NULL) : NAN, ROUNDED_MM);
		xmlFree(text);
	}
	xmlXPathFreeObject(found);
	return lengths;
}

static double attribute(xmlNodePtr node, const char *name)
{
	xmlChar *text = xmlGetProp(node, (const xmlChar *)name);
	double value = text ? strtod((const char *)text, NULL) : NAN;
	xmlFree(text);
	return value;
}

/* Lines and circles are as long and wide as they say. */
static void check_scale(struct tally *tally, const struct made *made, int number,
			const struct lengths *shown)
{
	xmlXPathObjectPtr lines = find(made, MARK "//s:g[@class='span']/s:line", number);
	xmlXPathObjectPtr circles = find(made, MARK "//s:circle[@class='measured']", number);
	for (int i = 0; i < count_of(lines); i++) {
		xmlNodePtr line = lines->nodesetval->nodeTab[i];
		double length = hypot(attribute(line, "x2") - attribute(line, "x1"),
				      attribute(line, "y2") - attribute(line, "y1"));
		if (!has_length(shown, length, 0))
			fault(tally, "#   a line of %.3f mm says something else\n", length);
	}
	for (int i = 0; i < count_of(circles); i++) {
		double width = 2 * attribute(circles->nodesetval->nodeTab[i], "r");
		if (!has_length(shown, width, 0))
			fault(tally, "#   a circle of %.3f mm says something else\n", width);
	}
	xmlXPathFreeObject(lines);
	xmlXPathFreeObject(circles);
}

/* Whether what is shown, one by one or together, is something that the message measures. */
static bool agrees(const struct lengths *shown, const struct lengths *said)
{
	double sum = 0;
	for (int i = 0; i < shown->count; i++) {
		if (has_length(said, shown->items[i], 0))
			return true;
		sum += shown->items[i];
	}
	return shown->count > 1 && has_length(said, sum, shown->count * ROUNDED_MM / 2);
}

/* Of a crossing the message gives the place: the mark has to stand there. */
static bool stands_at(const struct made *made, int number, const char *message)
{
	char text[64];
	const char *x = strstr(message, " x "), *y = strstr(message, ", y ");
	copy_text(made, MARK "/s:g[s:g/@class='flag']/@transform", number, text, sizeof(text));
	const char *open = strchr(text, '(');
	if (!x || !y || !open)
		return false;
	char *rest;
	double at_x = strtod(open + 1, &rest), at_y = strtod(rest, NULL);
	return fabs(at_x - strtod(x + 3, NULL)) <= ROUNDED_MM &&
	       fabs(at_y - strtod(y + 4, NULL)) <= ROUNDED_MM;
}

static bool is_elsewhere(const char *rule, const char *message)
{
	for (size_t i = 0; i < sizeof(ELSEWHERE) / sizeof(*ELSEWHERE); i++) {
		if (strcmp(ELSEWHERE[i].rule, rule) == 0 && strstr(message, ELSEWHERE[i].words))
			return true;
	}
	return false;
}

static void check_finding(struct tally *tally, const struct made *made, int number,
			  const char *file)
{
	char message[512], place[256], bracketed[64];
	copy_text(made, "//h:li[@id='finding-%d']/h:h4/*[@class='go']", number, message,
		  sizeof(message));
	copy_text(made, "//h:li[@id='finding-%d']/h:p[@class='place']", number, place,
		  sizeof(place));
	snprintf(bracketed, sizeof(bracketed), "[%s]", tally->rule);
	if (!*message || !strstr(place, bracketed))
		return;
	struct lengths said = measured_in(message), shown = shown_at(made, number);
	xmlXPathObjectPtr drawn = find(made, MARK "/s:g[@class='figures']/*", number);
	tally->findings++;
	tally->measured += count_of(drawn) > 0;
	xmlXPathFreeObject(drawn);
	check_scale(tally, made, number, &shown);
	if (said.count == 0 || is_elsewhere(tally->rule, message) ||
	    (strcmp(tally->rule, "crossing-cuts") == 0 && stands_at(made, number, message)) ||
	    agrees(&shown, &said))
		return;
	fault(tally, "#   %s: no dimension line for: %s\n", file, message);
}

static void check_drawing(struct tally *tally, const char *cutlint, const char *path)
{
	struct made made;
	char *drawing = file_read(path);
	if (!drawing)
		abort();
	prove(&made, cutlint, drawing);
	xmlXPathObjectPtr items = find(&made, "//h:li[starts-with(@id, 'finding-')]", 0);
	int most = 0;
	for (int i = 0; i < count_of(items); i++) {
		xmlChar *id = xmlGetProp(items->nodesetval->nodeTab[i], (const xmlChar *)"id");
		int number = atoi((const char *)id + strlen("finding-"));
		most = number > most ? number : most;
		xmlFree(id);
	}
	xmlXPathFreeObject(items);
	const char *name = strrchr(path, '/') + 1;
	for (int number = 1; number <= most; number++)
		check_finding(tally, &made, number, name);
	clear(&made);
	free(drawing);
}

static bool is_unmeasured(const char *rule)
{
	for (size_t i = 0; i < sizeof(UNMEASURED) / sizeof(*UNMEASURED); i++) {
		if (strcmp(UNMEASURED[i].rule, rule) == 0)
			return true;
	}
	return false;
}

/* Returns whether the rule passes; `folder` is its folder in the corpus. */
static bool check_rule(const char *cutlint, const char *folder, int number)
{
	struct tally tally = {.rule = strrchr(folder, '/') + 1};
	char pattern[512];
	glob_t files;
	snprintf(pattern, sizeof(pattern), "%s/bad-*.svg", folder);
	if (glob(pattern, 0, NULL, &files) != 0)
		abort();
	for (size_t i = 0; i < files.gl_pathc; i++)
		check_drawing(&tally, cutlint, files.gl_pathv[i]);
	globfree(&files);
	if (tally.findings == 0)
		fault(&tally, "#   no finding of its own\n");
	if (tally.measured == 0 && !is_unmeasured(tally.rule))
		fault(&tally, "#   none of its findings shows anything to scale\n");
	printf("%sok %d - %s: %d findings, %d with something shown to scale\n%s",
	       tally.faults ? "not " : "", number, tally.rule, tally.findings, tally.measured,
	       tally.notes);
	return tally.faults == 0;
}

int main(int argc, char **argv)
{
	char pattern[512];
	glob_t rules;
	/* It runs in other folders. */
	char *cutlint = argc == 3 ? realpath(argv[1], NULL) : NULL;
	bool good = cutlint != NULL;
	if (!good)
		return 2;
	snprintf(pattern, sizeof(pattern), "%s/rules/*", argv[2]);
	if (glob(pattern, 0, NULL, &rules) != 0)
		return 2;
	printf("1..%zu\n", rules.gl_pathc);
	for (size_t i = 0; i < rules.gl_pathc; i++)
		good = check_rule(cutlint, rules.gl_pathv[i], (int)i + 1) && good;
	globfree(&rules);
	free(cutlint);
	return good ? 0 : 1;
}

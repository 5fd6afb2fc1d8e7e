/*
 * speed CUTLINT WORKLOAD VORONOI POLYGONIZE STAGES FOLDER [LARGEST] - CPU time and peak memory of a
 * whole check on generated drawings, beside xmllint, the Boost Voronoi construction and GEOS on the
 * same drawing in the same run, and the time of each stage. Prints ratios, and beside them what
 * they should be; says nothing of pass or fail, for machines differ.
 */
#define _GNU_SOURCE /* wait4 */
#include <fcntl.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#define BEST_OF 3

/* What takes longer, in CPU seconds, is given up: its figure is nan. */
#define LONGEST 120

struct cost {
	double seconds; /* CPU, user and system */
	double mebibytes;
	bool ran;
};

struct programs {
	const char *cutlint, *workload, *voronoi, *polygonize, *stages, *folder;
};

/* Runs a program with its output in `out_path`; its children count too. */
static struct cost run(char *const argv[], const char *out_path)
{
	pid_t child = fork();
	if (child == 0) {
		int out = open(out_path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
		int null = open("/dev/null", O_WRONLY);
		setrlimit(RLIMIT_CPU, &(struct rlimit){LONGEST, LONGEST});
		dup2(out, STDOUT_FILENO);
		dup2(null, STDERR_FILENO);
		execvp(argv[0], argv);
		_exit(127);
	}
	int status = 0;
	struct rusage usage;
	if (child < 0 || wait4(child, &status, 0, &usage) < 0)
		return (struct cost){0};
	return (struct cost){
		.seconds = (double)(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
			   (double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) * 1e-6,
		.mebibytes = (double)usage.ru_maxrss / 1024,
		.ran = WIFEXITED(status) && WEXITSTATUS(status) <= 1,
	};
}

static struct cost best(char *const argv[], const char *out_path)
{
	struct cost least = run(argv, out_path);
	for (int i = 1; i < BEST_OF && least.ran; i++) {
		struct cost again = run(argv, out_path);
		if (again.ran && again.seconds < least.seconds)
			least = again;
	}
	return least;
}

/* Seconds that a reference program printed of its own inner part; NAN where it did not run. */
static double printed_seconds(const char *program, char *drawing, const char *folder)
{
	char out[512], line[64] = "";
	snprintf(out, sizeof(out), "%s/out", folder);
	char *const argv[] = {(char *)program, drawing, NULL};
	if (!run(argv, out).ran)
		return NAN;
	FILE *file = fopen(out, "r");
	bool read = file && fgets(line, sizeof(line), file);
	if (file)
		fclose(file);
	return read ? strtod(line, NULL) : NAN;
}

/* What the figures of a row should be at most; 0: nothing is asked. */
struct goals {
	double xmllint, voronoi, geos, bytes, to_spread;
};

static void print_goals(const struct goals *goals)
{
	const struct {
		const char *name;
		double most;
	} items[] = {{"B a segment", goals->bytes},
		     {"x xmllint", goals->xmllint},
		     {"x voronoi", goals->voronoi},
		     {"x geos", goals->geos},
		     {"x evenly spread", goals->to_spread}};
	const char *before = "            wanted: at most ";
	for (size_t i = 0; i < sizeof(items) / sizeof(*items); i++) {
		if (items[i].most <= 0)
			continue;
		printf("%s%g %s", before, items[i].most, items[i].name);
		before = ", ";
	}
	printf("\n");
}

/* The stages of the drawing that was measured last. */
static void print_stages(const struct programs *programs)
{
	char drawing[512], out[512], line[512] = "";
	snprintf(drawing, sizeof(drawing), "%s/drawing.svg", programs->folder);
	snprintf(out, sizeof(out), "%s/out", programs->folder);
	char *const stages[] = {(char *)programs->stages, drawing, NULL};
	if (!run(stages, out).ran)
		return;
	FILE *file = fopen(out, "r");
	if (file && fgets(line, sizeof(line), file))
		printf("            %s", line);
	if (file)
		fclose(file);
}

static double measure(const struct programs *programs, const char *kind, unsigned segments,
		      const char *form, double first, const struct goals *goals)
{
	char drawing[512], count[16];
	snprintf(drawing, sizeof(drawing), "%s/drawing.svg", programs->folder);
	snprintf(count, sizeof(count), "%u", segments);
	char *const make[] = {(char *)programs->workload, (char *)kind, count, (char *)form, NULL};
	char *const lint[] = {"xmllint", "--noout", "--huge", drawing, NULL};
	char *const check[] = {(char *)programs->cutlint, "check", "--quiet",
			       "--fail-on=never",         drawing, NULL};
	if (!run(make, drawing).ran)
		return NAN;

	struct cost xml = best(lint, "/dev/null"), whole = best(check, "/dev/null");
	bool polygon = strcmp(form, "polygon") == 0;
	double voronoi = polygon && segments <= 200000
				 ? printed_seconds(programs->voronoi, drawing, programs->folder)
				 : NAN;
	double geos =
		polygon ? printed_seconds(programs->polygonize, drawing, programs->folder) : NAN;

	double each = whole.seconds / segments;
	printf("%-11s %-8s %8u  %7.3f s  %6.3f us  %5.0f B  %6.1f x  %6.3f x  %6.2f x", kind, form,
	       segments, whole.seconds, each * 1e6, whole.mebibytes * 1048576 / segments,
	       whole.seconds / xml.seconds, whole.seconds / voronoi, whole.seconds / geos);
	if (first > 0)
		printf("  %5.2f x", each / first);
	printf("%s\n", whole.ran ? "" : "  (could not check)");
	if (goals)
		print_goals(goals);
	fflush(stdout);
	return each;
}

int main(int argc, char **argv)
{
	if (argc < 7) {
		fprintf(stderr, "usage: speed CUTLINT WORKLOAD VORONOI POLYGONIZE STAGES FOLDER "
				"[LARGEST]\n");
		return 2;
	}
	struct programs programs = {argv[1], argv[2], argv[3], argv[4], argv[5], argv[6]};
	unsigned largest = argc > 7 ? (unsigned)strtoul(argv[7], NULL, 10) : 1000000;
	const struct goals small_goals = {.voronoi = 0.05, .geos = 1.3};
	const struct goals polygon = {.xmllint = 12, .geos = 1.3, .bytes = 250};
	const struct goals curve = {.xmllint = 40, .bytes = 250}, card = {.xmllint = 3};
	const struct goals lace = {.to_spread = 2}, cluster = {.to_spread = 3};

	printf("%-11s %-8s %8s  %9s  %9s  %7s  %8s  %8s  %8s  %s\n", "drawing", "form", "segments",
	       "check", "a segment", "memory", "xmllint", "voronoi", "geos", "to spread");
	double small = measure(&programs, "windows", 50000, "polygon", 0, &small_goals);
	double spread = measure(&programs, "windows", largest, "polygon", 0, &polygon);
	print_stages(&programs);
	measure(&programs, "windows", largest, "curve", spread, &curve);
	print_stages(&programs);
	measure(&programs, "windows", 5000, "polygon", spread, &card);
	static const char *const KINDS[] = {"lace",   "cluster", "stars", "traced",     "one",
					    "specks", "comb",    "fan",   "concentric", "spot"};
	for (size_t i = 0; i < sizeof(KINDS) / sizeof(*KINDS); i++) {
		bool teeth = strcmp(KINDS[i], "comb") == 0, hub = strcmp(KINDS[i], "fan") == 0;
		unsigned segments = teeth ? 80000 : hub ? 18000 : largest;
		const struct goals *goals = i == 0 ? &lace : i == 1 ? &cluster : NULL;
		measure(&programs, KINDS[i], segments, "polygon", spread, goals);
	}
	printf("growth exponent from 50,000 to %u segments: %.3f (wanted: at most 1.1)\n", largest,
	       1 + log(spread / small) / log(largest / 50000.0));
	return 0;
}

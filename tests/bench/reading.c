/*
 * reading FOLDER [MEGABYTES [KIND]] - CPU time and peak memory of reading a drawing, per byte of its file,
 * for drawings that are large in different ways, each at a quarter of the size and at the whole.
 * Linear time shows as the same figure in both rows. Says nothing of pass or fail, for machines
 * differ; tests/svg/cost.c holds the multiples of docs/drawings.md.
 */
#define _GNU_SOURCE /* wait4 */
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "svg/load.h"

#define ROOT                                                                                       \
	"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100mm\" height=\"100mm\" "              \
	"viewBox=\"0 0 100 100\">"

struct kind {
	const char *name, *before, *piece, *after;
	unsigned most_mb; /* more has no end in sight: a limit or memory; 0: as large as asked */
	unsigned share;   /* so many hundredths of the file are the pieces; the rest is ... */
	const char *bulk; /* ... this, over and over, in front of `middle` */
	const char *middle;
};

static const struct kind KINDS[] = {
	{"empty elements", ROOT, "<g/>", "</svg>", 15, 100, "", ""},
	{"small paths", ROOT, "<path d=\"M1 1h1v1z\"/>", "</svg>", 0, 100, "", ""},
	{"a path a line", ROOT "\n", "<path d=\"M1 1h1v1z\"/>\n", "</svg>", 0, 100, "", ""},
	{"small circles", ROOT, "<circle r=\"1\"/>", "</svg>", 20, 100, "", ""},
	{"one path", ROOT "<path d=\"M0 0", "h1v1h-1v-1", "\"/></svg>", 50, 100, "", ""},
	{"one line with a picture", ROOT "<image href=\"data:image/png;base64,",
	 "<path d=\"M1 1h1v1z\"/>", "</svg>", 0, 5, "AAAABBBBCCCCDDDD", "\"/>"},
	{"text", ROOT "<text>", "a letter ", "</text></svg>", 0, 100, "", ""},
	{"style sheet", ROOT "<style>", ".a{fill:red} #b c>d{r:1}", "</style></svg>", 20, 100, "",
	 ""},
	{"class rules", ROOT "<style>.a{fill:red} .b{fill:none} g>.a{stroke:red}</style>",
	 "<path class=\"a b\" d=\"M1 1h1v1z\"/>", "</svg>", 0, 100, "", ""},
	{"uses", ROOT "<defs><path id=\"p\" d=\"M1 1h1v1z\"/></defs>", "<use href=\"#p\"/>",
	 "</svg>", 15, 100, "", ""},
	{"entities", "<!DOCTYPE svg [<!ENTITY e 'fill:none'>]>" ROOT,
	 "<path style=\"&e;\" d=\"M1 1h1v1z\"/>", "</svg>", 0, 100, "", ""},
	{"nested elements, refused", ROOT, "<g>", "", 1, 100, "", ""},
};

static void fill(FILE *file, const char *piece, size_t bytes)
{
	size_t length = strlen(piece);
	for (size_t written = 0; length && written + length <= bytes; written += length)
		fwrite(piece, 1, length, file);
}

static bool write_drawing(const char *path, const struct kind *kind, size_t bytes)
{
	FILE *file = fopen(path, "wb");
	if (!file)
		return false;
	fputs(kind->before, file);
	fill(file, kind->bulk, bytes / 100 * (100 - kind->share));
	fputs(kind->middle, file);
	fill(file, kind->piece, bytes / 100 * kind->share);
	fputs(kind->after, file);
	return fclose(file) == 0;
}

static int read_drawing(const char *path)
{
	struct arena *arena = arena_create();
	struct notices notices = {.arena = arena};
	struct svg_options options = {.flatness_mm = 0.005};
	struct cutlint_design *design;
	options.limits.values[SVG_LIMIT_VERTICES] = UINT32_MAX;
	options.limits.values[SVG_LIMIT_ELEMENTS] = UINT32_MAX;
	int result = svg_load(arena, path, path, &options, &notices, &design);
	for (uint32_t i = 0; i < notices.count; i++) {
		if (notices.items[i].level == NOTICE_FATAL)
			fprintf(stderr, "  %s\n", notices.items[i].message);
	}
	arena_destroy(arena);
	return result < 0;
}

/* In a process of its own, so that its memory is known. */
static bool run(const char *path, struct rusage *usage)
{
	int status = 0;
	pid_t child = fork();
	if (child == 0)
		_exit(read_drawing(path));
	return child > 0 && wait4(child, &status, 0, usage) >= 0 && WIFEXITED(status);
}

static void measure(const char *path, const struct kind *kind, size_t bytes)
{
	struct rusage usage;
	if (!write_drawing(path, kind, bytes) || !run(path, &usage)) {
		printf("%-26s did not run\n", kind->name);
		return;
	}
	double seconds = (double)(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
			 (double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) * 1e-6;
	printf("%-26s %7.1f MB %8.2f s %7.1f ns a byte %6.1f times the file in memory\n",
	       kind->name, (double)bytes / 1e6, seconds, seconds * 1e9 / (double)bytes,
	       (double)usage.ru_maxrss * 1024 / (double)bytes);
	fflush(stdout);
}

int main(int argc, char **argv)
{
	char path[512];
	size_t asked = argc > 2 ? strtoul(argv[2], NULL, 10) : 20;
	if (argc < 2 || asked == 0) {
		fprintf(stderr, "usage: reading FOLDER [MEGABYTES [KIND]]\n");
		return 1;
	}
	snprintf(path, sizeof(path), "%s/reading.svg", argv[1]);
	for (size_t i = 0; i < sizeof(KINDS) / sizeof(*KINDS); i++) {
		const struct kind *kind = &KINDS[i];
		if (argc > 3 && strcmp(argv[3], kind->name) != 0)
			continue;
		size_t mb = kind->most_mb && kind->most_mb < asked ? kind->most_mb : asked;
		measure(path, kind, mb * 250000);
		measure(path, kind, mb * 1000000);
	}
	remove(path);
	return 0;
}

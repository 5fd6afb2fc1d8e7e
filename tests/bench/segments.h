/*
 * segments.h - the segments of a polygon-form workload, for the reference programs. Reads what
 * workload.c writes and no other SVG; shares no code with src/.
 */
#ifndef BENCH_SEGMENTS_H
#define BENCH_SEGMENTS_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>

struct bench_ring {
	size_t first, count; /* into x and y */
};

struct bench_rings {
	double *x, *y; /* mm */
	struct bench_ring *rings;
	size_t point_count, ring_count;
};

/* CPU seconds of this process so far. */
static inline double bench_cpu(void)
{
	struct rusage usage;
	getrusage(RUSAGE_SELF, &usage);
	return (double)(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
	       (double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) * 1e-6;
}

static inline char *bench_read(const char *path)
{
	FILE *file = fopen(path, "rb");
	if (!file || fseek(file, 0, SEEK_END) != 0)
		return NULL;
	long size = ftell(file);
	rewind(file);
	char *bytes = size >= 0 ? (char *)malloc((size_t)size + 1) : NULL;
	if (bytes && fread(bytes, 1, (size_t)size, file) != (size_t)size) {
		free(bytes);
		bytes = NULL;
	}
	if (bytes)
		bytes[size] = '\0';
	fclose(file);
	return bytes;
}

/* Points of one attribute's value, up to its closing quote. */
static inline const char *bench_ring_points(const char *at, struct bench_rings *out)
{
	while (*at && *at != '"') {
		char *end;
		double x = strtod(at, &end);
		if (end == at) {
			at++;
			continue;
		}
		at = *end == ',' ? end + 1 : end;
		double y = strtod(at, &end);
		at = end;
		out->x[out->point_count] = x;
		out->y[out->point_count++] = y;
	}
	return at;
}

/* Returns 0, or -1 where the file can't be read. */
static inline int bench_load(const char *path, struct bench_rings *out)
{
	char *bytes = bench_read(path);
	if (!bytes)
		return -1;
	size_t size = strlen(bytes);
	memset(out, 0, sizeof(*out));
	out->x = (double *)malloc((size / 4 + 1) * sizeof(double));
	out->y = (double *)malloc((size / 4 + 1) * sizeof(double));
	out->rings = (struct bench_ring *)malloc((size / 12 + 1) * sizeof(struct bench_ring));
	if (!out->x || !out->y || !out->rings)
		return -1;

	for (const char *at = bytes; (at = strpbrk(at, "dp")) != NULL;) {
		size_t skip = strncmp(at, "d=\"", 3) == 0        ? 3
			      : strncmp(at, "points=\"", 8) == 0 ? 8
								 : 0;
		if (!skip) {
			at++;
			continue;
		}
		struct bench_ring *ring = &out->rings[out->ring_count];
		ring->first = out->point_count;
		at = bench_ring_points(at + skip, out);
		ring->count = out->point_count - ring->first;
		out->ring_count += ring->count > 2;
	}
	free(bytes);
	return 0;
}

#endif

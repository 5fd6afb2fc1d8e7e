#include "proof/path.h"

#include <math.h>
#include <stdlib.h>

#include "proof/simplify.h"

#define NM_PER_MM 1e6

/* So many points are one <path>. */
enum { POINTS_ENOUGH = 1500 };

static const struct path_grain FINE = {0.001, 0};

/* What a line may be off in all, with the rounding to whole units of 0.01 mm and the flattening. */
static const double COARSE_MM = 0.0195, COARSE_UNIT_MM = 0.01, LEAST_NM = 1000;

static double rounding_mm(double unit_mm)
{
	return unit_mm * 0.70710678118654752;
}

struct path_grain path_grain_for(const struct cutlint_design *design)
{
	if (design->vertex_count < PATH_MANY)
		return FINE;
	double left_mm = COARSE_MM - rounding_mm(COARSE_UNIT_MM) - design->flatness_mm;
	return (struct path_grain){COARSE_UNIT_MM, fmax(LEAST_NM, left_mm * NM_PER_MM)};
}

double path_deviation_mm(const struct path_grain *grain)
{
	return grain->tolerance_nm / NM_PER_MM + rounding_mm(grain->unit_mm);
}

struct path_run path_run_start(struct writer *writer, const struct path_grain *grain)
{
	return (struct path_run){.writer = writer, .grain = *grain};
}

static int64_t units(const struct path_run *run, int32_t nm)
{
	return llround(nm / (run->grain.unit_mm * NM_PER_MM));
}

/* "12-5 7": a minus parts figures as well as a space. */
static void add_figure(struct text *out, int64_t value, bool first)
{
	char digits[24];
	char *at = digits + sizeof(digits);
	uint64_t rest = (uint64_t)(value < 0 ? -value : value);
	do
		*--at = (char)('0' + rest % 10);
	while (rest /= 10);
	if (value < 0)
		*--at = '-';
	else if (!first)
		*--at = ' ';
	text_add(out, at, (size_t)(digits + sizeof(digits) - at));
}

static void add_points(struct path_run *run, const struct cutlint_point *points, uint32_t count,
		       bool closed)
{
	int64_t x = units(run, points[0].x), y = units(run, points[0].y);
	text_add(&run->data, "M", 1);
	add_figure(&run->data, x, true);
	add_figure(&run->data, y, false);
	bool first = true;
	for (uint32_t i = 1; i < count; i++) {
		int64_t next_x = units(run, points[i].x), next_y = units(run, points[i].y);
		if (next_x == x && next_y == y)
			continue;
		if (first)
			text_add(&run->data, "l", 1);
		add_figure(&run->data, next_x - x, first);
		add_figure(&run->data, next_y - y, false);
		x = next_x;
		y = next_y;
		first = false;
	}
	if (closed)
		text_add(&run->data, "z", 1);
	run->points += count;
}

void path_run_add(struct path_run *run, const struct cutlint_point *points, uint32_t count,
		  bool closed)
{
	if (count < 2)
		return;
	if (run->grain.tolerance_nm <= 0) {
		add_points(run, points, count, closed);
		return;
	}
	struct cutlint_point *kept = malloc(count * sizeof(*kept));
	if (!kept) {
		run->writer->failed = true;
		return;
	}
	uint32_t left = simplify(points, count, closed, run->grain.tolerance_nm, kept);
	add_points(run, kept, left, closed);
	free(kept);
}

static void flush(struct path_run *run)
{
	run->writer->failed = run->writer->failed || run->data.failed;
	if (run->data.length) {
		writer_open(run->writer, "path");
		if (!run->writer->failed &&
		    xmlTextWriterWriteAttribute(run->writer->xml, (const xmlChar *)"d",
						(const xmlChar *)run->data.bytes) < 0)
			run->writer->failed = true;
		writer_close_empty(run->writer);
	}
	run->data.length = 0;
	run->points = 0;
}

void path_run_break(struct path_run *run)
{
	if (run->points >= POINTS_ENOUGH)
		flush(run);
}

void path_run_end(struct path_run *run)
{
	flush(run);
	text_finish(&run->data);
}

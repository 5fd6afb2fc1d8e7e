/*
 * workload KIND SEGMENTS [FORM] - writes a drawing of about that many segments to standard output.
 *
 * FORM is "polygon" (the default: every segment stands in the file) or "curve" (cubic curves that
 * flatten to about as many; for windows, cluster and one). Kinds: see KINDS below. The same
 * arguments give the same bytes.
 */
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PI         3.14159265358979323846
#define BLOB_SIDES 40 /* segments of one curved window in polygon form */

struct random {
	uint64_t state;
};

/* Knuth's MMIX generator; uniform in [0, 1). */
static double next_random(struct random *random)
{
	random->state =
		random->state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
	return (double)(random->state >> 11) * 0x1p-53;
}

static void open_drawing(double width, double height)
{
	printf("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%.0fmm\" height=\"%.0fmm\" "
	       "viewBox=\"0 0 %.0f %.0f\">\n",
	       width, height, width, height);
}

/* A window with a wavy edge, radius about r, as a polygon of `sides`. */
static void blob(struct random *random, double x, double y, double r, unsigned sides)
{
	double phase = 2 * PI * next_random(random), wave = 0.05 + 0.1 * next_random(random);
	printf("<path d=\"");
	for (unsigned i = 0; i < sides; i++) {
		double angle = 2 * PI * i / sides;
		double radius = r * (1 - wave + wave * cos(3 * angle + phase));
		printf("%c%.4f %.4f", i ? 'L' : 'M', x + radius * cos(angle),
		       y + radius * sin(angle));
	}
	printf("Z\"/>\n");
}

/* The same size of window as four cubic curves, which flatten to some forty segments. */
static void curved_blob(struct random *random, double x, double y, double r)
{
	double s = r * (0.9 + 0.1 * next_random(random));
	double a = 0.5522847498 * r, b = 0.5522847498 * s;
	printf("<path d=\"M%.4f %.4f", x + r, y);
	printf("c0 %.4f %.4f %.4f %.4f %.4f", b, a - r, s, -r, s);
	printf("s%.4f %.4f %.4f %.4f", -r, b - s, -r, -s);
	printf("s%.4f %.4f %.4f %.4f", r - a, -s, r, -s);
	printf("s%.4f %.4f %.4f %.4fZ\"/>\n", r, s - b, r, s);
}

static void windows(unsigned segments, bool curve)
{
	struct random random = {1};
	unsigned count = segments / BLOB_SIDES, columns = (unsigned)ceil(sqrt(count));
	double pitch = 1800.0 / columns > 6 ? 6 : 1800.0 / columns;
	open_drawing(columns * pitch + 20, columns * pitch + 20);
	for (unsigned i = 0; i < count; i++) {
		double x = 10 + pitch * (i % columns + 0.5), y = 10 + pitch * (i / columns + 0.5);
		double r = pitch * (0.36 + 0.1 * next_random(&random));
		if (curve)
			curved_blob(&random, x, y, r);
		else
			blob(&random, x, y, r, BLOB_SIDES);
	}
}

/* All windows in a few square centimetres of a sheet of 1.5 m. */
static void cluster(unsigned segments, bool curve)
{
	struct random random = {2};
	unsigned count = segments / BLOB_SIDES, columns = (unsigned)ceil(sqrt(count));
	double pitch = 60.0 / columns;
	open_drawing(1500, 1500);
	printf("<rect x=\"100\" y=\"100\" width=\"30\" height=\"20\"/>\n");
	for (unsigned i = 0; i < count; i++) {
		double x = 1300 + pitch * (i % columns + 0.5);
		double y = 1300 + pitch * (i / columns + 0.5);
		double r = pitch * (0.36 + 0.1 * next_random(&random));
		if (curve)
			curved_blob(&random, x, y, r);
		else
			blob(&random, x, y, r, BLOB_SIDES);
	}
}

static void stars(unsigned segments)
{
	struct random random = {3};
	unsigned count = segments / 10, columns = (unsigned)ceil(sqrt(count));
	double pitch = 1800.0 / columns > 6 ? 6 : 1800.0 / columns;
	open_drawing(columns * pitch + 20, columns * pitch + 20);
	for (unsigned i = 0; i < count; i++) {
		double x = 10 + pitch * (i % columns + 0.5), y = 10 + pitch * (i / columns + 0.5);
		double turn = 2 * PI * next_random(&random);
		printf("<polygon points=\"");
		for (int k = 0; k < 10; k++) {
			double r = pitch * (k % 2 ? 0.19 : 0.46);
			printf("%.4f,%.4f ", x + r * cos(turn + PI * k / 5),
			       y + r * sin(turn + PI * k / 5));
		}
		printf("\"/>\n");
	}
}

/* Long slots side by side, each with wavy walls: thousands of close parallel lines. */
static void lace(unsigned segments)
{
	unsigned per_side = 500, count = segments / (2 * per_side);
	double pitch = 1.2 > 1800.0 / count ? 1800.0 / count : 1.2;
	open_drawing(320, count * pitch + 20);
	for (unsigned i = 0; i < count; i++) {
		double y = 10 + pitch * i;
		printf("<path d=\"");
		for (unsigned k = 0; k < 2 * per_side; k++) {
			bool back = k >= per_side;
			double x = 10 + 300.0 * (back ? 2 * per_side - 1 - k : k) / per_side;
			double wall = back ? 0.5 * pitch : 0;
			printf("%c%.4f %.4f", k ? 'L' : 'M', x,
			       y + wall + 0.1 * pitch * sin(x * 0.8 + 0.3 * i));
		}
		printf("Z\"/>\n");
	}
}

static void concentric(unsigned segments)
{
	unsigned count = 1000, sides = segments / count;
	open_drawing(1700, 1700);
	for (unsigned i = 0; i < count; i++) {
		double r = 10 + 0.8 * i;
		printf("<path fill=\"none\" stroke=\"black\" d=\"");
		for (unsigned k = 0; k < sides; k++)
			printf("%c%.4f %.4f", k ? 'L' : 'M', 850 + r * cos(2 * PI * k / sides),
			       850 + r * sin(2 * PI * k / sides));
		printf("Z\"/>\n");
	}
}

/* Thin triangles that point at one hub: two long sides a triangle meet near it. */
static void fan(unsigned segments)
{
	unsigned count = segments / 3;
	double step = 2 * PI / count;
	open_drawing(420, 420);
	for (unsigned i = 0; i < count; i++) {
		double angle = step * i;
		printf("<polygon points=\"%.5f,%.5f %.5f,%.5f %.5f,%.5f\"/>\n",
		       210 + 20 * cos(angle), 210 + 20 * sin(angle),
		       210 + 200 * cos(angle - 0.25 * step), 210 + 200 * sin(angle - 0.25 * step),
		       210 + 200 * cos(angle + 0.25 * step), 210 + 200 * sin(angle + 0.25 * step));
	}
}

/* One outline with long teeth. */
static void comb(unsigned segments)
{
	unsigned teeth = segments / 4;
	double pitch = 1800.0 / teeth > 1.5 ? 1.5 : 1800.0 / teeth;
	open_drawing(teeth * pitch + 20, 90);
	printf("<path d=\"M10 10");
	for (unsigned i = 0; i < teeth; i++) {
		double x = 10 + pitch * i;
		printf("L%.4f 70L%.4f 70L%.4f 20L%.4f 20", x, x + 0.5 * pitch, x + 0.5 * pitch,
		       x + pitch);
	}
	printf("L%.4f 10Z\"/>\n", 10 + pitch * teeth);
}

static void specks(unsigned segments)
{
	struct random random = {4};
	unsigned count = segments / 6;
	open_drawing(420, 297);
	for (unsigned i = 0; i < count; i++) {
		double x = 5 + 410 * next_random(&random), y = 5 + 287 * next_random(&random);
		printf("<path d=\"");
		for (int k = 0; k < 6; k++)
			printf("%c%.4f %.4f", k ? 'L' : 'M', x + 0.1 * cos(PI * k / 3),
			       y + 0.1 * sin(PI * k / 3));
		printf("Z\"/>\n");
	}
}

/* One outline with every vertex: a gear-like rim. */
static void one(unsigned segments)
{
	open_drawing(1700, 1700);
	printf("<path d=\"");
	for (unsigned k = 0; k < segments; k++) {
		double angle = 2 * PI * k / segments;
		double r = 800 + 8 * sin(400 * angle) + 0.3 * cos(9000 * angle);
		printf("%c%.4f %.4f", k ? 'L' : 'M', 850 + r * cos(angle), 850 + r * sin(angle));
	}
	printf("Z\"/>\n");
}

/* Many copies of one small window, all in the same spot. */
static void spot(unsigned segments)
{
	unsigned count = segments / 12;
	open_drawing(100, 100);
	for (unsigned i = 0; i < count; i++) {
		printf("<path d=\"");
		for (int k = 0; k < 12; k++)
			printf("%c%.4f %.4f", k ? 'L' : 'M', 50 + 3 * cos(PI * k / 6),
			       50 + 3 * sin(PI * k / 6));
		printf("Z\"/>\n");
	}
}

/* A traced photograph: windows of all sizes and dust between them. */
static void traced(unsigned segments)
{
	struct random random = {5};
	unsigned columns = (unsigned)ceil(sqrt(segments / 60.0)), made = 0;
	double pitch = 1800.0 / columns > 8 ? 8 : 1800.0 / columns;
	open_drawing(columns * pitch + 20, columns * pitch + 20);
	for (unsigned i = 0; made < segments && i < columns * columns; i++) {
		double x = 10 + pitch * (i % columns + 0.5), y = 10 + pitch * (i / columns + 0.5);
		double size = next_random(&random);
		unsigned sides = 8 + (unsigned)(100 * size * size);
		blob(&random, x, y, pitch * (0.05 + 0.38 * size), sides);
		blob(&random, x + 0.46 * pitch, y + 0.46 * pitch, 0.02 * pitch, 6);
		made += sides + 6;
	}
}

int main(int argc, char **argv)
{
	if (argc < 3) {
		fprintf(stderr, "usage: workload KIND SEGMENTS [polygon|curve]\n");
		return 2;
	}
	const char *kind = argv[1];
	unsigned segments = (unsigned)strtoul(argv[2], NULL, 10);
	bool curve = argc > 3 && strcmp(argv[3], "curve") == 0;

	static const struct {
		const char *name;
		void (*write)(unsigned segments);
	} KINDS[] = {
		{"stars", stars}, {"lace", lace}, {"concentric", concentric},
		{"fan", fan},     {"comb", comb}, {"specks", specks},
		{"one", one},     {"spot", spot}, {"traced", traced},
	};
	bool known = false;
	if (strcmp(kind, "windows") == 0) {
		windows(segments, curve);
		known = true;
	} else if (strcmp(kind, "cluster") == 0) {
		cluster(segments, curve);
		known = true;
	}
	for (size_t i = 0; i < sizeof(KINDS) / sizeof(*KINDS) && !known; i++) {
		if (strcmp(kind, KINDS[i].name) == 0) {
			KINDS[i].write(segments);
			known = true;
		}
	}
	if (!known) {
		fprintf(stderr, "workload: no such kind: %s\n", kind);
		return 2;
	}
	printf("</svg>\n");
	return fflush(stdout) == 0 ? 0 : 2;
}

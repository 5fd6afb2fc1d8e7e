#include "proof/heat.h"

#include <math.h>
#include <stdlib.h>

#include "proof/figure.h"
#include "proof/order.h"
#include "proof/store.h"

/* The disc is that of the rule crowded-cuts. Cells are a mm, or as many as a map has room for. */
static const double DISC_MM = 10, CELL_MM = 1;
enum { CELLS_MOST = 160 };

/* One hue from light to dark, so that it reads without colours. */
static const char *const SHADES[HEAT_SHADES] = {"#f8eedd", "#eed3a8", "#dfae6c",
						"#c4803f", "#95501f", "#562609"};

const char *heat_shade(int shade)
{
	return SHADES[shade];
}

static uint32_t cell_at(double at, double from, double cell_mm, uint32_t count)
{
	double cell = floor((at - from) / cell_mm);
	return cell < 0 ? 0 : cell >= count ? count - 1 : (uint32_t)cell;
}

/* Spreads a side over the cells that it crosses, in pieces of at most half a cell. */
static void add_side(struct heat *heat, double *sums, struct cutlint_xy a, struct cutlint_xy b,
		     double energy)
{
	double length = hypot(b.x - a.x, b.y - a.y);
	uint32_t pieces = (uint32_t)ceil(2 * length / heat->cell_mm);
	for (uint32_t i = 0; i < pieces; i++) {
		double t = (i + 0.5) / pieces;
		uint32_t column = cell_at(a.x + t * (b.x - a.x), heat->box.left, heat->cell_mm,
					  heat->columns);
		uint32_t row =
			cell_at(a.y + t * (b.y - a.y), heat->box.top, heat->cell_mm, heat->rows);
		sums[(size_t)row * heat->columns + column] += energy * length / pieces;
	}
}

static void add_outline(struct heat *heat, double *sums, const struct cutlint_design *design,
			uint32_t number, double energy)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	uint32_t sides = outline->vertex_count - (outline->closed ? 0 : 1);
	for (uint32_t k = 0; k < sides && outline->vertex_count; k++) {
		uint32_t next = (k + 1) % outline->vertex_count;
		add_side(heat, sums, cutlint_point_mm(design->vertices[outline->first_vertex + k]),
			 cutlint_point_mm(design->vertices[outline->first_vertex + next]), energy);
	}
}

static void add_all(struct heat *heat, double *sums, const struct proof *proof)
{
	for (uint32_t i = 0; i < proof->design->outline_count; i++) {
		enum cutlint_role role = cutlint_outline_role(proof->design, i);
		if (!cutlint_role_heats(role))
			continue;
		heat->nominal = heat->nominal || !cutlint_energy_known(proof->job, role);
		add_outline(heat, sums, proof->design, i,
			    cutlint_energy(proof->job, role, PROOF_NOMINAL_J_MM));
	}
}

/* The mean over the cells whose middles lie in the disc round a cell's middle. */
static double mean_round(const struct heat *heat, const double *sums, uint32_t column, uint32_t row)
{
	long reach = (long)(heat->disc_mm / 2 / heat->cell_mm);
	double sum = 0, cells = 0;
	for (long down = -reach; down <= reach; down++) {
		for (long across = -reach; across <= reach; across++) {
			long x = (long)column + across, y = (long)row + down;
			if (across * across + down * down > reach * reach)
				continue;
			cells++;
			if (x >= 0 && y >= 0 && x < (long)heat->columns && y < (long)heat->rows)
				sum += sums[(size_t)y * heat->columns + (size_t)x];
		}
	}
	return sum / (cells * heat->cell_mm * heat->cell_mm);
}

static void spread(struct heat *heat, const double *sums)
{
	for (uint32_t row = 0; row < heat->rows; row++) {
		for (uint32_t column = 0; column < heat->columns; column++) {
			double value = mean_round(heat, sums, column, row);
			heat->values[(size_t)row * heat->columns + column] = value;
			if (value <= heat->most)
				continue;
			heat->most = value;
			heat->hottest =
				(struct cutlint_xy){heat->box.left + (column + 0.5) * heat->cell_mm,
						    heat->box.top + (row + 0.5) * heat->cell_mm};
		}
	}
}

/* A step of 1, 2 or 5 times a power of ten, so that the shades reach the most. */
static double nice_step(double most)
{
	static const double STEPS[] = {1, 2, 5, 10};
	if (!(most > 0))
		return 0.01;
	double wanted = most / HEAT_SHADES, power = pow(10, floor(log10(wanted)));
	for (int i = 0; i < 4; i++) {
		if (STEPS[i] * power >= wanted)
			return STEPS[i] * power;
	}
	return 10 * power;
}

int heat_init(struct heat *heat, const struct scene *scene)
{
	double longer = fmax(box_width(scene->box), box_height(scene->box));
	*heat = (struct heat){.box = scene->box, .cell_mm = fmax(CELL_MM, longer / CELLS_MOST)};
	heat->disc_mm = heat->cell_mm <= DISC_MM / 2 ? DISC_MM : 0;
	heat->columns = (uint32_t)ceil(box_width(heat->box) / heat->cell_mm);
	heat->rows = (uint32_t)ceil(box_height(heat->box) / heat->cell_mm);
	size_t cells = (size_t)heat->columns * heat->rows;
	double *sums = calloc(cells + 1, sizeof(*sums));
	heat->values = calloc(cells + 1, sizeof(*heat->values));
	if (sums && heat->values) {
		add_all(heat, sums, scene->proof);
		spread(heat, sums);
		heat->step = nice_step(heat->most);
	}
	free(sums);
	return sums && heat->values ? 0 : -1;
}

void heat_finish(struct heat *heat)
{
	free(heat->values);
	*heat = (struct heat){0};
}

static int shade_of(const struct heat *heat, double value)
{
	int shade = (int)(value / heat->step);
	return shade < HEAT_SHADES ? shade : HEAT_SHADES - 1;
}

/* All cells of one shade as runs along their rows. */
static void draw_shade(const struct heat *heat, struct writer *writer, int shade)
{
	struct text data = {0};
	for (uint32_t row = 0; row < heat->rows; row++) {
		const double *values = &heat->values[(size_t)row * heat->columns];
		for (uint32_t from = 0, to; from < heat->columns; from = to) {
			to = from + 1;
			bool drawn = values[from] > 0 && shade_of(heat, values[from]) == shade;
			while (drawn && to < heat->columns && values[to] > 0 &&
			       shade_of(heat, values[to]) == shade)
				to++;
			if (drawn)
				text_format(&data, "M%u %uh%uv1h-%uz", from, row, to - from,
					    to - from);
		}
	}
	writer->failed = writer->failed || data.failed;
	if (data.length) {
		writer_open(writer, "path");
		writer_attribute(writer, "d", data.bytes);
		writer_attribute(writer, "fill", SHADES[shade]);
		writer_close_empty(writer);
	}
	text_finish(&data);
}

void heat_draw(const struct heat *heat, const struct scene *scene, struct writer *writer)
{
	writer_open(writer, "g");
	writer_format(writer, "transform", "translate(%.4f %.4f) scale(%.6f)", heat->box.left,
		      heat->box.top, heat->cell_mm);
	writer_attribute(writer, "shape-rendering", "crispEdges");
	for (int shade = 0; shade < HEAT_SHADES; shade++)
		draw_shade(heat, writer, shade);
	writer_close_empty(writer);
	writer_open(writer, "g");
	writer_attribute(writer, "stroke-opacity", "0.55");
	for (int i = 0; i < CUTLINT_ROLE_COUNT; i++) {
		if (cutlint_role_heats((enum cutlint_role)i))
			store_use_lines(scene, writer, (enum cutlint_role)i, "thin", FIGURE_INK,
					0.15);
	}
	writer_close_empty(writer);
	if (!(heat->most > 0))
		return;
	double unit = scene->unit_mm;
	writer_open(writer, "circle");
	writer_number(writer, "cx", heat->hottest.x);
	writer_number(writer, "cy", heat->hottest.y);
	writer_number(writer, "r", fmax(heat->disc_mm, heat->cell_mm) / 2);
	writer_attribute(writer, "fill", "none");
	writer_attribute(writer, "stroke", FIGURE_INK);
	writer_number(writer, "stroke-width", unit * 0.2);
	writer_close_empty(writer);
}

/* crowded-cuts.c - heat: too much energy in a line, or in a small area of many lines. */
#include "cutlint/rule.h"

#include <math.h>
#include <stdlib.h>

struct options {
	double line, area, nominal;
	double disc_mm;
	double places;
};

/*
 * Three published settings cut card with 0.05 to 0.13 J/mm: `line` is about twice the most
 * of them, `nominal` about their middle. `area` is lines half a mm apart at 0.1 J/mm: cutting
 * services say that webs of half a mm burn away. Disc and places are choices.
 */
static const struct cutlint_option OPTIONS[] = {
	{"line", CUTLINT_OPTION_NUMBER, offsetof(struct options, line), "0.25", 0, 1000, NULL,
	 false, "a recipe that puts more J than this into a mm of line is a warning"},
	{"area", CUTLINT_OPTION_NUMBER, offsetof(struct options, area), "0.2", 0.001, 1000, NULL,
	 false, "lines that put more J than this into a mm2 of the disc are a warning"},
	{"disc", CUTLINT_OPTION_LENGTH, offsetof(struct options, disc_mm), "10 mm", 1, 200, NULL,
	 false, "the diameter of the disc in which energy is added up"},
	{"nominal", CUTLINT_OPTION_NUMBER, offsetof(struct options, nominal), "0.1", 0, 1000, NULL,
	 false, "the J in a mm of cut that are taken where recipe or machine power is not given"},
	{"places", CUTLINT_OPTION_NUMBER, offsetof(struct options, places), "3", 1, 1000, NULL,
	 false, "how many of the hottest places are said"},
	{.name = NULL},
};

/* How many cells of the grid go on a disc's diameter: a choice, see GRID_SLACK. */
#define CELLS_ON_DISC 10

static void check_recipes(struct cutlint_check *check, const struct options *options)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	for (int i = 0; i < CUTLINT_ROLE_COUNT; i++) {
		enum cutlint_role role = (enum cutlint_role)i;
		double energy = cutlint_energy(job, role, options->nominal);
		if (!cutlint_energy_known(job, role) || energy <= options->line + 1e-9)
			continue;
		const char *word = cutlint_role_word(role);
		struct cutlint_finding *finding = cutlint_report(
			check, CUTLINT_WARNING, cutlint_place_job(check, "recipe", word, "power"),
			"recipe of the role %s puts %.3f J into a mm of line, over %.3f J/mm", word,
			energy, options->line);
		cutlint_limit(finding, "line");
		cutlint_measured(finding, "energy", energy, options->line, "J/mm");
		cutlint_suggest(finding,
				"burn %.1f times as fast, or with less power; if the stock needs "
				"that much, raise the limit",
				cutlint_at_least(energy / options->line, 0.1));
	}
}

/* Energy in square cells over all lines, each row added up from the left. */
struct grid {
	struct cutlint_box box;
	double cell_mm, radius_mm;
	size_t columns, rows;
	double *sums; /* (columns + 1) a row: what lies left of the column */
};

typedef void take_side(void *state, uint32_t vertex, struct cutlint_xy a, struct cutlint_xy b,
		       double energy);

static uint32_t side_count(const struct cutlint_outline *outline)
{
	if (outline->vertex_count == 0)
		return 0;
	return outline->vertex_count - (outline->closed ? 0 : 1);
}

/* Hands on every straight side of the lines that heat the sheet. */
static void each_side(const struct cutlint_check *check, const struct options *options,
		      take_side *take, void *state)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	for (uint32_t i = 0; i < design->outline_count; i++) {
		enum cutlint_role role = cutlint_outline_role(design, i);
		const struct cutlint_outline *outline = &design->outlines[i];
		uint32_t sides = side_count(outline);
		if (sides == 0 || !cutlint_role_heats(role))
			continue;
		double energy = cutlint_energy(cutlint_check_job(check), role, options->nominal);
		const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
		struct cutlint_xy from = cutlint_point_mm(vertices[0]);
		for (uint32_t k = 0; k < sides; k++) {
			uint32_t next = k + 1 < outline->vertex_count ? k + 1 : 0;
			struct cutlint_xy to = cutlint_point_mm(vertices[next]);
			take(state, outline->first_vertex + k, from, to, energy);
			from = to;
		}
	}
}

/* The box of all lines that heat the sheet; empty without any. */
static struct cutlint_box heated_box(const struct cutlint_design *design)
{
	struct cutlint_box all = cutlint_box_empty();
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (cutlint_role_heats(cutlint_outline_role(design, i)) &&
		    side_count(&design->outlines[i]) > 0)
			cutlint_box_join(&all, cutlint_outline_box(design, i));
	}
	return all;
}

static size_t cell_at(double at, double from, double cell_mm, size_t count)
{
	double cell = (at - from) / cell_mm;
	return !(cell > 0) ? 0 : cell >= (double)count ? count - 1 : (size_t)cell;
}

/* Spreads a side over the cells that it crosses, in pieces of at most half a cell. */
static void take_energy(void *state, uint32_t vertex, struct cutlint_xy a, struct cutlint_xy b,
			double energy)
{
	struct grid *grid = state;
	double across = b.x - a.x, down = b.y - a.y;
	double length = sqrt(across * across + down * down);
	double halves = 2 * length / grid->cell_mm;
	size_t pieces = halves > 1 ? (size_t)ceil(halves) : halves > 0;
	(void)vertex;
	for (size_t i = 0; i < pieces; i++) {
		double t = ((double)i + 0.5) / (double)pieces;
		size_t column =
			cell_at(a.x + t * across, grid->box.left, grid->cell_mm, grid->columns);
		size_t row = cell_at(a.y + t * down, grid->box.top, grid->cell_mm, grid->rows);
		grid->sums[row * (grid->columns + 1) + column + 1] +=
			energy * length / (double)pieces;
	}
}

/* Returns 0, or -1 where memory ran out. A grid without lines has no rows. */
static int make_grid(const struct cutlint_check *check, const struct options *options,
		     struct grid *grid)
{
	*grid = (struct grid){.box = heated_box(cutlint_check_design(check)),
			      .cell_mm = options->disc_mm / CELLS_ON_DISC,
			      .radius_mm = options->disc_mm / 2};
	if (grid->box.left > grid->box.right)
		return 0;
	grid->columns = (size_t)((grid->box.right - grid->box.left) / grid->cell_mm) + 1;
	grid->rows = (size_t)((grid->box.bottom - grid->box.top) / grid->cell_mm) + 1;
	grid->sums = calloc(grid->rows * (grid->columns + 1), sizeof(*grid->sums));
	if (!grid->sums)
		return -1;
	each_side(check, options, take_energy, grid);
	for (size_t row = 0; row < grid->rows; row++) {
		double *sums = &grid->sums[row * (grid->columns + 1)];
		for (size_t column = 1; column <= grid->columns; column++)
			sums[column] += sums[column - 1];
	}
	return 0;
}

/* About what lies in the disc round a cell: whole cells whose middle it holds. */
static double sum_disc(const struct grid *grid, size_t column, size_t row)
{
	const long reach = CELLS_ON_DISC / 2;
	double sum = 0;
	for (long down = -reach; down <= reach; down++) {
		long at = (long)row + down;
		if (at < 0 || at >= (long)grid->rows)
			continue;
		long half = (long)floor(sqrt((double)(reach * reach - down * down)));
		long from = (long)column - half, to = (long)column + half + 1;
		const double *sums = &grid->sums[(size_t)at * (grid->columns + 1)];
		sum += sums[to > (long)grid->columns ? (long)grid->columns : to] -
		       sums[from < 0 ? 0 : from];
	}
	return sum;
}

/* A disc that may be too hot. */
struct spot {
	size_t column, row;
	double sum;
};

static int by_heat(const void *left, const void *right)
{
	const struct spot *a = left, *b = right;
	if (a->sum != b->sum)
		return a->sum > b->sum ? -1 : 1;
	if (a->row != b->row)
		return a->row < b->row ? -1 : 1;
	return a->column < b->column ? -1 : 1;
}

/*
 * The rows that a disc reaches from one, added up: what lies left of each column. No disc in that
 * row has more than the square round it.
 */
static void sum_rows(const struct grid *grid, size_t row, double *band)
{
	const size_t reach = CELLS_ON_DISC / 2;
	size_t first = row < reach ? 0 : row - reach;
	size_t last = row + reach < grid->rows ? row + reach : grid->rows - 1;
	for (size_t i = 0; i <= grid->columns; i++)
		band[i] = grid->sums[first * (grid->columns + 1) + i];
	for (size_t at = first + 1; at <= last; at++) {
		const double *sums = &grid->sums[at * (grid->columns + 1)];
		for (size_t i = 0; i <= grid->columns; i++)
			band[i] += sums[i];
	}
}

/* What sums of a band's whole length may be off by. */
static const double ROUNDING = 1e-9;

struct spots {
	struct spot *items;
	size_t count, capacity;
};

static int add_spot(struct spots *spots, struct spot spot)
{
	if (spots->count == spots->capacity) {
		size_t capacity = spots->capacity ? 2 * spots->capacity : 256;
		struct spot *items = realloc(spots->items, capacity * sizeof(*items));
		if (!items)
			return -1;
		spots->items = items;
		spots->capacity = capacity;
	}
	spots->items[spots->count++] = spot;
	return 0;
}

static int find_in_row(const struct grid *grid, size_t row, const double *band, double least,
		       struct spots *spots)
{
	const size_t reach = CELLS_ON_DISC / 2;
	double enough = least - ROUNDING * band[grid->columns];
	for (size_t column = 0; column < grid->columns; column++) {
		size_t from = column < reach ? 0 : column - reach;
		size_t to = column + reach < grid->columns ? column + reach + 1 : grid->columns;
		if (band[to] - band[from] < enough)
			continue;
		struct spot spot = {column, row, sum_disc(grid, column, row)};
		if (spot.sum >= least && add_spot(spots, spot) < 0)
			return -1;
	}
	return 0;
}

/* All cells whose disc comes near the limit, the hottest first. -1 where memory ran out. */
static int find_spots(const struct grid *grid, double least, struct spots *spots)
{
	double *band = malloc((grid->columns + 1) * sizeof(*band));
	int status = band ? 0 : -1;
	for (size_t row = 0; row < grid->rows && status == 0; row++) {
		sum_rows(grid, row, band);
		status = find_in_row(grid, row, band, least, spots);
	}
	free(band);
	if (spots->count)
		qsort(spots->items, spots->count, sizeof(*spots->items), by_heat);
	return status;
}

/* What truly lies in a disc. */
struct disc {
	struct cutlint_xy centre;
	double radius_mm;
	double energy, length_mm;
	uint32_t vertex; /* the side that comes nearest to the centre */
	double nearest_mm;
};

static bool lies_beside(double a, double b, double centre, double radius)
{
	return (a > centre + radius && b > centre + radius) ||
	       (a < centre - radius && b < centre - radius);
}

/* The part of a side in a disc, by the two places where their line meets the circle. */
static void take_disc(void *state, uint32_t vertex, struct cutlint_xy a, struct cutlint_xy b,
		      double energy)
{
	struct disc *disc = state;
	if (lies_beside(a.x, b.x, disc->centre.x, disc->radius_mm) ||
	    lies_beside(a.y, b.y, disc->centre.y, disc->radius_mm))
		return;
	double length = hypot(b.x - a.x, b.y - a.y);
	if (!(length > 0))
		return;
	double ux = (b.x - a.x) / length, uy = (b.y - a.y) / length;
	double middle = (disc->centre.x - a.x) * ux + (disc->centre.y - a.y) * uy;
	double off = fabs((disc->centre.x - a.x) * uy - (disc->centre.y - a.y) * ux);
	if (off >= disc->radius_mm)
		return;
	double half = sqrt(disc->radius_mm * disc->radius_mm - off * off);
	double inside = fmin(length, middle + half) - fmax(0, middle - half);
	if (inside <= 0)
		return;
	disc->length_mm += inside;
	disc->energy += inside * energy;
	double nearest = hypot(off, fmax(0, fmax(-middle, middle - length)));
	if (nearest < disc->nearest_mm) {
		disc->nearest_mm = nearest;
		disc->vertex = vertex;
	}
}

static struct disc measure_disc(const struct cutlint_check *check, const struct options *options,
				const struct grid *grid, const struct spot *spot)
{
	struct disc disc = {
		.centre = {grid->box.left + ((double)spot->column + 0.5) * grid->cell_mm,
			   grid->box.top + ((double)spot->row + 0.5) * grid->cell_mm},
		.radius_mm = grid->radius_mm,
		.nearest_mm = INFINITY,
		.vertex = CUTLINT_NONE};
	each_side(check, options, take_disc, &disc);
	return disc;
}

static bool is_nominal(const struct cutlint_check *check)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	for (uint32_t i = 0; i < design->outline_count; i++) {
		enum cutlint_role role = cutlint_outline_role(design, i);
		if (cutlint_role_heats(role) &&
		    !cutlint_energy_known(cutlint_check_job(check), role))
			return true;
	}
	return false;
}

static void report_disc(struct cutlint_check *check, const struct options *options,
			const struct disc *disc, double heat)
{
	struct cutlint_place place =
		cutlint_place_vertex(cutlint_check_design(check), disc->vertex);
	place.at = disc->centre;
	struct cutlint_finding *finding =
		is_nominal(check)
			? cutlint_report(
				  check, CUTLINT_WARNING, place,
				  "crowded cuts put %.3f J/mm2 into a disc of %.2f mm, over "
				  "%.3f J/mm2: %.1f mm of line, taking %.2f J for a mm of cut",
				  heat, options->disc_mm, options->area, disc->length_mm,
				  options->nominal)
			: cutlint_report(check, CUTLINT_WARNING, place,
					 "crowded cuts put %.3f J/mm2 into a disc of %.2f mm, over "
					 "%.3f J/mm2: %.1f mm of line",
					 heat, options->disc_mm, options->area, disc->length_mm);
	cutlint_limit(finding, "area");
	cutlint_measured(finding, "heat", heat, options->area, "J/mm²");
	cutlint_measured(finding, "length", disc->length_mm, NAN, "mm");
	cutlint_show_circle(finding, disc->centre, 2 * disc->radius_mm);
	cutlint_suggest(finding, "draw fewer lines there, take out what is burned twice, or burn "
				 "faster and let it cool between passes");
}

static bool is_close(const struct spot *a, const struct spot *b)
{
	double across = (double)a->column - (double)b->column;
	double down = (double)a->row - (double)b->row;
	return hypot(across, down) < CELLS_ON_DISC;
}

/* The hottest discs that do not overlap, up to the number that is wanted. */
static void report_spots(struct cutlint_check *check, const struct options *options,
			 const struct grid *grid, struct spot *spots, size_t count)
{
	const double area_mm2 = 3.14159265358979323846 * grid->radius_mm * grid->radius_mm;
	size_t said = 0;
	for (size_t i = 0; i < count && (double)said < options->places; i++) {
		bool close = false;
		for (size_t k = 0; k < said && !close; k++)
			close = is_close(&spots[k], &spots[i]);
		if (close)
			continue;
		struct disc disc = measure_disc(check, options, grid, &spots[i]);
		double heat = disc.energy / area_mm2;
		if (heat <= options->area + 1e-9)
			return;
		spots[said++] = spots[i];
		report_disc(check, options, &disc, heat);
	}
}

/*
 * How much hotter a disc may truly be than the grid has it: a cell more on every side is within a
 * third.
 */
static const double GRID_SLACK = 1.0 / 3;

static enum cutlint_outcome check_heat(struct cutlint_check *check, const void *data)
{
	const struct options *options = data;
	struct grid grid;
	check_recipes(check, options);
	int made = make_grid(check, options, &grid);
	struct spots spots = {0};
	double least = options->area * (1 - GRID_SLACK) * 3.14159265358979323846 * grid.radius_mm *
		       grid.radius_mm;
	bool failed = made < 0 || find_spots(&grid, least, &spots) < 0;
	if (!failed)
		report_spots(check, options, &grid, spots.items, spots.count);
	free(spots.items);
	free(grid.sums);
	return failed ? cutlint_could_not_look(check, "out of memory") : CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "crowded-cuts",
	.summary =
		"too much heat: in a line by its recipe, or where many lines crowd in a small area",
	.advice =
		"Spread the detail, take out lines that are burned twice, and burn faster or with "
		"less power; look at the sheet again after the burn.",
	.severity = CUTLINT_WARNING,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.check = check_heat,
};

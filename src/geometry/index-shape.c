#include "geometry/index-shape.h"

#include <math.h>

#include "geometry/least.h"

/* A grid may hold each of its segments this often on average. Measured on fans: with more, grids
 * within grids hold too many. */
#define COPIES        4.0
#define COPIES_TURNED 3.0

/* A cell is at most this many times as long as wide: in longer ones a search sees too much. In a
 * turned grid long cells are what is wanted. */
#define OBLONG        16.0
#define OBLONG_TURNED 256.0

/* No side of a cell is shorter, in nm. */
#define LEAST 2.0

/* A grid is worth its cells where it leaves at most this share of the work; one that is turned,
 * which is slower to search, at most that share of what a straight one leaves. */
#define PAYS      0.8
#define TURN_PAYS 0.5

/* Segments lie side by side where the sum of their vectors, with angles doubled so that opposite
 * ones count as the same, is at least this share of the sum of the lengths. */
#define SIDE_BY_SIDE 0.8

/* What the segments of a run have in common, in one frame. */
struct extent {
	struct geo_vector along;         /* of the frame */
	double left, top, right, bottom; /* of what lies within the run's box */
	double run_x, run_y;             /* sums of |dx| and |dy| within it */
	uint32_t ends;                   /* ends that lie within it */
};

/* Narrows the parameters t[0] to t[1] of a segment to those between two parallel lines. */
static bool clip(double from, double run, double least, double most, double t[2])
{
	if (run == 0)
		return from >= least && from <= most;
	double a = (least - from) / run, b = (most - from) / run;
	t[0] = geo_greater(t[0], geo_lesser(a, b));
	t[1] = geo_lesser(t[1], geo_greater(a, b));
	return t[0] <= t[1];
}

static bool lies_in(const struct index_run *run, const struct index_piece *piece)
{
	return geo_lesser(piece->from.x, piece->to.x) >= run->left &&
	       geo_greater(piece->from.x, piece->to.x) <= run->right &&
	       geo_lesser(piece->from.y, piece->to.y) >= run->top &&
	       geo_greater(piece->from.y, piece->to.y) <= run->bottom;
}

static bool is_same(struct geo_vector a, struct geo_vector b)
{
	return a.x == b.x && a.y == b.y;
}

static void turn(struct index_piece *piece, struct geo_vector from, struct geo_vector to)
{
	if (is_same(from, to))
		return;
	piece->from = index_turn(piece->from, from, to);
	piece->to = index_turn(piece->to, from, to);
}

/* As index_run_piece, with how many of the segment's own ends the piece has. */
static bool take_piece(const struct index_run *run, const struct geo_segment *segment,
		       struct geo_vector along, struct index_piece *piece, uint32_t *ends)
{
	*piece = (struct index_piece){{segment->from.x, segment->from.y},
				      {segment->to.x, segment->to.y}};
	turn(piece, INDEX_STRAIGHT, run->along);
	double t[2] = {0, 1};
	if (!lies_in(run, piece)) {
		struct geo_vector at = piece->from;
		double dx = piece->to.x - at.x, dy = piece->to.y - at.y;
		if (!clip(at.x, dx, run->left - INDEX_SLACK, run->right + INDEX_SLACK, t) ||
		    !clip(at.y, dy, run->top - INDEX_SLACK, run->bottom + INDEX_SLACK, t))
			return false;
		piece->from = (struct geo_vector){at.x + t[0] * dx, at.y + t[0] * dy};
		piece->to = (struct geo_vector){at.x + t[1] * dx, at.y + t[1] * dy};
	}
	*ends = (t[0] <= 0 ? 1U : 0U) + (t[1] >= 1 ? 1U : 0U);
	turn(piece, run->along, along);
	return true;
}

bool index_run_piece(const struct index_run *run, const struct geo_segment *segment,
		     struct geo_vector along, struct index_piece *piece)
{
	uint32_t ends;
	return take_piece(run, segment, along, piece, &ends);
}

static void extend(struct extent *extent, const struct index_piece *piece, uint32_t ends)
{
	double x0 = piece->from.x, y0 = piece->from.y, x1 = piece->to.x, y1 = piece->to.y;
	extent->left = geo_lesser(extent->left, geo_lesser(x0, x1));
	extent->right = geo_greater(extent->right, geo_greater(x0, x1));
	extent->top = geo_lesser(extent->top, geo_lesser(y0, y1));
	extent->bottom = geo_greater(extent->bottom, geo_greater(y0, y1));
	extent->run_x += fabs(x1 - x0);
	extent->run_y += fabs(y1 - y0);
	extent->ends += ends;
}

/* Rounding must not leave the least bit of a segment outside. */
static void widen(struct extent *extent, const struct index_run *run)
{
	extent->left -= 1;
	extent->top -= 1;
	extent->right += 1;
	extent->bottom += 1;
	if (!is_same(extent->along, run->along))
		return;
	extent->left = geo_greater(extent->left, run->left - 1);
	extent->right = geo_lesser(extent->right, run->right + 1);
	extent->top = geo_greater(extent->top, run->top - 1);
	extent->bottom = geo_lesser(extent->bottom, run->bottom + 1);
}

static struct extent measure(const struct geo_index *index, const struct index_run *run,
			     struct geo_vector along)
{
	struct extent extent = {along, INFINITY, INFINITY, -INFINITY, -INFINITY, 0, 0, 0};
	struct index_piece piece;
	uint32_t ends;
	for (uint32_t i = 0; i < run->count; i++)
		if (take_piece(run, &index->segments[index_run_segment(index, run, i)], along,
			       &piece, &ends))
			extend(&extent, &piece, ends);
	widen(&extent, run);
	return extent;
}

/*
 * A grid of about half as many cells as segments, of the shape that enters the fewest copies: with
 * cells of sides w and h there are Σ|dx|/w + Σ|dy|/h, which for a given wh is least at
 * w/h = Σ|dx|/Σ|dy|.
 */
static struct index_grid shape(const struct extent *extent, uint32_t count)
{
	struct index_grid grid = {.along = extent->along,
				  .left = extent->left,
				  .top = extent->top,
				  .right = extent->right,
				  .bottom = extent->bottom};
	double w = extent->right - extent->left, h = extent->bottom - extent->top;
	double run_x = extent->run_x + w * 1e-3, run_y = extent->run_y + h * 1e-3;
	double area = w * h * 2 / count;
	double copies = 2 * sqrt(extent->run_x * extent->run_y / area);
	double most = (index_is_turned(&grid) ? COPIES_TURNED : COPIES) * count;
	if (copies > most)
		area *= (copies / most) * (copies / most);
	double oblong = index_is_turned(&grid) ? OBLONG_TURNED : OBLONG;
	double ratio = geo_lesser(geo_greater(run_x / run_y, 1 / oblong), oblong);
	double width = geo_lesser(sqrt(area * ratio), w), height = geo_lesser(area / width, h);
	width = geo_lesser(geo_greater(area / height, LEAST), w);
	height = geo_greater(height, LEAST);
	double columns = geo_lesser(ceil(w / width), count),
	       rows = geo_lesser(ceil(h / height), count);
	grid.columns = (uint32_t)geo_greater(columns, 1);
	grid.rows = (uint32_t)geo_greater(rows, 1);
	grid.width = w / grid.columns;
	grid.height = h / grid.rows;
	grid.columns_a_nm = grid.columns / w;
	grid.rows_a_nm = grid.rows / h;
	return grid;
}

/* Searches start at ends of segments, and all pairs in a cell are looked at. */
static double work_undivided(const struct extent *extent, uint32_t count)
{
	return ((double)count + 4.0 * extent->ends) * count;
}

static double work_divided(const struct index_grid *grid, const struct extent *extent,
			   uint32_t count)
{
	double cells = (double)grid->columns * grid->rows;
	double slack_x = 2 * INDEX_SLACK / grid->width, slack_y = 2 * INDEX_SLACK / grid->height;
	double copies = count * (1 + slack_x) * (1 + slack_y) + extent->run_x / grid->width +
			extent->run_y / grid->height;
	return cells < 2 ? INFINITY : (copies + 4.0 * extent->ends) * copies / cells + 4 * copies;
}

/* The direction in which most segments of a run lie side by side; false where they do not. */
static bool main_direction(const struct geo_index *index, const struct index_run *run,
			   struct geo_vector *along)
{
	double x = 0, y = 0, all = 0;
	for (uint32_t i = 0; i < run->count; i++) {
		const struct geo_segment *s = &index->segments[index_run_segment(index, run, i)];
		double dx = (double)s->to.x - s->from.x, dy = (double)s->to.y - s->from.y;
		double length2 = dx * dx + dy * dy;
		if (length2 == 0)
			continue;
		double length = sqrt(length2);
		x += (dx * dx - dy * dy) / length;
		y += 2 * dx * dy / length;
		all += length;
	}
	double sum = hypot(x, y), angle = atan2(y, x) / 2;
	*along = (struct geo_vector){cos(angle), sin(angle)};
	return sum > SIDE_BY_SIDE * all;
}

struct index_grid index_shape_root(const struct geo_index *index, const struct index_run *run)
{
	struct extent extent = measure(index, run, run->along);
	return shape(&extent, run->count);
}

bool index_shape_best(const struct geo_index *index, const struct index_run *run,
		      struct index_grid *grid)
{
	struct extent straight = measure(index, run, run->along);
	if (straight.left > straight.right)
		return false;
	*grid = shape(&straight, run->count);
	double now = work_undivided(&straight, run->count);
	double then = work_divided(grid, &straight, run->count);
	struct geo_vector along;
	if (main_direction(index, run, &along)) {
		struct extent turned = measure(index, run, along);
		struct index_grid other = shape(&turned, run->count);
		double work = work_divided(&other, &turned, run->count);
		if (work < TURN_PAYS * then) {
			*grid = other;
			then = work;
		}
	}
	return then < PAYS * now;
}

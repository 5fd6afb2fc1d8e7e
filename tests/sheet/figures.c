#include "figures.h"

#include "base/text.h"
#include "random.h"

static const double PI = 3.14159265358979323846;

/* A quarter of a circle by one curve: 4 (√2 - 1) / 3 of its radius to the control points. */
static const double QUARTER = 0.55228474983079340;

#define WINDOW " fill='none' stroke='black' "
#define SLIT   " class='slit' fill='none' stroke='black' "
#define CARD   " class='outline' fill='none' stroke='black' "

/* ---- Making figures ---- */

static struct figure *add_figure(struct figures *figures, const char *attributes)
{
	assert_true(figures->count < FIGURES_MOST);
	struct figure *figure = &figures->items[figures->count++];
	*figure = (struct figure){.attributes = attributes};
	return figure;
}

static struct subpath *add_subpath(struct figure *figure, bool closed)
{
	assert_true(figure->count < SUBPATHS_MOST);
	struct subpath *subpath = &figure->subpaths[figure->count++];
	*subpath = (struct subpath){.closed = closed};
	return subpath;
}

static void add_piece(struct subpath *subpath, struct piece piece)
{
	assert_true(subpath->count < PIECES_MOST);
	subpath->pieces[subpath->count++] = piece;
}

static struct piece line(struct cutlint_xy a, struct cutlint_xy b)
{
	return (struct piece){{a, a, b, b}, true};
}

static void add_polygon(struct figure *figure, bool closed, const struct cutlint_xy *corners,
			int count)
{
	struct subpath *subpath = add_subpath(figure, closed);
	for (int i = 0; i + (closed ? 0 : 1) < count; i++)
		add_piece(subpath, line(corners[i], corners[(i + 1) % count]));
}

static void add_rectangle(struct figure *figure, double x, double y, double width, double height)
{
	const struct cutlint_xy corners[] = {
		{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}};
	add_polygon(figure, true, corners, 4);
}

static void add_ellipse(struct figure *figure, struct cutlint_xy at, double a, double b,
			double turn)
{
	struct subpath *subpath = add_subpath(figure, true);
	double c = cos(turn), s = sin(turn);
	for (int i = 0; i < 4; i++) {
		static const int COS[] = {1, 0, -1, 0, 1}, SIN[] = {0, 1, 0, -1, 0};
		double ux = COS[i], uy = SIN[i], vx = COS[i + 1], vy = SIN[i + 1];
		const double flat[4][2] = {{ux, uy},
					   {ux + QUARTER * vx, uy + QUARTER * vy},
					   {vx + QUARTER * ux, vy + QUARTER * uy},
					   {vx, vy}};
		struct piece piece = {.straight = false};
		for (int k = 0; k < 4; k++) {
			double x = a * flat[k][0], y = b * flat[k][1];
			piece.points[k] =
				(struct cutlint_xy){at.x + c * x - s * y, at.y + s * x + c * y};
		}
		add_piece(subpath, piece);
	}
}

static void add_star(struct figure *figure, struct cutlint_xy at, int points, double outer,
		     double inner, double turn)
{
	struct cutlint_xy corners[PIECES_MOST];
	for (int i = 0; i < 2 * points; i++) {
		double angle = turn + PI * i / points, r = i % 2 ? inner : outer;
		corners[i] = (struct cutlint_xy){at.x + r * cos(angle), at.y + r * sin(angle)};
	}
	add_polygon(figure, true, corners, 2 * points);
}

static void add_card(struct figures *figures)
{
	figures->count = 0;
	add_rectangle(add_figure(figures, CARD), 0, 0, 100, 60);
}

/* ---- Random ones ---- */

static void add_random(struct figures *figures, struct dice *dice)
{
	struct cutlint_xy at = {dice_roll(dice, 4, 96), dice_roll(dice, 4, 56)};
	double a = dice_roll(dice, 0.5, 7), b = dice_roll(dice, 0.5, 7);
	double turn = dice_roll(dice, 0, 2 * PI);
	switch ((int)dice_roll(dice, 0, 5)) {
	case 0:
		add_ellipse(add_figure(figures, WINDOW), at, a, a, turn);
		break;
	case 1:
		add_ellipse(add_figure(figures, WINDOW), at, a, b, turn);
		break;
	case 2:
		add_star(add_figure(figures, WINDOW), at, (int)dice_roll(dice, 2, 9), a, b, turn);
		break;
	case 3: {
		/* A letter O, whose counter falls out with it or is kept, as it is wound. */
		struct figure *letter = add_figure(figures, " fill-rule='evenodd' fill='black' ");
		add_ellipse(letter, at, a + 1, b + 1, turn);
		add_ellipse(letter, at, a, b, turn);
		break;
	}
	default: {
		struct cutlint_xy ways[4] = {at};
		for (int i = 1; i < 4; i++)
			ways[i] = (struct cutlint_xy){ways[i - 1].x + dice_roll(dice, -6, 6),
						      ways[i - 1].y + dice_roll(dice, -6, 6)};
		struct subpath *slit = add_subpath(add_figure(figures, SLIT), false);
		add_piece(slit, (struct piece){{ways[0], ways[1], ways[2], ways[3]}, false});
	}
	}
}

void figures_random(struct figures *figures, uint64_t number)
{
	struct dice dice = {number * 7919 + 1};
	int count = (int)dice_roll(&dice, 2, 24);
	figures->name = "random";
	add_card(figures);
	for (int i = 0; i < count; i++)
		add_random(figures, &dice);
}

/* ---- Designs as makers draw them ---- */

static void lanterns(struct figures *figures)
{
	for (int i = 0; i < 3; i++) {
		double x = 20 + 30 * i;
		add_ellipse(add_figure(figures, WINDOW), (struct cutlint_xy){x, 18}, 6, 9, 0);
		add_rectangle(add_figure(figures, WINDOW), x - 3, 27.8, 6, 4);
		add_star(add_figure(figures, WINDOW), (struct cutlint_xy){x, 45}, 5, 8, 3.2,
			 0.3 * i);
	}
}

/* A round counter on three stems: a ring in three parts. */
static void counter_on_stems(struct figures *figures)
{
	for (int k = 0; k < 3; k++) {
		struct cutlint_xy corners[40];
		int count = 0;
		for (int i = 0; i <= 18; i++) {
			double angle = k * 2 * PI / 3 + 0.06 + i * (2 * PI / 3 - 0.12) / 18;
			corners[count++] =
				(struct cutlint_xy){50 + 20 * cos(angle), 30 + 20 * sin(angle)};
		}
		for (int i = 18; i >= 0; i--) {
			double angle = k * 2 * PI / 3 + 0.09 + i * (2 * PI / 3 - 0.18) / 18;
			corners[count++] =
				(struct cutlint_xy){50 + 14 * cos(angle), 30 + 14 * sin(angle)};
		}
		add_polygon(add_figure(figures, WINDOW), true, corners, count);
	}
	add_ellipse(add_figure(figures, WINDOW), (struct cutlint_xy){52, 31}, 7, 5, 0.4);
}

static void lattice(struct figures *figures)
{
	for (int i = 0; i < 24; i++)
		add_rectangle(add_figure(figures, WINDOW), 10 + 13.3 * (i % 6), 8 + 11.2 * (i / 6),
			      12.4 - 0.1 * i, 10.1 - 0.03 * i);
}

/* A leaf that hangs by one stem, its veins slits. */
static void leaf(struct figures *figures)
{
	struct subpath *ring = add_subpath(add_figure(figures, WINDOW), true);
	const struct cutlint_xy left = {49.4, 10}, right = {50.6, 10}, low = {50, 50};
	const struct cutlint_xy stem_left = {49.4, 14}, stem_right = {50.6, 14}, tip = {50, 46};
	add_piece(ring, (struct piece){{left, {25, 12}, {25, 35}, low}, false});
	add_piece(ring, (struct piece){{low, {75, 35}, {75, 12}, right}, false});
	add_piece(ring, line(right, stem_right));
	add_piece(ring, (struct piece){{stem_right, {69, 16}, {69, 33}, tip}, false});
	add_piece(ring, (struct piece){{tip, {31, 33}, {31, 16}, stem_left}, false});
	add_piece(ring, line(stem_left, left));
	for (int i = 0; i < 5; i++) {
		const struct cutlint_xy vein[] = {{50.3, 22.0 + 4 * i},
						  {56 - 0.4 * i, 19.0 + 4 * i}};
		add_polygon(add_figure(figures, SLIT), false, vein, 2);
	}
}

static void windows_that_meet(struct figures *figures)
{
	add_ellipse(add_figure(figures, WINDOW), (struct cutlint_xy){30, 30}, 8, 8, 0.2);
	add_ellipse(add_figure(figures, WINDOW), (struct cutlint_xy){42, 31}, 8, 8, 0.1);
	add_rectangle(add_figure(figures, WINDOW), 60, 20, 10, 10);
	add_rectangle(add_figure(figures, WINDOW), 70, 25, 10, 10);
	add_star(add_figure(figures, WINDOW), (struct cutlint_xy){75, 45}, 6, 8, 5, 0.1);
}

/* Rings about one middle: every other one falls out, the rest is loose. */
static void target(struct figures *figures)
{
	for (int i = 0; i < 8; i++)
		add_ellipse(add_figure(figures, WINDOW), (struct cutlint_xy){50 + 0.2 * i, 30},
			    24 - 3 * i, 24 - 3 * i, 0.1 * i);
}

static void near_the_edge(struct figures *figures)
{
	add_ellipse(add_figure(figures, WINDOW), (struct cutlint_xy){10, 30}, 9.3, 9, 0);
	add_rectangle(add_figure(figures, WINDOW), 40, 0.8, 20, 12);
	add_star(add_figure(figures, WINDOW), (struct cutlint_xy){88, 48}, 4, 11.5, 6, 0.1);
	const struct cutlint_xy cut[] = {{30, 59}, {31, 48}, {45, 44}};
	add_polygon(add_figure(figures, SLIT), false, cut, 3);
}

bool figures_named(struct figures *figures, int number)
{
	static const struct {
		const char *name;
		void (*draw)(struct figures *figures);
	} DESIGNS[] = {{"lanterns", lanterns},
		       {"a counter on stems", counter_on_stems},
		       {"a lattice", lattice},
		       {"a leaf", leaf},
		       {"windows that meet", windows_that_meet},
		       {"a target", target},
		       {"near the edge", near_the_edge}};
	if (number >= (int)(sizeof DESIGNS / sizeof DESIGNS[0]))
		return false;
	add_card(figures);
	figures->name = DESIGNS[number].name;
	DESIGNS[number].draw(figures);
	return true;
}

/* ---- Writing them ---- */

/* The page's corner lies at -PAGE_MM, -PAGE_MM, so that what is moved stays on it. */
enum { PAGE_MM = 1000 };

struct cutlint_xy figures_moved(const struct motion *motion, struct cutlint_xy at)
{
	double x = at.x - PAGE_MM, y = at.y - PAGE_MM;
	return (struct cutlint_xy){motion->a * x + motion->c * y + motion->e + PAGE_MM,
				   motion->b * x + motion->d * y + motion->f + PAGE_MM};
}

static struct piece turned_round(const struct piece *piece)
{
	const struct cutlint_xy *p = piece->points;
	return (struct piece){{p[3], p[2], p[1], p[0]}, piece->straight};
}

static struct cutlint_xy between(struct cutlint_xy a, struct cutlint_xy b, double t)
{
	return (struct cutlint_xy){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

/* By de Casteljau's construction: the same curve. */
static void halve(const struct piece *piece, double t, struct piece halves[2])
{
	const struct cutlint_xy *p = piece->points;
	struct cutlint_xy a = between(p[0], p[1], t), b = between(p[1], p[2], t);
	struct cutlint_xy c = between(p[2], p[3], t), d = between(a, b, t), e = between(b, c, t);
	struct cutlint_xy at = between(d, e, t);
	if (piece->straight)
		at = between(p[0], p[3], t);
	halves[0] = (struct piece){{p[0], a, d, at}, piece->straight};
	halves[1] = (struct piece){{at, e, c, p[3]}, piece->straight};
}

static void print_piece(struct text *text, const struct piece *piece)
{
	const struct cutlint_xy *p = piece->points;
	if (piece->straight)
		text_format(text, "L%.17g %.17g", p[3].x, p[3].y);
	else
		text_format(text, "C%.17g %.17g %.17g %.17g %.17g %.17g", p[1].x, p[1].y, p[2].x,
			    p[2].y, p[3].x, p[3].y);
}

static void print_subpath(struct text *text, const struct subpath *subpath,
			  const struct drawn_as *as)
{
	int start = subpath->closed ? as->start : 0;
	for (int i = 0; i < subpath->count; i++) {
		int number = (as->reversed ? subpath->count - 1 - i : i) + start;
		struct piece piece = subpath->pieces[number % subpath->count];
		if (as->reversed)
			piece = turned_round(&piece);
		if (i == 0)
			text_format(text, "M%.17g %.17g", piece.points[0].x, piece.points[0].y);
		struct piece halves[2];
		halve(&piece, 0.37, halves);
		if (as->split)
			print_piece(text, &halves[0]);
		print_piece(text, as->split ? &halves[1] : &piece);
	}
	if (subpath->closed)
		text_format(text, "Z");
}

static void print_figure(struct text *text, const struct figure *figure, const struct drawn_as *as)
{
	text_format(text, "<path%sd='", figure->attributes);
	for (int i = 0; i < figure->count; i++)
		print_subpath(text, &figure->subpaths[i], as);
	text_format(text, "'/>\n");
}

void figures_open(const struct figures *figures, const struct motion *motion,
		  const struct drawn_as *as, double flatness_mm, struct drawing *drawing)
{
	struct text text = {0};
	text_format(&text,
		    "<svg xmlns='http://www.w3.org/2000/svg' width='%dmm' height='%dmm' "
		    "viewBox='-%d -%d %d %d'><g transform='matrix(%.17g %.17g %.17g %.17g %.17g "
		    "%.17g)'>",
		    2 * PAGE_MM, 2 * PAGE_MM, PAGE_MM, PAGE_MM, 2 * PAGE_MM, 2 * PAGE_MM, motion->a,
		    motion->b, motion->c, motion->d, motion->e, motion->f);
	for (int i = 0; i < figures->count; i++)
		print_figure(&text, &figures->items[as->reordered ? figures->count - 1 - i : i],
			     as);
	text_format(&text, "</g></svg>");
	assert_false(text.failed);
	drawing_read_flat(drawing, text.bytes, flatness_mm);
	drawing_build(drawing);
	text_finish(&text);
}

double figures_length(const struct cutlint_design *design)
{
	double length = 0;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		const struct cutlint_outline *outline = &design->outlines[i];
		const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
		for (uint32_t v = 1; v < outline->vertex_count; v++) {
			struct cutlint_xy a = cutlint_point_mm(vertices[v - 1]);
			struct cutlint_xy b = cutlint_point_mm(vertices[v]);
			length += hypot(b.x - a.x, b.y - a.y);
		}
	}
	return length;
}

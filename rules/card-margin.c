/* card-margin.c - art keeps clear of the card's edge, and all that is burned lies on sheet and bed.
 */
#include "cutlint/rule.h"

#include <math.h>

struct options {
	double error_mm, warning_mm, sheet_mm;
};

static const struct cutlint_option OPTIONS[] = {
	{"error", CUTLINT_OPTION_LENGTH, offsetof(struct options, error_mm), "0.85 mm", 0, 100,
	 NULL, false, "a cut that leaves less than this to the card's edge is an error"},
	{"warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, warning_mm), "2.85 mm", 0, 100,
	 NULL, false, "a cut that leaves less than this to the card's edge is a warning"},
	{"sheet", CUTLINT_OPTION_LENGTH, offsetof(struct options, sheet_mm), "5 mm", 0, 100, NULL,
	 false,
	 "a burn line nearer than this to the edge of the sheet that the job names is a "
	 "warning"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

/* The four sides of a box, one after the other. */
static void side_of(struct cutlint_box box, int side, struct cutlint_xy *from,
		    struct cutlint_xy *to)
{
	const struct cutlint_xy corners[] = {{box.left, box.top},
					     {box.right, box.top},
					     {box.right, box.bottom},
					     {box.left, box.bottom}};
	*from = corners[side];
	*to = corners[(side + 1) % 4];
}

/* The place on an upright or level side that is nearest to another place. */
static struct cutlint_xy foot_on(struct cutlint_xy from, struct cutlint_xy to, struct cutlint_xy at)
{
	return (struct cutlint_xy){fmin(fmax(at.x, fmin(from.x, to.x)), fmax(from.x, to.x)),
				   fmin(fmax(at.y, fmin(from.y, to.y)), fmax(from.y, to.y))};
}

/* The distance of an outline from the card's edge as drawn, and where: `edge` lies on the edge. */
static double edge_distance(const struct cutlint_design *design, const struct cutlint_card *card,
			    uint32_t outline, struct cutlint_wall *wall, struct cutlint_xy *edge)
{
	struct cutlint_wall walls[2] = {0};
	double least = INFINITY;
	if (card->outline != CUTLINT_NONE) {
		least = cutlint_outline_distance(design, outline, card->outline, walls);
		*wall = walls[0];
		*edge = walls[1].at;
		return least;
	}
	for (int side = 0; side < 4; side++) {
		struct cutlint_xy from, to;
		side_of(card->box, side, &from, &to);
		double distance = cutlint_segment_distance(design, outline, from, to, &walls[0]);
		if (distance >= least)
			continue;
		least = distance;
		*wall = walls[0];
		*edge = foot_on(from, to, walls[0].at);
	}
	return least;
}

/* No place in a box is nearer to the edge of a card that is a box; 0 where the box touches it. */
static double least_distance(struct cutlint_box box, struct cutlint_box card)
{
	double within = fmin(fmin(box.left - card.left, box.top - card.top),
			     fmin(card.right - box.right, card.bottom - box.bottom));
	double across = fmax(card.left - box.right, box.left - card.right);
	double down = fmax(card.top - box.bottom, box.top - card.bottom);
	return fmax(0, fmax(within, fmax(across, down)));
}

/* Whether an outline, flattened as it is, surely leaves enough to the edge. */
static bool is_far(const struct cutlint_design *design, const struct cutlint_card *card,
		   uint32_t outline, double enough_mm)
{
	if (card->outline != CUTLINT_NONE)
		return false;
	struct cutlint_box box = cutlint_outline_box(design, outline);
	return least_distance(box, card->box) > enough_mm + design->flatness_mm;
}

/* Where a shape's cuts come nearest to the edge of their card. */
struct nearest {
	uint32_t card;
	double drawn_mm, kept_mm;
	struct cutlint_wall wall;
	struct cutlint_xy edge; /* the place on the edge */
};

/* Of those that may leave less than is wanted. */
static struct nearest nearest_of(const struct cutlint_check *check,
				 const struct cutlint_shape *shape, double wanted_mm)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	struct nearest nearest = {.card = CUTLINT_NONE, .drawn_mm = INFINITY, .kept_mm = INFINITY};
	double kerf_mm = cutlint_check_job(check)->kerf_mm;
	for (uint32_t i = 0; i < shape->outline_count; i++) {
		uint32_t outline = shape->first_outline + i;
		uint32_t number = cutlint_sheet_card_of(design, sheet, outline);
		if (number == CUTLINT_NONE)
			continue;
		const struct cutlint_card *card = &sheet->cards[number];
		if (is_far(design, card, outline, wanted_mm + kerf_mm))
			continue;
		struct cutlint_wall wall = {0};
		struct cutlint_xy edge = {0, 0};
		double drawn_mm = edge_distance(design, card, outline, &wall, &edge);
		if (drawn_mm >= nearest.drawn_mm)
			continue;
		nearest = (struct nearest){.card = number,
					   .drawn_mm = drawn_mm,
					   .kept_mm = drawn_mm -
						      (card->edge_burned ? 1 : 0.5) * kerf_mm,
					   .wall = wall,
					   .edge = edge};
	}
	return nearest;
}

static void report_edge(struct cutlint_check *check, const struct options *options,
			const struct nearest *nearest)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_card *card = &cutlint_check_sheet(check)->cards[nearest->card];
	bool bad = nearest->kept_mm < options->error_mm - SLACK_MM;
	double limit_mm = bad ? options->error_mm : options->warning_mm;
	struct cutlint_finding *finding = cutlint_report(
		check, bad ? CUTLINT_ERROR : CUTLINT_WARNING,
		cutlint_place_wall(design, &nearest->wall),
		"cut leaves %.2f mm to the edge of the card, under %.2f mm (%.2f mm as drawn)",
		fmax(nearest->kept_mm, 0), limit_mm, nearest->drawn_mm);
	cutlint_limit(finding, bad ? "error" : "warning");
	cutlint_measured(finding, "kept", nearest->kept_mm, limit_mm, "mm");
	cutlint_measured(finding, "drawn", nearest->drawn_mm, NAN, "mm");
	cutlint_show_span(finding, nearest->wall.at, nearest->edge);
	cutlint_relate(finding, cutlint_place_outline(design, card->outline),
		       card->outline == CUTLINT_NONE ? "the page" : "the card's edge");
	cutlint_suggest(
		finding, "move it in by %.2f mm",
		cutlint_at_least(fmax(options->error_mm, options->warning_mm) - nearest->kept_mm,
				 0.01));
}

/* Lines that touch the edge cross it: another rule's matter. Each shape is said once. */
static void check_edges(struct cutlint_check *check, const struct options *options)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	double wanted_mm = fmax(options->error_mm, options->warning_mm);
	for (uint32_t i = 0; i < design->shape_count; i++) {
		const struct cutlint_shape *shape = &design->shapes[i];
		if ((shape->role != CUTLINT_ROLE_ART && shape->role != CUTLINT_ROLE_SLIT) ||
		    shape->unburned != CUTLINT_BURNED)
			continue;
		struct nearest nearest = nearest_of(check, shape, wanted_mm);
		if (nearest.drawn_mm > 0 && nearest.kept_mm < wanted_mm - SLACK_MM)
			report_edge(check, options, &nearest);
	}
}

/* The box of all that a shape burns; empty where it burns nothing. */
static struct cutlint_box burned_box(const struct cutlint_design *design,
				     const struct cutlint_shape *shape)
{
	struct cutlint_box all = cutlint_box_empty();
	if (!cutlint_role_burned(shape->role) || shape->unburned != CUTLINT_BURNED)
		return all;
	for (uint32_t i = 0; i < shape->outline_count; i++)
		cutlint_box_join(&all, cutlint_outline_box(design, shape->first_outline + i));
	return all;
}

/* How far a box stays inside an area from 0,0; negative where it leaves it. */
static double margin_of(struct cutlint_box box, double width, double height)
{
	return fmin(fmin(box.left, box.top), fmin(width - box.right, height - box.bottom));
}

static bool is_off(struct cutlint_box box, double width, double height)
{
	return box.right < 0 || box.bottom < 0 || box.left > width || box.top > height;
}

static struct cutlint_place place_shape(const struct cutlint_design *design,
					const struct cutlint_shape *shape)
{
	return cutlint_place_outline(design, shape->first_outline);
}

/* What the burn lines have to lie on: the job's sheet, as the page lies, else the page. */
struct area {
	double width, height;
	bool named;
};

static struct area sheet_of(const struct cutlint_check *check)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_job *job = cutlint_check_job(check);
	struct area page = {design->page_width_mm, design->page_height_mm, false};
	struct area sheet = {job->sheet_width_mm, job->sheet_height_mm, true};
	if (!(sheet.width > 0))
		return page;
	if ((page.width > page.height) != (sheet.width > sheet.height))
		return (struct area){sheet.height, sheet.width, true};
	return sheet;
}

/* The vertex of a shape that lies farthest in a direction along the sheet's sides. */
static struct cutlint_xy outermost(const struct cutlint_design *design,
				   const struct cutlint_shape *shape, double right, double down)
{
	struct cutlint_xy best = {0, 0};
	double most = -INFINITY;
	for (uint32_t i = 0; i < shape->outline_count; i++) {
		const struct cutlint_outline *outline = &design->outlines[shape->first_outline + i];
		for (uint32_t k = 0; k < outline->vertex_count; k++) {
			struct cutlint_xy at =
				cutlint_point_mm(design->vertices[outline->first_vertex + k]);
			if (at.x * right + at.y * down <= most)
				continue;
			most = at.x * right + at.y * down;
			best = at;
		}
	}
	return best;
}

/* From the shape to the edge of an area from 0,0 that it comes nearest to, or leaves farthest. */
static void show_margin(struct cutlint_finding *finding, const struct cutlint_design *design,
			const struct cutlint_shape *shape, double width, double height)
{
	struct cutlint_box box = burned_box(design, shape);
	double margin = margin_of(box, width, height);
	bool level = margin == box.left || margin == width - box.right;
	bool near = margin == box.left || (!level && margin == box.top);
	double sign = near ? -1 : 1;
	struct cutlint_xy at = outermost(design, shape, level ? sign : 0, level ? 0 : sign);
	struct cutlint_xy edge = at;
	if (level) {
		at.x = near ? box.left : box.right;
		edge.x = near ? 0 : width;
	} else {
		at.y = near ? box.top : box.bottom;
		edge.y = near ? 0 : height;
	}
	cutlint_show_span(finding, at, edge);
}

static void report_over(struct cutlint_check *check, const struct cutlint_shape *shape,
			const struct area *area, double over_mm)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	bool named = cutlint_check_job(check)->sheet_width_mm > 0;
	struct cutlint_finding *finding =
		cutlint_report(check, CUTLINT_ERROR, place_shape(design, shape),
			       "burn line runs %.2f mm past the edge of the %s", over_mm,
			       named ? "sheet" : "page");
	cutlint_measured(finding, "margin", -over_mm, 0, "mm");
	show_margin(finding, design, shape, area->width, area->height);
	if (named)
		cutlint_relate(finding, cutlint_place_job(check, "stock", NULL, "sheet"),
			       "the sheet");
	cutlint_suggest(finding, "move it in by %.2f mm, or take a larger %s",
			cutlint_at_least(over_mm, 0.01), named ? "sheet" : "page");
}

static void report_near(struct cutlint_check *check, const struct options *options,
			const struct cutlint_shape *shape, const struct area *area,
			double margin_mm)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	struct cutlint_finding *finding =
		cutlint_report(check, CUTLINT_WARNING, place_shape(design, shape),
			       "burn line is %.2f mm from the edge of the sheet, under %.2f mm",
			       margin_mm, options->sheet_mm);
	cutlint_limit(finding, "sheet");
	cutlint_measured(finding, "margin", margin_mm, options->sheet_mm, "mm");
	show_margin(finding, design, shape, area->width, area->height);
	cutlint_relate(finding, cutlint_place_job(check, "stock", NULL, "sheet"), "the sheet");
	cutlint_suggest(finding, "move it in by %.2f mm, or take a larger sheet",
			cutlint_at_least(options->sheet_mm - margin_mm, 0.01));
}

/* Without a sheet in the job the page is the sheet, and may end where the card does. */
static void check_sheet(struct cutlint_check *check, const struct options *options)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	struct area area = sheet_of(check);
	if (!(area.width > 0) || !(area.height > 0))
		return;
	for (uint32_t i = 0; i < design->shape_count; i++) {
		const struct cutlint_shape *shape = &design->shapes[i];
		struct cutlint_box box = burned_box(design, shape);
		if (box.left > box.right || (!area.named && is_off(box, area.width, area.height)))
			continue;
		double margin_mm = margin_of(box, area.width, area.height);
		if (margin_mm < -SLACK_MM)
			report_over(check, shape, &area, -margin_mm);
		else if (area.named && shape->role != CUTLINT_ROLE_FOLD &&
			 margin_mm < options->sheet_mm - SLACK_MM)
			report_near(check, options, shape, &area, margin_mm);
	}
}

/* The bed's corner is the page's. Said once, at the shape that lies farthest out. */
static void check_bed(struct cutlint_check *check)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_job *job = cutlint_check_job(check);
	const struct cutlint_shape *farthest = NULL;
	double least_mm = -SLACK_MM;
	for (uint32_t i = 0; job->bed_width_mm > 0 && i < design->shape_count; i++) {
		struct cutlint_box box = burned_box(design, &design->shapes[i]);
		double margin_mm = margin_of(box, job->bed_width_mm, job->bed_height_mm);
		if (box.left > box.right || margin_mm >= least_mm)
			continue;
		least_mm = margin_mm;
		farthest = &design->shapes[i];
	}
	if (!farthest)
		return;
	struct cutlint_finding *finding =
		cutlint_report(check, CUTLINT_ERROR, place_shape(design, farthest),
			       "burn line runs %.2f mm past the bed of %.2f mm x %.2f mm",
			       -least_mm, job->bed_width_mm, job->bed_height_mm);
	cutlint_measured(finding, "margin", least_mm, 0, "mm");
	show_margin(finding, design, farthest, job->bed_width_mm, job->bed_height_mm);
	cutlint_relate(finding, cutlint_place_job(check, "machine", NULL, "bed"), "the bed");
	cutlint_suggest(finding, "move or turn the drawing, or divide it");
}

static enum cutlint_outcome check_margins(struct cutlint_check *check, const void *options)
{
	check_edges(check, options);
	check_sheet(check, options);
	check_bed(check);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "card-margin",
	.summary = "cuts too near to the card's edge, and burn lines past the edge of sheet or bed",
	.advice = "Keep art 3 mm inside the card, and everything on the sheet and on the bed.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS,
	.check = check_margins,
};

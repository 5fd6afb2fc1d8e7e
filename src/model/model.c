#include "cutlint/model.h"

#include <math.h>

#include "geometry/curve.h"
#include "model/private.h"

static const char *const ROLE_WORDS[CUTLINT_ROLE_COUNT] = {
	[CUTLINT_ROLE_ART] = "art",     [CUTLINT_ROLE_OUTLINE] = "outline",
	[CUTLINT_ROLE_BLANK] = "blank", [CUTLINT_ROLE_SLIT] = "slit",
	[CUTLINT_ROLE_FOLD] = "fold",   [CUTLINT_ROLE_FACE] = "face",
	[CUTLINT_ROLE_INSET] = "inset", [CUTLINT_ROLE_AS_SEEN] = "as-seen",
	[CUTLINT_ROLE_GUIDE] = "guide", [CUTLINT_ROLE_SKIP] = "skip",
};

const char *cutlint_role_word(enum cutlint_role role)
{
	return role < CUTLINT_ROLE_COUNT ? ROLE_WORDS[role] : "unknown";
}

bool cutlint_role_cuts(enum cutlint_role role)
{
	return role == CUTLINT_ROLE_ART || role == CUTLINT_ROLE_OUTLINE ||
	       role == CUTLINT_ROLE_SLIT;
}

bool cutlint_role_heats(enum cutlint_role role)
{
	return cutlint_role_cuts(role) || role == CUTLINT_ROLE_FOLD;
}

bool cutlint_role_burned(enum cutlint_role role)
{
	return cutlint_role_heats(role) || role == CUTLINT_ROLE_INSET;
}

/* Whether the burn's being hidden matters: reference shapes may well be hidden or unpainted. */
static bool is_reference(enum cutlint_role role)
{
	return role == CUTLINT_ROLE_BLANK || role == CUTLINT_ROLE_FACE ||
	       role == CUTLINT_ROLE_AS_SEEN || role == CUTLINT_ROLE_GUIDE;
}

enum cutlint_role cutlint_outline_role(const struct cutlint_design *design, uint32_t outline)
{
	const struct cutlint_shape *shape = cutlint_outline_shape(design, outline);
	bool unseen = shape->unburned != CUTLINT_BURNED;
	return unseen && !is_reference(shape->role) ? CUTLINT_ROLE_SKIP : shape->role;
}

/* Sides of an outline, its closing one included. */
static uint32_t side_count(const struct cutlint_outline *outline)
{
	if (outline->vertex_count < 2)
		return 0;
	return outline->closed ? outline->vertex_count : outline->vertex_count - 1;
}

static struct cutlint_xy vertex_after(const struct cutlint_design *design,
				      const struct cutlint_outline *outline, uint32_t i)
{
	uint32_t next = i + 1 < outline->vertex_count ? i + 1 : 0;
	return cutlint_point_mm(design->vertices[outline->first_vertex + next]);
}

/* The straight sides that start at vertices from `first` on, up to `end`. */
static double straight_length(const struct cutlint_design *design,
			      const struct cutlint_outline *outline, uint32_t first, uint32_t end)
{
	double length = 0;
	uint32_t sides = outline->first_vertex + side_count(outline);
	for (uint32_t v = first; v < end && v < sides; v++) {
		struct cutlint_xy a = cutlint_point_mm(design->vertices[v]);
		struct cutlint_xy b = vertex_after(design, outline, v - outline->first_vertex);
		length += hypot(b.x - a.x, b.y - a.y);
	}
	return length;
}

double cutlint_outline_length(const struct cutlint_design *design, uint32_t number)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	const struct cutlint_command *commands = &design->commands[outline->first_command];
	uint32_t last = outline->first_vertex + outline->vertex_count;
	double length = 0;
	if (outline->command_count == 0)
		return straight_length(design, outline, outline->first_vertex, last);
	for (uint32_t i = 0; i < outline->command_count; i++) {
		uint32_t first = commands[i].first_vertex;
		uint32_t end = i + 1 < outline->command_count ? commands[i + 1].first_vertex : last;
		if (commands[i].curve != CUTLINT_NONE) {
			const struct curve *curve = &design->priv->curves[commands[i].curve];
			length += curve_length(curve);
			first += curve->pieces;
		}
		length += straight_length(design, outline, first, end);
	}
	return length;
}

double cutlint_outline_area(const struct cutlint_design *design, uint32_t number)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	if (outline->vertex_count < 3)
		return 0;

	/* From the first vertex, so that a small outline far out on the sheet keeps its figures. */
	struct cutlint_xy origin = cutlint_point_mm(design->vertices[outline->first_vertex]);
	double twice = 0;
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		struct cutlint_xy a = cutlint_point_mm(design->vertices[outline->first_vertex + i]);
		struct cutlint_xy b = vertex_after(design, outline, i);
		twice += (a.x - origin.x) * (b.y - origin.y) - (b.x - origin.x) * (a.y - origin.y);
	}
	return twice / 2;
}

struct cutlint_box cutlint_outline_box(const struct cutlint_design *design, uint32_t number)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
	if (outline->vertex_count == 0)
		return cutlint_box_empty();
	struct cutlint_point least = vertices[0], most = vertices[0];
	for (uint32_t i = 1; i < outline->vertex_count; i++) {
		struct cutlint_point at = vertices[i];
		least.x = at.x < least.x ? at.x : least.x;
		least.y = at.y < least.y ? at.y : least.y;
		most.x = at.x > most.x ? at.x : most.x;
		most.y = at.y > most.y ? at.y : most.y;
	}
	struct cutlint_xy low = cutlint_point_mm(least), high = cutlint_point_mm(most);
	return (struct cutlint_box){low.x, low.y, high.x, high.y};
}

uint32_t cutlint_vertex_outline(const struct cutlint_design *design, uint32_t vertex)
{
	uint32_t low = 0, high = design->outline_count;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		const struct cutlint_outline *outline = &design->outlines[middle];
		if (vertex < outline->first_vertex)
			high = middle;
		else if (vertex - outline->first_vertex >= outline->vertex_count)
			low = middle + 1;
		else
			return middle;
	}
	return CUTLINT_NONE;
}

const struct cutlint_command *cutlint_vertex_command(const struct cutlint_design *design,
						     uint32_t vertex)
{
	uint32_t number = cutlint_vertex_outline(design, vertex);
	if (number == CUTLINT_NONE || design->outlines[number].command_count == 0)
		return NULL;
	const struct cutlint_outline *outline = &design->outlines[number];
	uint32_t low = outline->first_command;
	uint32_t high = low + outline->command_count;
	while (high - low > 1) {
		uint32_t middle = low + (high - low) / 2;
		if (design->commands[middle].first_vertex <= vertex)
			low = middle;
		else
			high = middle;
	}
	return &design->commands[low];
}

struct cutlint_xy design_true_point(const struct cutlint_design *design, uint32_t vertex,
				    struct cutlint_xy at)
{
	const struct cutlint_command *command = cutlint_vertex_command(design, vertex);
	if (!command || command->curve == CUTLINT_NONE)
		return at;
	const struct curve *curve = &design->priv->curves[command->curve];

	/* The chord's own piece of the curve, with its neighbours: feet slide while they settle. */
	double step = 1.0 / curve->pieces;
	double piece = (double)(vertex - command->first_vertex);
	double from = fmax(0, (piece - 1) * step), to = fmin(1, (piece + 2) * step);
	return curve_at(curve, curve_nearest(curve, at, from, to));
}

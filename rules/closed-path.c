/* closed-path.c - burn lines that end in the open, so that nothing falls out. */
#include "cutlint/rule.h"

#include <math.h>
#include <string.h>

/* Lengths are known to a micrometre; a gap that exceeds its limit by less is equal to it. */
static const double SLACK_MM = 0.001;

/* What an end of a line is nearest to. */
struct nearest {
	double gap_mm; /* infinite where there is no other line */
	bool is_end;   /* another end; else the side of a line */
	struct cutlint_place place;
};

static bool is_checked(const struct cutlint_design *design, const struct cutlint_end *end)
{
	enum cutlint_role role = cutlint_outline_role(design, end->outline);
	return role == CUTLINT_ROLE_ART || role == CUTLINT_ROLE_OUTLINE;
}

/* Where an end is as near as a line's side, it is the end that a maker would join. */
static bool nearest_is_end(const struct cutlint_end *end)
{
	return end->near_end != CUTLINT_NONE && end->near_end_mm <= end->near_wall_mm + SLACK_MM;
}

/* Whether an end faces its nearest end: that, or the side right beside it, is nearest. */
static bool faces_end(const struct cutlint_sheet *sheet, const struct cutlint_end *end)
{
	if (end->near_end == CUTLINT_NONE || nearest_is_end(end))
		return end->near_end != CUTLINT_NONE;
	return end->near_wall.outline == sheet->ends[end->near_end].outline &&
	       end->near_end_mm <= 2 * end->near_wall_mm;
}

static double gap_of(const struct cutlint_end *end)
{
	return nearest_is_end(end) ? end->near_end_mm : end->near_wall_mm;
}

static bool is_joined(const struct cutlint_check *check, const struct cutlint_end *end)
{
	return gap_of(end) <= cutlint_check_job(check)->join_mm + SLACK_MM;
}

/* How far inside a box a place lies; negative outside. */
static double depth_in_box(struct cutlint_box box, struct cutlint_xy at)
{
	return fmin(fmin(at.x - box.left, box.right - at.x),
		    fmin(at.y - box.top, box.bottom - at.y));
}

/* A cut that runs off a card's edge that comes ready cut, a blank's or the page's, is whole. */
static bool runs_off(const struct cutlint_check *check, const struct cutlint_end *end)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	double reach_mm = cutlint_check_job(check)->join_mm + SLACK_MM;
	uint32_t number = cutlint_sheet_card_of(design, sheet, end->outline);
	if (number == CUTLINT_NONE || sheet->cards[number].edge_burned)
		return false;

	const struct cutlint_card *card = &sheet->cards[number];
	if (depth_in_box(card->box, end->at) <= reach_mm)
		return true;
	struct cutlint_wall wall;
	return card->outline != CUTLINT_NONE &&
	       (!cutlint_outline_contains(design, card->outline, end->at) ||
		cutlint_segment_distance(design, card->outline, end->at, end->at, &wall) <=
			reach_mm);
}

static struct cutlint_place place_of(const struct cutlint_design *design,
				     const struct cutlint_end *end)
{
	struct cutlint_place place = cutlint_place_vertex(design, end->vertex);
	place.at = end->at;
	return place;
}

static struct nearest nearest_of(const struct cutlint_check *check, const struct cutlint_end *end)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	struct nearest nearest = {.gap_mm = gap_of(end), .is_end = nearest_is_end(end)};
	if (nearest.is_end)
		nearest.place = place_of(design, &sheet->ends[end->near_end]);
	else if (isfinite(nearest.gap_mm))
		nearest.place = cutlint_place_wall(design, &end->near_wall);
	return nearest;
}

/* Whether an end stands later in the file than another one. */
static bool is_later(const struct cutlint_design *design, const struct cutlint_end *end,
		     const struct cutlint_end *other)
{
	uint32_t byte = place_of(design, end).span.byte;
	uint32_t other_byte = place_of(design, other).span.byte;
	if (byte != other_byte)
		return byte > other_byte;
	return end > other;
}

/* The other end of the same line. */
static const struct cutlint_end *other_end(const struct cutlint_end *end)
{
	return end->last ? end - 1 : end + 1;
}

/* Whether an end is wrong in itself: not joined, not off a ready edge, not of a line meant so. */
static bool is_open(const struct cutlint_check *check, const struct cutlint_end *end)
{
	return is_checked(cutlint_check_design(check), end) && !is_joined(check, end) &&
	       !runs_off(check, end);
}

/* A line of which neither end is near anything is one stray line. */
static bool is_stray(const struct cutlint_check *check, const struct cutlint_end *end)
{
	double scan_mm = cutlint_check_job(check)->scan_mm + SLACK_MM;
	return gap_of(end) > scan_mm && gap_of(other_end(end)) > scan_mm &&
	       is_open(check, other_end(end));
}

/* Two ends that face each other within the scan width are one gap. */
static bool is_one_gap(const struct cutlint_check *check, const struct cutlint_end *end)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	if (!faces_end(sheet, end) ||
	    end->near_end_mm > cutlint_check_job(check)->scan_mm + SLACK_MM)
		return false;
	const struct cutlint_end *other = &sheet->ends[end->near_end];
	return faces_end(sheet, other) && &sheet->ends[other->near_end] == end &&
	       !runs_off(check, other) && is_checked(cutlint_check_design(check), other);
}

/* Of two ends that are one finding the one that comes earlier in the file is left out. */
static bool is_said_by_other(const struct cutlint_check *check, const struct cutlint_end *end)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	if (is_stray(check, end))
		return is_later(design, other_end(end), end);
	return is_one_gap(check, end) &&
	       is_later(design, &cutlint_check_sheet(check)->ends[end->near_end], end);
}

/* "its own start", "the end of path#leaf", "the side of path#stem". */
static void describe(const struct cutlint_check *check, const struct cutlint_end *end,
		     const struct nearest *nearest, const char **what, char *name, size_t size)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	uint32_t outline = end->near_wall.outline;
	bool last = false;
	if (nearest->is_end) {
		outline = sheet->ends[end->near_end].outline;
		last = sheet->ends[end->near_end].last;
	}
	name[0] = '\0';
	if (outline == end->outline) {
		*what = !nearest->is_end ? "its own line" : last ? "its own end" : "its own start";
		return;
	}
	*what = !nearest->is_end ? "the line of " : last ? "the end of " : "the start of ";
	cutlint_element_name(nearest->place.element, name, size);
}

static struct cutlint_finding *report_shut(struct cutlint_check *check,
					   const struct cutlint_end *end,
					   const struct nearest *nearest, const char *what,
					   const char *name)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_WARNING, place_of(cutlint_check_design(check), end),
		"gap of %.2f mm to %s%s burns shut at a kerf of %.2f mm, but is not drawn shut",
		nearest->gap_mm, what, name, job->kerf_mm);
	cutlint_limit_job(finding, "drawing", NULL, "join");
	cutlint_measured(finding, "gap", nearest->gap_mm, job->join_mm, "mm");
	cutlint_suggest(finding, "join the two, so that the cut does not hang on the kerf");
	return finding;
}

static struct cutlint_finding *report_open(struct cutlint_check *check,
					   const struct cutlint_end *end,
					   const struct nearest *nearest, const char *what,
					   const char *name)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	struct cutlint_place place = place_of(cutlint_check_design(check), end);
	struct cutlint_finding *finding;
	if (!isfinite(nearest->gap_mm))
		finding =
			cutlint_report(check, CUTLINT_ERROR, place,
				       "line ends in the open, and there is no other burned line");
	else if (nearest->gap_mm <= job->scan_mm)
		finding = cutlint_report(
			check, CUTLINT_ERROR, place,
			"line ends in the open: the gap of %.2f mm to %s%s is over "
			"the kerf of %.2f mm and stays as a bridge of %.2f mm",
			nearest->gap_mm, what, name, job->kerf_mm, nearest->gap_mm - job->kerf_mm);
	else
		finding =
			cutlint_report(check, CUTLINT_ERROR, place,
				       "line ends in the open: the nearest is %s%s, %.2f mm away, "
				       "over the kerf of %.2f mm",
				       what, name, nearest->gap_mm, job->kerf_mm);
	cutlint_limit_job(finding, "burn", NULL, "kerf");
	cutlint_measured(finding, "gap", nearest->gap_mm, job->kerf_mm, "mm");
	cutlint_measured(finding, "drawn", nearest->gap_mm, NAN, "mm");
	cutlint_suggest(finding, "close the path or draw it on to the other line; a cut that is "
				 "meant to stay open takes the role slit");
	return finding;
}

/* Twice the area of a triangle, positive where it runs clockwise on the screen. */
static double area_of(struct cutlint_xy a, struct cutlint_xy b, struct cutlint_xy c)
{
	return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/* How far along a to b the line c to d is crossed, as a share; NAN where it is not. */
static double crossed_at(struct cutlint_xy a, struct cutlint_xy b, struct cutlint_xy c,
			 struct cutlint_xy d)
{
	double from = area_of(c, d, a), to = area_of(c, d, b);
	if (from * to >= 0 || area_of(a, b, c) * area_of(a, b, d) > 0)
		return NAN;
	return from / (from - to);
}

static struct cutlint_xy vertex_at(const struct cutlint_design *design, uint32_t vertex)
{
	return cutlint_point_mm(design->vertices[vertex]);
}

/* The far end of the side that starts at a vertex; a closed outline comes back to its first. */
static uint32_t next_vertex(const struct cutlint_design *design, uint32_t vertex)
{
	const struct cutlint_outline *outline =
		&design->outlines[cutlint_vertex_outline(design, vertex)];
	uint32_t next = vertex + 1;
	return next < outline->first_vertex + outline->vertex_count ? next : outline->first_vertex;
}

/* How far a line runs on past the nearest one, which it crosses first; NAN where it does not. */
static double overshoot_of(const struct cutlint_check *check, const struct cutlint_end *end)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_outline *outline = &design->outlines[end->outline];
	if (end->near_wall.outline == CUTLINT_NONE || !isfinite(end->near_wall_mm))
		return NAN;
	struct cutlint_xy c = vertex_at(design, end->near_wall.vertex);
	struct cutlint_xy d = vertex_at(design, next_vertex(design, end->near_wall.vertex));
	uint32_t at = end->last ? outline->first_vertex + outline->vertex_count - 1
				: outline->first_vertex;
	double way = 0, most_mm = cutlint_check_job(check)->scan_mm;
	for (uint32_t i = 1; i < outline->vertex_count; i++) {
		uint32_t next = end->last ? at - 1 : at + 1;
		struct cutlint_xy a = vertex_at(design, at), b = vertex_at(design, next);
		double length = hypot(b.x - a.x, b.y - a.y), share = crossed_at(a, b, c, d);
		if (isfinite(share))
			return way + share * length <= most_mm ? way + share * length : NAN;
		way += length;
		at = next;
		if (way > most_mm)
			break;
	}
	return NAN;
}

/*
 * A line that runs on farther past another one crosses it: the crossing-cuts rule's matter. Up to
 * 1 mm counts as nearly closed: common practice, no source.
 */
static const double CROSSES_MM = 1;

/* Whether the end lies past a line that it crosses; then it is no gap, and said here if at all. */
static bool judge_overshoot(struct cutlint_check *check, const struct cutlint_end *end)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	double past_mm = overshoot_of(check, end), kerf_mm = cutlint_check_job(check)->kerf_mm;
	char name[128];
	if (isnan(past_mm))
		return false;
	if (past_mm <= kerf_mm + SLACK_MM || past_mm > CROSSES_MM)
		return true;
	struct cutlint_place wall = cutlint_place_wall(design, &end->near_wall);
	cutlint_element_name(wall.element, name, sizeof name);
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_WARNING, place_of(design, end),
		"line runs %.2f mm past the line of %s and burns a nick, over the kerf of %.2f mm",
		past_mm, name, kerf_mm);
	cutlint_limit_job(finding, "burn", NULL, "kerf");
	cutlint_measured(finding, "past", past_mm, kerf_mm, "mm");
	cutlint_show_span(finding, end->at, end->near_wall.at);
	cutlint_relate(finding, wall, "the line that it crosses");
	cutlint_suggest(finding, "end it on that line: shorten it by %.2f mm", past_mm);
	return true;
}

static const struct cutlint_attribute *path_data(const struct cutlint_element *element)
{
	for (uint32_t i = 0; i < element->attribute_count; i++) {
		if (strcmp(element->attributes[i].name, "d") == 0)
			return &element->attributes[i];
	}
	return NULL;
}

/*
 * A path whose ends face each other is closed by a `z` behind its last command, if nothing drawn or
 * relative follows: behind a `z` the current point is the path's start. Path data with entities is
 * left alone, since its places in the value and in the file are not the same.
 */
static void offer_closing(struct cutlint_check *check, struct cutlint_finding *finding,
			  const struct cutlint_end *end)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_outline *outline = &design->outlines[end->outline];
	const struct cutlint_shape *shape = cutlint_outline_shape(design, end->outline);
	const struct cutlint_attribute *data = path_data(shape->element);
	if (!data || shape->element->from_entity || outline->vertex_count < 3 ||
	    strlen(data->value) != data->value_span.length)
		return;
	struct cutlint_span last =
		cutlint_place_vertex(design, outline->first_vertex + outline->vertex_count - 2)
			.span;
	uint32_t behind = last.byte + last.length - data->value_span.byte;
	if (last.byte < data->value_span.byte || behind > data->value_span.length)
		return;
	const char *rest = data->value + behind;
	rest += strspn(rest, " \t\r\n\f,");
	if (*rest == '\0' || *rest == 'M')
		cutlint_edit(finding, (struct cutlint_span){last.byte + last.length, 0}, "z");
}

static void judge(struct cutlint_check *check, const struct cutlint_end *end)
{
	char name[128];
	const char *what;
	struct nearest nearest = nearest_of(check, end);
	double kerf_mm = cutlint_check_job(check)->kerf_mm;
	bool shut = nearest.gap_mm <= kerf_mm + SLACK_MM;

	describe(check, end, &nearest, &what, name, sizeof name);
	struct cutlint_finding *finding = shut ? report_shut(check, end, &nearest, what, name)
					       : report_open(check, end, &nearest, what, name);
	if (!isfinite(nearest.gap_mm))
		return;
	cutlint_show_span(finding, end->at, nearest.place.at);
	cutlint_relate(finding, nearest.place,
		       nearest.is_end ? "the nearest end" : "the nearest line");
	bool own = nearest.is_end &&
		   &cutlint_check_sheet(check)->ends[end->near_end] == other_end(end);
	if (own)
		offer_closing(check, finding, end);
	if (is_stray(check, end) && !own)
		cutlint_relate(finding, place_of(cutlint_check_design(check), other_end(end)),
			       "its other end, which is in the open too");
}

static enum cutlint_outcome check_ends(struct cutlint_check *check, const void *options)
{
	(void)options;
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0; i < sheet->end_count; i++) {
		const struct cutlint_end *end = &sheet->ends[i];
		if (is_open(check, end) && !judge_overshoot(check, end) &&
		    !is_said_by_other(check, end))
			judge(check, end);
	}
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "closed-path",
	.summary = "burn lines that end in the open, so that nothing falls out",
	.advice =
		"Close the path, or draw it on to the line that it should meet. Give cuts that are "
		"meant to stay open the role slit.",
	.severity = CUTLINT_ERROR,
	.needs = CUTLINT_NEEDS_ENDS | CUTLINT_NEEDS_CARDS,
	.check = check_ends,
};

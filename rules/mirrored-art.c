/*
 * mirrored-art.c - art that the finished card would show the wrong way round: mirrored, turned or
 * on the wrong panel. docs/rules/mirrored-art.md derives what is expected for each side and spine.
 */
#include "cutlint/rule.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

struct options {
	double tolerance_mm;
	double turn_rad;
};

static const struct cutlint_option OPTIONS[] = {
	{"tolerance", CUTLINT_OPTION_LENGTH, offsetof(struct options, tolerance_mm), "0.1 mm",
	 0.001, 5, NULL, false, "the as-seen copy may differ from the art by this much"},
	{"turn", CUTLINT_OPTION_ANGLE, offsetof(struct options, turn_rad), "2 deg", 0,
	 3.14159265358979323846, NULL, false,
	 "art turned against its panel by more than this is an error"},
	{.name = NULL},
};

static const double PI = 3.14159265358979323846;

/* Lines that are compared as one picture. */
struct picture {
	uint32_t *outlines;
	uint32_t count;
};

/* One card at work. */
struct work {
	struct cutlint_check *check;
	const struct options *options;
	const struct cutlint_design *design;
	const struct cutlint_job *job;
	const struct cutlint_card *card;
	struct picture seen;     /* the as-seen copy, of the whole drawing */
	struct picture art;      /* all art on the card */
	struct picture panel[2]; /* of it, what lies on each panel */
	uint32_t compared;       /* pairs of single outlines so far */
	bool failed;             /* memory ran out */
};

/* After so many pairs of single outlines no further one is begun: some seconds. */
static const uint32_t MOST_COMPARED = 1000;

/* What a single outline shows: how it fits outlines of the as-seen copy, and its turn. */
enum { FITS_SAME = 1, FITS_MIRRORED = 2 };
struct vote {
	uint32_t outline;
	double length_mm, area_mm2, reach_mm; /* reach: of the farthest vertex from the middle */
	unsigned fits;
	double off_rad; /* the smallest turn that is left against its panel */
};

static bool is_back(const struct work *work)
{
	return work->job->side == CUTLINT_SIDE_BACK;
}

/* The angle in (-pi, pi]. */
static double wrap(double angle)
{
	return remainder(angle, 2 * PI);
}

/* From the fold into the closed card, as seen from the front; mirrored for a cut from the back. */
static double seen_direction(const struct work *work)
{
	switch (work->job->spine) {
	case CUTLINT_SPINE_TOP:
		return -PI / 2;
	case CUTLINT_SPINE_BOTTOM:
		return PI / 2;
	case CUTLINT_SPINE_RIGHT:
		return is_back(work) ? 0 : PI;
	default:
		return is_back(work) ? PI : 0;
	}
}

/* The turn that art on a panel has if that panel is the face; 0 where there is no panel. */
static double expected_turn(const struct work *work, int panel)
{
	if (panel < 0 || work->card->fold == CUTLINT_NONE)
		return 0;
	const struct cutlint_fold *fold =
		&cutlint_check_sheet(work->check)->folds[work->card->fold];
	double along = atan2(-(fold->to.y - fold->from.y), fold->to.x - fold->from.x);
	double into_panel = along + (panel == 0 ? PI / 2 : -PI / 2);
	return wrap(into_panel - seen_direction(work));
}

static int panel_of(const struct work *work, uint32_t outline)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(work->check);
	if (work->card->fold == CUTLINT_NONE)
		return -1;
	struct cutlint_xy middle = cutlint_box_middle(cutlint_outline_box(work->design, outline));
	return cutlint_card_panel(sheet, (uint32_t)(work->card - sheet->cards), middle);
}

static struct cutlint_finding *report_at(const struct work *work, enum cutlint_severity severity,
					 uint32_t outline, const char *message)
{
	return cutlint_report(work->check, severity, cutlint_place_outline(work->design, outline),
			      "%s", message);
}

static struct cutlint_box box_of(const struct work *work, const struct picture *picture)
{
	struct cutlint_box all = cutlint_box_empty();
	for (uint32_t i = 0; i < picture->count; i++)
		cutlint_box_join(&all, cutlint_outline_box(work->design, picture->outlines[i]));
	return all;
}

static void relate_seen(const struct work *work, struct cutlint_finding *finding)
{
	if (work->seen.count == 0)
		return;
	cutlint_relate(finding, cutlint_place_outline(work->design, work->seen.outlines[0]),
		       "the as-seen copy");
}

/* Behind what is said of the art itself. */
static void show_seen(const struct work *work, struct cutlint_finding *finding)
{
	if (work->seen.count > 0)
		cutlint_show_box(finding, box_of(work, &work->seen), "as seen");
}

/* Where the job says from which side it cuts; by default it is the front. */
static void relate_side(const struct work *work, struct cutlint_finding *finding)
{
	if (cutlint_check_job(work->check)->side_given)
		cutlint_relate(finding, cutlint_place_job(work->check, "burn", NULL, "cut-from"),
			       "the side that the job cuts from");
}

static void report_wrong_panel(const struct work *work, uint32_t outline)
{
	struct cutlint_finding *finding =
		report_at(work, CUTLINT_ERROR, outline,
			  is_back(work) ? "art lies on the panel that becomes the back of the card "
					  "(the job cuts from the back)"
					: "art lies on the panel that becomes the back of the card "
					  "(the job cuts from the front)");
	relate_side(work, finding);
	if (work->card->face >= 0)
		cutlint_show_box(finding, work->card->panels[work->card->face].box, "front");
	cutlint_suggest(finding, "move it to the other panel, or set the spine in the job");
}

/* Up, turned counter-clockwise as seen on the screen. */
static struct cutlint_xy up_turned(double turn)
{
	return (struct cutlint_xy){-sin(turn), -cos(turn)};
}

/* A line to mirror in: through a place, its upper end turned from straight up by so much. */
struct axis {
	struct cutlint_xy through;
	double turn;
};

/* The fold as an axis, turned up or down, whichever is nearer to a turn. */
static struct axis fold_axis(const struct work *work, double turn)
{
	const struct cutlint_fold *fold =
		&cutlint_check_sheet(work->check)->folds[work->card->fold];
	double along = atan2(fold->from.x - fold->to.x, fold->from.y - fold->to.y);
	return (struct axis){fold->from,
			     fabs(wrap(along - turn)) <= PI / 2 ? along : wrap(along + PI)};
}

/*
 * Where art that lies turned by `turn` is to be mirrored: on the face's panel in its own middle, so
 * that it keeps its place; on the other one in the fold, which brings it to the face. False where
 * it would not come out upright.
 */
static bool find_axis(const struct work *work, const struct picture *picture, int panel,
		      double turn, struct axis *out)
{
	int face = work->card->face;
	bool moves = panel >= 0 && face >= 0 && panel != face;
	*out = moves ? fold_axis(work, turn)
		     : (struct axis){cutlint_box_middle(box_of(work, picture)), turn};
	double comes_out = 2 * out->turn - turn;
	return fabs(wrap(comes_out - expected_turn(work, moves ? face : panel))) <=
	       work->options->turn_rad / 2;
}

static void show_axis(const struct work *work, struct cutlint_finding *finding,
		      const struct picture *picture, const struct axis *axis)
{
	struct cutlint_box box = box_of(work, picture);
	struct cutlint_xy up = up_turned(axis->turn), middle = cutlint_box_middle(box);
	/* A little over the art's reach along the axis, so that the ends are seen. */
	double half =
		0.52 * (fabs(up.x) * (box.right - box.left) + fabs(up.y) * (box.bottom - box.top));
	double along = (middle.x - axis->through.x) * up.x + (middle.y - axis->through.y) * up.y;
	const struct cutlint_xy line[] = {
		{axis->through.x + (along + half) * up.x, axis->through.y + (along + half) * up.y},
		{axis->through.x + (along - half) * up.x, axis->through.y + (along - half) * up.y}};
	cutlint_show_shape(finding, line, 2, "mirror it here");
}

/* As SVG's a b c d e f. */
static void mirror_in(const struct axis *axis, double out[6])
{
	struct cutlint_xy up = up_turned(axis->turn), at = axis->through;
	out[0] = 2 * up.x * up.x - 1;
	out[1] = out[2] = 2 * up.x * up.y;
	out[3] = 2 * up.y * up.y - 1;
	out[4] = at.x - out[0] * at.x - out[2] * at.y;
	out[5] = at.y - out[1] * at.x - out[3] * at.y;
}

static struct cutlint_finding *report_mirror(const struct work *work, uint32_t outline)
{
	struct cutlint_finding *finding =
		report_at(work, CUTLINT_ERROR, outline,
			  is_back(work) ? "art is not mirrored, although the job cuts from the back"
					: "art is mirrored, although the job cuts from the front");
	relate_seen(work, finding);
	relate_side(work, finding);
	cutlint_suggest(finding, is_back(work)
					 ? "mirror it and lay it on the panel that becomes the face"
					 : "mirror it back, or set cut-from = back in the job");
	return finding;
}

/* A picture that fits the as-seen copy as a whole, the wrong way round. */
static void report_mirror_of(const struct work *work, const struct picture *picture, int panel,
			     double turn)
{
	struct axis axis;
	struct cutlint_finding *finding = report_mirror(work, picture->outlines[0]);
	cutlint_show_box(finding, box_of(work, picture), "art");
	bool found = find_axis(work, picture, panel, turn, &axis);
	if (found)
		show_axis(work, finding, picture, &axis);
	show_seen(work, finding);
	if (!found)
		return;
	double matrix[6];
	mirror_in(&axis, matrix);
	cutlint_edit_move(finding, picture->outlines, picture->count, matrix);
}

/* Up as it is, and as it should be. */
static void show_turn(const struct work *work, struct cutlint_finding *finding, uint32_t outline,
		      double expected_rad, double off_rad)
{
	const struct picture picture = {&outline, 1};
	struct cutlint_box box = box_of(work, &picture);
	struct cutlint_xy middle = cutlint_box_middle(box), is = up_turned(expected_rad + off_rad);
	struct cutlint_xy should = up_turned(expected_rad);
	double arm = hypot(box.right - box.left, box.bottom - box.top) / 2;
	const struct cutlint_xy arms[] = {{middle.x + arm * is.x, middle.y + arm * is.y},
					  middle,
					  {middle.x + arm * should.x, middle.y + arm * should.y}};
	char label[32];
	int tenths = (int)lround(fabs(off_rad) * 1800 / PI);
	snprintf(label, sizeof label, "%d.%d\xc2\xb0", tenths / 10, tenths % 10);
	cutlint_show_shape(finding, arms, 3, label);
}

static void report_turn(const struct work *work, uint32_t outline, double expected_rad,
			double off_rad)
{
	struct cutlint_place place = cutlint_place_outline(work->design, outline);
	double degrees = fabs(off_rad) * 180 / PI;
	struct cutlint_finding *finding;
	if (PI - fabs(off_rad) <= work->options->turn_rad)
		finding = cutlint_report(work->check, CUTLINT_ERROR, place,
					 "art is upside down on its panel");
	else
		finding = cutlint_report(work->check, CUTLINT_ERROR, place,
					 "art is turned by %.1f degrees %s against its panel",
					 degrees, off_rad > 0 ? "counter-clockwise" : "clockwise");
	cutlint_limit(finding, "turn");
	cutlint_measured(finding, "turn", degrees, work->options->turn_rad * 180 / PI, "deg");
	show_turn(work, finding, outline, expected_rad, off_rad);
	show_seen(work, finding);
	relate_seen(work, finding);
	cutlint_suggest(finding, "turn it back, or turn the as-seen copy if that is wrong");
}

static void report_unknown(const struct work *work, const char *why, const char *how)
{
	struct cutlint_finding *finding = cutlint_report(
		work->check, CUTLINT_WARNING,
		cutlint_place_outline(work->design, work->art.outlines[0]),
		"cannot tell whether the art is mirrored for the cut from the back: %s", why);
	relate_seen(work, finding);
	show_seen(work, finding);
	cutlint_suggest(finding, "%s", how);
}

static const char *const ADD_COPY = "add a copy of the art the way the finished card will look, "
				    "with the role as-seen; it is not burned";

static bool is_same_turned(const struct work *work, const struct picture *picture, double turn)
{
	return cutlint_same_turned(work->design, picture->outlines, picture->count, turn,
				   work->options->tolerance_mm);
}

/*
 * Art that fits the as-seen copy as it should, after this turn: is it upright on the face? On the
 * other panel it is right if the whole card lies turned on the page, unless a face guide tells.
 */
static void check_placement(const struct work *work, const struct picture *picture, int panel,
			    double turn)
{
	int face = work->card->face;
	double limit = work->options->turn_rad;
	if (panel < 0)
		return;

	double off = wrap(turn - expected_turn(work, panel));
	bool upright = fabs(off) <= limit || is_same_turned(work, picture, off);
	bool other = face >= 0 && panel != face;
	if (other && (!upright || work->card->face_outline != CUTLINT_NONE)) {
		report_wrong_panel(work, picture->outlines[0]);
		off = wrap(turn - expected_turn(work, face));
		upright = upright || fabs(off) <= limit || is_same_turned(work, picture, off);
	}
	if (!upright)
		report_turn(work, picture->outlines[0], turn - off, off);
}

/* Whether the as-seen copy fits a picture as a whole; if so it is judged. */
static bool judge_whole(struct work *work, const struct picture *picture, int panel)
{
	struct cutlint_congruence fit;
	if (work->failed || picture->count == 0)
		return false;
	if (cutlint_congruence(work->design, work->seen.outlines, work->seen.count,
			       picture->outlines, picture->count, work->options->tolerance_mm,
			       &fit) < 0) {
		work->failed = true;
		return false;
	}
	bool same = isfinite(fit.same_mm), mirrored = isfinite(fit.mirror_mm);
	if (!same && !mirrored)
		return false;
	if (same && mirrored && is_back(work))
		report_unknown(
			work, "it is its own mirror image",
			"if it is meant to be the same on both sides, switch the rule off in "
			"the job; else draw what has a left and a right into art and copy");
	if (is_back(work) ? mirrored : same)
		check_placement(work, picture, panel,
				is_back(work) ? fit.mirror_turn_rad : fit.same_turn_rad);
	else
		report_mirror_of(work, picture, panel,
				 is_back(work) ? fit.same_turn_rad : fit.mirror_turn_rad);
	return true;
}

static struct vote vote_of(const struct work *work, uint32_t number)
{
	const struct cutlint_outline *outline = &work->design->outlines[number];
	struct cutlint_xy middle = cutlint_outlines_middle(work->design, &number, 1);
	double reach = 0;
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		struct cutlint_xy at =
			cutlint_point_mm(work->design->vertices[outline->first_vertex + i]);
		reach = fmax(reach, hypot(at.x - middle.x, at.y - middle.y));
	}
	return (struct vote){.outline = number,
			     .length_mm = cutlint_outline_length(work->design, number),
			     .area_mm2 = fabs(cutlint_outline_area(work->design, number)),
			     .reach_mm = reach,
			     .off_rad = PI};
}

/* Only lines of like length, area and reach can be congruent. */
static bool is_alike(const struct work *work, const struct vote *a, const struct vote *b)
{
	double tolerance_mm = work->options->tolerance_mm;
	return fabs(a->length_mm - b->length_mm) <= 0.002 * a->length_mm + 4 * tolerance_mm &&
	       fabs(a->area_mm2 - b->area_mm2) <= 2 * tolerance_mm * a->length_mm &&
	       fabs(a->reach_mm - b->reach_mm) <= 2 * tolerance_mm;
}

static void compare(struct work *work, const struct vote *seen, struct vote *art)
{
	struct cutlint_congruence fit;
	if (work->failed || !is_alike(work, seen, art))
		return;
	work->compared++;
	if (cutlint_congruence(work->design, &seen->outline, 1, &art->outline, 1,
			       work->options->tolerance_mm, &fit) < 0) {
		work->failed = true;
		return;
	}
	bool same = isfinite(fit.same_mm), mirrored = isfinite(fit.mirror_mm);
	art->fits |= (same ? FITS_SAME : 0u) | (mirrored ? FITS_MIRRORED : 0u);
	if (!(is_back(work) ? mirrored : same))
		return;
	double turn = is_back(work) ? fit.mirror_turn_rad : fit.same_turn_rad;
	double off = wrap(turn - expected_turn(work, panel_of(work, art->outline)));
	if (fabs(off) < fabs(art->off_rad))
		art->off_rad = off;
}

/* How many pieces of art are mirrored ([1]) and not ([0]), and the first of each. */
struct shares {
	uint32_t count[2], first[2];
};

static void report_mixed(const struct work *work, enum cutlint_severity severity,
			 const struct shares *shares, const char *noun)
{
	uint32_t total = shares->count[0] + shares->count[1];
	int smaller = shares->count[1] < shares->count[0];
	struct cutlint_finding *finding;
	if (shares->count[0] == shares->count[1])
		finding = cutlint_report(work->check, severity,
					 cutlint_place_outline(work->design, work->art.outlines[0]),
					 "half of the art is mirrored and half is not: %u of %u %s",
					 (unsigned)total / 2, (unsigned)total, noun);
	else
		finding =
			cutlint_report(work->check, severity,
				       cutlint_place_outline(work->design, shares->first[smaller]),
				       "%u of %u %s of the art %s %s, unlike the rest",
				       (unsigned)shares->count[smaller], (unsigned)total, noun,
				       shares->count[smaller] == 1 ? "is" : "are",
				       smaller ? "mirrored" : "not mirrored");
	relate_seen(work, finding);
	show_seen(work, finding);
	cutlint_suggest(finding, is_back(work) ? "mirror all of it, for the cut from the back"
					       : "mirror none of it, for the cut from the front");
}

/* Where single outlines fit as they should: are they upright, and on the face? */
static void check_votes_placed(const struct work *work, const struct vote *vote, bool upright)
{
	int panel = panel_of(work, vote->outline), face = work->card->face;
	if (panel < 0)
		return;
	if (face >= 0 && panel != face && (!upright || work->card->face_outline != CUTLINT_NONE))
		report_wrong_panel(work, vote->outline);
	else if (!upright)
		report_turn(work, vote->outline, expected_turn(work, panel), vote->off_rad);
}

/* Judges outlines that fit one way round only. False where there is none. */
static bool judge_votes(const struct work *work, const struct vote *votes)
{
	struct shares shares = {.first = {CUTLINT_NONE, CUTLINT_NONE}};
	const struct vote *first = NULL;
	bool upright = false;
	for (uint32_t i = 0; i < work->art.count; i++) {
		if (votes[i].fits != FITS_SAME && votes[i].fits != FITS_MIRRORED)
			continue;
		int mirrored = votes[i].fits == FITS_MIRRORED;
		shares.count[mirrored]++;
		if (votes[i].outline < shares.first[mirrored])
			shares.first[mirrored] = votes[i].outline;
		if (!first || votes[i].outline < first->outline)
			first = &votes[i];
		upright = upright || fabs(votes[i].off_rad) <= work->options->turn_rad;
	}
	if (!first)
		return false;
	if (shares.count[is_back(work)] == 0)
		show_seen(work, report_mirror(work, first->outline));
	else if (shares.count[!is_back(work)] > 0)
		report_mixed(work, CUTLINT_ERROR, &shares, "outlines");
	else
		check_votes_placed(work, first, upright);
	return true;
}

static int compare_lengths(const void *left, const void *right)
{
	const struct vote *a = left, *b = right;
	if (a->length_mm != b->length_mm)
		return a->length_mm > b->length_mm ? -1 : 1;
	return a->outline < b->outline ? -1 : a->outline > b->outline;
}

/* Compares outline by outline; of very many, the longest, which tell the most. */
static bool judge_single(struct work *work)
{
	size_t count = (size_t)work->art.count + work->seen.count;
	struct vote *votes = calloc(count, sizeof *votes);
	if (!votes) {
		work->failed = true;
		return false;
	}
	struct vote *seen = votes + work->art.count;
	for (uint32_t i = 0; i < work->seen.count; i++)
		seen[i] = vote_of(work, work->seen.outlines[i]);
	for (uint32_t i = 0; i < work->art.count; i++)
		votes[i] = vote_of(work, work->art.outlines[i]);
	qsort(votes, work->art.count, sizeof *votes, compare_lengths);
	for (uint32_t i = 0; i < work->art.count && work->compared < MOST_COMPARED; i++)
		for (uint32_t k = 0; k < work->seen.count; k++)
			compare(work, &seen[k], &votes[i]);
	bool judged = !work->failed && judge_votes(work, votes);
	free(votes);
	return judged;
}

/* Whether a shape was flipped twice, which is a half-turn. */
static bool is_flipped_twice(const struct cutlint_shape *shape)
{
	unsigned flips = cutlint_shape_flips(shape);
	return flips >= 2 && flips % 2 == 0;
}

static double determinant(const struct cutlint_shape *shape)
{
	return shape->matrix[0] * shape->matrix[3] - shape->matrix[1] * shape->matrix[2];
}

static void report_two_flips(const struct work *work, uint32_t outline)
{
	struct cutlint_finding *finding = report_at(
		work, CUTLINT_WARNING, outline,
		"two flips make a half-turn, not a mirror image: the art does not come out "
		"mirrored for the cut from the back");
	cutlint_suggest(finding, "take one of the two flips away, or %s", ADD_COPY);
}

/* Without an as-seen copy: transforms that mirror are the evidence. */
static void judge_transforms(const struct work *work)
{
	struct shares shares = {0};
	uint32_t twice = CUTLINT_NONE, previous = CUTLINT_NONE;
	for (uint32_t i = 0; i < work->art.count; i++) {
		uint32_t outline = work->art.outlines[i];
		const struct cutlint_shape *shape = cutlint_outline_shape(work->design, outline);
		if (work->design->outlines[outline].shape == previous)
			continue;
		previous = work->design->outlines[outline].shape;
		int mirrored = determinant(shape) < 0;
		if (shares.count[mirrored]++ == 0)
			shares.first[mirrored] = outline;
		if (twice == CUTLINT_NONE && !mirrored && is_flipped_twice(shape))
			twice = outline;
	}
	if (shares.count[0] == 0)
		return;
	if (twice != CUTLINT_NONE && shares.count[1] == 0)
		report_two_flips(work, twice);
	else if (shares.count[1] == 0)
		report_unknown(work, "no as-seen copy, and no transform that mirrors it", ADD_COPY);
	else if (shares.count[0] == shares.count[1])
		report_unknown(work, "no as-seen copy, and transforms mirror one half of it",
			       ADD_COPY);
	else
		report_mixed(work, CUTLINT_WARNING, &shares, "shapes");
}

/* Without an as-seen copy: the face must not be the panel without art. */
static void check_panel(const struct work *work)
{
	int face = work->card->face;
	if (face >= 0 && work->panel[face].count == 0 && work->panel[1 - face].count > 0)
		report_wrong_panel(work, work->panel[1 - face].outlines[0]);
}

static void check_card(struct work *work)
{
	int first = work->card->face == 1, second = 1 - first;
	if (work->art.count == 0)
		return;
	if (work->seen.count > 0 && (judge_whole(work, &work->panel[first], first) ||
				     judge_whole(work, &work->panel[second], second) ||
				     judge_whole(work, &work->art, -1) || judge_single(work)))
		return;
	if (work->failed)
		return;
	check_panel(work);
	if (!is_back(work))
		return;
	if (work->seen.count > 0)
		report_unknown(work, "no shape of the as-seen copy fits one way round only",
			       "draw the as-seen copy from the same shapes as the art");
	else
		judge_transforms(work);
}

/* Fills the lists, which have room for all outlines. */
static void collect(struct work *work)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(work->check);
	uint32_t card = (uint32_t)(work->card - sheet->cards);
	for (uint32_t i = 0; i < work->design->outline_count; i++) {
		enum cutlint_role role = cutlint_outline_role(work->design, i);
		if (role == CUTLINT_ROLE_AS_SEEN)
			work->seen.outlines[work->seen.count++] = i;
		if (role != CUTLINT_ROLE_ART ||
		    cutlint_sheet_card_of(work->design, sheet, i) != card)
			continue;
		work->art.outlines[work->art.count++] = i;
		int panel = panel_of(work, i);
		if (panel >= 0)
			work->panel[panel].outlines[work->panel[panel].count++] = i;
	}
}

static enum cutlint_outcome check_mirror(struct cutlint_check *check, const void *options)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	size_t room = design->outline_count;
	uint32_t *lists = calloc(4 * room + 1, sizeof *lists);
	bool failed = !lists;
	for (uint32_t i = 0; !failed && i < sheet->card_count; i++) {
		struct work work = {.check = check,
				    .options = options,
				    .design = design,
				    .job = cutlint_check_job(check),
				    .card = &sheet->cards[i],
				    .seen = {lists, 0},
				    .art = {lists + room, 0},
				    .panel = {{lists + 2 * room, 0}, {lists + 3 * room, 0}}};
		collect(&work);
		check_card(&work);
		failed = work.failed;
	}
	free(lists);
	return failed ? cutlint_could_not_look(check, "out of memory") : CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "mirrored-art",
	.summary = "art that the finished card would show mirrored, turned or on the wrong panel",
	.advice = "For a cut from the back the art must be mirrored and lie on the panel that "
		  "becomes the face. An as-seen copy beside the card lets this be checked.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS,
	.check = check_mirror,
};

#include "proof/marks.h"

#include <math.h>
#include <stdlib.h>

#include "proof/dimension.h"
#include "proof/figure.h"
#include "proof/flags.h"

/* Dark enough for white figures on them: 7 : 1 and more. */
static const char *const PAINTS[] = {
	[CUTLINT_NOTE] = "#35506b", [CUTLINT_WARNING] = "#6b4a00", [CUTLINT_ERROR] = "#8c1d23"};

/* How large text is on a small screen when a mark is looked at, as a share of what is seen. */
static const double SEEN = 0.14;

bool marks_has_place(const struct finding *finding)
{
	return finding->place.on_sheet || finding->figure_count > 0;
}

static struct cutlint_box box_of(const struct finding_figure *figure)
{
	double r = figure->diameter_mm / 2;
	return (struct cutlint_box){
		fmin(figure->from.x, figure->to.x) - r, fmin(figure->from.y, figure->to.y) - r,
		fmax(figure->from.x, figure->to.x) + r, fmax(figure->from.y, figure->to.y) + r};
}

static bool is_measure(const struct finding_figure *figure)
{
	return figure->kind != FIGURE_SHAPE;
}

static double size_of(struct cutlint_box box)
{
	return fmax(box_width(box), box_height(box));
}

/*
 * What is to be seen closely: what is measured first, with the other measures that are not much
 * larger or farther off; without measures the first shape in the same way, and all spots. How much
 * is a choice.
 */
static struct cutlint_box figures_box(const struct finding *finding)
{
	struct cutlint_box box = cutlint_box_empty();
	bool measured = false, spots = true;
	for (uint32_t i = 0; i < finding->figure_count && !measured; i++) {
		const struct finding_figure *figure = &finding->figures[i];
		measured = is_measure(figure);
		spots = spots && !measured && figure->point_count == 1;
		if (measured || i == 0)
			box = box_of(figure);
	}
	double most = spots ? INFINITY : fmax((measured ? 6 : 3) * size_of(box), 12);
	for (uint32_t i = 0; i < finding->figure_count; i++) {
		struct cutlint_box all = box;
		cutlint_box_join(&all, box_of(&finding->figures[i]));
		if (is_measure(&finding->figures[i]) == measured && size_of(all) <= most)
			box = all;
	}
	return box;
}

static double distance_from(struct cutlint_box box, struct cutlint_xy at)
{
	return hypot(fmax(0, fmax(box.left - at.x, at.x - box.right)),
		     fmax(0, fmax(box.top - at.y, at.y - box.bottom)));
}

/* Whether its place in the file lies where its figures are, and not somewhere else on the line. */
static bool is_place_near(const struct finding *finding)
{
	struct cutlint_box box = figures_box(finding);
	return finding->place.on_sheet &&
	       (finding->figure_count == 0 ||
		distance_from(box, finding->place.at) <= fmax(5, size_of(box)));
}

/* Where it is marked: its place, else the middle of its first figure. */
static struct cutlint_xy place_of(const struct finding *finding)
{
	if (is_place_near(finding))
		return finding->place.at;
	return cutlint_box_middle(box_of(&finding->figures[0]));
}

struct cutlint_box marks_extent(const struct finding *finding)
{
	struct cutlint_xy at = place_of(finding);
	struct cutlint_box box = {at.x, at.y, at.x, at.y};
	if (finding->figure_count)
		cutlint_box_join(&box, figures_box(finding));
	return box;
}

/* Errors are discs, warnings white with a rim, notes white with a dotted rim. */
static void write_flag(struct writer *writer, const struct finding *finding, uint32_t number,
		       struct cutlint_xy at, double unit)
{
	const char *paint = PAINTS[finding->severity];
	bool full = finding->severity == CUTLINT_ERROR;
	writer_open_class(writer, "g", "flag");
	figure_line(writer, (struct cutlint_xy){0, 0}, at, paint, unit * 0.12);
	figure_circle(writer, "spot", (struct cutlint_xy){0, 0}, unit * 0.3, "none", paint,
		      unit * 0.12);
	writer_open(writer, "g");
	if (finding->severity == CUTLINT_NOTE)
		writer_format(writer, "stroke-dasharray", "%.3g %.3g", unit * 0.3, unit * 0.2);
	figure_circle(writer, "disc", at, unit, full ? paint : "#ffffff", paint, unit * 0.2);
	writer_close_empty(writer);
	figure_open_text(writer, (struct cutlint_xy){at.x, at.y + unit * 0.4},
			 number > 999  ? unit * 0.7
			 : number > 99 ? unit * 0.85
				       : unit * 1.15,
			 "middle", full ? "#ffffff" : paint);
	writer_attribute(writer, "font-weight", "bold");
	writer_text_format(writer, "%u", (unsigned)number);
	writer_close(writer);
	writer_close_empty(writer);
}

static void write_mark(const struct scene *scene, struct writer *writer, uint32_t number,
		       struct cutlint_xy flag)
{
	const struct finding *finding = &scene->proof->findings->items[number];
	struct cutlint_xy at = place_of(finding);
	struct cutlint_box extent = marks_extent(finding);
	writer_open(writer, "a");
	writer_format(writer, "id", "mark-%u", (unsigned)number + 1);
	writer_format(writer, "class", "mark %s", severity_word(finding->severity));
	writer_format(writer, "xlink:href", "#finding-%u", (unsigned)number + 1);
	writer_format(writer, "aria-label", "%s %u: %s", severity_word(finding->severity),
		      (unsigned)number + 1, finding->message);
	writer_format(writer, "data-extent", "%.4f %.4f %.4f %.4f", extent.left, extent.top,
		      extent.right, extent.bottom);
	writer_open_class(writer, "g", "figures");
	dimension_draw(scene, writer, finding, scene->unit_mm * 1.3, size_of(extent) * SEEN);
	writer_close_empty(writer);
	writer_open(writer, "g");
	writer_format(writer, "transform", "translate(%.4f %.4f)", at.x, at.y);
	write_flag(writer, finding, number + 1, (struct cutlint_xy){flag.x - at.x, flag.y - at.y},
		   scene->unit_mm);
	writer_close_empty(writer);
	writer_close_empty(writer);
}

void marks_draw(const struct scene *scene, struct writer *writer)
{
	const struct findings *findings = scene->proof->findings;
	size_t room = (size_t)findings->count + 1;
	struct cutlint_xy *places = calloc(2 * room, sizeof(*places));
	uint32_t *numbers = calloc(room, sizeof(*numbers)), count = 0;
	if (!places || !numbers)
		writer->failed = true;
	for (uint32_t i = 0; i < findings->count && !writer->failed; i++) {
		if (findings->items[i].silence || !marks_has_place(&findings->items[i]))
			continue;
		places[count] = place_of(&findings->items[i]);
		numbers[count++] = i;
	}
	if (!writer->failed)
		flags_place(places, count, scene->unit_mm, scene->box, places + room);
	for (uint32_t i = 0; i < count && !writer->failed; i++)
		write_mark(scene, writer, numbers[i], places[room + i]);
	free(places);
	free(numbers);
}

#include "proof/list.h"

#include <math.h>
#include <string.h>

#include "proof/detail.h"
#include "proof/marks.h"

struct list_tally list_count(const struct findings *findings)
{
	struct list_tally tally = {.silenced = 0};
	for (uint32_t i = 0; i < findings->count; i++) {
		if (findings->items[i].silence)
			tally.silenced++;
		else
			tally.by_severity[findings->items[i].severity]++;
	}
	return tally;
}

/* Of the drawing's own places the folder would only be repeated. */
static const char *file_of(const struct scene *scene, const struct finding_place *place)
{
	const char *own = scene->proof->design->file, *slash = strrchr(own, '/');
	if (!place->file || strcmp(place->file, own) != 0 || !slash || !slash[1])
		return place->file;
	return slash + 1;
}

static void write_place(const struct scene *scene, struct writer *writer,
			const struct finding_place *place)
{
	if (place->line)
		writer_leaf_format(writer, "code", NULL, "%s:%u:%u", file_of(scene, place),
				   place->line, place->column);
	else
		writer_leaf(writer, "code", NULL, file_of(scene, place));
	if (place->element)
		writer_text_format(writer, " %s", place->element);
}

/* To a thousandth: what is finer comes from the sums. */
static void add_measure(struct text *text, double value, const char *unit)
{
	text_add_figure(text, round(value * 1e3) / 1e3);
	text_format(text, *unit ? " %s" : "%s", unit);
}

static void write_heading(struct writer *writer, const struct finding *finding, uint32_t number)
{
	writer_open(writer, "h4");
	writer_leaf_format(writer, "span", "number", "%u", (unsigned)number + 1);
	writer_text(writer, " ");
	writer_leaf(writer, "span", "severity", severity_word(finding->severity));
	writer_text(writer, " ");
	if (!marks_has_place(finding)) {
		writer_leaf(writer, "span", "go", finding->message);
	} else {
		writer_open_class(writer, "a", "go");
		writer_format(writer, "href", "#mark-%u", (unsigned)number + 1);
		writer_text(writer, finding->message);
		writer_close(writer);
	}
	writer_close(writer);
}

static void write_measures(struct writer *writer, const struct finding *finding)
{
	if (!finding->measure_count)
		return;
	writer_open_class(writer, "dl", "measures");
	for (uint32_t i = 0; i < finding->measure_count; i++) {
		const struct finding_measure *measure = &finding->measures[i];
		writer_open(writer, "div");
		struct text text = {0};
		if (isfinite(measure->value))
			add_measure(&text, measure->value, measure->unit);
		if (isfinite(measure->limit)) {
			text_add_string(&text, text.length ? ", limit " : "limit ");
			add_measure(&text, measure->limit, measure->unit);
		}
		writer->failed = writer->failed || text.failed;
		writer_leaf(writer, "dt", NULL, measure->what);
		writer_leaf(writer, "dd", NULL, text.bytes);
		text_finish(&text);
		writer_close(writer);
	}
	writer_close(writer);
}

static void write_related(const struct scene *scene, struct writer *writer,
			  const struct finding *finding)
{
	if (!finding->related_count)
		return;
	writer_open_class(writer, "ul", "related");
	for (uint32_t i = 0; i < finding->related_count; i++) {
		const struct finding_place *place = &finding->related[i];
		writer_open(writer, "li");
		writer_text_format(writer, "%s: ", place->text ? place->text : "see also");
		write_place(scene, writer, place);
		writer_close(writer);
	}
	writer_close(writer);
}

static void write_detail(const struct scene *scene, struct writer *writer,
			 const struct finding *finding, uint32_t number)
{
	if (!detail_wanted(scene, finding, number))
		return;
	writer_open(writer, "figure");
	detail_write(scene, writer, finding, number);
	double scale = detail_scale(finding);
	writer_leaf_format(writer, "figcaption", NULL, "%g : %g, as the beam sees it and as drawn",
			   fmax(scale, 1), fmax(1 / scale, 1));
	writer_close(writer);
}

static void write_finding(const struct scene *scene, struct writer *writer, uint32_t number)
{
	const struct finding *finding = &scene->proof->findings->items[number];
	writer_open(writer, "li");
	writer_format(writer, "id", "finding-%u", (unsigned)number + 1);
	writer_format(writer, "class", "finding %s", severity_word(finding->severity));
	writer_attribute(writer, "tabindex", "-1");
	write_heading(writer, finding, number);
	writer_open_class(writer, "p", "place");
	write_place(scene, writer, &finding->place);
	writer_text_format(writer, " [%s]", finding->rule);
	if (!marks_has_place(finding))
		writer_text(writer, ", no place on the sheet");
	writer_close(writer);
	if (finding->suggestion)
		writer_leaf_format(writer, "p", "suggestion", "What to do: %s.",
				   finding->suggestion);
	write_measures(writer, finding);
	write_related(scene, writer, finding);
	write_detail(scene, writer, finding, number);
	writer_close(writer);
}

static void write_silenced(const struct scene *scene, struct writer *writer)
{
	const struct findings *findings = scene->proof->findings;
	writer_leaf(writer, "h4", "silenced", "Silenced");
	writer_open_class(writer, "ul", "related");
	for (uint32_t i = 0; i < findings->count; i++) {
		const struct finding *finding = &findings->items[i];
		if (!finding->silence)
			continue;
		writer_open(writer, "li");
		writer_text_format(writer, "%s: %s ", severity_word(finding->severity),
				   finding->message);
		write_place(scene, writer, &finding->place);
		writer_text_format(writer, " [%s]. Reason given: %s", finding->rule,
				   finding->silence->reason);
		writer_close(writer);
	}
	writer_close(writer);
}

void list_write(const struct scene *scene, struct writer *writer)
{
	const struct findings *findings = scene->proof->findings;
	struct list_tally tally = list_count(findings);
	if (findings->count == tally.silenced)
		writer_leaf(writer, "p", "none", "No findings. Have a look all the same.");
	writer_open(writer, "ol");
	writer_attribute(writer, "class", "findings");
	writer_attribute(writer, "role", "list");
	for (uint32_t i = 0; i < findings->count; i++) {
		if (!findings->items[i].silence)
			write_finding(scene, writer, i);
	}
	writer_close(writer);
	if (tally.silenced)
		write_silenced(scene, writer);
}

#include "job/starter.h"

#include <stdio.h>
#include <string.h>

#include "job/envelope.h"
#include "job/job.h"
#include "job/nearest.h"
#include "job/paper.h"
#include "job/word.h"

#define FORMATS_MOST 64

/*
 * Energy to a millimetre of cut: 0.08 to 0.09 J/mm for plain card of 250 to 400 g/m², 0.10 to 0.23
 * for other set-ups; articles and a course's slides, three points that agree, no standard. A fold
 * takes half of it.
 */
#define CUT_J_MM  0.09
#define CUT_POWER 0.8

static size_t list_names(const char *names[FORMATS_MOST])
{
	struct cutlint_paper paper;
	size_t count = 0;
	for (; count < FORMATS_MOST && cutlint_paper(count, &paper); count++)
		names[count] = paper.name;
	return count;
}

/* The name in full of one that stands without its system. */
static const char *full_name(const char *text)
{
	const char *names[FORMATS_MOST];
	size_t count = list_names(names);
	for (size_t i = 0; i < count; i++) {
		const char *space = strchr(names[i], ' ');
		if (strcmp(names[i], text) == 0 || (space && strcmp(space + 1, text) == 0))
			return names[i];
	}
	return text;
}

/* paper_parse names one near name; whoever asks for a format by name is shown some. */
static void refuse_unknown(const char *text, struct value_error *error)
{
	const char *names[FORMATS_MOST];
	size_t count = list_names(names);
	char near[72];
	nearest_list(near, sizeof(near), text, names, count);
	snprintf(error->text, sizeof(error->text),
		 "unknown format '%s'; near names are %s; or write '105 mm x 148 mm'",
		 word_shown(text, strlen(text)).text, near);
}

int starter_set_format(struct starter *starter, const char *text, struct value_error *error)
{
	struct paper_size size;
	if (paper_parse(text, &size, error) < 0) {
		if (strncmp(error->text, "unknown", strlen("unknown")) == 0)
			refuse_unknown(text, error);
		return -1;
	}
	if (size.width_mm < 5 || size.height_mm < 5 || size.width_mm > 2000 ||
	    size.height_mm > 2000) {
		snprintf(error->text, sizeof(error->text),
			 "format '%s' is out of range; both sides lie from 5 mm to 2000 mm",
			 word_shown(text, strlen(text)).text);
		return -1;
	}
	starter->format = paper_is_lengths(text) ? text : full_name(text);
	starter->width_mm = size.width_mm;
	starter->height_mm = size.height_mm;
	starter->envelope = envelope_for(starter->format);
	return 0;
}

static bool opens_sideways(enum cutlint_spine spine)
{
	return spine == CUTLINT_SPINE_LEFT || spine == CUTLINT_SPINE_RIGHT;
}

void starter_flat(const struct starter *starter, double *width_mm, double *height_mm)
{
	bool sideways = opens_sideways(starter->spine);
	*width_mm = starter->width_mm * (sideways ? 2 : 1);
	*height_mm = starter->height_mm * (sideways ? 1 : 2);
}

static void add_stock(struct text *out, const struct starter *starter)
{
	const struct stock *stock = &starter->stock;
	double caliper_mm = stock_caliper_mm(stock->grammage, stock->coated);
	const char *finish = stock->coated ? "coated" : "uncoated";
	text_format(out,
		    "[stock]\n"
		    "name = %s\n"
		    "grammage = %.0f g/m2\n"
		    "finish = %s\n"
		    "# Caliper of %s card: grammage x %.2f / 1000. Measured with calipers it is "
		    "better.\n"
		    "thickness = %.2f mm\n",
		    stock->name, stock->grammage, finish, finish,
		    stock_caliper_mm(1000, stock->coated), caliper_mm);
	text_format(
		out,
		"# The sheet as it lies, and which way its fibres run on the drawing: upright or "
		"level.\n"
		"# A fold along the grain is smoother.\n"
		"#sheet = ISO A4\n"
		"#grain = %s\n"
		"# For pictures of the result.\n"
		"#colour = #fffdf5\n"
		"#inset-colour = #b03a2e\n\n",
		opens_sideways(starter->spine) ? "upright" : "level");
}

static void add_burn(struct text *out, const struct starter *starter)
{
	char kerf[48], power[48];
	value_format(starter->kerf_mm, VALUE_LENGTH, kerf);
	value_format(starter->power_w > 0 ? starter->power_w : 10, VALUE_POWER, power);
	text_format(
		out,
		"[burn]\n"
		"# The width that the beam removes. Measure your own: cutlint help kerf.\n"
		"kerf = %s\n"
		"# Which side of the open card faces the beam: front (its outside) or back. The "
		"char lies\n"
		"# on that side; from the back the art is mirrored.\n"
		"cut-from = %s\n"
		"# What 100 %% of a recipe's power is.\n"
		"%smachine-power = %s\n\n",
		kerf, job_side_words[starter->side], starter->power_w > 0 ? "" : "#", power);
}

static void add_measures(struct text *out, const struct starter *starter)
{
	double width_mm, height_mm;
	bool sideways = opens_sideways(starter->spine);
	starter_flat(starter, &width_mm, &height_mm);
	text_format(
		out,
		"# Folded %.2f mm x %.2f mm. Open %.2f mm x %.2f mm, with the fold %.2f mm from "
		"the\n"
		"# %s edge: draw the outline in this size.\n",
		starter->width_mm, starter->height_mm, width_mm, height_mm,
		sideways ? starter->width_mm : starter->height_mm, sideways ? "left" : "top");
}

/* A quarter of an inch, 6 mm, of room each way: stationers' pages, common practice, no standard. */
static void add_envelope(struct text *out, const struct starter *starter)
{
	struct paper_size envelope;
	struct value_error error;
	if (!starter->envelope || envelope_parse(starter->envelope, &envelope, &error) < 0) {
		text_format(
			out,
			"# No envelope is made for this format; 6 mm of room each way is usual.\n"
			"#envelope = %.0f mm x %.0f mm\n",
			starter->width_mm + 6, starter->height_mm + 6);
		return;
	}
	double narrow =
		starter->width_mm < starter->height_mm ? starter->width_mm : starter->height_mm;
	double wide = starter->width_mm + starter->height_mm - narrow;
	text_format(out,
		    "# It measures %.2f mm x %.2f mm inside and leaves %.2f mm and %.2f mm.\n"
		    "envelope = %s\n",
		    envelope.width_mm, envelope.height_mm, envelope.width_mm - narrow,
		    envelope.height_mm - wide, starter->envelope);
}

static void add_card(struct text *out, const struct starter *starter)
{
	text_format(out, "[card]\n");
	add_measures(out, starter);
	text_format(
		out,
		"size = %s\n"
		"# Where the fold lies on the closed card, seen from the front: left, right, top "
		"or bottom.\n"
		"spine = %s\n",
		starter->format, job_spine_words[starter->spine]);
	add_envelope(out, starter);
	text_add_string(out, "# How many cards the sheet holds.\n#count = 1\n\n");
}

static void add_machine(struct text *out)
{
	text_add_string(out, "[machine]\n"
			     "# From the machine's manual: what the beam reaches, and the speeds "
			     "and powers that "
			     "it keeps.\n"
			     "#bed = 400 mm x 300 mm\n"
			     "#slowest = 1 mm/s\n"
			     "#fastest = 200 mm/s\n"
			     "#least-power = 5 %\n"
			     "# Whether lines are burned in the order of the drawing, or in one of "
			     "the machine's "
			     "own.\n"
			     "#order = own\n\n");
}

static void add_roles(struct text *out)
{
	text_add_string(
		out,
		"[drawing]\n"
		"# What a user unit is, for drawings that state no physical size.\n"
		"#unit = 1 mm\n"
		"flatness = 0.005 mm\n"
		"join = 0.05 mm\n"
		"scan = 3 mm\n\n"
		"[roles]\n"
		"# Names in the drawing say what a line is for: outline, fold, slit, inset, blank, "
		"face,\n"
		"# as-seen, guide, skip; all else is art. Patterns (PCRE2) of your own come "
		"first:\n"
		"default-words = yes\n"
		"#art = (^|/)petals(/|$)\n"
		"#fold stroke = #808080\n\n");
}

static void add_recipe(struct text *out, const struct starter *starter, const char *role,
		       double share, double energy_j_mm)
{
	double watts = starter->power_w > 0 ? starter->power_w : 10;
	const char *mark = starter->power_w > 0 ? "" : "#";
	text_format(out,
		    "%s[recipe %s]\n"
		    "%sspeed = %.0f mm/min\n"
		    "%spower = %.0f %%\n"
		    "%spasses = 1\n",
		    mark, role, mark, 60 * watts * share / energy_j_mm, mark, 100 * share, mark);
}

static void add_recipes(struct text *out, const struct starter *starter)
{
	text_format(out,
		    "# Recipes to try on scrap first, not to trust: %.2f J/mm through the card%s.\n"
		    "# Stay beside every burn, with the fumes drawn off: docs/cautions.md.\n",
		    CUT_J_MM, starter->power_w > 0 ? "" : ", at 10 W");
	add_recipe(out, starter, "art", CUT_POWER, CUT_J_MM);
	add_recipe(out, starter, "outline", CUT_POWER, CUT_J_MM);
	add_recipe(out, starter, "slit", CUT_POWER, CUT_J_MM);
	add_recipe(out, starter, "inset", CUT_POWER, CUT_J_MM);
	text_add_string(out, "# A fold takes at most half of what cuts through.\n");
	add_recipe(out, starter, "fold", CUT_POWER / 2, CUT_J_MM / 2);
}

static void add_lettering(struct text *out)
{
	text_add_string(out, "\n# Names that differ from card to card, and the box that each has.\n"
			     "#[lettering]\n"
			     "#elements = (^|/)name(/|$)\n"
			     "#box = 60 mm x 12 mm\n");
}

void starter_write(struct text *out, const struct starter *starter)
{
	text_format(out,
		    "# A folded card of %s from %s.\n"
		    "# Lines such as '#key = value' are left out: take the '#' away to use them. "
		    "docs/job-file.md\n"
		    "# explains every key.\n\n",
		    starter->format, starter->stock.name);
	add_stock(out, starter);
	add_burn(out, starter);
	add_card(out, starter);
	add_machine(out);
	add_roles(out);
	add_recipes(out, starter);
	add_lettering(out);
}

static void list_format(struct text *out, const char *name)
{
	struct starter starter = {.spine = CUTLINT_SPINE_LEFT};
	struct value_error error;
	double width_mm, height_mm;
	if (starter_set_format(&starter, name, &error) < 0)
		return;
	starter_flat(&starter, &width_mm, &height_mm);
	text_format(out, "%-9s %7.2f x %7.2f   %7.2f x %7.2f   %7.2f x %7.2f   %s\n", name,
		    starter.width_mm, starter.height_mm, width_mm, height_mm, starter.width_mm,
		    2 * starter.height_mm, starter.envelope ? starter.envelope : "-");
}

void starter_list_formats(struct text *out)
{
	const char *names[FORMATS_MOST];
	size_t count = list_names(names);
	text_add_string(out,
			"format    folded, mm          open, spine left    open, spine top     "
			"envelope\n");
	for (size_t i = 0; i < count; i++)
		list_format(out, names[i]);
}

void starter_list_stocks(struct text *out)
{
	struct stock stock;
	text_add_string(out, "stock             g/m2   caliper, mm\n");
	for (size_t i = 0; stock_listed(i, &stock); i++)
		text_format(out, "%-16s  %4.0f   %.2f\n", stock.name, stock.grammage,
			    stock_caliper_mm(stock.grammage, stock.coated));
}

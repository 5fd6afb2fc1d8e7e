/*
 * rule.h - all that a rule module includes.
 *
 * A module is a shared object that exports one constant data symbol, `cutlint_rule`. No code of a
 * module runs when it is loaded. The host reads `abi` and `size` before any other field, parses and
 * checks the options, computes the geometry that `needs` names, and calls `check` once a design.
 * Whatever a rule reports is copied; a rule frees nothing of the host's, and prints nothing.
 *
 * Build one with: cc -shared -fPIC -I include -o my-rule.so my-rule.c
 */
#ifndef CUTLINT_RULE_H
#define CUTLINT_RULE_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "cutlint/export.h"
#include "cutlint/job.h"
#include "cutlint/model.h"
#include "cutlint/sheet.h"

/*
 * Raised whenever a struct of this folder changes. The host takes this number only, until a second
 * version gives a reason to take a range.
 */
#define CUTLINT_RULE_ABI 7u

enum cutlint_severity { CUTLINT_NOTE, CUTLINT_WARNING, CUTLINT_ERROR };

enum cutlint_option_kind {
	CUTLINT_OPTION_LENGTH, /* double, mm; written "0.15 mm", "0.006 in" */
	CUTLINT_OPTION_AREA,   /* double, mm²; written "1 mm2" */
	CUTLINT_OPTION_ANGLE,  /* double, radians; written "2 deg" */
	CUTLINT_OPTION_SHARE,  /* double, 0.2 for "20 %" */
	CUTLINT_OPTION_NUMBER, /* double without unit */
	CUTLINT_OPTION_FLAG,   /* bool; written "yes" or "no" */
	CUTLINT_OPTION_WORD    /* unsigned, the place in `words` */
};

/* One setting of a rule, as data. `fallback` is read by the parser that reads the job file. */
struct cutlint_option {
	const char *name;
	enum cutlint_option_kind kind;
	size_t offset;            /* into the rule's options struct */
	const char *fallback;     /* the default, as written in a job file: "0.35 mm" */
	double least, most;       /* inclusive, in the kind's unit (mm, mm², rad, share) */
	const char *const *words; /* for WORD: ends with NULL */
	bool neck_limit;          /* necks are looked for at least up to this length */
	const char *meaning;      /* one sentence, without full stop */
};

/* The geometry that a rule reads from the sheet. */
enum cutlint_need {
	CUTLINT_NEEDS_CARDS = 1u << 0, /* cards, folds, panels */
	CUTLINT_NEEDS_NECKS = 1u << 1, /* parts and necks */
	CUTLINT_NEEDS_HOLES = 1u << 2,
	CUTLINT_NEEDS_ENDS = 1u << 3,
	CUTLINT_NEEDS_OVERLAPS = 1u << 4,  /* overlaps and traced pairs */
	CUTLINT_NEEDS_CROSSINGS = 1u << 5, /* their loose parts only with NECKS */
	CUTLINT_NEEDS_TIPS = 1u << 6       /* only with NECKS */
};

enum cutlint_outcome { CUTLINT_LOOKED, CUTLINT_COULD_NOT_LOOK };

struct cutlint_check;   /* one rule at work on one design */
struct cutlint_finding; /* one thing it has to say; owned by the host */

struct cutlint_rule {
	uint32_t abi;                   /* CUTLINT_RULE_ABI */
	uint32_t size;                  /* sizeof(struct cutlint_rule) */
	const char *name;               /* the file's name without ".so" */
	const char *summary;            /* what it finds, one sentence without full stop */
	const char *advice;             /* what to do about it, one or two sentences */
	enum cutlint_severity severity; /* the gravest that it reports without the job's word */
	const struct cutlint_option *options; /* ends with a name of NULL; NULL without any */
	size_t options_size;
	uint32_t needs; /* of enum cutlint_need */
	/* Called once a design. `options` points to a filled struct of options_size bytes. */
	enum cutlint_outcome (*check)(struct cutlint_check *check, const void *options);
};

/* The symbol that a module exports. */
#define CUTLINT_RULE_SYMBOL "cutlint_rule"
extern CUTLINT_EXPORT const struct cutlint_rule cutlint_rule;

CUTLINT_EXPORT const struct cutlint_design *cutlint_check_design(const struct cutlint_check *check);
CUTLINT_EXPORT const struct cutlint_job *cutlint_check_job(const struct cutlint_check *check);
CUTLINT_EXPORT const struct cutlint_sheet *cutlint_check_sheet(const struct cutlint_check *check);

/* Where a finding points: into the source, and if `on_sheet`, to a place on the sheet. */
struct cutlint_place {
	const struct cutlint_element *element; /* NULL: the whole file */
	const struct cutlint_placement *placement;
	struct cutlint_span span;
	struct cutlint_xy at;
	bool on_sheet;
	bool in_job; /* `span` counts in the job file; the rest is not set */
};

/* The start tag of an element. */
CUTLINT_EXPORT struct cutlint_place cutlint_place_element(const struct cutlint_element *element);
/* The whole file: its root element. */
CUTLINT_EXPORT struct cutlint_place cutlint_place_design(const struct cutlint_design *design);
/* An outline's first command; the whole file for CUTLINT_NONE, as of the page's edge. */
CUTLINT_EXPORT struct cutlint_place cutlint_place_outline(const struct cutlint_design *design,
							  uint32_t outline);
/* The command that drew the side at a vertex, with the vertex as the place on the sheet. */
CUTLINT_EXPORT struct cutlint_place cutlint_place_vertex(const struct cutlint_design *design,
							 uint32_t vertex);
/* The command under a wall; the root element for the page's edge. */
CUTLINT_EXPORT struct cutlint_place cutlint_place_wall(const struct cutlint_design *design,
						       const struct cutlint_wall *wall);

/*
 * A line of the job file, for what is wrong with the job itself: `key` in the section `[section]`,
 * or `[section name]` (name NULL without one). Without such a key it is the section's own line,
 * without the section the file's first line; with the built-in job, the whole drawing. `key` may be
 * NULL.
 */
CUTLINT_EXPORT struct cutlint_place cutlint_place_job(const struct cutlint_check *check,
						      const char *section, const char *name,
						      const char *key);

/*
 * Adds a finding. The message is lower case, without full stop, with the figures and their units
 * ("bridge of 0.21 mm is under 0.35 mm"); never write the file, the position or the rule's name
 * into it. Print lengths with "%.2f mm". Never NULL: where memory ran out the host notes it, ends
 * the run with exit 2, and returns a dummy.
 */
CUTLINT_EXPORT struct cutlint_finding *cutlint_report(struct cutlint_check *check,
						      enum cutlint_severity severity,
						      struct cutlint_place place,
						      const char *format, ...) CUTLINT_PRINTF(4, 5);

/* What to change, one sentence in lower case without full stop. */
CUTLINT_EXPORT void cutlint_suggest(struct cutlint_finding *finding, const char *format, ...)
	CUTLINT_PRINTF(2, 3);

/*
 * Figures for suggestions, rounded to a multiple of `step` to the side on which one that is
 * followed to the letter passes.
 */
static inline double cutlint_at_least(double value, double step)
{
	return ceil(value / step - 1e-3) * step;
}

static inline double cutlint_at_most(double value, double step)
{
	return floor(value / step + 1e-3) * step;
}

/* A measured figure with the limit it broke, for programs. Pass NAN where there is no limit. */
CUTLINT_EXPORT void cutlint_measured(struct cutlint_finding *finding, const char *what,
				     double value, double limit, const char *unit);

/*
 * Where the limit comes from that the finding breaks: one of the rule's own options, or a key of
 * the job file (for the arguments see cutlint_place_job). The host adds it to the message: its
 * value as written, and "default" or the line of the job file. Call it at most once a finding,
 * behind cutlint_report; a limit that the drawing sets, or none, needs no call.
 */
CUTLINT_EXPORT void cutlint_limit(struct cutlint_finding *finding, const char *option);
CUTLINT_EXPORT void cutlint_limit_job(struct cutlint_finding *finding, const char *section,
				      const char *name, const char *key);

/*
 * A length on the sheet that the finding speaks of, for pictures of it: the two walls of a bridge,
 * the two ends of a gap. Several may be shown, the one that the message measures first.
 */
CUTLINT_EXPORT void cutlint_show_span(struct cutlint_finding *finding, struct cutlint_xy from,
				      struct cutlint_xy to);

/* The same for a circle: the largest that fits into an opening, the disc that heat is summed in. */
CUTLINT_EXPORT void cutlint_show_circle(struct cutlint_finding *finding, struct cutlint_xy centre,
					double diameter_mm);

/* The whole of an outline with the length that the message gives, as of a line burned twice. */
CUTLINT_EXPORT void cutlint_show_outline(struct cutlint_finding *finding, uint32_t outline,
					 double length_mm);

/*
 * A length along a line, such as a tongue's from its tip to its root. The chain of points may be
 * coarser than what was measured.
 */
CUTLINT_EXPORT void cutlint_show_way(struct cutlint_finding *finding,
				     const struct cutlint_xy *points, uint32_t count,
				     double length_mm);

/* A tip from its end to where it is so long, along its middle, and how wide it is there. */
CUTLINT_EXPORT void cutlint_show_tip(struct cutlint_finding *finding, const struct cutlint_tip *tip,
				     double along_mm);

/*
 * What stands for itself and has no length to be read off, drawn in dashes: the envelope round a
 * card, an inset where it will lie, the axis of a mirror image. A chain of points, closed where the
 * last is the first, a spot where there is one only; `label` is a word or two, NULL for none.
 */
CUTLINT_EXPORT void cutlint_show_shape(struct cutlint_finding *finding,
				       const struct cutlint_xy *points, uint32_t count,
				       const char *label);

/* The same for an upright box. */
CUTLINT_EXPORT void cutlint_show_box(struct cutlint_finding *finding, struct cutlint_box box,
				     const char *label);

/*
 * An edit of the drawing's text that mends the finding, where one is exact: what stands under
 * `span` (of length 0: what stands in front of its byte) becomes `text`, "" to delete it. All edits
 * of a finding are made or none; no two of them overlap. Reports offer them, nothing is changed.
 */
CUTLINT_EXPORT void cutlint_edit(struct cutlint_finding *finding, struct cutlint_span span,
				 const char *text);

/*
 * Edits that move what draws some outlines, and nothing else, by a matrix on the sheet (SVG's a b c
 * d e f, in mm): a transform for each of their elements, or for groups that hold nothing else. None
 * where that can't be: they are parts of larger shapes, are drawn by `use`, hang on a style sheet,
 * stand in an entity, are clipped, or would take too many edits.
 */
CUTLINT_EXPORT void cutlint_edit_move(struct cutlint_finding *finding, const uint32_t *outlines,
				      uint32_t count, const double matrix[6]);

/*
 * What to delete so that an element is gone from the file, and nothing else: its text, with its
 * line where it stands alone there. Length 0 where that can't be: it has content, stands in an
 * entity, is drawn more than once, or something in the drawing refers to its id.
 */
CUTLINT_EXPORT struct cutlint_span cutlint_element_span(struct cutlint_check *check,
							const struct cutlint_element *element);

/* Another place that belongs to it: "the other wall". */
CUTLINT_EXPORT void cutlint_relate(struct cutlint_finding *finding, struct cutlint_place place,
				   const char *format, ...) CUTLINT_PRINTF(3, 4);

/* Use as: return cutlint_could_not_look(check, "why"). Ends the run with exit 2. */
CUTLINT_EXPORT enum cutlint_outcome cutlint_could_not_look(struct cutlint_check *check,
							   const char *format, ...)
	CUTLINT_PRINTF(2, 3);

#endif

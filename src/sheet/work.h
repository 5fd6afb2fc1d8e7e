/* work.h - what the stages of the sheet hand to each other while it is computed. */
#ifndef SHEET_WORK_H
#define SHEET_WORK_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "cutlint/job.h"
#include "cutlint/sheet.h"
#include "geometry/lines.h"
#include "sheet/loop.h"
#include "sheet/picture.h"
#include "sheet/region.h"

#define SHEET_NM 1e6 /* nanometres in a millimetre */

/* Widths are known to this (mm): one that misses a limit by less is equal to it. */
#define SHEET_SLACK_MM 0.001

/* Lines count as the same stretch up to this Fréchet distance (mm): duplicates. */
#define SHEET_APART_MM 0.05
/* ... over at least this length (mm). */
#define SHEET_LEAST_LENGTH_MM 1.0

struct sheet_work {
	struct arena *arena;   /* of the result */
	struct arena *scratch; /* gone when the sheet is done */
	const struct cutlint_design *design;
	const struct cutlint_job *job;
	struct cutlint_sheet *sheet;
	uint32_t needs;          /* of enum cutlint_need */
	double limit_mm;         /* necks are looked for up to this width after the burn */
	double hole_limit_mm;    /* holes are measured exactly up to this diameter */
	uint32_t most_crossings; /* where lines may cross; 0: any number */
	uint32_t crowded;        /* an outline where they cross more often; else CUTLINT_NONE */
	const struct cutlint_overlap *overlaps; /* ordered by the first outline, then the second */
	uint32_t overlap_count;
	bool *dropped;              /* outlines that lie whole on another one */
	struct sheet_loops loops;   /* open outlines that join into rings */
	struct cutlint_card *cards; /* the sheet's, still writable */
	struct region *regions;     /* of each card */
	uint32_t *card_of; /* of each outline: the card whose edge it is, or CUTLINT_NONE */
	struct cutlint_fold *folds;    /* the sheet's, still writable */
	struct sheet_picture *picture; /* to be filled; NULL: not wanted */
};

/* Stages; each returns 0, or -1 where memory ran out. */
int sheet_find_overlaps(struct sheet_work *work, bool report); /* reported with traced pairs */
int sheet_find_ends(struct sheet_work *work);
int sheet_find_cards(struct sheet_work *work);
int sheet_find_folds(struct sheet_work *work);
int sheet_find_panels(struct sheet_work *work);

static inline struct geo_vector sheet_nm(struct cutlint_xy at)
{
	return (struct geo_vector){at.x * SHEET_NM, at.y * SHEET_NM};
}

static inline struct cutlint_xy sheet_mm(struct geo_vector at)
{
	return (struct cutlint_xy){at.x / SHEET_NM, at.y / SHEET_NM};
}

static inline struct geo_vector sheet_vector(struct cutlint_point at)
{
	return (struct geo_vector){at.x, at.y};
}

/* The first or last vertex of an outline. */
static inline uint32_t sheet_end_vertex(const struct cutlint_outline *outline, bool last)
{
	return outline->first_vertex + (last ? outline->vertex_count - 1 : 0);
}

/* Whether it is an outline with at least one side, burned or not. */
static inline bool sheet_has_sides(const struct cutlint_outline *outline)
{
	return outline->vertex_count >= 2;
}

#endif

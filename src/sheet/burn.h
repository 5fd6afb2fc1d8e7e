/* burn.h - the lines that divide the sheet, and what crossing each of them means. */
#ifndef SHEET_BURN_H
#define SHEET_BURN_H

#include <stdbool.h>
#include <stdint.h>

#include "geometry/lines.h"
#include "sheet/work.h"

enum burn_meaning {
	BURN_DIVIDES, /* separates, and does not tell what falls out */
	BURN_FILLS,   /* bounds the fill of its shape */
	BURN_TOGGLES, /* an unfilled closed line: bounds a window, or what is kept in one */
	BURN_BOUNDS   /* a card's edge */
};

struct burn_chain {
	uint32_t outline; /* CUTLINT_NONE: the page's edge */
	uint32_t vertex;  /* of a closed gap: the vertex for whose side it stands; else CUTLINT_NONE
			   */
	enum burn_meaning meaning;
	uint32_t unit; /* FILLS: the shape; TOGGLES: the first outline; BOUNDS: the card */
	bool burned;   /* the edges of blanks and of the page are not */
};

/*
 * Chains of art, outlines and slits, of the blanks and the page where they are a card's edge, and
 * of short connecting lines across gaps that are burned shut. A segment below the design's
 * vertex_count is the vertex of that number.
 */
struct burn {
	struct geo_lines lines;
	struct burn_chain *chains;
	struct cutlint_point *points; /* those of the lines, with room to grow; so the next */
	struct geo_chain *spans;
	uint8_t *bounds; /* a bit for each segment: whether it is of a card's edge */
};

/* Collects them into the scratch arena. Needs the cards. 0, or -1 where memory ran out. */
int burn_collect(struct sheet_work *work, struct burn *burn);

/*
 * Adds connecting lines to `burn`, which holds room for them (three for each open outline): where
 * the ends of a loop do not quite meet, and from other ends to a line no farther than the kerf, or
 * than `join`; half of that where the line is not burned. 0, or -1 where memory ran out.
 */
int burn_close_gaps(struct sheet_work *work, struct burn *burn);

/* The chain of a segment. */
static inline const struct burn_chain *burn_chain_of(const struct burn *burn, uint32_t segment)
{
	return &burn->chains[geo_lines_chain(&burn->lines, segment)];
}

/* The same where segments are asked for one after the other: the number of the last one's chain, 0
 * at first, which is often that of the next, too. */
static inline const struct burn_chain *burn_chain_near(const struct burn *burn, uint32_t segment,
						       uint32_t *number)
{
	const struct geo_chain *span = &burn->lines.chains[*number];
	if (segment < span->first || segment - span->first >= span->count)
		*number = geo_lines_chain(&burn->lines, segment);
	return &burn->chains[*number];
}

/* Whether one of these segments is of a card's edge. */
static inline bool burn_bounds(const struct burn *burn, const uint32_t *segments, uint32_t count)
{
	for (uint32_t i = 0; i < count; i++)
		if (burn->bounds[segments[i] / 8] >> segments[i] % 8 & 1)
			return true;
	return false;
}

/* The vertex that stands for a segment in findings; CUTLINT_NONE for the page's edge. */
static inline uint32_t burn_vertex(const struct burn *burn, const struct cutlint_design *design,
				   uint32_t segment)
{
	return segment < design->vertex_count ? segment : burn_chain_of(burn, segment)->vertex;
}

#endif

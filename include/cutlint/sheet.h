/*
 * sheet.h - what the burn does to the sheet: cards, folds, parts, necks, openings, ends of lines,
 * and lines burned twice. Computed by the host before a rule runs, for what the rule says it needs.
 *
 * "Drawn" widths are between the lines as drawn, refined on the true curves. A width without that
 * word is after the burn: less half a kerf for each side that is burned.
 */
#ifndef CUTLINT_SHEET_H
#define CUTLINT_SHEET_H

#include <stdbool.h>
#include <stdint.h>

#include "cutlint/model.h"

/* A point on a line of the drawing, or on the page's edge. */
struct cutlint_wall {
	uint32_t outline; /* CUTLINT_NONE: the page's edge */
	uint32_t vertex;  /* the side that starts at this vertex */
	struct cutlint_xy at;
};

/*
 * A line to fold along: the fold outlines that lie in one line, dashes joined. Where a pop-up
 * stands across it, the fold ends on one side and another begins on the other. That is a strip
 * between two cuts, or a mouth: one cut across the fold, from which a score on each side leads to
 * one place on the fold, at equal angles to it, above the cut, below it, or both.
 */
struct cutlint_fold {
	uint32_t outline; /* the first in the file of those that make it */
	uint32_t vertex;  /* where it starts on that outline, as a line with corners has several */
	uint32_t piece_count;
	struct cutlint_xy from, to;
	double burned_mm;     /* the length that is scored; less than the span for dashes */
	double widest_gap_mm; /* between its pieces, also towards both ends of the card */
	double farthest_mm;   /* how far a piece strays from the straight line */
	uint32_t card;        /* CUTLINT_NONE: on no card */
	bool at_edge[2];      /* `from` and `to`: no more than 5 mm before its card's edge */
};

/* A half of an open card, on one side of its fold. */
struct cutlint_panel {
	struct cutlint_box box; /* of the panel's region */
	double width_mm;        /* from the fold to the far edge, square to the fold */
	double area_mm2;
};

/* What lies inside an outline or a blank; without either, the page. */
struct cutlint_card {
	uint32_t outline; /* CUTLINT_NONE: the page */
	bool edge_burned; /* the edge is an outline, not a blank or the page */
	struct cutlint_box box;
	double area_mm2;
	uint32_t fold; /* the longest that reaches its edge, else the longest; or CUTLINT_NONE */
	/*
	 * How many folds go across it: those that reach its edge, one that a pop-up parts counted
	 * once; where none reaches it, all.
	 */
	uint32_t fold_count;
	struct cutlint_panel panels[2]; /* [0] lies left of the fold walked from `from` to `to` as
					   seen on the screen, [1] right; unset without a fold */
	int face;                       /* which panel is the face; -1 if it cannot be told */
	uint32_t face_outline;          /* the face guide that told it; CUTLINT_NONE */
};

enum cutlint_part_kind {
	CUTLINT_PART_FRAME,  /* the card itself */
	CUTLINT_PART_HELD,   /* kept material that hangs on the frame by bridges */
	CUTLINT_PART_LOOSE,  /* kept material that nothing holds */
	CUTLINT_PART_WINDOW, /* falls out, as meant */
	CUTLINT_PART_WASTE   /* the sheet outside the cards */
};

/*
 * A piece that the sheet falls into, when it is cut along the burn lines and, for kept material,
 * at every neck up to the scan width.
 */
struct cutlint_part {
	enum cutlint_part_kind kind;
	uint32_t card;
	double area_mm2;      /* as drawn */
	struct cutlint_xy at; /* a point well inside */
	uint32_t outline; /* an outline on its boundary, the last in the file; or CUTLINT_NONE */
	uint32_t vertex;
	uint32_t bridge_count;           /* bridges that end on it and are not burned through */
	bool at_edge;                    /* it reaches its card's edge */
	uint32_t first_site, site_count; /* of a loose part: into the sheet's sites */
};

/*
 * Where a bridge could hold a loose part: where it is near to kept material that is held. A part
 * has up to three, well apart round its middle, the nearest first.
 */
struct cutlint_site {
	struct cutlint_wall part, kept;
	double apart_mm; /* as drawn */
};

enum cutlint_neck_kind {
	CUTLINT_NECK_BRIDGE,    /* joins two different parts */
	CUTLINT_NECK_THIN_WALL, /* joins a part to itself */
	CUTLINT_NECK_STRIP,     /* parallel walls with a free end; never judged as a bridge */
	CUTLINT_NECK_CONTACT    /* width 0: lines touch or cross; the crossing rule's matter */
};

/* Where kept material is locally narrowest. */
struct cutlint_neck {
	enum cutlint_neck_kind kind;
	struct cutlint_wall walls[2]; /* [0] is the wall that comes later in the file */
	double drawn_mm;
	double width_mm; /* after the burn, zero if within 0.001 mm; zero or less: burned through */
	double length_mm; /* of a corridor: along which it stays within tau of its narrowest; else 0
			   */
	struct cutlint_xy ends[2]; /* middle of the corridor's two ends; equal for a single neck */
	uint32_t card;
	uint32_t parts[2];
	uint32_t held;      /* of a bridge: the part it holds, the one nearer to falling out */
	uint32_t held_with; /* how many other sound bridges hold that part */
	bool open_gap; /* between the two ends of one open path: the closed-path rule's matter */
	bool at_edge;  /* one wall is the card's edge */
	/*
	 * Of a sound bridge that alone holds something: the area, as drawn, of the held part with
	 * all that hangs on it, and how far that reaches from the bridge's middle (to within 2 %).
	 * Else 0.
	 */
	double load_mm2, reach_mm;
	struct cutlint_xy farthest; /* the place of the held part that is so far off */
};

/* An opening that falls out: windows that overlap are one. */
struct cutlint_hole {
	uint32_t outline; /* the one of its lines that comes first in the file */
	uint32_t vertex;  /* where that outline is nearest to the circle below */
	uint32_t card;
	double area_mm2;
	/*
	 * Of the largest inscribed circle, as drawn. Above the largest length among the options of
	 * the rules that need holes, it is some inscribed circle above that length: the diameter is
	 * at least what is given. Where such a rule has no length, all are exact.
	 */
	struct cutlint_xy centre;
	double diameter_mm;
	struct cutlint_box box;
};

/* One end of an open outline that is burned. The two of one outline stand together, first and last.
 */
struct cutlint_end {
	uint32_t outline;
	bool last; /* the end of its last command; else the start of its first */
	uint32_t vertex;
	struct cutlint_xy at;
	uint32_t near_end; /* the nearest other end, an index among the ends; CUTLINT_NONE */
	double near_end_mm;
	struct cutlint_wall near_wall; /* the nearest burned line that is not its own last side */
	double near_wall_mm;           /* infinite without one */
};

/* The same stretch drawn twice among burned or scored lines. */
struct cutlint_overlap {
	uint32_t outline[2]; /* [0] comes first in the file */
	uint32_t vertex[2];  /* where the stretch starts on each */
	struct cutlint_xy from, to;
	double length_mm; /* along [0] */
	double apart_mm;  /* the Fréchet distance of the two stretches, at most */
	bool whole[2];    /* the stretch is all of that outline */
	bool reversed;
};

/* Two closed outlines at one small constant distance: both edges of a stroke that was traced. */
struct cutlint_traced {
	uint32_t outer, inner;
	double apart_mm;  /* mean distance */
	double spread_mm; /* largest less smallest distance */
	struct cutlint_xy at;
};

enum cutlint_crossing_kind {
	CUTLINT_CROSSING_CROSS, /* two lines cross */
	CUTLINT_CROSSING_TOUCH, /* two lines meet in a point and part again on their own sides */
	CUTLINT_CROSSING_SELF,  /* an outline crosses or touches itself */
	CUTLINT_CROSSING_EDGE   /* a line crosses a card's edge */
};

/*
 * A point that two lines have in common, both going on beyond it on both sides, by more than 1 mm
 * where they end. Where they run along each other for a stretch it is an overlap, not a crossing.
 */
struct cutlint_crossing {
	enum cutlint_crossing_kind kind;
	struct cutlint_wall walls[2]; /* [0] comes later in the file; the page's edge first */
	uint32_t loose[4]; /* loose parts with a corner there; CUTLINT_NONE beyond them */
};

/* The width of a tip at a place along its middle. */
struct cutlint_tip_width {
	double along_mm; /* from the end */
	double drawn_mm; /* between its sides, at equal lengths along them from the end */
	struct cutlint_xy sides[2]; /* those places, whose distance it is */
};

/*
 * A free end of kept material: a corner of less than 30 degrees, or a blunt or round end narrower
 * than 1 mm; both figures are choices. Not of loose parts.
 */
struct cutlint_tip {
	uint32_t outline, vertex; /* the line at its end */
	struct cutlint_xy at;
	uint32_t part;
	double burn_mm; /* what the burn takes off its width: a kerf, half of one, nothing */
	/* From the end up to where it is wider than the scan width, or ends; at least two. */
	const struct cutlint_tip_width *widths;
	uint32_t width_count;
};

struct cutlint_sheet {
	const struct cutlint_card *cards;
	const struct cutlint_fold *folds;
	const struct cutlint_part *parts;
	const struct cutlint_neck *necks;
	const struct cutlint_hole *holes;
	const struct cutlint_end *ends;
	const struct cutlint_overlap *overlaps;
	const struct cutlint_traced *traced;
	const struct cutlint_site *sites;
	const struct cutlint_crossing *crossings; /* by the outlines of both walls, then by place */
	const struct cutlint_tip *tips;
	uint32_t card_count, fold_count, part_count, neck_count, hole_count, end_count;
	uint32_t overlap_count, traced_count;
	uint32_t site_count, crossing_count, tip_count;
};

/* The card that an outline lies on: by the middle of its box, else the nearest one it touches. */
CUTLINT_EXPORT uint32_t cutlint_sheet_card_of(const struct cutlint_design *design,
					      const struct cutlint_sheet *sheet, uint32_t outline);

/* Which panel of a card a place lies on: 0 or 1; -1 on the fold or off the card's box. */
CUTLINT_EXPORT int cutlint_card_panel(const struct cutlint_sheet *sheet, uint32_t card,
				      struct cutlint_xy at);

/* A tip at a length from its end: between two of its widths, by their shares; at most the last. */
CUTLINT_EXPORT struct cutlint_tip_width cutlint_tip_at(const struct cutlint_tip *tip,
						       double along_mm);

/* Where a fold stops, seen along its own line; without `cut` and `fold` at the card's edge. */
struct cutlint_stop {
	double short_mm; /* from its end on to what lies ahead; 0 where it ends there */
	uint32_t cut;    /* a cut's outline lies ahead; else CUTLINT_NONE */
	uint32_t fold;   /* another fold of the sheet lies ahead; else CUTLINT_NONE */
};

/*
 * Where an end of a fold on a card stops: at the card's edge, at a cut (art or slit), as between
 * the slits of a pop-up, or at another fold, as the scores of a mouth: where its other end lies on
 * a cut, or a third fold meets them. An end within `on_mm` of any of them, or beyond the edge, is
 * on it.
 */
CUTLINT_EXPORT struct cutlint_stop cutlint_fold_stop(const struct cutlint_design *design,
						     const struct cutlint_sheet *sheet,
						     const struct cutlint_fold *fold, bool last,
						     double on_mm);

/* How long the gaps between a fold's dashes are on average, in mm; 0 for one piece. */
CUTLINT_EXPORT double cutlint_fold_gap(const struct cutlint_fold *fold);

/* The angle between two directions as lines, whatever their lengths: 0 to a quarter turn (rad). */
CUTLINT_EXPORT double cutlint_angle_between(struct cutlint_xy a, struct cutlint_xy b);

/*
 * How a set of outlines can be laid on another one by turning and shifting, without scaling.
 * Distances are infinite where there is no such motion.
 */
struct cutlint_congruence {
	double same_mm;         /* largest distance left, art side up */
	double same_turn_rad;   /* counter-clockwise as seen on the screen, of the first set */
	double mirror_mm;       /* the same after a mirror image in a vertical line */
	double mirror_turn_rad; /* of the mirrored first set */
};

/*
 * Compares two sets of outlines by shape, whatever their order, start points, directions and node
 * counts. `tolerance_mm` is the largest distance that still counts as equal. A set that is its own
 * mirror image has both distances finite. Returns 0, or -1 where memory ran out.
 */
CUTLINT_EXPORT int cutlint_congruence(const struct cutlint_design *design, const uint32_t *a,
				      size_t a_count, const uint32_t *b, size_t b_count,
				      double tolerance_mm, struct cutlint_congruence *out);

/* The middle of some outlines' lines by length, which moves and turns with them. */
CUTLINT_EXPORT struct cutlint_xy cutlint_outlines_middle(const struct cutlint_design *design,
							 const uint32_t *outlines, size_t count);

/*
 * Whether outlines look the same, within a tolerance, after a turn about their middle (rad,
 * counter-clockwise as seen on the screen). Tried at 64 of their vertices.
 */
CUTLINT_EXPORT bool cutlint_same_turned(const struct cutlint_design *design,
					const uint32_t *outlines, size_t count, double turn_rad,
					double tolerance_mm);

/* Whether a place lies inside a closed outline (even-odd), and how far from its line (mm). */
CUTLINT_EXPORT bool cutlint_outline_contains(const struct cutlint_design *design, uint32_t outline,
					     struct cutlint_xy at);

/* The smallest distance in mm between the lines of two outlines, and where. */
CUTLINT_EXPORT double cutlint_outline_distance(const struct cutlint_design *design, uint32_t a,
					       uint32_t b, struct cutlint_wall out[2]);

/* The smallest distance in mm between an outline's line and a straight segment, and where. */
CUTLINT_EXPORT double cutlint_segment_distance(const struct cutlint_design *design,
					       uint32_t outline, struct cutlint_xy from,
					       struct cutlint_xy to, struct cutlint_wall *out);

#endif

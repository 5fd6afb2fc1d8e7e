/*
 * match.h - lines that lie on each other, lines at one small distance, shapes that are congruent.
 */
#ifndef GEOMETRY_MATCH_H
#define GEOMETRY_MATCH_H

#include "geometry/lines.h"

struct geo_tracks; /* lines with their lengths and an index of their sides: match-tracks.h */

/* A stretch along a chain, by arc length in nm from the chain's first vertex. */
struct geo_stretch {
	uint32_t chain;
	double from, to;        /* from < to; on a closed chain `to` may pass its length */
	uint32_t first_segment; /* the segment that holds `from` */
};

/* Two stretches within `apart` of each other, in Fréchet distance. */
struct geo_overlap {
	struct geo_stretch a, b; /* a's chain is the lower; of one chain, a starts first */
	double apart;            /* an upper bound of their Fréchet distance, nm */
	bool reversed;           /* they run against each other */
};

struct geo_overlaps {
	struct geo_overlap *items; /* maximal stretches, ordered by a, then b */
	uint32_t count;
};

/*
 * Maximal pairs of stretches at least `least_length` long, at most `apart` from each other. Where
 * many lines lie on each other, each stretch is given with the first line that it is found to lie
 * on, not with all of them: a thousand copies make 999 pairs. Ends are where the lines part, to
 * about `apart`. A chain is compared with itself too (a line that doubles back), but never a
 * stretch with itself or with the stretch that goes on from it round a corner: places of one chain
 * closer along it than `least_length` are its own course. 0, or -1 where memory ran out.
 */
int geo_overlaps_find(const struct geo_lines *lines, double apart, double least_length,
		      struct geo_overlaps *out);
int geo_overlaps_find_in(const struct geo_tracks *tracks, double apart, double least_length,
			 struct geo_overlaps *out); /* the same, of lines measured before */
void geo_overlaps_finish(struct geo_overlaps *overlaps);

/* Two closed chains, one inside the other, at nearly one distance all along. */
struct geo_pair {
	uint32_t outer, inner;
	double least, most, mean; /* distance from the inner's line to the outer's, nm */
	struct geo_vector at;     /* where it is least */
};

struct geo_pairs {
	struct geo_pair *items; /* ordered by outer, then inner */
	uint32_t count;
};

/*
 * Pairs whose distance is above `least` and at most `most`, and varies by at most `spread` of its
 * mean. Places near sharp corners of either line count only if there are no others: there it
 * depends on the join, up to four times the distance. An inner line is measured with the eight
 * nearest lines that may hold it; of lines that coincide exactly only with the first. 0, or -1
 * where memory ran out.
 */
int geo_pairs_find(const struct geo_lines *lines, double least, double most, double spread,
		   struct geo_pairs *out);
int geo_pairs_find_in(const struct geo_lines *lines, const struct geo_tracks *tracks, double least,
		      double most, double spread,
		      struct geo_pairs *out); /* the same; the tracks are those of the lines */
void geo_pairs_finish(struct geo_pairs *pairs);

/* A motion without scaling: turn about `about` (after the mirror image in the vertical through
 * `about`, if mirrored), then shift. */
struct geo_motion {
	bool found;
	double turn;     /* radians, counter-clockwise with y up */
	double distance; /* Hausdorff distance that is left, nm; infinite if none was found */
};

struct geo_congruence {
	struct geo_motion same, mirrored; /* of several turns, the one nearest to 0 */
};

/*
 * Lays the chains of a on those of b, as sets of curves: independent of order, start point,
 * direction, splitting and node count. The centroid of the line leads to the shift, so a line that
 * stands twice in one set and once in the other may hide a match. A distance is exact to 1/64 of
 * `tolerance`. 0, or -1 where memory ran out.
 */
int geo_congruent(const struct geo_lines *a, const struct geo_lines *b, double tolerance,
		  struct geo_congruence *out);

#endif

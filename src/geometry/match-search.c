/*
 * A stretch of the least length cannot hide near one corner: it has a part at some way from all
 * corners of long sides, or it passes one of the marks that are set along each chain at even
 * distances. Looking there only, a thousand lines that leave one hub never see each other, and of
 * finely flattened curves not every side is looked at.
 */
#include "geometry/match-search.h"

#include <math.h>

/*
 * Shares of the least length. A stretch that passes the start of a closed chain is met by its
 * longer half, so that marks are closer than that; the corners left out between two of them are
 * shorter too.
 */
static const double MARK_STEP = 0.4;
static const double CORNER = 0.2;

/* A side of so many least lengths is long: it is looked at along all its course but its ends. */
static const double LONG = 2;

struct side_search {
	const struct geo_tracks *tracks;
	uint32_t side;
	double least, apart;
	geo_visit *visit;
	void *user;
};

static bool is_long(const struct side_search *search, uint32_t side)
{
	return search->tracks->sides[side].length >= LONG * search->least;
}

static void look_along(const struct side_search *search, double from, double to)
{
	geo_index_band(search->tracks->index, geo_side_at(search->tracks, search->side, from),
		       geo_side_at(search->tracks, search->side, to), search->apart, search->visit,
		       search->user);
}

/* At a mark. */
static void look_at(const struct side_search *search, double along)
{
	const struct geo_index *index = search->tracks->index;
	struct geo_vector at = geo_side_at(search->tracks, search->side, along);
	const uint32_t *segments;
	uint32_t count;
	if (!geo_index_cell(index, at, search->apart, &segments, &count)) {
		geo_index_band(index, at, at, search->apart, search->visit, search->user);
		return;
	}
	for (uint32_t i = 0; i < count; i++)
		if (search->tracks->side_of[segments[i]] < search->side &&
		    !search->visit(search->user, segments[i]))
			return;
}

/* At the marks between two places along the side. */
static void look_at_marks(const struct side_search *search, double from, double to)
{
	const struct geo_side *side = &search->tracks->sides[search->side];
	double length = search->tracks->chains[side->chain].length;
	double step = length / ceil(length / (MARK_STEP * search->least));
	double mark = (ceil((side->at + from) / step - 0.5) + 0.5) * step - side->at;
	for (; mark <= to; mark += step)
		look_at(search, fmax(mark, 0));
}

/* Whether a chain goes on beyond an end of a side with one that is not long. */
static bool leads_to_short(const struct side_search *search, bool last)
{
	const struct geo_tracks *tracks = search->tracks;
	const struct geo_track *track = &tracks->chains[tracks->sides[search->side].chain];
	uint32_t end = last ? track->first + track->count - 1 : track->first;
	if (search->side != end)
		return !is_long(search, last ? search->side + 1 : search->side - 1);
	return track->closed && !is_long(search, last ? track->first : end + track->count - 1);
}

void geo_side_search(const struct geo_tracks *tracks, uint32_t side, double least, double apart,
		     geo_visit *visit, void *user)
{
	struct side_search search = {tracks, side, least, apart, visit, user};
	double length = tracks->sides[side].length, corner = CORNER * least;
	if (!is_long(&search, side)) {
		look_at_marks(&search, 0, length);
		return;
	}
	if (leads_to_short(&search, false))
		look_at_marks(&search, 0, corner);
	look_along(&search, corner, length - corner);
	if (leads_to_short(&search, true))
		look_at_marks(&search, length - corner, length);
}

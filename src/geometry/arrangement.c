#include "geometry/arrangement.h"

#include <stdlib.h>

#include "geometry/faces.h"
#include "geometry/index.h"
#include "geometry/locate.h"
#include "geometry/noding.h"

struct geo_arrangement *geo_arrangement_create(const struct geo_lines *lines,
					       struct geo_crowding *crowding)
{
	struct geo_arrangement *arrangement = calloc(1, sizeof(*arrangement));
	if (!arrangement)
		return NULL;
	if (geo_node_lines(lines, arrangement, crowding) || geo_faces_find(arrangement)) {
		geo_arrangement_destroy(arrangement);
		return NULL;
	}
	return arrangement;
}

void geo_arrangement_drop_index(struct geo_arrangement *arrangement)
{
	geo_index_destroy(arrangement->index);
	free(arrangement->segments);
	arrangement->index = NULL;
	arrangement->segments = NULL;
}

int geo_arrangement_locate(struct geo_arrangement *arrangement)
{
	if (!arrangement->locator)
		arrangement->locator = geo_locator_create(arrangement);
	return arrangement->locator ? 0 : -1;
}

void geo_arrangement_destroy(struct geo_arrangement *arrangement)
{
	if (!arrangement)
		return;
	geo_locator_destroy(arrangement->locator);
	geo_arrangement_drop_index(arrangement);
	free(arrangement->nodes);
	free(arrangement->edges);
	free(arrangement->next);
	free(arrangement->face);
	free(arrangement->inners);
	free(arrangement->unders);
	free(arrangement->faces);
	free(arrangement->covers);
	free(arrangement);
}

/* neck-stretch.h - how far the medial axis runs between the same two wall features. */
#ifndef GEOMETRY_NECK_STRETCH_H
#define GEOMETRY_NECK_STRETCH_H

#include "geometry/neck-scene.h"

/* Where a walk stands: between two features, at a place that is equally far from both. */
struct neck_pose {
	neck_feature left, right;
	struct geo_vector x;
	neck_feature dropped; /* the feature that was passed last: it can't come back at once */
	uint32_t branch;      /* 0 up to the first junction, then 1 or 2 */
	uint32_t still;       /* steps without progress */
	double walked;
};

/* What ends a stretch. */
enum neck_event {
	NECK_REACHED_HIGH,
	NECK_REACHED_LOW,
	NECK_LEFT_LEAVES, /* the foot leaves the feature on the left */
	NECK_RIGHT_LEAVES,
	NECK_THIRD, /* a third feature comes as near */
	NECK_STOPPED
};

struct neck_stretch {
	struct neck_bisector bisector;
	double to;
	enum neck_event event;
	neck_feature third;
};

/* False where the two have no bisector, or memory ran out. */
bool neck_measure(struct neck_scene *scene, const struct neck_pose *pose,
		  struct neck_stretch *stretch);

/* What a wall goes on with where the foot leaves a feature. */
neck_feature neck_ahead(const struct neck_scene *scene, neck_feature feature, bool left);

#endif

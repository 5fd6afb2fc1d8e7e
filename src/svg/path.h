/* path.h - the grammar of path data (SVG 2, 9.3.9). */
#ifndef SVG_PATH_H
#define SVG_PATH_H

#include "svg/scan.h"
#include "svg/segment.h"

/*
 * Gives the segments of path data to the sink, up to the first mistake (SVG 2, 9.5.4). Returns
 * false where the sink stopped.
 */
bool svg_path_parse(struct svg_scan data, struct svg_sink sink, struct svg_mistake *mistake);

/*
 * The same for the points of a polyline or polygon (SVG 2, 10.6 and 10.7): an odd coordinate at the
 * end is dropped and is a mistake.
 */
bool svg_points_parse(struct svg_scan data, bool close, struct svg_sink sink,
		      struct svg_mistake *mistake);

#endif

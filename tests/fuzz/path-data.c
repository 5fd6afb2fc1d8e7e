/* Path data, points, transforms, lengths and view boxes from any bytes. */
#include <math.h>

#include "fuzz.h"
#include "svg/path.h"
#include "svg/property.h"
#include "svg/transform.h"
#include "svg/viewport.h"

struct seen {
	uint32_t offset, length;
	bool begun;
};

static bool take(void *user, const struct svg_segment *segment)
{
	struct seen *seen = user;
	HOLDS(segment->kind <= SVG_CLOSE);
	HOLDS(segment->offset < seen->length || segment->kind == SVG_CLOSE);
	HOLDS(seen->begun || segment->kind == SVG_MOVE);
	HOLDS(segment->offset >= seen->offset || segment->kind == SVG_CLOSE);
	seen->offset = segment->offset;
	seen->begun = true;
	struct svg_centre_arc arc;
	if (segment->kind == SVG_ARC)
		svg_arc_centre(segment->from, segment->p[0], &segment->arc, &arc);
	return true;
}

static void check_mistake(const struct svg_mistake *mistake, size_t length)
{
	if (mistake->message)
		HOLDS((size_t)mistake->offset + mistake->length <= length + 1);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	const char *text = (const char *)bytes;
	struct svg_scan scan = {text, text + length};
	struct svg_mistake mistake = {.message = NULL};
	struct seen seen = {.length = (uint32_t)length};
	struct svg_sink sink = {take, &seen};
	if (!length)
		return 0;
	HOLDS(svg_path_parse(scan, sink, &mistake));
	check_mistake(&mistake, length);
	for (int close = 0; close < 2; close++) {
		seen = (struct seen){.length = (uint32_t)length};
		HOLDS(svg_points_parse(scan, close, sink, &mistake));
		check_mistake(&mistake, length);
	}

	struct svg_matrix matrix;
	const char *bad = text;
	if (!svg_transform_parse(scan, &matrix, &bad))
		HOLDS(bad >= text && bad <= text + length);
	struct svg_rectangle box;
	if (svg_view_box_parse(scan, &box) == SVG_VIEW_BOX_GOOD)
		HOLDS(box.width > 0 && box.height > 0 && isfinite(box.x) && isfinite(box.y));
	struct svg_value value;
	for (unsigned i = 0; i < SVG_PROPERTY_COUNT; i++)
		svg_value_parse((enum svg_property)i, scan, &value);
	return 0;
}

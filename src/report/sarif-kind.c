#include "report/sarif-kind.h"

#include <stddef.h>
#include <string.h>

static const struct {
	const char *kind, *summary;
} KINDS[] = {
	{"bad-silence", "a silence has no reason or can't be read, and is not followed"},
	{"clip-path", "art is clipped in a viewer and burned whole"},
	{"dashes", "lines with a dash array are burned solid"},
	{"empty-file", "the file is empty"},
	{"encoding", "the file's encoding can't be read"},
	{"filter", "art has a filter, and its plain outline is burned"},
	{"foreign-object", "content without an outline is not burned"},
	{"gradient", "a gradient is not burned, only the outline"},
	{"job", "the job file says what is better said otherwise"},
	{"length", "a length can't be read"},
	{"live-text", "text has no outline without its font, and is not burned"},
	{"marker", "markers are not burned"},
	{"mask", "art is masked in a viewer and burned whole"},
	{"not-svg", "the file is no SVG drawing"},
	{"nothing-to-burn", "no line of the drawing is burned"},
	{"out-of-memory", "memory ran out while the drawing was read"},
	{"page-size", "the page has no size that can be read"},
	{"paint-server", "paint names nothing that the drawing has"},
	{"path-data", "path data can't be read to its end"},
	{"pattern", "a pattern is not burned, only the outline"},
	{"physical-size", "the drawing states no physical size"},
	{"points", "a list of points can't be read to its end"},
	{"raster-image", "a raster picture has no outline, and is not burned"},
	{"style", "a style can't be read, or is not followed"},
	{"svg-namespace", "the root element is not in SVG's namespace"},
	{"switch", "a switch shows one of several contents"},
	{"template", "shapes in templates that nothing places are not burned"},
	{"too-large", "the drawing passes a limit of the reader"},
	{"transform", "a transform can't be read"},
	{"unnamed-art", "shapes are burned that no pattern of the job takes"},
	{"unreadable", "the file can't be read"},
	{"unsupported-content", "content is not followed that may change what is drawn"},
	{"unused-silence", "a silence met no finding"},
	{"use-cycle", "a use places itself"},
	{"use-target", "a use names nothing that the drawing has"},
	{"view-box", "a view box can't be read"},
	{"viewport", "art leaves a viewport that hides it in a viewer, and is burned whole"},
	{"xml-namespace", "a prefix is used that nothing declares"},
	{"xml-syntax", "the file is not well-formed XML"},
};

const char *sarif_kind_summary(const char *kind)
{
	for (size_t i = 0; i < sizeof(KINDS) / sizeof(KINDS[0]); i++) {
		if (strcmp(KINDS[i].kind, kind) == 0)
			return KINDS[i].summary;
	}
	return NULL;
}

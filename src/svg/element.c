#include "svg/element.h"

#include <stddef.h>
#include <string.h>

struct row {
	const char *tag;
	enum svg_kind kind;
};

static const struct row ROWS[] = {
	{"path", SVG_KIND_PATH},         {"g", SVG_KIND_GROUP},
	{"rect", SVG_KIND_RECT},         {"circle", SVG_KIND_CIRCLE},
	{"ellipse", SVG_KIND_ELLIPSE},   {"line", SVG_KIND_LINE},
	{"polyline", SVG_KIND_POLYLINE}, {"polygon", SVG_KIND_POLYGON},
	{"use", SVG_KIND_USE},           {"svg", SVG_KIND_SVG},
	{"a", SVG_KIND_GROUP},           {"switch", SVG_KIND_SWITCH},
	{"symbol", SVG_KIND_SYMBOL},     {"defs", SVG_KIND_DEFS},
	{"clipPath", SVG_KIND_TEMPLATE}, {"mask", SVG_KIND_TEMPLATE},
	{"marker", SVG_KIND_TEMPLATE},   {"pattern", SVG_KIND_TEMPLATE},
	{"text", SVG_KIND_TEXT},         {"image", SVG_KIND_IMAGE},
	{"style", SVG_KIND_STYLE},       {"script", SVG_KIND_SCRIPT},
	{"video", SVG_KIND_FOREIGN},     {"foreignObject", SVG_KIND_FOREIGN},
	{"animate", SVG_KIND_ANIMATION}, {"animateTransform", SVG_KIND_ANIMATION},
	{"set", SVG_KIND_ANIMATION},     {"animateMotion", SVG_KIND_ANIMATION},
	{"canvas", SVG_KIND_FOREIGN},    {"iframe", SVG_KIND_FOREIGN},
	{"flowRoot", SVG_KIND_TEXT}, /* of the drafts of SVG 1.2; editors still show it */
};

enum svg_kind svg_kind_of(const char *tag)
{
	for (size_t i = 0; i < sizeof(ROWS) / sizeof(*ROWS); i++) {
		if (strcmp(tag, ROWS[i].tag) == 0)
			return ROWS[i].kind;
	}
	return SVG_KIND_UNKNOWN;
}

bool svg_kind_is_shape(enum svg_kind kind)
{
	return kind >= SVG_KIND_PATH && kind <= SVG_KIND_POLYGON;
}

bool svg_kind_is_graphic(enum svg_kind kind)
{
	return kind >= SVG_KIND_PATH && kind <= SVG_KIND_FOREIGN;
}

bool svg_kind_renders(enum svg_kind kind)
{
	return svg_kind_is_graphic(kind) || (kind >= SVG_KIND_SVG && kind <= SVG_KIND_USE);
}

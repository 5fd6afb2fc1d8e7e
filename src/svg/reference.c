#include "svg/reference.h"

#include <string.h>

/* What stands in the brackets, without quotes. */
static bool take_url(struct svg_scan *scan, struct svg_scan *out)
{
	struct svg_scan ahead = *scan;
	struct svg_scan name = svg_take_word(&ahead);
	if (!svg_is_word(name, "url") || !svg_take(&ahead, '('))
		return false;
	*out = svg_trim(svg_take_until(&ahead, ")"));
	svg_take(&ahead, ')');
	bool quoted = svg_scan_length(*out) >= 2 && (*out->at == '"' || *out->at == '\'') &&
		      out->end[-1] == *out->at;
	if (quoted)
		*out = (struct svg_scan){out->at + 1, out->end - 1};
	*scan = ahead;
	return true;
}

enum svg_reference svg_take_reference(const struct svg_document *document, struct svg_scan *scan,
				      uint32_t *target)
{
	struct svg_scan url;
	if (!take_url(scan, &url))
		return SVG_REFERENCE_NONE;
	if (!svg_take(&url, '#'))
		return url.at == url.end ? SVG_REFERENCE_MISSING : SVG_REFERENCE_OUTSIDE;
	*target = svg_find_target(document, url);
	return *target == CUTLINT_NONE ? SVG_REFERENCE_MISSING : SVG_REFERENCE_FOUND;
}

bool svg_is_gradient(const struct cutlint_element *element)
{
	return strcmp(element->tag, "linearGradient") == 0 ||
	       strcmp(element->tag, "radialGradient") == 0;
}

bool svg_is_pattern(const struct cutlint_element *element)
{
	return strcmp(element->tag, "pattern") == 0;
}

struct svg_paint svg_paint_resolve(const struct svg_document *document, struct svg_paint paint)
{
	uint32_t target = CUTLINT_NONE;
	struct svg_scan text = paint.server;
	if (paint.kind != SVG_PAINT_SERVER || !text.at)
		return paint;
	enum svg_reference reference = svg_take_reference(document, &text, &target);
	const struct cutlint_element *element =
		reference == SVG_REFERENCE_FOUND ? document->elements[target] : NULL;
	if (reference == SVG_REFERENCE_OUTSIDE || reference == SVG_REFERENCE_NONE ||
	    (element && (svg_is_gradient(element) || svg_is_pattern(element))))
		return paint;
	struct svg_paint fallback;
	if (svg_paint_parse(text, &fallback) && fallback.kind != SVG_PAINT_SERVER)
		return fallback;
	return (struct svg_paint){.kind = SVG_PAINT_NONE};
}

#include "svg/property.h"

#include <math.h>
#include <string.h>

enum kind { PAINT, COLOUR, SHARE, LENGTH, AUTO_LENGTH, DASHES, WORD, NOT_NONE, TEXT };

struct row {
	const char *name;
	enum kind kind;
	bool inherits;
	/* for WORD: the words that set the flag, then, behind "|", those that do not */
	const char *words;
};

static const struct row ROWS[SVG_PROPERTY_COUNT] = {
	[SVG_COLOR] = {"color", COLOUR, true, NULL},
	[SVG_FILL] = {"fill", PAINT, true, NULL},
	[SVG_STROKE] = {"stroke", PAINT, true, NULL},
	[SVG_OPACITY] = {"opacity", SHARE, false, NULL},
	[SVG_FILL_OPACITY] = {"fill-opacity", SHARE, true, NULL},
	[SVG_STROKE_OPACITY] = {"stroke-opacity", SHARE, true, NULL},
	[SVG_STROKE_WIDTH] = {"stroke-width", LENGTH, true, NULL},
	[SVG_STROKE_DASHARRAY] = {"stroke-dasharray", DASHES, true, NULL},
	[SVG_FILL_RULE] = {"fill-rule", WORD, true, "evenodd|nonzero"},
	[SVG_DISPLAY] = {"display", WORD, false,
			 "none|inline block contents inline-block flex grid list-item table flow "
			 "flow-root run-in compact marker inline-table table-cell table-row"},
	[SVG_VISIBILITY] = {"visibility", WORD, true, "hidden collapse|visible"},
	[SVG_CLIP_PATH] = {"clip-path", NOT_NONE, false, NULL},
	[SVG_MASK] = {"mask", NOT_NONE, false, NULL},
	[SVG_FILTER] = {"filter", NOT_NONE, false, NULL},
	[SVG_MARKER_START] = {"marker-start", TEXT, true, NULL},
	[SVG_MARKER_MID] = {"marker-mid", TEXT, true, NULL},
	[SVG_MARKER_END] = {"marker-end", TEXT, true, NULL},
	[SVG_MARKER] = {"marker", TEXT, true, NULL},
	[SVG_OVERFLOW] = {"overflow", WORD, false, "visible auto|hidden scroll clip"},
	[SVG_VECTOR_EFFECT] = {"vector-effect", WORD, false,
			       "non-scaling-stroke|none non-scaling-size non-rotation "
			       "fixed-position"},
	[SVG_TRANSFORM] = {"transform", TEXT, false, NULL},
	[SVG_TRANSFORM_ORIGIN] = {"transform-origin", TEXT, false, NULL},
	[SVG_X] = {"x", LENGTH, false, NULL},
	[SVG_Y] = {"y", LENGTH, false, NULL},
	[SVG_WIDTH] = {"width", AUTO_LENGTH, false, NULL},
	[SVG_HEIGHT] = {"height", AUTO_LENGTH, false, NULL},
	[SVG_CX] = {"cx", LENGTH, false, NULL},
	[SVG_CY] = {"cy", LENGTH, false, NULL},
	[SVG_R] = {"r", LENGTH, false, NULL},
	[SVG_RX] = {"rx", AUTO_LENGTH, false, NULL},
	[SVG_RY] = {"ry", AUTO_LENGTH, false, NULL},
	[SVG_D] = {"d", TEXT, false, NULL},
};

enum svg_property svg_property_find(struct svg_scan name)
{
	unsigned property = 0;
	while (property < SVG_PROPERTY_COUNT && !svg_is_word(name, ROWS[property].name))
		property++;
	return (enum svg_property)property;
}

enum svg_property svg_property_of_attribute(const char *name)
{
	for (unsigned i = 0; i <= SVG_LAST_PRESENTATION; i++) {
		if (name[0] == ROWS[i].name[0] && strcmp(name, ROWS[i].name) == 0)
			return (enum svg_property)i;
	}
	return SVG_PROPERTY_COUNT;
}

bool svg_property_inherits(enum svg_property property)
{
	return ROWS[property].inherits;
}

const char *svg_property_name(enum svg_property property)
{
	return ROWS[property].name;
}

static bool parse_share(struct svg_scan text, double *out)
{
	if (!svg_take_number(&text, out))
		return false;
	if (svg_take(&text, '%'))
		*out /= 100;
	return text.at == text.end;
}

/* A list of lengths; all of length 0, or none, is a solid line (SVG 2, 13.5.6). */
static bool parse_dashes(struct svg_scan text, bool *dashed)
{
	*dashed = false;
	if (svg_is_word(text, "none"))
		return true;
	while (text.at < text.end) {
		struct svg_length length;
		if (!svg_take_length(&text, &length) || !(length.value >= 0))
			return false;
		*dashed = *dashed || length.value > 0;
		svg_skip_comma(&text);
	}
	return true;
}

static bool parse_word(struct svg_scan text, const char *words, bool *flag)
{
	*flag = true;
	while (*words) {
		char word[24];
		size_t length = strcspn(words, "| ");
		memcpy(word, words, length);
		word[length] = '\0';
		if (svg_is_word(text, word))
			return true;
		*flag = *flag && words[length] != '|';
		words += length + (words[length] != '\0');
	}
	return false;
}

static bool parse_keyword(struct svg_scan text, struct svg_value *out)
{
	out->given = SVG_GIVEN;
	if (svg_is_word(text, "inherit"))
		out->given = SVG_INHERIT;
	else if (svg_is_word(text, "initial"))
		out->given = SVG_INITIAL;
	else if (svg_is_word(text, "unset") || svg_is_word(text, "revert"))
		out->given = SVG_UNSET;
	return out->given != SVG_GIVEN;
}

bool svg_value_parse(enum svg_property property, struct svg_scan text, struct svg_value *out)
{
	const struct row *row = &ROWS[property];
	text = svg_trim(text);
	*out = (struct svg_value){.text = text};
	if (text.at == text.end && row->kind != TEXT)
		return false;
	if (parse_keyword(text, out))
		return true;
	switch (row->kind) {
	case PAINT:
		return svg_paint_parse(text, &out->paint);
	case COLOUR:
		return svg_paint_parse(text, &out->paint) && out->paint.kind != SVG_PAINT_NONE;
	case SHARE:
		return parse_share(text, &out->number);
	case DASHES:
		return parse_dashes(text, &out->flag);
	case WORD:
		return parse_word(text, row->words, &out->flag);
	case NOT_NONE:
		out->flag = !svg_is_word(text, "none");
		return true;
	case AUTO_LENGTH:
		out->flag = svg_is_word(text, "auto");
		return out->flag || svg_length_parse(text, &out->length);
	case LENGTH:
		return svg_length_parse(text, &out->length);
	default:
		return true;
	}
}

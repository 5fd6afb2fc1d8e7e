#include "svg/viewport.h"

#include <math.h>

enum svg_view_box_state svg_view_box_parse(struct svg_scan text, struct svg_rectangle *out)
{
	double v[4];
	text = svg_trim(text);
	for (int i = 0; i < 4; i++) {
		if (i)
			svg_skip_comma(&text);
		if (!svg_take_number(&text, &v[i]) || !isfinite(v[i]))
			return SVG_VIEW_BOX_BAD;
	}
	*out = (struct svg_rectangle){v[0], v[1], v[2], v[3]};
	if (text.at < text.end || v[2] < 0 || v[3] < 0)
		return SVG_VIEW_BOX_BAD;
	return v[2] > 0 && v[3] > 0 ? SVG_VIEW_BOX_GOOD : SVG_VIEW_BOX_EMPTY;
}

struct svg_align svg_align_default(void)
{
	return (struct svg_align){.x = 0.5, .y = 0.5};
}

static bool parse_place(const char *word, double *out)
{
	if (word[0] != 'M')
		return false;
	if (word[1] == 'i' && word[2] == 'n')
		*out = 0;
	else if (word[1] == 'i' && word[2] == 'd')
		*out = 0.5;
	else if (word[1] == 'a' && word[2] == 'x')
		*out = 1;
	else
		return false;
	return true;
}

/* xMinYMin and so on: eight letters, with case. */
static bool parse_align(struct svg_scan word, struct svg_align *out)
{
	if (svg_is_word(word, "none")) {
		out->stretch = true;
		return true;
	}
	return svg_scan_length(word) == 8 && word.at[0] == 'x' && word.at[4] == 'Y' &&
	       parse_place(word.at + 1, &out->x) && parse_place(word.at + 5, &out->y);
}

bool svg_align_parse(struct svg_scan text, struct svg_align *out)
{
	*out = svg_align_default();
	text = svg_trim(text);
	struct svg_scan word = svg_take_word(&text);
	svg_skip_spaces(&text);
	if (svg_is_word(word, "defer")) { /* of SVG 1.1, for images only */
		word = svg_take_word(&text);
		svg_skip_spaces(&text);
	}
	if (!parse_align(word, out))
		return false;
	out->slice = svg_is_word(text, "slice");
	return out->slice || text.at == text.end || svg_is_word(text, "meet");
}

struct svg_matrix svg_view_transform(struct svg_rectangle box, struct svg_align align,
				     struct svg_rectangle viewport)
{
	double sx = viewport.width / box.width, sy = viewport.height / box.height;
	if (!align.stretch)
		sx = sy = align.slice ? fmax(sx, sy) : fmin(sx, sy);
	double tx = viewport.x - box.x * sx, ty = viewport.y - box.y * sy;
	if (!align.stretch) {
		tx += (viewport.width - box.width * sx) * align.x;
		ty += (viewport.height - box.height * sy) * align.y;
	}
	return (struct svg_matrix){sx, 0, 0, sy, tx, ty};
}

#include "svg/colour.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "svg/transform.h"

static double clamp(double value, double most)
{
	return value >= most ? most : value > 0 ? value : 0;
}

static uint32_t byte_of(double value)
{
	return (uint32_t)(clamp(value, 255) + 0.5);
}

static uint32_t join(double r, double g, double b)
{
	return byte_of(r) << 16 | byte_of(g) << 8 | byte_of(b);
}

/* #rgb, #rgba, #rrggbb and #rrggbbaa (CSS Color 4, 5.2). */
static bool take_hex(struct svg_scan *scan, struct svg_paint *out)
{
	unsigned digits[8];
	unsigned count = 0;
	for (; scan->at < scan->end && number_hex_digit(*scan->at) >= 0; scan->at++) {
		if (count == 8)
			return false;
		digits[count++] = (unsigned)number_hex_digit(*scan->at);
	}
	bool brief = count == 3 || count == 4;
	if (!brief && count != 6 && count != 8)
		return false;

	unsigned channel[4] = {0, 0, 0, 255};
	for (unsigned i = 0; i < (brief ? count : count / 2); i++)
		channel[i] = brief ? digits[i] * 17 : digits[2 * i] * 16 + digits[2 * i + 1];
	*out = (struct svg_paint){.kind = SVG_PAINT_COLOUR,
				  .rgb = channel[0] << 16 | channel[1] << 8 | channel[2],
				  .alpha = channel[3] / 255.0};
	return true;
}

/* A number, or a percentage of `whole`. */
static bool take_share(struct svg_scan *scan, double whole, double *out)
{
	if (!svg_take_number(scan, out))
		return false;
	if (svg_take(scan, '%'))
		*out = *out * whole / 100;
	return true;
}

/* The alpha behind three channels, with a comma or a slash before it, and the bracket. */
static bool take_end(struct svg_scan *scan, double *alpha)
{
	*alpha = 1;
	svg_skip_spaces(scan);
	if (svg_take(scan, ',') || svg_take(scan, '/')) {
		svg_skip_spaces(scan);
		if (!take_share(scan, 1, alpha))
			return false;
		*alpha = clamp(*alpha, 1);
		svg_skip_spaces(scan);
	}
	return svg_take(scan, ')');
}

static bool take_rgb(struct svg_scan *scan, struct svg_paint *out)
{
	double channel[3];
	for (int i = 0; i < 3; i++) {
		if (i)
			svg_skip_comma(scan);
		else
			svg_skip_spaces(scan);
		if (!take_share(scan, 255, &channel[i]))
			return false;
	}
	out->rgb = join(channel[0], channel[1], channel[2]);
	return take_end(scan, &out->alpha);
}

/* CSS Color 4, 7.1: hue in degrees, saturation and lightness from 0 to 1. */
static double hsl_channel(double n, double hue, double saturation, double lightness)
{
	double k = fmod(n + hue / 30, 12);
	double a = saturation * fmin(lightness, 1 - lightness);
	return 255 * (lightness - a * fmax(-1, fmin(fmin(k - 3, 9 - k), 1)));
}

static bool take_hsl(struct svg_scan *scan, struct svg_paint *out)
{
	double hue, saturation, lightness;
	svg_skip_spaces(scan);
	if (!svg_take_angle(scan, &hue))
		return false;
	svg_skip_comma(scan);
	if (!take_share(scan, 100, &saturation))
		return false;
	svg_skip_comma(scan);
	if (!take_share(scan, 100, &lightness) || !isfinite(hue))
		return false;

	hue = fmod(hue, 360);
	hue += hue < 0 ? 360 : 0;
	saturation = clamp(saturation, 100) / 100;
	lightness = clamp(lightness, 100) / 100;
	out->rgb = join(hsl_channel(0, hue, saturation, lightness),
			hsl_channel(8, hue, saturation, lightness),
			hsl_channel(4, hue, saturation, lightness));
	return take_end(scan, &out->alpha);
}

/* Up to the bracket that closes the one before `scan`. */
static bool skip_brackets(struct svg_scan *scan)
{
	unsigned open = 1;
	for (; scan->at < scan->end && open; scan->at++) {
		open += *scan->at == '(';
		open -= *scan->at == ')';
	}
	return open == 0;
}

static bool take_function(struct svg_scan *scan, struct svg_scan name, struct svg_paint *out)
{
	out->kind = SVG_PAINT_COLOUR;
	if (svg_is_word(name, "rgb") || svg_is_word(name, "rgba"))
		return take_rgb(scan, out);
	if (svg_is_word(name, "hsl") || svg_is_word(name, "hsla"))
		return take_hsl(scan, out);
	out->kind = SVG_PAINT_SERVER;
	return !svg_is_word(name, "var") && !svg_is_word(name, "env") && skip_brackets(scan);
}

static bool take_paint(struct svg_scan *scan, struct svg_paint *out)
{
	*out = (struct svg_paint){.kind = SVG_PAINT_COLOUR, .alpha = 1};
	if (svg_take(scan, '#'))
		return take_hex(scan, out);

	const char *start = scan->at;
	struct svg_scan word = svg_take_word(scan);
	if (word.at == word.end)
		return false;
	if (svg_is_word(word, "url"))
		out->server = (struct svg_scan){start, scan->end};
	if (svg_take(scan, '('))
		return take_function(scan, word, out);
	if (svg_is_word(word, "none"))
		out->kind = SVG_PAINT_NONE;
	else if (svg_is_word(word, "transparent"))
		out->alpha = 0;
	else if (svg_is_word(word, "currentcolor"))
		out->kind = SVG_PAINT_CURRENT;
	else if (svg_is_word(word, "context-fill") || svg_is_word(word, "context-stroke"))
		out->kind = SVG_PAINT_SERVER;
	else
		return svg_colour_named(word, &out->rgb);
	return true;
}

bool svg_paint_parse(struct svg_scan text, struct svg_paint *out)
{
	text = svg_trim(text);
	if (!take_paint(&text, out))
		return false;
	svg_skip_spaces(&text);

	/* What may follow: a fallback behind url(), an icc-color() behind a colour (SVG 1.1). */
	struct svg_paint more;
	if (text.at == text.end)
		return true;
	bool whole = take_paint(&text, &more) && text.at == text.end;
	return whole && (out->kind == SVG_PAINT_SERVER ||
			 (out->kind == SVG_PAINT_COLOUR && more.kind == SVG_PAINT_SERVER));
}

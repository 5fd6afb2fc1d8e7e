#include "svg/transform.h"

#include <math.h>

#include "svg/length.h"

#define PI 3.14159265358979323846

bool svg_take_angle(struct svg_scan *scan, double *out)
{
	struct svg_scan ahead = *scan;
	if (!svg_take_number(&ahead, out))
		return false;
	struct svg_scan unit = svg_take_word(&ahead);
	if (unit.at < unit.end && *unit.at == '-') {
		ahead.at = unit.at;
		unit.end = unit.at;
	}
	if (svg_is_word(unit, "grad"))
		*out *= 0.9;
	else if (svg_is_word(unit, "rad"))
		*out *= 180 / PI;
	else if (svg_is_word(unit, "turn"))
		*out *= 360;
	else if (unit.at < unit.end && !svg_is_word(unit, "deg"))
		return false;
	*scan = ahead;
	return true;
}

/* Arguments are numbers (n), lengths (l) or angles (a); those behind the bar may be left out. */
struct function {
	const char *name, *arguments;
	struct svg_matrix (*matrix)(const double *v, int count);
};

static struct svg_matrix make_matrix(const double *v, int count)
{
	(void)count;
	return (struct svg_matrix){v[0], v[1], v[2], v[3], v[4], v[5]};
}

static struct svg_matrix make_translate(const double *v, int count)
{
	return svg_translation(v[0], count > 1 ? v[1] : 0);
}

static struct svg_matrix make_translate_y(const double *v, int count)
{
	(void)count;
	return svg_translation(0, v[0]);
}

static struct svg_matrix make_scale(const double *v, int count)
{
	return svg_scaling(v[0], count > 1 ? v[1] : v[0]);
}

static struct svg_matrix make_scale_x(const double *v, int count)
{
	(void)count;
	return svg_scaling(v[0], 1);
}

static struct svg_matrix make_scale_y(const double *v, int count)
{
	(void)count;
	return svg_scaling(1, v[0]);
}

/* Quarter turns are exact: cos(90°) would leave 6e-17. */
static struct svg_matrix turn(double degrees)
{
	double quarter = degrees / 90;
	if (quarter == floor(quarter) && fabs(quarter) < 1e9) {
		static const double COS[] = {1, 0, -1, 0}, SIN[] = {0, 1, 0, -1};
		int i = (int)(fmod(fmod(quarter, 4) + 4, 4));
		return (struct svg_matrix){COS[i], SIN[i], -SIN[i], COS[i], 0, 0};
	}
	double angle = degrees * PI / 180;
	return (struct svg_matrix){cos(angle), sin(angle), -sin(angle), cos(angle), 0, 0};
}

static struct svg_matrix make_rotate(const double *v, int count)
{
	struct svg_matrix rotation = turn(v[0]);
	if (count < 3)
		return rotation;
	rotation = svg_multiply(svg_translation(v[1], v[2]), rotation);
	return svg_multiply(rotation, svg_translation(-v[1], -v[2]));
}

static struct svg_matrix make_skew_x(const double *v, int count)
{
	(void)count;
	return (struct svg_matrix){1, 0, tan(v[0] * PI / 180), 1, 0, 0};
}

static struct svg_matrix make_skew_y(const double *v, int count)
{
	(void)count;
	return (struct svg_matrix){1, tan(v[0] * PI / 180), 0, 1, 0, 0};
}

static struct svg_matrix make_skew(const double *v, int count)
{
	double y = count > 1 ? tan(v[1] * PI / 180) : 0;
	return (struct svg_matrix){1, y, tan(v[0] * PI / 180), 1, 0, 0};
}

static const struct function FUNCTIONS[] = {
	{"matrix", "nnnnll", make_matrix},   {"translate", "l|l", make_translate},
	{"translatex", "l", make_translate}, {"translatey", "l", make_translate_y},
	{"scale", "n|n", make_scale},        {"scalex", "n", make_scale_x},
	{"scaley", "n", make_scale_y},       {"rotate", "a|ll", make_rotate},
	{"skewx", "a", make_skew_x},         {"skewy", "a", make_skew_y},
	{"skew", "a|a", make_skew},
};

static const struct function *find_function(struct svg_scan name)
{
	for (size_t i = 0; i < sizeof(FUNCTIONS) / sizeof(*FUNCTIONS); i++) {
		if (svg_is_word(name, FUNCTIONS[i].name))
			return &FUNCTIONS[i];
	}
	return NULL;
}

static bool take_argument(struct svg_scan *scan, char kind, double *out)
{
	if (kind == 'a')
		return svg_take_angle(scan, out);
	if (kind == 'n')
		return svg_take_number(scan, out);
	struct svg_length length;
	struct svg_scan ahead = *scan;
	if (!svg_take_length(&ahead, &length) || length.unit == SVG_UNIT_PERCENT ||
	    length.unit == SVG_UNIT_FONT)
		return false;
	*scan = ahead;
	*out = length.value;
	return true;
}

/* The arguments and the closing bracket. Returns how many there are, or -1. */
static int take_arguments(struct svg_scan *scan, const char *kinds, double *out)
{
	int count = 0;
	for (; *kinds; kinds++) {
		if (*kinds == '|') {
			struct svg_scan ahead = *scan;
			svg_skip_spaces(&ahead);
			if (ahead.at < ahead.end && *ahead.at == ')')
				break;
			continue;
		}
		if (count)
			svg_skip_comma(scan);
		else
			svg_skip_spaces(scan);
		if (!take_argument(scan, *kinds, &out[count]))
			return -1;
		count++;
	}
	svg_skip_spaces(scan);
	return svg_take(scan, ')') ? count : -1;
}

bool svg_transform_parse(struct svg_scan text, struct svg_matrix *out, const char **bad)
{
	*out = SVG_IDENTITY;
	text = svg_trim(text);
	if (svg_is_word(text, "none"))
		return true;
	while (text.at < text.end) {
		*bad = text.at;
		struct svg_scan name = svg_take_word(&text);
		const struct function *function = find_function(name);
		svg_skip_spaces(&text);
		if (!function || !svg_take(&text, '('))
			return false;
		double values[6];
		int count = take_arguments(&text, function->arguments, values);
		*bad = count < 0 ? text.at : *bad;
		if (count < 0)
			return false;
		*out = svg_multiply(*out, function->matrix(values, count));
		svg_skip_comma(&text);
	}
	return true;
}

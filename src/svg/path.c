#include "svg/path.h"

#include <stddef.h>

static const char NO_NUMBER[] = "no number follows this comma";
static const char CUT_SHORT[] = "the data ends in the middle of a segment";

struct reader {
	struct svg_scan scan;
	const char *text; /* where offsets count from */
	struct svg_sink sink;
	struct svg_mistake *mistake;
	struct cutlint_xy at, start; /* current point, start of the subpath */
	struct cutlint_xy control;   /* the last control point, for S and T */
	char before;                 /* the last command, upper case */
	/* The number that was last seen ahead, where and up to where it stands. */
	const char *ahead, *ahead_end;
	double ahead_value;
};

static uint32_t offset_of(const struct reader *reader, const char *at)
{
	return (uint32_t)(at - reader->text);
}

static bool fail(struct reader *reader, const char *at, size_t length, const char *message)
{
	while (at + length < reader->scan.end && (at[length] & 0xc0) == 0x80)
		length++; /* the rest of a character */
	*reader->mistake = (struct svg_mistake){offset_of(reader, at), (uint32_t)length, message};
	return false;
}

static char upper(char c)
{
	return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

/* The kinds of a command's numbers: coordinates (n) and flags (f). NULL for no command. */
static const char *numbers_of(char command)
{
	switch (upper(command)) {
	case 'M':
	case 'L':
	case 'T':
		return "nn";
	case 'H':
	case 'V':
		return "n";
	case 'Q':
	case 'S':
		return "nnnn";
	case 'C':
		return "nnnnnn";
	case 'A':
		return "nnnffnn";
	case 'Z':
		return "";
	default:
		return NULL;
	}
}

static bool take_flag(struct reader *reader, double *out)
{
	struct svg_scan *scan = &reader->scan;
	if (scan->at >= scan->end || (*scan->at != '0' && *scan->at != '1'))
		return false;
	*out = *scan->at++ - '0';
	return true;
}

static const char *wanted(char kind, char found)
{
	if (kind == 'f')
		return "an arc flag must be 0 or 1";
	if (found >= '0' && found <= '9')
		return "a digit must follow the dot of a number";
	return "a number was expected";
}

static bool take_number(struct reader *reader, double *out)
{
	if (reader->scan.at != reader->ahead)
		return svg_take_number(&reader->scan, out);
	reader->scan.at = reader->ahead_end;
	*out = reader->ahead_value;
	return true;
}

/* One set of numbers. `start` is where its segment's text starts, for a text that ends too early.
 */
static bool take_numbers(struct reader *reader, const char *kinds, const char *start, double *out)
{
	struct svg_scan *scan = &reader->scan;
	for (int i = 0; kinds[i]; i++) {
		if (i)
			svg_skip_comma(scan);
		bool taken =
			kinds[i] == 'f' ? take_flag(reader, &out[i]) : take_number(reader, &out[i]);
		if (!taken && scan->at >= scan->end)
			return fail(reader, start, (size_t)(scan->end - start), CUT_SHORT);
		if (!taken)
			return fail(reader, scan->at, 1, wanted(kinds[i], *scan->at));
	}
	return true;
}

static struct cutlint_xy mirrored(const struct reader *reader)
{
	return (struct cutlint_xy){2 * reader->at.x - reader->control.x,
				   2 * reader->at.y - reader->control.y};
}

static void set_points(struct svg_segment *segment, const double *v, int count,
		       struct cutlint_xy origin, int first)
{
	for (int i = 0; i < count; i++)
		segment->p[first + i] =
			(struct cutlint_xy){origin.x + v[2 * i], origin.y + v[2 * i + 1]};
}

/* Makes the segment of a command and its numbers; returns its end. */
static struct cutlint_xy make_segment(const struct reader *reader, char command, const double *v,
				      struct svg_segment *segment)
{
	bool relative = command >= 'a';
	struct cutlint_xy at = reader->at;
	struct cutlint_xy origin = relative ? at : (struct cutlint_xy){0, 0};
	segment->kind = SVG_LINE;
	switch (upper(command)) {
	case 'M':
		segment->kind = SVG_MOVE;
		set_points(segment, v, 1, origin, 0);
		return segment->p[0];
	case 'H':
		segment->p[0] = (struct cutlint_xy){origin.x + v[0], at.y};
		return segment->p[0];
	case 'V':
		segment->p[0] = (struct cutlint_xy){at.x, origin.y + v[0]};
		return segment->p[0];
	case 'C':
		segment->kind = SVG_CUBIC;
		set_points(segment, v, 3, origin, 0);
		return segment->p[2];
	case 'S': /* the control point mirrors that of a C or S before it, SVG 2, 9.3.6 */
		segment->kind = SVG_CUBIC;
		segment->p[0] =
			reader->before == 'C' || reader->before == 'S' ? mirrored(reader) : at;
		set_points(segment, v, 2, origin, 1);
		return segment->p[2];
	case 'Q':
		segment->kind = SVG_QUADRATIC;
		set_points(segment, v, 2, origin, 0);
		return segment->p[1];
	case 'T':
		segment->kind = SVG_QUADRATIC;
		segment->p[0] =
			reader->before == 'Q' || reader->before == 'T' ? mirrored(reader) : at;
		set_points(segment, v, 1, origin, 1);
		return segment->p[1];
	case 'A':
		segment->kind = SVG_ARC;
		segment->arc = (struct svg_arc){v[0], v[1], v[2], v[3] != 0, v[4] != 0};
		set_points(segment, v + 5, 1, origin, 0);
		return segment->p[0];
	default:
		set_points(segment, v, 1, origin, 0);
		return segment->p[0];
	}
}

static bool give(struct reader *reader, char command, const double *v, const char *start)
{
	struct svg_segment segment = {.offset = offset_of(reader, start), .from = reader->at};
	struct cutlint_xy end = make_segment(reader, command, v, &segment);
	reader->before = upper(command);
	reader->at = end;
	if (segment.kind == SVG_MOVE)
		reader->start = end;
	reader->control = segment.kind == SVG_CUBIC ? segment.p[1] : segment.p[0];
	return reader->sink.take(reader->sink.user, &segment);
}

static bool give_close(struct reader *reader, const char *start)
{
	struct svg_segment segment = {.kind = SVG_CLOSE,
				      .offset = offset_of(reader, start),
				      .from = reader->at,
				      .p = {reader->start}};
	reader->before = 'Z';
	reader->at = reader->start;
	return reader->sink.take(reader->sink.user, &segment);
}

/* Whether another set of numbers follows; a comma is only taken with it. */
static bool more_numbers(struct reader *reader, bool *stray_comma)
{
	struct svg_scan ahead = reader->scan;
	svg_skip_spaces(&ahead);
	const char *comma = ahead.at;
	bool has_comma = svg_take(&ahead, ',');
	svg_skip_spaces(&ahead);
	struct svg_scan probe = ahead;
	bool more = svg_take_number(&probe, &reader->ahead_value);
	reader->ahead = more ? ahead.at : NULL;
	reader->ahead_end = probe.at;
	*stray_comma = has_comma && !more;
	reader->scan.at = *stray_comma ? comma : ahead.at;
	return more;
}

enum outcome { GO_ON, MISTAKEN, STOPPED };

static enum outcome mistaken(struct reader *reader, const char *message)
{
	fail(reader, reader->scan.at, 1, message);
	return MISTAKEN;
}

static enum outcome read_command(struct reader *reader)
{
	const char *start = reader->scan.at;
	char command = *start;
	const char *kinds = numbers_of(command);
	if (!kinds)
		return mistaken(reader, "no path command starts like this");
	if (reader->before == '\0' && upper(command) != 'M')
		return mistaken(reader, "path data must start with a moveto");
	reader->scan.at++;
	if (!*kinds)
		return give_close(reader, start) ? GO_ON : STOPPED;

	bool stray_comma = false;
	svg_skip_spaces(&reader->scan);
	do {
		double v[7];
		if (!take_numbers(reader, kinds, start, v))
			return MISTAKEN;
		if (!give(reader, command, v, start))
			return STOPPED;
		if (upper(command) == 'M')
			command = command == 'm' ? 'l' : 'L';
		start = NULL;
		if (more_numbers(reader, &stray_comma))
			start = reader->scan.at;
	} while (start);
	return stray_comma ? mistaken(reader, NO_NUMBER) : GO_ON;
}

bool svg_path_parse(struct svg_scan data, struct svg_sink sink, struct svg_mistake *mistake)
{
	struct reader reader = {.scan = data, .text = data.at, .sink = sink, .mistake = mistake};
	mistake->message = NULL;
	if (svg_is_word(svg_trim(data), "none")) /* as in CSS */
		return true;
	for (;;) {
		svg_skip_spaces(&reader.scan);
		if (reader.scan.at >= reader.scan.end)
			return true;
		enum outcome outcome = read_command(&reader);
		if (outcome != GO_ON)
			return outcome == MISTAKEN;
	}
}

bool svg_points_parse(struct svg_scan data, bool close, struct svg_sink sink,
		      struct svg_mistake *mistake)
{
	struct reader reader = {.scan = data, .text = data.at, .sink = sink, .mistake = mistake};
	mistake->message = NULL;
	svg_skip_spaces(&reader.scan);
	bool stray_comma = false;
	bool more = reader.scan.at < reader.scan.end;
	for (char command = 'M'; more; command = 'L') {
		double v[2];
		const char *start = reader.scan.at;
		if (!take_numbers(&reader, "nn", start, v))
			break;
		if (!give(&reader, command, v, start))
			return false;
		more = more_numbers(&reader, &stray_comma);
	}
	const char *rest = reader.scan.at;
	if (mistake->message == CUT_SHORT)
		mistake->message = "this coordinate has no partner";
	if (!mistake->message && rest < reader.scan.end)
		fail(&reader, rest, 1, stray_comma ? NO_NUMBER : "a number was expected");
	if (!close || reader.before == '\0')
		return true;
	return give_close(&reader, reader.text);
}

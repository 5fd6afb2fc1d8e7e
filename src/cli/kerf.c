/* kerf.c - cutlint kerf: the kerf from one cut square, or several. */
#include <math.h>
#include <stdlib.h>

#include "cli/command.h"
#include "job/value.h"

/* The side of the square in corpus/kerf-square.svg. */
#define SQUARE_MM 20.0

/* What a job file takes. */
#define LEAST_KERF_MM 0.005
#define MOST_KERF_MM  2.0

/*
 * Published kerfs: 0.076 to 0.127 mm on board, 0.08 mm on card, up to 0.45 mm over all materials
 * (laboratory and service tables); 0.04 mm is under a spot.
 */
#define PLAUSIBLE_LEAST_MM 0.04
#define PLAUSIBLE_MOST_MM  0.45

/* Calipers read to 0.02 mm or so; kerfs of the two axes differ by 0.05 mm on some machines. */
#define SPREAD_MM 0.05

/* How far hole and part may lie from the square as drawn, beside the kerf: a hundredth. */
#define SCALE_SHARE 0.01

static const struct option OPTIONS[] = {
	{"hole", required_argument, NULL, 'o'},
	{"part", required_argument, NULL, 'p'},
	{"square", required_argument, NULL, 's'},
	{"help", no_argument, NULL, 'h'},
	{NULL, 0, NULL, 0},
};

struct measured {
	double *holes_mm, *parts_mm; /* in the order given */
	size_t hole_count, part_count;
	double square_mm;
	bool help;
};

/* What the pairs come to. */
struct kerf {
	double mean_mm, least_mm, most_mm;
	double middle_mm; /* of hole and part: the line as it was burned */
};

static int take_length(const char *option, double *out)
{
	struct value_error error;
	if (value_parse(optarg, VALUE_LENGTH, out, &error) < 0) {
		say_error("option '%s': %s", option, error.text);
		return -1;
	}
	if (*out > 0 && *out <= 2000)
		return 0;
	say_error("option '%s' takes a length above 0 mm and up to 2000 mm, not '%s'", option,
		  optarg);
	return -1;
}

static int take_option(struct measured *measured, int option)
{
	switch (option) {
	case 'o':
		return take_length("--hole", &measured->holes_mm[measured->hole_count++]);
	case 'p':
		return take_length("--part", &measured->parts_mm[measured->part_count++]);
	case 's':
		return take_length("--square", &measured->square_mm);
	case 'h':
		measured->help = true;
		return 0;
	default:
		return -1;
	}
}

static int read_arguments(struct measured *measured, int argc, char **argv)
{
	int option;
	option_start();
	while ((option = option_next(argc, argv, ":h", OPTIONS)) != -1) {
		if (take_option(measured, option) < 0)
			return -1;
	}
	if (measured->help)
		return 0;
	if (optind < argc)
		say_error("'cutlint kerf' takes options only, not '%s'", argv[optind]);
	else if (!measured->hole_count || measured->hole_count != measured->part_count)
		say_error("give a --hole and a --part for each measure; see cutlint help kerf");
	else
		return 0;
	return -1;
}

/* k = (hole - part) / 2: each side of both lies half a kerf from the line that was drawn. */
static int work_out(const struct measured *measured, struct kerf *out)
{
	*out = (struct kerf){.least_mm = INFINITY, .most_mm = -INFINITY};
	for (size_t i = 0; i < measured->hole_count; i++) {
		double hole_mm = measured->holes_mm[i], part_mm = measured->parts_mm[i];
		double kerf_mm = (hole_mm - part_mm) / 2;
		if (kerf_mm <= 0) {
			say_error("a part of %.2f mm is not smaller than its hole of %.2f mm: the "
				  "two are mixed up, or not from one square",
				  part_mm, hole_mm);
			return -1;
		}
		out->mean_mm += kerf_mm / (double)measured->hole_count;
		out->middle_mm += (hole_mm + part_mm) / 2 / (double)measured->hole_count;
		out->least_mm = fmin(out->least_mm, kerf_mm);
		out->most_mm = fmax(out->most_mm, kerf_mm);
	}
	if (out->mean_mm >= LEAST_KERF_MM && out->mean_mm <= MOST_KERF_MM)
		return 0;
	say_error("a kerf of %.3f mm can't be: it lies from %.3f mm to %.0f mm; measure again",
		  out->mean_mm, LEAST_KERF_MM, MOST_KERF_MM);
	return -1;
}

static void warn(const struct measured *measured, const struct kerf *kerf)
{
	if (kerf->mean_mm > PLAUSIBLE_MOST_MM)
		say_note("a kerf of %.2f mm is more than any that is published (%.2f mm): is the "
			 "beam in focus, and was the square burned once?",
			 kerf->mean_mm, PLAUSIBLE_MOST_MM);
	if (kerf->mean_mm < PLAUSIBLE_LEAST_MM)
		say_note("a kerf of %.3f mm is less than a beam's spot (%.2f mm): measure again",
			 kerf->mean_mm, PLAUSIBLE_LEAST_MM);
	if (kerf->most_mm - kerf->least_mm > SPREAD_MM)
		say_note("the measures give kerfs from %.2f mm to %.2f mm; their mean is taken. A "
			 "kerf that differs along the two axes comes from an oblong spot",
			 kerf->least_mm, kerf->most_mm);
	double off_mm = fabs(kerf->middle_mm - measured->square_mm);
	if (off_mm > SCALE_SHARE * measured->square_mm)
		say_note("hole and part have their middle at %.2f mm, not at the %.2f mm of the "
			 "square as drawn: the drawing was scaled, or it was another square "
			 "(--square)",
			 kerf->middle_mm, measured->square_mm);
}

static int print_kerf(const struct measured *measured, const struct kerf *kerf)
{
	struct text text = {0};
	char figure[48];
	value_format(round(kerf->mean_mm * 1000) / 1000, VALUE_LENGTH, figure);
	text_add_string(&text, "# Half of hole less part, from");
	for (size_t i = 0; i < measured->hole_count; i++)
		text_format(&text, "%s %.2f mm and %.2f mm", i ? "," : "", measured->holes_mm[i],
			    measured->parts_mm[i]);
	text_format(&text,
		    ". Holds for this stock, focus, speed\n"
		    "# and power, and takes the beam to run in the middle of the line.\n"
		    "kerf = %s\n",
		    figure);
	return output_all(&text, STATUS_CLEAN);
}

static int run_measured(struct measured *measured, int argc, char **argv)
{
	struct kerf kerf;
	if (!measured->holes_mm || !measured->parts_mm) {
		say_error("out of memory");
		return STATUS_FAILED;
	}
	if (read_arguments(measured, argc, argv) < 0)
		return STATUS_FAILED;
	if (measured->help)
		return command_help.run(2, (char *[]){"help", "kerf", NULL});
	if (work_out(measured, &kerf) < 0)
		return STATUS_FAILED;
	warn(measured, &kerf);
	return print_kerf(measured, &kerf);
}

static int run_kerf(int argc, char **argv)
{
	struct measured measured = {.square_mm = SQUARE_MM,
				    .holes_mm = calloc((size_t)argc, sizeof(double)),
				    .parts_mm = calloc((size_t)argc, sizeof(double))};
	int status = run_measured(&measured, argc, argv);
	free(measured.holes_mm);
	free(measured.parts_mm);
	return status;
}

const struct command command_kerf = {
	.name = "kerf",
	.summary = "work out the kerf from a cut test square",
	.usage =
		"usage: cutlint kerf --hole LENGTH --part LENGTH [OPTION]...\n"
		"\n"
		"Prints the line for the [burn] section of a job file. Cut the square of\n"
		"corpus/kerf-square.svg from the stock, with the settings of the job and at 100 %\n"
		"size, and measure the hole and the part that fell out of it, both across the "
		"same\n"
		"two sides, with calipers. The kerf is half of hole less part.\n"
		"\n"
		"  --hole LENGTH    the hole's side, such as '20.14 mm' (repeatable)\n"
		"  --part LENGTH    the part's side, measured the same way (repeatable: the first\n"
		"                   goes with the first hole, and so on; the mean is taken)\n"
		"  --square LENGTH  the square's side as drawn (default 20 mm)\n"
		"  -h, --help       print this\n"
		"\n"
		"A test burn is a burn: stay beside it, keep an extinguisher in reach, the cover\n"
		"closed and the fumes drawn off; let the card cool before you take it out. Local\n"
		"codes and the machine's manual come first; see docs/cautions.md.\n",
	.run = run_kerf,
};

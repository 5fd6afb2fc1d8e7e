/* job.c - cutlint job: a job file to begin with. */
#include "job/job.h"

#include "cli/command.h"
#include "cli/session.h"
#include "engine/option.h"
#include "job/starter.h"

/* Settings of the smallest and the largest machine for card that the recipes are meant for. */
#define LEAST_POWER_W 0.1
#define MOST_POWER_W  500.0

static const struct option OPTIONS[] = {
	{"format", required_argument, NULL, 'f'},
	{"stock", required_argument, NULL, 's'},
	{"spine", required_argument, NULL, 'p'},
	{"cut-from", required_argument, NULL, 'c'},
	{"kerf", required_argument, NULL, 'k'},
	{"power", required_argument, NULL, 'w'},
	{"list", no_argument, NULL, 'l'},
	{"help", no_argument, NULL, 'h'},
	{NULL, 0, NULL, 0},
};

struct arguments {
	struct starter starter;
	bool list, help;
};

static int refuse(const char *option, const struct value_error *error)
{
	say_error("option '%s': %s", option, error->text);
	return -1;
}

static int take_figure(const char *option, enum value_kind kind, double least, double most,
		       double *out)
{
	struct value_error error;
	if (value_parse(optarg, kind, out, &error) < 0)
		return refuse(option, &error);
	if (*out >= least && *out <= most)
		return 0;
	char low[48], high[48];
	value_format(least, kind, low);
	value_format(most, kind, high);
	say_error("option '%s' takes %s to %s, not '%s'", option, low, high, optarg);
	return -1;
}

static int take_spine(struct starter *starter)
{
	int word = option_word("--spine", optarg, job_spine_words);
	starter->spine = (enum cutlint_spine)(word < 0 ? 0 : word);
	return word < 0 ? -1 : 0;
}

static int take_side(struct starter *starter)
{
	int word = option_word("--cut-from", optarg, job_side_words);
	starter->side = (enum cutlint_side)(word < 0 ? 0 : word);
	return word < 0 ? -1 : 0;
}

static int take_option(struct arguments *arguments, int option)
{
	struct starter *starter = &arguments->starter;
	struct value_error error;
	switch (option) {
	case 'f':
		return starter_set_format(starter, optarg, &error) < 0 ? refuse("--format", &error)
								       : 0;
	case 's':
		return stock_parse(optarg, &starter->stock, &error) < 0 ? refuse("--stock", &error)
									: 0;
	case 'p':
		return take_spine(starter);
	case 'c':
		return take_side(starter);
	case 'k':
		return take_figure("--kerf", VALUE_LENGTH, 0.005, 2, &starter->kerf_mm);
	case 'w':
		return take_figure("--power", VALUE_POWER, LEAST_POWER_W, MOST_POWER_W,
				   &starter->power_w);
	case 'l':
		arguments->list = true;
		return 0;
	case 'h':
		arguments->help = true;
		return 0;
	default:
		return -1;
	}
}

/* A5 card is a usual greeting card; the rest are the defaults of a job file. */
static int read_arguments(struct arguments *arguments, int argc, char **argv)
{
	struct value_error error;
	*arguments = (struct arguments){.starter.kerf_mm = 0.15};
	starter_set_format(&arguments->starter, "ISO A6", &error);
	stock_parse("card 250", &arguments->starter.stock, &error);
	int option;
	option_start();
	while ((option = option_next(argc, argv, ":lh", OPTIONS)) != -1) {
		if (take_option(arguments, option) < 0)
			return -1;
	}
	if (optind == argc)
		return 0;
	say_error("'cutlint job' takes options only, not '%s'", argv[optind]);
	return -1;
}

static void add_rule(struct text *text, const struct cutlint_rule *rule)
{
	text_format(text, "[rule %s]\n#severity = %s\n", rule->name, severity_word(rule->severity));
	for (size_t i = 0; i < option_count(rule); i++)
		text_format(text, "#%s = %s  # %s\n", rule->options[i].name,
			    rule->options[i].fallback, rule->options[i].meaning);
}

static void add_rules(struct text *text, const struct registry *registry)
{
	text_add_string(text,
			"\n# Rules, with their defaults. A severity overrides that of all findings "
			"of a rule: note, warning,\n# error or off.\n");
	for (uint32_t i = 0; i < registry->count; i++)
		add_rule(text, registry->modules[i].rule);
}

static int print_starter(const struct starter *starter)
{
	struct session session;
	struct text text = {0};
	if (session_init(&session) < 0)
		return STATUS_FAILED;
	session_load_rules(&session);
	starter_write(&text, starter);
	add_rules(&text, &session.registry);
	int status = output_all(&text, session.failed ? STATUS_FAILED : STATUS_CLEAN);
	session_finish(&session);
	return status;
}

static int print_lists(void)
{
	struct text text = {0};
	starter_list_formats(&text);
	text_add_string(&text, "\n");
	starter_list_stocks(&text);
	return output_all(&text, STATUS_CLEAN);
}

static int run_job(int argc, char **argv)
{
	struct arguments arguments;
	if (read_arguments(&arguments, argc, argv) < 0)
		return STATUS_FAILED;
	if (arguments.help)
		return command_help.run(2, (char *[]){"help", "job", NULL});
	return arguments.list ? print_lists() : print_starter(&arguments.starter);
}

const struct command command_job = {
	.name = "job",
	.summary = "print a job file to begin with",
	.usage =
		"usage: cutlint job [OPTION]... > cutlint.job\n"
		"\n"
		"Prints a job file with comments for a card format and a stock: every key, with "
		"the\n"
		"ones that can't be known left out behind a '#'.\n"
		"\n"
		"  --format NAME    the folded card: 'ISO A6' (default), 'US A7', 'DL', or two\n"
		"                   lengths such as '105 mm x 148 mm'\n"
		"  --stock NAME     'card 250' (default), '80 lb cover', or a grammage such as\n"
		"                   '270 g/m2' or '300 g/m2 coated'\n"
		"  --spine SIDE     where the fold lies on the closed card: left (default), "
		"right,\n"
		"                   top, bottom\n"
		"  --cut-from SIDE  front (default) or back\n"
		"  --kerf LENGTH    the measured kerf (default 0.15 mm): see cutlint help kerf\n"
		"  --power POWER    the machine's, such as '10 W': recipes to try first are filled "
		"in\n"
		"  -l, --list       list the formats with their measures, and the stocks\n"
		"  -h, --help       print this\n",
	.run = run_job,
};

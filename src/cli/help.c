/* help.c - cutlint help: what the command does, and each of its parts. */
#include "cli/command.h"

static int print_overview(void)
{
	struct text text = {0};
	text_add_string(&text, "usage: cutlint COMMAND [OPTION]... [FILE]...\n"
			       "\n"
			       "Checks SVG drawings that will be cut from cardstock.\n"
			       "\n");
	for (size_t i = 0; commands[i]; i++)
		text_format(&text, "  %-10s %s\n", commands[i]->name, commands[i]->summary);
	text_add_string(&text, "\n"
			       "  -h, --help     print this\n"
			       "  -V, --version  print the version\n"
			       "\n"
			       "'cutlint help COMMAND' explains one.\n");
	return output_all(&text, STATUS_CLEAN);
}

static int run_help(int argc, char **argv)
{
	if (argc < 2 || argv[1][0] == '-')
		return print_overview();
	const struct command *command = command_find(argv[1]);
	if (!command) {
		const char *near = command_nearest(argv[1]);
		if (near)
			say_error("there is no command '%s'; did you mean '%s'?", argv[1], near);
		else
			say_error("there is no command '%s'", argv[1]);
		return STATUS_FAILED;
	}
	struct text text = {0};
	text_add_string(&text, command->usage);
	return output_all(&text, STATUS_CLEAN);
}

const struct command command_help = {
	.name = "help",
	.summary = "explain a command",
	.usage = "usage: cutlint help [COMMAND]\n"
		 "\n"
		 "Prints what a command does and its options.\n",
	.run = run_help,
};

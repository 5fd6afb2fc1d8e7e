#define _GNU_SOURCE /* uselocale, sigaction, fcntl */
#include "cutlint/command.h"

#include <errno.h>
#include <fcntl.h>
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli/command.h"
#include "cutlint/rule.h"
#include "job/nearest.h"

const struct command *const commands[] = {
	&command_check, &command_rules, &command_measure, &command_proof,
	&command_job,   &command_kerf,  &command_help,    NULL};

#define COMMAND_COUNT (sizeof(commands) / sizeof(commands[0]) - 1)

const struct command *command_find(const char *name)
{
	for (size_t i = 0; i < COMMAND_COUNT; i++) {
		if (strcmp(commands[i]->name, name) == 0)
			return commands[i];
	}
	return NULL;
}

const char *command_nearest(const char *name)
{
	const char *names[COMMAND_COUNT];
	for (size_t i = 0; i < COMMAND_COUNT; i++)
		names[i] = commands[i]->name;
	return nearest_word(name, names, COMMAND_COUNT);
}

static int refuse_command(const char *word)
{
	const char *near = command_nearest(word);
	if (near)
		say_error("there is no command '%s'; did you mean '%s'?", word, near);
	else if (access(word, F_OK) == 0)
		say_error("there is no command '%s'; to check a drawing: cutlint check %s", word,
			  word);
	else
		say_error("there is no command '%s'; see cutlint --help", word);
	return STATUS_FAILED;
}

static int print_version(void)
{
	struct text text = {0};
	text_format(&text, "cutlint %s (rule ABI %u)\n", CUTLINT_VERSION, CUTLINT_RULE_ABI);
	return output_all(&text, STATUS_CLEAN);
}

static int refuse_option(const char *word)
{
	static const char *const OPTIONS[] = {"--help", "--version"};
	const char *near = nearest_word(word, OPTIONS, sizeof(OPTIONS) / sizeof(OPTIONS[0]));
	if (near)
		say_error("there is no option '%s'; did you mean '%s'?", word, near);
	else
		say_error("there is no option '%s' before a command; see cutlint --help", word);
	return STATUS_FAILED;
}

static int dispatch(int argc, char **argv)
{
	if (argc < 2) {
		say_error("no command given; see cutlint --help");
		return STATUS_FAILED;
	}
	char *word = argv[1];
	if (strcmp(word, "--version") == 0 || strcmp(word, "-V") == 0)
		return print_version();
	if (strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0)
		return command_help.run(1, (char *[]){word, NULL});
	if (*word == '-')
		return refuse_option(word);
	const struct command *command = command_find(word);
	return command ? command->run(argc - 1, argv + 1) : refuse_command(word);
}

/*
 * A file opened in the place of a closed standard stream would be taken for that stream. Standard
 * output is held by something that can't be written, so that output does fail.
 */
static int hold_streams(void)
{
	for (int stream = STDIN_FILENO; stream <= STDERR_FILENO; stream++) {
		if (fcntl(stream, F_GETFD) >= 0)
			continue;
		int mode = stream == STDOUT_FILENO ? O_RDONLY : O_RDWR;
		if (open("/dev/null", mode) != stream)
			return -1;
	}
	return 0;
}

int cutlint_command(int argc, char **argv)
{
	if (hold_streams() < 0)
		return STATUS_FAILED;
	locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
	if (plain == (locale_t)0) {
		say_error("out of memory");
		return STATUS_FAILED;
	}

	/* A reader that goes away must give a failed write with exit 2, not a silent end. */
	struct sigaction ignore = {.sa_handler = SIG_IGN}, pipe_before;
	sigaction(SIGPIPE, &ignore, &pipe_before);
	locale_t locale_before = uselocale(plain);

	int status = dispatch(argc, argv);

	uselocale(locale_before);
	sigaction(SIGPIPE, &pipe_before, NULL);
	freelocale(plain);
	return status;
}

/* progress.c - the line that tells how far the work has come, on a terminal of the test's own. */
#define _GNU_SOURCE /* openpty */
#include <errno.h>
#include <poll.h>
#include <pty.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "scene.h"

/* ECMA-48: to the line's start, erase to its end. */
#define ERASE "\r\x1b[K"

/* No test waits longer for what should come at once. */
#define PATIENCE_MS 60000

#define LONG_NAME "a-file-with-a-name-that-is-far-longer-than-sixty-columns-are.svg"

/* A command with standard output and standard error on one terminal. */
struct terminal {
	int master;
	pid_t pid;
	char seen[16384];
	size_t length;
};

static void write_slow_rule(struct scene *scene)
{
	char *path = scene_path(scene, "rules/slow.so");
	scene_make_folder(scene, "rules");
	assert_int_equal(symlink(SLOW_RULE, path), 0);
	test_free(path);
	scene_write(scene, "a.svg", GOOD_DRAWING);
	scene_write(scene, LONG_NAME, GOOD_DRAWING);
}

/* What is run: `check` with the slow rule on one drawing or two. */
struct given {
	const char *variable; /* of the environment */
	const char *option;
	const char *first, *second; /* second may be NULL */
};

static void run_command(const struct scene *scene, const struct given *given)
{
	if (chdir(scene->folder) < 0)
		_exit(127);
	unsetenv("NO_COLOR");
	setenv("TERM", "xterm", 1);
	putenv((char *)(uintptr_t)given->variable);
	execl(CUTLINT_COMMAND, "cutlint", "check", "--rules", "rules", given->option, given->first,
	      given->second, (char *)NULL);
	_exit(127);
}

static void open_terminal(struct terminal *terminal, const struct scene *scene,
			  const struct given *given)
{
	int slave;
	const struct winsize size = {.ws_row = 24, .ws_col = 60};
	*terminal = (struct terminal){0};
	assert_int_equal(openpty(&terminal->master, &slave, NULL, NULL, &size), 0);
	terminal->pid = fork();
	if (terminal->pid == 0) {
		dup2(slave, STDOUT_FILENO);
		dup2(slave, STDERR_FILENO);
		run_command(scene, given);
	}
	close(slave);
}

/* Returns false at the end. */
static bool read_more(struct terminal *terminal)
{
	struct pollfd waited = {.fd = terminal->master, .events = POLLIN};
	assert_true(poll(&waited, 1, PATIENCE_MS) > 0);
	size_t room = sizeof(terminal->seen) - 1 - terminal->length;
	ssize_t got = read(terminal->master, terminal->seen + terminal->length, room);
	terminal->length += got > 0 ? (size_t)got : 0;
	terminal->seen[terminal->length] = '\0';
	return got > 0;
}

static void wait_for(struct terminal *terminal, const char *text)
{
	while (!strstr(terminal->seen, text)) {
		if (!read_more(terminal))
			fail_msg("the terminal shows no '%s' but: %s", text, terminal->seen);
	}
}

static int close_terminal(struct terminal *terminal)
{
	int status;
	while (read_more(terminal))
		continue;
	assert_int_equal(waitpid(terminal->pid, &status, 0), terminal->pid);
	close(terminal->master);
	return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

/* The rule waits until the line was seen, so the test needs no clock. */
static void slow_work_tells_how_far_it_is_and_clears_the_line_before_findings(void **state)
{
	struct scene *scene = *state;
	struct terminal terminal;
	write_slow_rule(scene);
	open_terminal(&terminal, scene,
		      &(struct given){"SLOW_UNTIL=go", "--color=never", "a.svg", LONG_NAME});
	wait_for(&terminal, " (slow), file 1 of 2: a.svg");
	assert_has(terminal.seen, ERASE "rule ");
	assert_lacks(terminal.seen, "looked at last");

	scene_write(scene, "go", "");
	wait_for(&terminal, "looked at last");
	const char *finding = strstr(terminal.seen, "a.svg:1:1: warning: looked at last");
	assert_non_null(finding);
	const char *erased = finding - strlen(ERASE);
	assert_true(erased >= terminal.seen);
	assert_memory_equal(erased, ERASE, strlen(ERASE));
	assert_int_equal(close_terminal(&terminal), 1);
	assert_lacks(strstr(terminal.seen, "2 warnings in 2 files"), ERASE);
}

/* A line that wraps could not be erased: of 60 columns at most 59 are used. */
static void the_line_does_not_wrap(void **state)
{
	struct scene *scene = *state;
	struct terminal terminal;
	write_slow_rule(scene);
	open_terminal(&terminal, scene,
		      &(struct given){"SLOW_UNTIL=go", "--color=never", LONG_NAME, NULL});
	wait_for(&terminal, " (slow): a-file");
	scene_write(scene, "go", "");
	assert_int_equal(close_terminal(&terminal), 1);
	const char *line = strstr(terminal.seen, " (slow): a-file");
	while (*line != '\r')
		line--;
	assert_int_equal(strcspn(line + strlen(ERASE), "\r\n"), 59);
}

static void who_wants_no_line_gets_none(void **state)
{
	static const struct given SILENT[] = {
		{"NO_COLOR=1", "--color=never", "a.svg", NULL},
		{"TERM=dumb", "--color=never", "a.svg", NULL},
		{"TERM=", "--color=never", "a.svg", NULL},
		{"A=b", "--quiet", "a.svg", NULL},
	};
	struct terminal terminals[4];
	write_slow_rule(*state);
	for (size_t i = 0; i < 4; i++)
		open_terminal(&terminals[i], *state, &SILENT[i]);
	for (size_t i = 0; i < 4; i++) {
		assert_int_equal(close_terminal(&terminals[i]), 1);
		assert_has(terminals[i].seen, "looked at last");
		assert_lacks(terminals[i].seen, ERASE);
		assert_lacks(terminals[i].seen, "(slow)");
	}
}

static void a_pipe_gets_none(void **state)
{
	struct scene *scene = *state;
	write_slow_rule(scene);
	const char *const terminal[] = {"TERM=xterm", NULL};
	const struct surroundings given = {.environment = terminal};
	const char *const arguments[] = {"check", "--rules", "rules", "a.svg", NULL};
	struct ran ran = scene_cutlint_in(scene, &given, arguments);
	assert_int_equal(ran.status, 1);
	assert_lacks(ran.err, "\r");
	assert_lacks(ran.err, "(slow)");
	assert_lacks(ran.out, "\r");
	ran_finish(&ran);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(slow_work_tells_how_far_it_is_and_clears_the_line_before_findings),
		SCENE(the_line_does_not_wrap),
		SCENE(who_wants_no_line_gets_none),
		SCENE(a_pipe_gets_none),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

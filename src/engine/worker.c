#define _POSIX_C_SOURCE 200809L /* O_CLOEXEC */
#include "engine/worker.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/prctl.h>
#include <unistd.h>

#include "engine/wire.h"

struct cutlint_check worker_check(const struct rules_run *run)
{
	return (struct cutlint_check){.arena = run->arena,
				      .design = run->design,
				      .job = run->setup->job,
				      .sheet = run->sheet};
}

static int write_all(int pipe, const char *bytes, size_t length)
{
	while (length) {
		ssize_t written = write(pipe, bytes, length);
		if (written < 0 && errno != EINTR)
			return -1;
		if (written > 0) {
			bytes += written;
			length -= (size_t)written;
		}
	}
	return 0;
}

static int send_text(int pipe, struct text *text, int result)
{
	if (result == 0)
		result = write_all(pipe, text->bytes, text->length);
	text->length = 0;
	return result;
}

static int work_on(const struct rules_run *run, uint32_t number, int pipe, struct text *text)
{
	if (send_text(pipe, text, wire_put_number(text, WIRE_RULE_BEGINS, number)) < 0)
		return -1;
	struct cutlint_check check = worker_check(run);
	rule_check_run(&check, &run->setup->rules[number]);
	for (const struct cutlint_finding *finding = check.first; finding;
	     finding = finding->next) {
		if (send_text(pipe, text, wire_put_finding(text, &finding->found)) < 0)
			return -1;
	}
	if (check.reason &&
	    send_text(pipe, text, wire_put_string(text, WIRE_COULD_NOT_LOOK, check.reason)) < 0)
		return -1;
	return send_text(pipe, text, wire_put_number(text, WIRE_RULE_ENDS, number));
}

/* What the program around the library does about its own signals is not for this process. */
static void forget_handlers(void)
{
	static const int SIGNALS[] = {SIGABRT, SIGBUS,  SIGFPE, SIGILL,  SIGINT,
				      SIGPIPE, SIGSEGV, SIGSYS, SIGTERM, SIGTRAP};
	for (size_t i = 0; i < sizeof(SIGNALS) / sizeof(SIGNALS[0]); i++)
		signal(SIGNALS[i], SIG_DFL);
}

/* What a module prints must not mix with the report, and it must not wait for a person. */
static void detach(pid_t parent)
{
	/* A rule that hangs must not outlive a command that was ended. */
	prctl(PR_SET_PDEATHSIG, SIGKILL);
	if (getppid() != parent)
		_exit(EXIT_FAILURE);
	int nowhere = open("/dev/null", O_RDWR | O_CLOEXEC);
	if (nowhere < 0)
		_exit(EXIT_FAILURE);
	dup2(nowhere, STDIN_FILENO);
	dup2(nowhere, STDOUT_FILENO);
	forget_handlers();
}

_Noreturn void worker_run(const struct rules_run *run, uint32_t first, int pipe, pid_t parent)
{
	struct text text = {0};
	detach(parent);
	for (uint32_t i = first; i < run->setup->rule_count; i++) {
		if (work_on(run, i, pipe, &text) < 0)
			_exit(EXIT_FAILURE);
	}
	_exit(EXIT_SUCCESS);
}

#define _GNU_SOURCE /* pipe2 */
#include "engine/process.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/prctl.h>
#include <unistd.h>

static void forget_handlers(void)
{
	static const int SIGNALS[] = {SIGABRT, SIGBUS,  SIGFPE, SIGILL,  SIGINT,
				      SIGPIPE, SIGSEGV, SIGSYS, SIGTERM, SIGTRAP};
	for (size_t i = 0; i < sizeof(SIGNALS) / sizeof(SIGNALS[0]); i++)
		signal(SIGNALS[i], SIG_DFL);
}

static void detach(pid_t parent)
{
	/* What hangs must not outlive a command that was ended. */
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

pid_t process_start(int *pipe)
{
	int ends[2];
	if (pipe2(ends, O_CLOEXEC) < 0)
		return -1;
	/* What stdio still holds must be written once, by the parent. */
	fflush(NULL);
	pid_t parent = getpid();
	pid_t pid = fork();
	if (pid == 0) {
		close(ends[0]);
		detach(parent);
		*pipe = ends[1];
		return 0;
	}
	int reason = errno;
	close(ends[1]);
	*pipe = ends[0];
	if (pid < 0)
		close(ends[0]);
	errno = reason;
	return pid;
}

int process_send(int pipe, const void *bytes, size_t length)
{
	const char *at = bytes;
	while (length) {
		ssize_t written = write(pipe, at, length);
		if (written < 0 && errno != EINTR)
			return -1;
		if (written > 0) {
			at += written;
			length -= (size_t)written;
		}
	}
	return 0;
}

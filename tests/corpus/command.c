#define _GNU_SOURCE /* memfd_create, O_CLOEXEC */
#include "command.h"

#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

/* A file in memory takes any amount of output without a reader at work. */
static int holder(const char *content)
{
	int file = memfd_create("stream", MFD_CLOEXEC);
	size_t length = content ? strlen(content) : 0;
	if (file >= 0 && length && write(file, content, length) != (ssize_t)length)
		abort();
	if (file >= 0)
		lseek(file, 0, SEEK_SET);
	return file;
}

static char *content_of(int file, size_t *length)
{
	struct stat status;
	if (fstat(file, &status) < 0)
		abort();
	char *bytes = calloc(1, (size_t)status.st_size + 1);
	if (!bytes || pread(file, bytes, (size_t)status.st_size, 0) != status.st_size)
		abort();
	*length = (size_t)status.st_size;
	return bytes;
}

static void start(const char *const *arguments, const struct surroundings *surroundings,
		  const int streams[3])
{
	for (int i = 0; i < 3; i++)
		dup2(streams[i], i);
	if (surroundings->closed)
		close(surroundings->closed);
	if (surroundings->folder && chdir(surroundings->folder) < 0)
		_exit(127);
	for (const char *const *at = surroundings->environment; at && *at; at++)
		putenv((char *)*at);
	signal(SIGPIPE, SIG_DFL);
	execv(arguments[0], (char *const *)arguments);
	_exit(127);
}

struct ran run(const char *const *arguments, const struct surroundings *given)
{
	static const struct surroundings NONE;
	const struct surroundings *surroundings = given ? given : &NONE;
	int out = surroundings->out_file ? open(surroundings->out_file, O_WRONLY | O_CLOEXEC)
					 : holder(NULL);
	int streams[] = {holder(surroundings->input), out, holder(NULL)};
	struct ran ran = {.status = -1};
	pid_t pid = fork();
	if (pid == 0)
		start(arguments, surroundings, streams);
	int status;
	if (pid > 0 && waitpid(pid, &status, 0) == pid)
		ran.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
	ran.out = surroundings->out_file ? calloc(1, 1) : content_of(out, &ran.out_length);
	ran.err = content_of(streams[2], &ran.err_length);
	for (int i = 0; i < 3; i++)
		close(streams[i]);
	return ran;
}

void ran_finish(struct ran *ran)
{
	free(ran->out);
	free(ran->err);
	*ran = (struct ran){0};
}

#define _GNU_SOURCE /* mkstemp, realpath, fchmod */
#include "cli/replace.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "cli/command.h"

bool replace_is_same(const char *path, const char *other)
{
	struct stat a, b;
	return path && other && stat(path, &a) == 0 && stat(other, &b) == 0 &&
	       a.st_dev == b.st_dev && a.st_ino == b.st_ino;
}

static int say(const char *path)
{
	say_error("cannot write '%s': %s", path, strerror(errno));
	return -1;
}

static int write_bytes(int file, const struct text *text)
{
	size_t written = 0;
	while (written < text->length) {
		ssize_t step = write(file, text->bytes + written, text->length - written);
		if (step < 0 && errno == EINTR)
			continue;
		if (step < 0)
			return -1;
		written += (size_t)step;
	}
	return 0;
}

/* What a new file may be read and written by; an old one keeps its mode. */
static mode_t mode_of(const struct stat *old)
{
	mode_t mask = umask(0);
	umask(mask);
	return old ? old->st_mode & 07777 : 0666 & ~mask;
}

static int write_beside(const char *path, const struct text *text, const struct stat *old)
{
	struct text beside = {0};
	text_format(&beside, "%s.XXXXXX", path);
	int file = beside.failed ? -1 : mkstemp(beside.bytes);
	int status = -1;
	if (file >= 0) {
		bool written = write_bytes(file, text) == 0 && fchmod(file, mode_of(old)) == 0;
		int reason = errno;
		bool closed = close(file) == 0;
		errno = written ? errno : reason;
		if (written && closed && rename(beside.bytes, path) == 0)
			status = 0;
		reason = errno;
		if (status < 0)
			unlink(beside.bytes);
		errno = reason;
	}
	if (beside.failed)
		errno = ENOMEM;
	if (status < 0)
		say(path);
	text_finish(&beside);
	return status;
}

static int write_directly(const char *path, const struct text *text)
{
	FILE *file = fopen(path, "we");
	if (!file)
		return say(path);
	bool written = fwrite(text->bytes, 1, text->length, file) == text->length;
	int reason = errno;
	if (fclose(file) == 0 && written)
		return 0;
	errno = written ? errno : reason;
	return say(path);
}

int replace_file(const char *path, const struct text *text)
{
	struct stat old;
	if (stat(path, &old) < 0)
		return errno == ENOENT ? write_beside(path, text, NULL) : say(path);
	if (S_ISDIR(old.st_mode)) {
		errno = EISDIR;
		return say(path);
	}
	if (!S_ISREG(old.st_mode))
		return write_directly(path, text);
	if (access(path, W_OK) < 0)
		return say(path);
	/* Where the path is a link, the file that it leads to is replaced. */
	char *true_path = realpath(path, NULL);
	int status = true_path ? write_beside(true_path, text, &old) : say(path);
	free(true_path);
	return status;
}

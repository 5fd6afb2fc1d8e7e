#define _GNU_SOURCE
#include "base/source.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/utf8.h"

#define MARK_BYTES 4096u

static int refuse(struct notices *notices, const char *path, const char *why)
{
	notice_add(notices, NOTICE_FATAL, "unreadable", 0, 0, "cannot read '%s': %s", path, why);
	return -1;
}

/* Opens without waiting for a FIFO's writer; NULL and a reason for what is no regular file. */
static int open_regular(const char *path, const char **why)
{
	int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
	struct stat status;
	if (file < 0 || fstat(file, &status) < 0) {
		*why = strerror(errno);
	} else if (S_ISDIR(status.st_mode)) {
		*why = "it is a folder";
	} else if (!S_ISREG(status.st_mode)) {
		*why = "it is not a regular file";
	} else {
		return file;
	}
	if (file >= 0)
		close(file);
	return -1;
}

struct buffer {
	char *bytes;
	size_t length, capacity;
};

static const char *read_more(int file, struct buffer *buffer, size_t most, bool *end)
{
	if (buffer->capacity - buffer->length < 2) {
		size_t capacity = buffer->capacity ? buffer->capacity * 2 : (size_t)64 * 1024;
		char *bytes = realloc(buffer->bytes, capacity);
		if (!bytes)
			return "out of memory";
		buffer->bytes = bytes;
		buffer->capacity = capacity;
	}
	ssize_t got =
		read(file, buffer->bytes + buffer->length, buffer->capacity - buffer->length - 1);
	if (got < 0)
		return errno == EINTR ? NULL : strerror(errno);
	buffer->length += (size_t)got;
	*end = got == 0;
	return buffer->length > most ? "it is larger than the limit" : NULL;
}

int source_read(struct source *source, struct arena *arena, const char *path, const char *name,
		uint32_t most, struct notices *notices)
{
	const char *why = NULL;
	bool standard = strcmp(path, "-") == 0;
	int file = standard ? STDIN_FILENO : open_regular(path, &why);
	if (file < 0)
		return refuse(notices, path, why);

	struct buffer buffer = {0};
	bool end = false;
	while (!end && !why)
		why = read_more(file, &buffer, most, &end);
	if (!standard)
		close(file);

	char *bytes = why ? NULL : arena_copy(arena, buffer.bytes, buffer.length);
	free(buffer.bytes);
	if (why)
		return refuse(notices, path, why);
	if (!bytes || source_index(source, arena, name, bytes, (uint32_t)buffer.length) < 0)
		return refuse(notices, path, "out of memory");
	return 0;
}

static bool ends_line(const char *bytes, uint32_t at)
{
	return bytes[at] == '\n' || (bytes[at] == '\r' && bytes[at + 1] != '\n');
}

int source_index(struct source *source, struct arena *arena, const char *name, const char *bytes,
		 uint32_t length)
{
	uint32_t line_count = 1;
	for (uint32_t at = 0; at < length; at++)
		line_count += ends_line(bytes, at);

	uint32_t *lines = ARENA_ARRAY(arena, uint32_t, line_count);
	uint32_t *marks = ARENA_ARRAY(arena, uint32_t, length / MARK_BYTES + 1);
	if (!lines || !marks)
		return -1;

	uint32_t line = 1, characters = 0;
	for (uint32_t at = 0; at < length; at++) {
		if (at % MARK_BYTES == 0)
			marks[at / MARK_BYTES] = characters;
		characters += ((unsigned char)bytes[at] & 0xc0) != 0x80;
		if (ends_line(bytes, at))
			lines[line++] = at + 1;
	}
	if (length % MARK_BYTES == 0)
		marks[length / MARK_BYTES] = characters;

	*source = (struct source){.name = name,
				  .bytes = bytes,
				  .length = length,
				  .lines = lines,
				  .line_count = line_count,
				  .marks = marks};
	return 0;
}

static uint32_t characters_before(const struct source *source, uint32_t byte)
{
	uint32_t mark = byte / MARK_BYTES;
	uint32_t from = mark * MARK_BYTES;
	return source->marks[mark] + (uint32_t)utf8_count(source->bytes + from, byte - from);
}

/* A byte order mark is no character of the text. */
static uint32_t text_start(const struct source *source)
{
	return source->length >= 3 && memcmp(source->bytes, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
}

struct source_position source_position(const struct source *source, uint32_t byte)
{
	if (byte > source->length)
		byte = source->length;
	uint32_t low = 0, high = source->line_count;
	while (high - low > 1) {
		uint32_t middle = low + (high - low) / 2;
		if (source->lines[middle] <= byte)
			low = middle;
		else
			high = middle;
	}
	uint32_t start = low == 0 ? text_start(source) : source->lines[low];
	if (byte < start)
		byte = start;
	return (struct source_position){
		.line = low + 1,
		.column = characters_before(source, byte) - characters_before(source, start) + 1,
	};
}

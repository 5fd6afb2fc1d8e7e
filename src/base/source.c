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

static enum source_state refuse(struct notices *notices, const char *path, const char *why)
{
	notice_add(notices, NOTICE_FATAL, "unreadable", 0, 0, "cannot read '%s': %s", path, why);
	return SOURCE_UNREADABLE;
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

static const char CHANGED[] = "it changed while it was read";
static const char NO_MEMORY[] = "out of memory";

/* Whether a file is still the one that was opened, as far as can be told. */
static bool same_state(const struct stat *a, const struct stat *b)
{
	return a->st_size == b->st_size && a->st_mtim.tv_sec == b->st_mtim.tv_sec &&
	       a->st_mtim.tv_nsec == b->st_mtim.tv_nsec && a->st_ctim.tv_sec == b->st_ctim.tv_sec &&
	       a->st_ctim.tv_nsec == b->st_ctim.tv_nsec;
}

/* Up to `most` bytes, or the end. Returns how many, or -1 with errno. */
static ssize_t read_up_to(int file, char *bytes, size_t most)
{
	size_t length = 0;
	while (length < most) {
		ssize_t got = read(file, bytes + length, most - length);
		if (got < 0 && errno != EINTR)
			return -1;
		if (got == 0)
			break;
		length += got > 0 ? (size_t)got : 0;
	}
	return (ssize_t)length;
}

struct content {
	char *bytes; /* in the arena, with a NUL behind them */
	size_t length;
	bool too_large;
};

/* A file of known size is read right into the arena. NULL, or why it can't be used. */
static const char *read_sized(int file, const struct stat *before, struct arena *arena,
			      struct content *out)
{
	char more;
	struct stat after;
	size_t size = (size_t)before->st_size;
	out->bytes = arena_take(arena, size + 1, 1);
	if (!out->bytes)
		return NO_MEMORY;
	ssize_t length = read_up_to(file, out->bytes, size);
	ssize_t rest = length < 0 ? -1 : read_up_to(file, &more, 1);
	if (rest < 0 || fstat(file, &after) < 0)
		return strerror(errno);
	if ((size_t)length < size || rest > 0 || !same_state(before, &after))
		return CHANGED;
	out->length = size;
	return NULL;
}

/* What has no size before it is read, such as a pipe. */
static const char *read_stream(int file, size_t most, struct arena *arena, struct content *out)
{
	char *bytes = NULL;
	const char *why = NULL;
	size_t length = 0, capacity = 0;
	for (bool end = false; !end && !why;) {
		size_t wanted = capacity ? capacity * 2 : (size_t)64 * 1024;
		char *larger = realloc(bytes, wanted);
		ssize_t got = larger ? read_up_to(file, larger + length, wanted - length) : 0;
		bytes = larger ? larger : bytes;
		capacity = wanted;
		if (!larger || got < 0) {
			why = larger ? strerror(errno) : NO_MEMORY;
			break;
		}
		end = (size_t)got < wanted - length;
		length += (size_t)got;
		out->too_large = length > most;
		why = out->too_large ? "" : NULL;
	}
	if (!why) {
		out->bytes = arena_copy(arena, bytes, length);
		out->length = length;
		why = out->bytes ? NULL : NO_MEMORY;
	}
	free(bytes);
	return why;
}

static const char *read_content(int file, size_t most, struct arena *arena, struct content *out)
{
	struct stat status;
	if (fstat(file, &status) < 0)
		return strerror(errno);
	bool sized = S_ISREG(status.st_mode) && status.st_size > 0 && file != STDIN_FILENO;
	if (!sized)
		return read_stream(file, most, arena, out);
	out->too_large = (uint64_t)status.st_size > most;
	return out->too_large ? "" : read_sized(file, &status, arena, out);
}

static void refuse_size(struct notices *notices, const char *path, struct source_limit most)
{
	struct notice *notice =
		notice_add(notices, NOTICE_FATAL, "unreadable", 0, 0,
			   "cannot read '%s': it has more bytes than may be read (limit%s%s: %u)",
			   path, most.name ? " " : "", most.name ? most.name : "", most.bytes);
	if (most.name)
		notice_suggest(notices, notice,
			       "if it is meant to be so large, raise the limit: --limit %s=N",
			       most.name);
}

enum source_state source_read(struct source *source, struct arena *arena, const char *path,
			      const char *name, struct source_limit most, struct notices *notices)
{
	const char *why = NULL;
	bool standard = strcmp(path, "-") == 0;
	int file = standard ? STDIN_FILENO : open_regular(path, &why);
	if (file < 0)
		return refuse(notices, path, why);

	struct content content = {0};
	why = read_content(file, most.bytes, arena, &content);
	if (!standard)
		close(file);
	if (content.too_large) {
		refuse_size(notices, path, most);
		return SOURCE_TOO_LARGE;
	}
	if (why)
		return refuse(notices, path, why);
	if (source_index(source, arena, name, content.bytes, (uint32_t)content.length) < 0)
		return refuse(notices, path, NO_MEMORY);
	return SOURCE_READ;
}

/* Where lines end: LF, CR LF and CR. Most texts have no CR, so that LF can be sought fast. */
struct line_ends {
	const char *bytes;
	uint32_t length;
	bool any_cr;
};

static bool ends_line(const char *bytes, uint32_t at)
{
	return bytes[at] == '\n' || (bytes[at] == '\r' && bytes[at + 1] != '\n');
}

/* The byte behind the next end of a line; the length + 1 without one. */
static uint32_t next_line(const struct line_ends *ends, uint32_t at)
{
	if (!ends->any_cr) {
		const char *end = memchr(ends->bytes + at, '\n', ends->length - at);
		return end ? (uint32_t)(end - ends->bytes) + 1 : ends->length + 1;
	}
	while (at < ends->length && !ends_line(ends->bytes, at))
		at++;
	return at + 1;
}

static void count_characters(const char *bytes, uint32_t length, uint32_t *marks)
{
	uint32_t characters = 0;
	for (uint32_t mark = 0; mark <= length / MARK_BYTES; mark++) {
		uint32_t from = mark * MARK_BYTES;
		marks[mark] = characters;
		characters += (uint32_t)utf8_count(
			bytes + from, length - from < MARK_BYTES ? length - from : MARK_BYTES);
	}
}

int source_index(struct source *source, struct arena *arena, const char *name, const char *bytes,
		 uint32_t length)
{
	struct line_ends ends = {bytes, length, memchr(bytes, '\r', length) != NULL};
	uint32_t line_count = 1, line = 1;
	for (uint32_t at = next_line(&ends, 0); at <= length; at = next_line(&ends, at))
		line_count++;

	uint32_t *lines = ARENA_ARRAY(arena, uint32_t, line_count);
	uint32_t *marks = ARENA_ARRAY(arena, uint32_t, length / MARK_BYTES + 1);
	if (!lines || !marks)
		return -1;

	for (uint32_t at = next_line(&ends, 0); at <= length; at = next_line(&ends, at))
		lines[line++] = at;
	count_characters(bytes, length, marks);

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

uint32_t source_start(const struct source *source)
{
	return source->length >= 3 && memcmp(source->bytes, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
}

uint32_t source_characters(const struct source *source, uint32_t byte)
{
	if (byte > source->length)
		byte = source->length;
	uint32_t start = source_start(source);
	return byte < start ? 0 : characters_before(source, byte) - (start ? 1 : 0);
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
	uint32_t start = low == 0 ? source_start(source) : source->lines[low];
	if (byte < start)
		byte = start;
	return (struct source_position){
		.line = low + 1,
		.column = characters_before(source, byte) - characters_before(source, start) + 1,
	};
}

/* source.h - the bytes of an input file, and where in them a byte stands. */
#ifndef BASE_SOURCE_H
#define BASE_SOURCE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/notice.h"

struct source {
	const char *name;  /* as shown to people */
	const char *bytes; /* UTF-8 where the reader made it so; bytes[length] is a NUL */
	uint32_t length;
	const uint32_t *lines; /* byte at which each line starts */
	uint32_t line_count;
	const uint32_t *marks; /* characters before each MARK_BYTES-th byte, for long lines */
	/* How `bytes` differ from the file's own, whose byte offsets are then others. */
	const char *encoding; /* the file's, by its IANA name; NULL: these very bytes */
	bool packed;          /* the file is compressed */
};

struct source_position {
	uint32_t line;   /* from 1 */
	uint32_t column; /* from 1, in Unicode code points; a tab counts 1, a BOM none */
};

enum source_state { SOURCE_READ = 0, SOURCE_UNREADABLE = -1, SOURCE_TOO_LARGE = -2 };

struct source_limit {
	uint32_t bytes;
	const char *name; /* that its user sets it by; NULL: it is fixed */
};

/*
 * Reads a regular file, or standard input for the path "-". A folder, a device, a FIFO, a file
 * of more bytes than `most`, one that changes while it is read, and whatever can't be read give a
 * fatal notice and a state below 0.
 */
enum source_state source_read(struct source *source, struct arena *arena, const char *path,
			      const char *name, struct source_limit most, struct notices *notices);

/*
 * Takes bytes that the arena owns (bytes[length] a NUL) and finds its lines, which end with LF,
 * CR LF or CR. Returns 0, or -1 where memory ran out.
 */
int source_index(struct source *source, struct arena *arena, const char *name, const char *bytes,
		 uint32_t length);

/* Logarithmic in the lines; bounded time in a long line. */
struct source_position source_position(const struct source *source, uint32_t byte);

/* The first byte of the text: behind a byte order mark. */
uint32_t source_start(const struct source *source);

/* Characters before a byte, a byte order mark not counted. In bounded time. */
uint32_t source_characters(const struct source *source, uint32_t byte);

#endif

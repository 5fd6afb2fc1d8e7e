#include "svg/encoding.h"

#include <errno.h>
#include <iconv.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/utf8.h"
#include "svg/scan.h"

#define LONGEST_NAME 40

static bool starts(const struct source *source, const char *with, size_t length)
{
	return source->length >= length && memcmp(source->bytes, with, length) == 0;
}

/* By the byte order mark, or by how `<` comes out (XML 1.0, appendix F). NULL: one byte each. */
static const char *wide_encoding(const struct source *source)
{
	if (starts(source, "\xff\xfe\0\0", 4) || starts(source, "<\0\0\0", 4))
		return "UTF-32LE";
	if (starts(source, "\0\0\xfe\xff", 4) || starts(source, "\0\0\0<", 4))
		return "UTF-32BE";
	if (starts(source, "\xff\xfe", 2) || starts(source, "<\0", 2))
		return "UTF-16LE";
	if (starts(source, "\xfe\xff", 2) || starts(source, "\0<", 2))
		return "UTF-16BE";
	return NULL;
}

static const char *find(const char *at, const char *end, const char *text)
{
	size_t length = strlen(text);
	for (; (size_t)(end - at) >= length; at++) {
		if (memcmp(at, text, length) == 0)
			return at;
	}
	return NULL;
}

/* The name in the XML declaration; empty where there is none. */
static void declared_encoding(const struct source *source, char out[LONGEST_NAME + 1])
{
	out[0] = '\0';
	const char *at = source->bytes + (starts(source, "\xef\xbb\xbf", 3) ? 3 : 0);
	const char *end = source->bytes + source->length;
	if (end - at < 5 || memcmp(at, "<?xml", 5) != 0)
		return;
	const char *close = find(at, end, "?>");
	const char *name = close ? find(at, close, "encoding") : NULL;
	if (!name)
		return;
	struct svg_scan scan = {name + 8, close};
	svg_skip_spaces(&scan);
	svg_take(&scan, '=');
	svg_skip_spaces(&scan);
	if (!svg_take(&scan, '"') && !svg_take(&scan, '\''))
		return;
	size_t length = 0;
	while (scan.at < scan.end && *scan.at != '"' && *scan.at != '\'' && length < LONGEST_NAME)
		out[length++] = *scan.at++;
	out[length] = '\0';
}

static bool is_utf8_name(const char *name)
{
	struct svg_scan scan = svg_scan_of(name);
	/* UTF-16 in a file whose letters are one byte each can't be true. */
	return !*name || svg_is_word(scan, "utf-8") || svg_is_word(scan, "utf8") ||
	       svg_is_word(scan, "us-ascii") || svg_is_word(scan, "ascii") ||
	       (scan.end - scan.at >= 6 &&
		svg_is_word((struct svg_scan){scan.at, scan.at + 6}, "utf-16"));
}

static int refuse(struct notices *notices, uint32_t byte, const char *format, const char *name)
{
	struct notice *notice =
		notice_add(notices, NOTICE_FATAL, "encoding", byte, 1, format, name);
	notice_suggest(notices, notice, "save the drawing as UTF-8");
	return -1;
}

static int check_utf8(const struct source *source, struct notices *notices)
{
	uint32_t at = 0;
	while (at < source->length) {
		at += (uint32_t)utf8_plain(source->bytes + at, source->length - at);
		if (at == source->length)
			break;
		size_t step = utf8_length((const unsigned char *)source->bytes + at);
		if (step == 0 || step > source->length - at)
			return refuse(notices, at, "this byte is not valid %s", "UTF-8");
		if (source->bytes[at] == '\0')
			return refuse(notices, at, "a NUL stands here: this is no text%s", "");
		at += (uint32_t)step;
	}
	return 0;
}

static int convert(iconv_t converter, struct source *source, struct arena *arena,
		   struct notices *notices, const char *name)
{
	/* No character takes more than four bytes in UTF-8, or three for each of one byte. */
	size_t room = (size_t)source->length * 4 + 4;
	char *bytes = malloc(room + 1);
	if (!bytes)
		return -1;
	char *in = (char *)(uintptr_t)source->bytes, *out = bytes;
	size_t left = source->length, free_bytes = room;
	bool failed = iconv(converter, &in, &left, &out, &free_bytes) == (size_t)-1;
	size_t length = (size_t)(out - bytes);
	uint32_t bad = source->length - (uint32_t)left;
	char *copy = failed || length > UINT32_MAX / 2 ? NULL : arena_copy(arena, bytes, length);
	free(bytes);
	if (failed)
		return refuse(notices, bad, "this byte is not valid %s", name);
	const char *encoding = arena_copy(arena, name, strlen(name));
	if (!copy || !encoding)
		return -1;
	bool packed = source->packed;
	int result = source_index(source, arena, source->name, copy, (uint32_t)length);
	source->encoding = encoding;
	source->packed = packed;
	return result;
}

static int transcode(struct source *source, struct arena *arena, struct notices *notices,
		     const char *name)
{
	iconv_t converter = iconv_open("UTF-8", name);
	if (converter == (iconv_t)-1)
		return refuse(notices, 0, "the encoding '%s' is not known", name);
	int result = convert(converter, source, arena, notices, name);
	iconv_close(converter);
	return result < 0 ? -1 : check_utf8(source, notices);
}

int svg_to_utf8(struct source *source, struct arena *arena, struct notices *notices)
{
	if (starts(source, "\x1f\x8b", 2)) {
		struct notice *notice = notice_add(notices, NOTICE_FATAL, "encoding", 0, 2,
						   "the drawing is packed twice");
		notice_suggest(notices, notice, "unpack it, or save it as plain SVG");
		return -1;
	}
	const char *wide = wide_encoding(source);
	if (wide)
		return transcode(source, arena, notices, wide);
	char name[LONGEST_NAME + 1];
	declared_encoding(source, name);
	if (is_utf8_name(name))
		return check_utf8(source, notices);
	return transcode(source, arena, notices, name);
}

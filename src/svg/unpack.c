#include "svg/unpack.h"

#include <stdlib.h>
#include <string.h>
#include <zlib.h>

#define FIRST_ROOM ((size_t)64 * 1024)

/* zlib's window size, and 16 more for "gzip only". */
#define GZIP_WINDOW (15 + 16)

struct unpacker {
	z_stream stream;
	struct svg_say *say;
	unsigned char *bytes; /* from malloc */
	size_t length, room;
};

bool svg_is_packed(const struct source *source)
{
	return source->length >= 2 && memcmp(source->bytes, "\x1f\x8b", 2) == 0;
}

static int refuse(struct svg_say *say, const char *why)
{
	struct notice *notice =
		svg_say(say, NOTICE_FATAL, "encoding", NULL, (struct cutlint_span){0, 0},
			"the drawing is packed (gzip), and %s", why);
	svg_suggest(say, notice, "save it anew, or as plain SVG");
	return -1;
}

static bool make_room(struct unpacker *unpacker)
{
	if (unpacker->length < unpacker->room)
		return true;
	size_t room = unpacker->room ? unpacker->room * 2 : FIRST_ROOM;
	unsigned char *bytes = realloc(unpacker->bytes, room);
	if (!bytes)
		return false;
	unpacker->bytes = bytes;
	unpacker->room = room;
	return true;
}

static int refuse_limit(struct unpacker *unpacker, size_t packed)
{
	const struct svg_limits *limits = unpacker->say->limits;
	struct cutlint_span start = {0, 0};
	uint32_t ratio = svg_limit_of(limits, SVG_LIMIT_UNPACK_RATIO);
	if (unpacker->length > svg_limit_of(limits, SVG_LIMIT_FILE_BYTES))
		svg_say_limit(unpacker->say, SVG_LIMIT_FILE_BYTES, NULL, start,
			      "the drawing unpacks to more bytes than may be read");
	else if (unpacker->length > svg_limit_grown(packed, ratio))
		svg_say_limit(unpacker->say, SVG_LIMIT_UNPACK_RATIO, NULL, start,
			      "the drawing unpacks to far more text than its %zu bytes should hold",
			      packed);
	else
		return 0;
	return -1;
}

/* What follows a packed part: another one, which belongs to it, or padding (RFC 1952, 2.2). */
static int next_member(struct unpacker *unpacker, bool *end)
{
	z_stream *stream = &unpacker->stream;
	while (stream->avail_in && *stream->next_in == 0) {
		stream->next_in++;
		stream->avail_in--;
	}
	*end = stream->avail_in == 0;
	if (!*end && inflateReset(stream) != Z_OK)
		return -1;
	return 0;
}

static int unpack_all(struct unpacker *unpacker, size_t packed)
{
	z_stream *stream = &unpacker->stream;
	bool end = false;
	while (!end) {
		if (!make_room(unpacker))
			return -1;
		stream->next_out = unpacker->bytes + unpacker->length;
		stream->avail_out = (uInt)(unpacker->room - unpacker->length);
		int result = inflate(stream, Z_NO_FLUSH);
		unpacker->length = (size_t)(stream->next_out - unpacker->bytes);
		if (result == Z_MEM_ERROR)
			return -1;
		if (refuse_limit(unpacker, packed) < 0)
			return -1;
		if (result == Z_BUF_ERROR && stream->avail_in == 0)
			return refuse(unpacker->say, "its end is missing");
		if (result != Z_OK && result != Z_STREAM_END && result != Z_BUF_ERROR)
			return refuse(unpacker->say, "it is damaged");
		if (result == Z_STREAM_END && next_member(unpacker, &end) < 0)
			return -1;
	}
	return 0;
}

static int start(struct unpacker *unpacker, const struct source *source)
{
	z_stream *stream = &unpacker->stream;
	stream->next_in = (unsigned char *)(uintptr_t)source->bytes;
	stream->avail_in = source->length;
	if (inflateInit2(stream, GZIP_WINDOW) != Z_OK)
		return -1;
	int result = unpack_all(unpacker, source->length);
	inflateEnd(stream);
	return result;
}

int svg_unpack(struct source *source, struct arena *arena, struct svg_say *say)
{
	struct unpacker unpacker = {.say = say};
	int result = start(&unpacker, source);
	char *text = NULL;
	if (result == 0)
		text = arena_copy(arena, (const char *)unpacker.bytes, unpacker.length);
	free(unpacker.bytes);
	if (!text)
		return -1;
	result = source_index(source, arena, source->name, text, (uint32_t)unpacker.length);
	source->packed = true;
	return result;
}

/* gzip.h - packs bytes, for tests of packed drawings. */
#ifndef TESTS_GZIP_H
#define TESTS_GZIP_H

#include <stdint.h>
#include <stdlib.h>
#include <zlib.h>

/*
 * One gzip member, in memory that free frees. By zlib's manual (deflateInit2) 15 is the largest
 * window, and 16 more stands for gzip.
 */
static inline char *gzip_pack(const char *bytes, size_t length, size_t *packed_length)
{
	z_stream stream = {.next_in = (unsigned char *)(uintptr_t)bytes, .avail_in = (uInt)length};
	if (deflateInit2(&stream, 9, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY) != Z_OK)
		abort();
	size_t room = deflateBound(&stream, (uLong)length);
	char *packed = malloc(room);
	stream.next_out = (unsigned char *)packed;
	stream.avail_out = (uInt)room;
	if (!packed || deflate(&stream, Z_FINISH) != Z_STREAM_END)
		abort();
	*packed_length = stream.total_out;
	deflateEnd(&stream);
	return packed;
}

#endif

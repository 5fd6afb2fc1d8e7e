/* utf8.h - characters in UTF-8 (RFC 3629). */
#ifndef BASE_UTF8_H
#define BASE_UTF8_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Bytes of the valid sequence at `at`, 1 to 4; 0 where there is none (overlong forms, surrogates
 * and what lies past U+10FFFF are none). `at` must end with a NUL, which counts as a character.
 */
size_t utf8_length(const unsigned char *at);

/* Whether all of `bytes` is valid. `bytes[length]` must be a NUL. */
bool utf8_valid(const char *bytes, size_t length);

/* Bytes that `bytes` starts with which surely are ASCII and no NUL: found eight at a time. */
size_t utf8_plain(const char *bytes, size_t length);

/* Characters in a stretch of valid UTF-8: bytes that do not continue another. */
size_t utf8_count(const char *bytes, size_t length);

#endif

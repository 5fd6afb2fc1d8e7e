#include "base/utf8.h"

#include <stdint.h>
#include <string.h>

/* Eight bytes at once: the lowest and the highest bit of each. */
#define LOW_BITS  UINT64_C(0x0101010101010101)
#define HIGH_BITS UINT64_C(0x8080808080808080)

static uint64_t eight_bytes(const char *bytes)
{
	uint64_t word;
	memcpy(&word, bytes, sizeof(word));
	return word;
}

size_t utf8_length(const unsigned char *at)
{
	if (at[0] < 0x80)
		return 1;
	if (at[0] < 0xc2 || at[0] > 0xf4)
		return 0;

	/* The second byte's range shuts out overlong forms, surrogates and too large values. */
	unsigned char least = 0x80, most = 0xbf;
	if (at[0] == 0xe0)
		least = 0xa0;
	else if (at[0] == 0xed)
		most = 0x9f;
	else if (at[0] == 0xf0)
		least = 0x90;
	else if (at[0] == 0xf4)
		most = 0x8f;
	if (at[1] < least || at[1] > most)
		return 0;

	size_t length = at[0] < 0xe0 ? 2 : at[0] < 0xf0 ? 3 : 4;
	for (size_t i = 2; i < length; i++) {
		if ((at[i] & 0xc0) != 0x80)
			return 0;
	}
	return length;
}

bool utf8_valid(const char *bytes, size_t length)
{
	const unsigned char *at = (const unsigned char *)bytes;
	const unsigned char *end = at + length;
	while (at < end) {
		at += utf8_plain((const char *)at, (size_t)(end - at));
		if (at == end)
			break;
		size_t step = utf8_length(at);
		if (step == 0 || step > (size_t)(end - at))
			return false;
		at += step;
	}
	return true;
}

size_t utf8_plain(const char *bytes, size_t length)
{
	size_t plain = 0;
	for (; length - plain >= 8; plain += 8) {
		uint64_t word = eight_bytes(bytes + plain);
		uint64_t has_nul = (word - LOW_BITS) & ~word;
		if ((word | has_nul) & HIGH_BITS)
			break;
	}
	return plain;
}

/* A byte that continues a character has its highest bit, and not the next one. */
size_t utf8_count(const char *bytes, size_t length)
{
	size_t count = length, i = 0;
	for (; length - i >= 8; i += 8) {
		uint64_t word = eight_bytes(bytes + i);
		uint64_t continues = (word >> 7) & ~(word >> 6) & LOW_BITS;
		count -= (size_t)(continues * LOW_BITS >> 56);
	}
	for (; i < length; i++)
		count -= ((unsigned char)bytes[i] & 0xc0) == 0x80;
	return count;
}

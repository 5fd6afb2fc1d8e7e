#include "base/utf8.h"

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
		size_t step = utf8_length(at);
		if (step == 0 || step > (size_t)(end - at))
			return false;
		at += step;
	}
	return true;
}

size_t utf8_count(const char *bytes, size_t length)
{
	size_t count = 0;
	for (size_t i = 0; i < length; i++)
		count += ((unsigned char)bytes[i] & 0xc0) != 0x80;
	return count;
}

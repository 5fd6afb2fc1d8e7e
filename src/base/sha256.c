#include "base/sha256.h"

#include <sha2.h>

void sha256_hex(const void *bytes, size_t length, char out[SHA256_HEX_LENGTH + 1])
{
	SHA256Data(bytes, length, out);
}

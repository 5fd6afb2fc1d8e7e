/* sha256.h - the Secure Hash Algorithm SHA-256 (FIPS 180-4, 6.2), by libmd. */
#ifndef BASE_SHA256_H
#define BASE_SHA256_H

#include <stddef.h>

#define SHA256_HEX_LENGTH 64

/* Writes the digest of `bytes` as lower-case hexadecimal digits with a NUL behind them. */
void sha256_hex(const void *bytes, size_t length, char out[SHA256_HEX_LENGTH + 1]);

#endif

/* fuzz.h - what every fuzz target offers: libFuzzer calls it, and so does replay.c. */
#ifndef TESTS_FUZZ_H
#define TESTS_FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

/* Holds for every input, whatever it is; else the input is a find. */
#define HOLDS(condition) ((condition) ? (void)0 : abort())

#endif

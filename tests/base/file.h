/* file.h - a whole file at once, for tests. */
#ifndef TESTS_FILE_H
#define TESTS_FILE_H

#include <stdio.h>
#include <stdlib.h>

/* The bytes of a regular file and a NUL, in memory that free frees; NULL if it can't be read. */
static inline char *file_read(const char *path)
{
	FILE *file = fopen(path, "rb");
	if (!file)
		return NULL;
	long length = fseek(file, 0, SEEK_END) == 0 ? ftell(file) : -1;
	char *bytes = length < 0 ? NULL : calloc((size_t)length + 1, 1);
	rewind(file);
	if (bytes && fread(bytes, 1, (size_t)length, file) != (size_t)length) {
		free(bytes);
		bytes = NULL;
	}
	fclose(file);
	return bytes;
}

#endif

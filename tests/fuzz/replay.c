/*
 * Runs a fuzz target over files and folders of inputs: for builds without libFuzzer. Each input is
 * given as it is, cut off at every 7th byte, and with bytes changed.
 */
#include <dirent.h>
#include <stdio.h>
#include <string.h>

#include "fuzz.h"

#define LONGEST ((size_t)1024 * 1024)

static void run(const unsigned char *bytes, size_t length)
{
	/* A block of its own, so that a sanitizer sees what is read past the end. */
	unsigned char *copy = malloc(length ? length : 1);
	if (!copy)
		abort();
	if (length)
		memcpy(copy, bytes, length);
	LLVMFuzzerTestOneInput(copy, length);
	free(copy);
}

static void run_variants(unsigned char *bytes, size_t length)
{
	run(bytes, length);
	size_t step = length / 100 > 7 ? length / 100 : 7;
	for (size_t i = 0; i < length; i += step) {
		unsigned char before = bytes[i];
		run(bytes, i);
		bytes[i] ^= 0x1f;
		run(bytes, length);
		bytes[i] = before;
	}
}

static int replay(const char *path)
{
	static unsigned char bytes[LONGEST];
	FILE *file = fopen(path, "rb");
	if (!file) {
		perror(path);
		return -1;
	}
	size_t length = fread(bytes, 1, LONGEST, file);
	fclose(file);
	run_variants(bytes, length);
	return 1;
}

static int replay_folder(const char *path)
{
	int count = 0;
	DIR *folder = opendir(path);
	if (!folder)
		return replay(path);
	for (const struct dirent *entry; count >= 0 && (entry = readdir(folder));) {
		char name[4096];
		if (*entry->d_name == '.')
			continue;
		snprintf(name, sizeof(name), "%s/%s", path, entry->d_name);
		int one = replay(name);
		count = one < 0 ? -1 : count + one;
	}
	closedir(folder);
	return count;
}

int main(int argc, char **argv)
{
	int count = 0;
	for (int i = 1; i < argc && count >= 0; i++) {
		int more = replay_folder(argv[i]);
		count = more < 0 ? -1 : count + more;
	}
	if (count <= 0) {
		fprintf(stderr, "no input\n");
		return 1;
	}
	printf("%d inputs\n", count);
	return 0;
}

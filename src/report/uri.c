#define _XOPEN_SOURCE 700 /* realpath */
#include "report/uri.h"

#include <stdlib.h>
#include <string.h>

static bool is_unreserved(unsigned char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
	       strchr("-._~", c);
}

static void add_segment(struct text *out, const char *segment, size_t length)
{
	for (size_t i = 0; i < length; i++) {
		unsigned char c = (unsigned char)segment[i];
		if (c && is_unreserved(c))
			text_add(out, &segment[i], 1);
		else
			text_format(out, "%%%02X", c);
	}
}

static bool is_segment(const char *at, size_t length, const char *segment)
{
	return length == strlen(segment) && memcmp(at, segment, length) == 0;
}

static void add_segments(struct text *out, const char *path)
{
	bool first = true;
	while (*path) {
		size_t length = strcspn(path, "/");
		if (length && !is_segment(path, length, ".")) {
			if (!first)
				text_add_string(out, "/");
			add_segment(out, path, length);
			first = false;
		}
		path += length + (path[length] == '/');
	}
}

static bool climbs(const char *path)
{
	while (*path) {
		size_t length = strcspn(path, "/");
		if (is_segment(path, length, ".."))
			return true;
		path += length + (path[length] == '/');
	}
	return false;
}

/* What of an absolute path lies below a folder; NULL where it lies elsewhere. */
static const char *below(const char *path, const char *folder)
{
	size_t length = folder ? strlen(folder) : 0;
	if (!length || strncmp(path, folder, length) != 0 || path[length] != '/')
		return NULL;
	return path + length + 1;
}

bool uri_add_path(struct text *out, const char *path, const char *folder)
{
	char *resolved = climbs(path) ? realpath(path, NULL) : NULL;
	const char *full = resolved ? resolved : path;
	const char *inside = *full == '/' ? below(full, folder) : full;
	if (!inside)
		text_add_string(out, "file:///");
	add_segments(out, inside ? inside : full);
	free(resolved);
	return inside;
}

/* uri.h - paths as URI references (RFC 3986). */
#ifndef REPORT_URI_H
#define REPORT_URI_H

#include <stdbool.h>

#include "base/text.h"

/*
 * Adds the reference of a path: relative to `folder` (an absolute path, NULL where it is not known)
 * if it lies in it, else as file:///... All but unreserved characters (2.3) and the slashes are
 * percent-encoded, byte by byte, so that the reference is ASCII whatever the name holds. Segments
 * that say nothing (".", empty ones) are left out; with ".." the path is resolved on the file
 * system, since a link may lead elsewhere. Returns whether the reference is relative.
 */
bool uri_add_path(struct text *out, const char *path, const char *folder);

#endif

/* limit.h - the option --limit NAME=VALUE of the commands that read drawings. */
#ifndef CLI_LIMIT_H
#define CLI_LIMIT_H

#include "svg/limits.h"

/* Returns 0, or -1 for what names no limit or no value that it takes, which was said. */
int limit_take(struct svg_limits *limits, const char *text);

#endif

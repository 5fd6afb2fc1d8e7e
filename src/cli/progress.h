/*
 * progress.h - one line on the terminal that tells how far the work has come.
 *
 * It is there only where standard error is a terminal that is not dumb, without --quiet and without
 * NO_COLOR; only after a second of work; and never while something else is printed. All functions
 * take NULL, which stands for no such line.
 */
#ifndef CLI_PROGRESS_H
#define CLI_PROGRESS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/progress.h"

struct progress_line;

/* NULL where there is to be none, or it can't be had: then the work goes on without. */
struct progress_line *progress_start(bool quiet);
void progress_stop(struct progress_line *line);

/* The file that is at work now. `name` must last until the next one, or the line's end. */
void progress_set_file(struct progress_line *line, const char *name, uint32_t number, uint32_t of);

/* What tells the line; NULL for no line. */
const struct progress *progress_hook(const struct progress_line *line);

/* Takes the line away until more is told: call before anything is printed. */
void progress_clear(struct progress_line *line);

#endif

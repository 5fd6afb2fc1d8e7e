/* colour.h - whether a stream gets colours. */
#ifndef REPORT_COLOUR_H
#define REPORT_COLOUR_H

#include <stdbool.h>

enum colour_when { COLOUR_AUTO, COLOUR_ALWAYS, COLOUR_NEVER };

/*
 * For COLOUR_AUTO: never where NO_COLOR is set and not empty; else always where CLICOLOR_FORCE is
 * set, not empty and not 0; else where the stream is a terminal that is not dumb. These variables
 * are conventions of their own, see no-color.org and bixense.com/clicolors.
 */
bool colour_wanted(enum colour_when when, int stream);

#endif

/* command.h - the cutlint command as a function. */
#ifndef CUTLINT_COMMAND_H
#define CUTLINT_COMMAND_H

#include "cutlint/export.h"

/*
 * Runs the command with these arguments (argv[0] is the program's name) and returns its exit
 * status: 0 nothing at or above the chosen severity, 1 findings, 2 could not check. Findings go to
 * standard output, the command's own trouble to standard error. Sets no locale, installs no signal
 * handler that outlives the call.
 */
CUTLINT_EXPORT int cutlint_command(int argc, char **argv);

#endif

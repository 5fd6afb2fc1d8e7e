/* process.h - what all processes do that are forked for modules. */
#ifndef ENGINE_PROCESS_H
#define ENGINE_PROCESS_H

#include <stddef.h>
#include <sys/types.h>

/*
 * Forks a process with a pipe to this one. Returns its id, 0 in the new process, or -1 with errno;
 * `pipe` is the end to read from, in the new process the end to write to.
 *
 * The new process ends with its parent, has no standard input, its standard output leads nowhere,
 * so that what a module prints can't mix with the report, and what the program around the library
 * does about signals is forgotten.
 */
pid_t process_start(int *pipe);

/* Writes all bytes into a pipe. Returns 0 or -1. */
int process_send(int pipe, const void *bytes, size_t length);

#endif

/*
 * failing.h - an allocator that runs out. For one file of a test, whose linker sends the project's
 * own allocations here: --wrap=malloc, --wrap=calloc and --wrap=realloc.
 */
#ifndef TESTS_FAILING_H
#define TESTS_FAILING_H

#include <stdbool.h>
#include <stdlib.h>

static struct {
	long granted; /* requests until one fails; negative: none does */
	bool once;    /* those behind it are granted */
	bool failed;
} failing = {.granted = -1};

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *old, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *old, size_t size);

static bool failing_now(void)
{
	if (failing.granted < 0)
		return false;
	if (failing.granted > 0) {
		failing.granted--;
		return false;
	}
	bool now = !failing.once || !failing.failed;
	failing.failed = true;
	return now;
}

void *__wrap_malloc(size_t size)
{
	return failing_now() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
	return failing_now() ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *old, size_t size)
{
	return failing_now() ? NULL : __real_realloc(old, size);
}

/* So many requests are granted from now on; then one fails, or all that follow do. */
static void failing_start(long granted, bool once)
{
	failing.once = once;
	failing.failed = false;
	failing.granted = granted;
}

/* All are granted again. Returns whether any failed. */
static bool failing_stop(void)
{
	failing.granted = -1;
	return failing.failed;
}

#endif

/* fresh.h - a fresh arena as the state of each test. */
#ifndef TESTS_FRESH_H
#define TESTS_FRESH_H

#include "base/arena.h"
#include "unit.h"

static inline int fresh_arena(void **state)
{
	*state = arena_create();
	return *state ? 0 : -1;
}

static inline int drop_arena(void **state)
{
	arena_destroy(*state);
	return 0;
}

#define FRESH(test) cmocka_unit_test_setup_teardown(test, fresh_arena, drop_arena)

#endif

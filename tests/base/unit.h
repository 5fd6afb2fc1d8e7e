/* unit.h - what cmocka wants to see before its own header. */
#ifndef TESTS_UNIT_H
#define TESTS_UNIT_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#endif

/* descriptor.h - whether a rule's descriptor can be trusted. */
#ifndef ENGINE_DESCRIPTOR_H
#define ENGINE_DESCRIPTOR_H

#include <stddef.h>

#include "base/text.h"
#include "cutlint/rule.h"

/*
 * Checks a descriptor: ABI number and size before any other field is read, then the rest. `stem` is
 * the module's file name without ".so"; `bytes` is how many the symbol has, as far as known (else
 * SIZE_MAX). Returns 0, or -1 with the reason added to `why`: what is wrong, without full stop.
 */
int descriptor_verify(const struct cutlint_rule *rule, const char *stem, size_t bytes,
		      struct text *why);

#endif

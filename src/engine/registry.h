/* registry.h - rule modules: found in folders, loaded, verified, sorted by name. */
#ifndef ENGINE_REGISTRY_H
#define ENGINE_REGISTRY_H

#include <sys/types.h>

#include "base/arena.h"
#include "cutlint/rule.h"
#include "engine/trouble.h"

/* One module that was taken. */
struct module {
	const char *file; /* its path */
	const struct cutlint_rule *rule;
	dev_t device; /* where the file lies, by whatever path */
	ino_t node;
};

/* Start from {.arena = ...}. Its modules stay loaded until the process ends. */
struct registry {
	struct arena *arena;
	struct module *modules; /* sorted by name */
	uint32_t count, capacity;
};

/*
 * Loads every `*.so` of a folder, in the order of the names. A module that can't be taken becomes a
 * trouble that names the file and the reason, and so does a folder that can't be read. A module
 * that is loaded already is passed over.
 */
void registry_add_folder(struct registry *registry, const char *folder, struct troubles *troubles);

/* The module of this name, NULL without one. */
const struct module *registry_find(const struct registry *registry, const char *name);

/* The name nearest to a misspelt one, NULL without one. */
const char *registry_nearest(const struct registry *registry, const char *name);

/*
 * The folder of the rule modules that belong to this libcutlint: `cutlint/rules` beside an
 * installed library, `rules` in a build tree. NULL where memory ran out.
 */
const char *registry_own_folder(struct arena *arena);

#endif

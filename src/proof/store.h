/* store.h - what several pictures show, defined once: regions, lines by role, patterns. */
#ifndef PROOF_STORE_H
#define PROOF_STORE_H

#include "proof/scene.h"

/*
 * Writes a <defs> with the groups #regions and #lines-ROLE, in sheet mm, and the patterns. Lines
 * have no stroke of their own: see store_use_lines.
 */
void store_write(const struct scene *scene, struct writer *writer);

/* Whether a role has lines in the store. */
bool store_has_lines(const struct scene *scene, enum cutlint_role role);

void store_use_regions(struct writer *writer);

/* What the kerf of the art takes from windows' edges: in the colour of what lies behind. */
void store_use_kerf(const struct scene *scene, struct writer *writer);

/* Lines of a role as wide as `width_mm`, in a paint such as "#2b2622". */
void store_use_lines(const struct scene *scene, struct writer *writer, enum cutlint_role role,
		     const char *class, const char *paint, double width_mm);

/* A patch of what the key explains, from 0,0: the patterns in their true size. */
enum store_patch {
	STORE_KEPT,
	STORE_WINDOW,
	STORE_BARE, /* a window with nothing behind it */
	STORE_LOOSE
};
void store_patch(const struct scene *scene, struct writer *writer, enum store_patch patch,
		 double width_mm, double height_mm);

#endif

/* home.h - where the modules lie that belong to this libcutlint. */
#ifndef ENGINE_HOME_H
#define ENGINE_HOME_H

#include "base/arena.h"

/*
 * A path by the place of the library itself: `installed` below the folder of an installed library,
 * `built` below a build tree, which is told by meson's own folder `meson-info`. NULL where memory
 * ran out, "" where the library's place can't be told.
 */
const char *home_path(struct arena *arena, const char *installed, const char *built);

#endif

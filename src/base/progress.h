/* progress.h - how far long work has come, for whoever shows it. */
#ifndef BASE_PROGRESS_H
#define BASE_PROGRESS_H

#include <stdint.h>

/* Who wants to hear of it. */
struct progress {
	/* `what` is a word or two: "reading", "rule". `name` may be NULL; of 0: it is not counted.
	 */
	void (*hear)(void *user, const char *what, const char *name, uint32_t number, uint32_t of);
	void *user;
};

/* Takes NULL for nobody. */
static inline void progress_tell(const struct progress *progress, const char *what,
				 const char *name, uint32_t number, uint32_t of)
{
	if (progress)
		progress->hear(progress->user, what, name, number, of);
}

#endif

/* place.h - places as a report shows them. */
#ifndef ENGINE_PLACE_H
#define ENGINE_PLACE_H

#include "base/arena.h"
#include "engine/finding.h"
#include "job/job.h"

/* The element's name for people, in the arena. NULL where memory ran out. */
const char *place_element_name(struct arena *arena, const struct cutlint_element *element);

/*
 * Sets a place from what a rule names. `text` may be NULL. The root element gets no name: it says
 * nothing. Returns 0, or -1 where memory ran out.
 */
int place_set(struct finding_place *out, struct arena *arena, const struct cutlint_design *design,
	      const struct cutlint_place *place, const char *text);

/* The same for a finding of cutlint's own; where memory ran out the list is marked. */
struct finding_place place_for(struct findings *findings, const struct cutlint_design *design,
			       const struct cutlint_place *place);

/* The line of a job file that cutlint_place_job names. */
struct cutlint_place place_in_job(const struct job *job, const char *section, const char *name,
				  const char *key);

/* The line itself, NULL where the job has none. */
const struct job_entry *place_find_entry(const struct job *job, const char *section,
					 const char *name, const char *key);

/* Sets a place from one in the job file. */
void place_set_job(struct finding_place *out, const struct job *job,
		   const struct cutlint_place *place, const char *text);

/* Sets the element's name in a place; leaves it NULL for none and for the root. */
int place_set_element(struct finding_place *out, struct arena *arena,
		      const struct cutlint_element *element);

#endif

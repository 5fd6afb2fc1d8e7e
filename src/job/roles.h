/* roles.h - gives shapes their roles by the job's patterns. */
#ifndef JOB_ROLES_H
#define JOB_ROLES_H

#include "job/job.h"

/*
 * Sets `role` and `role_named` of every shape. Patterns see the name path from the root, joined by
 * `/`; the innermost element that any pattern takes wins, then the order in the job; what no
 * pattern takes is art. A pattern that meets its match limit gives a fatal notice at its line.
 * Returns 0 or -1.
 */
int job_assign_roles(const struct job *job, struct cutlint_design *design, struct notices *notices);

#endif

/* reference.h - what the reader said of art that no role burns, left out. */
#ifndef ENGINE_REFERENCE_H
#define ENGINE_REFERENCE_H

#include "base/notice.h"
#include "cutlint/model.h"

/*
 * The reader knows no roles: it says of all art that it will not be cut, or not as it is seen
 * (text, pictures, clip paths, markers, ...). Takes out those notices whose element draws only
 * shapes of roles that are not burned: guides, blanks, faces, as-seen art, what is skipped. Returns
 * 0, or -1 where memory ran out.
 */
int reference_leave_out(struct notices *notices, const struct cutlint_design *design);

#endif

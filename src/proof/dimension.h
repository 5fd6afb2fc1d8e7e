/* dimension.h - what a finding measures, drawn to scale on the sheet. */
#ifndef PROOF_DIMENSION_H
#define PROOF_DIMENSION_H

#include "proof/scene.h"

/*
 * All that a finding shows, with lengths in text of this size: lines with their ends marked,
 * circles, whole outlines, and in dashes what is not in the drawing. Ends and text keep their size
 * when the picture is enlarged.
 * They are kept apart as they lie when text has the size `seen_mm`.
 */
void dimension_draw(const struct scene *scene, struct writer *writer, const struct finding *finding,
		    double text_mm, double seen_mm);

#endif

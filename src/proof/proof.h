/*
 * proof.h - a proof: what a drawing will become, to look at before the burn.
 *
 * It is drawn anew from the model. Of the drawing itself only names, places and outlines reach it,
 * each as text, as an attribute's value or as figures, through libxml2's writer.
 */
#ifndef PROOF_PROOF_H
#define PROOF_PROOF_H

#include "base/text.h"
#include "cutlint/job.h"
#include "cutlint/sheet.h"
#include "engine/finding.h"
#include "sheet/picture.h"

/* All of it is borrowed. */
struct proof {
	const struct cutlint_design *design;
	const struct cutlint_job *job;
	const struct cutlint_sheet *sheet; /* with cards, parts and necks */
	const struct sheet_picture *picture;
	const struct findings *findings; /* sorted */
	const char *maker;               /* "cutlint 0.1.0" */
	bool incomplete;                 /* not all rules could look */
};

/* Each adds a whole document to `out`. Returns 0, or -1 where memory ran out. */
int proof_page(struct text *out, const struct proof *proof);    /* HTML, also well-formed XML */
int proof_drawing(struct text *out, const struct proof *proof); /* plain SVG 1.1 */

#endif

/* plate.h - sections of the page, and the pictures in them with their captions. */
#ifndef PROOF_PLATE_H
#define PROOF_PLATE_H

#include "proof/scene.h"

/* Opens a section with its heading; writer_close ends it. */
void plate_open_section(struct writer *writer, const char *id, const char *heading);

/* Opens a figure that prints on one sheet of A4, in its true size where it fits. */
void plate_open(struct writer *writer, const char *class, struct cutlint_box box);

/* Ends it with a caption; the second also says whether it has its true size on paper. */
void plate_close(struct writer *writer, const char *caption);
void plate_close_true(struct writer *writer, struct cutlint_box box, const char *caption);

/* Opens the picture itself, with its role and name for screen readers. */
void plate_open_picture(struct writer *writer, struct cutlint_box box, const char *role,
			const char *label);

#endif

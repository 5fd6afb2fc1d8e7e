/* made.h - a proof of SVG text with findings of a test's own, made and read back. */
#ifndef TESTS_PROOF_MADE_H
#define TESTS_PROOF_MADE_H

#include "../sheet/drawing.h"

#include <libxml/parser.h>
#include <libxml/xpath.h>

#include "proof/proof.h"

struct made {
	struct drawing drawing;
	struct findings findings; /* to be filled before it is made */
	struct text text;
	xmlDocPtr document;
	xmlXPathContextPtr paths; /* with the prefixes h (HTML), s (SVG) and x (XLink) */
};

typedef int make_proof(struct text *out, const struct proof *proof);

/* Reads a drawing, then makes its proof, which must be well-formed XML. */
void made_open(struct made *made, const char *svg);
void made_make(struct made *made, make_proof *make);
void made_close(struct made *made);

/* Adds a finding at a place on the sheet. */
struct finding *made_find(struct made *made, const char *message, double x, double y);

/* How many nodes a path leads to, and the text of the only one it leads to, to be freed. */
int made_count(const struct made *made, const char *path);
char *made_text(const struct made *made, const char *path);
double made_number(const struct made *made, const char *path);

#endif

/* section.h - the sections of the page, each with its heading. */
#ifndef PROOF_SECTION_H
#define PROOF_SECTION_H

#include "proof/heat.h"
#include "proof/order.h"
#include "proof/scene.h"

/* Everything a page needs at once. */
struct page {
	struct writer writer;
	struct scene scene;
	struct order order;
	struct heat heat;
};

void section_look(struct page *page);
void section_burn(struct page *page);
void section_heat(struct page *page);

#endif

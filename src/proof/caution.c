#include "proof/caution.h"

#include <stddef.h>

/* Sources: see docs/cautions.md. */
static const char *const CAUTIONS[][2] = {
	{"Fire.", "Never leave a burning machine alone. Keep an extinguisher in reach, air assist "
		  "on, and the bed clean of scraps; look at the sheet again some minutes later."},
	{"Light.", "Work under a closed, interlocked cover. Eyewear must fit the wavelength of the "
		   "beam."},
	{"Fumes.", "Extract them to the outside or through a filter made for it, and keep the lid "
		   "shut until the air is clear."},
	{"Stock.", "Never burn PVC, vinyl, or coated, foiled or unknown stock before its maker has "
		   "said what is in it."},
	{"Hands.", "Freshly cut card is hot at its edge, and a knife for freeing windows is a "
		   "knife."},
};

void caution_write(struct writer *writer)
{
	writer_open(writer, "section");
	writer_attribute(writer, "id", "cautions");
	writer_attribute(writer, "aria-labelledby", "cautions-heading");
	writer_open(writer, "h2");
	writer_attribute(writer, "id", "cautions-heading");
	writer_text(writer, "Cautions");
	writer_close(writer);
	writer_leaf(writer, "p", NULL,
		    "A proof shows a drawing. It does not know the machine, the room or the sheet "
		    "that is really lying on the bed, and is no promise that the burn is safe. "
		    "Local codes, the machine's manual and licensed practice come first.");
	writer_open_class(writer, "ul", "cautions");
	for (size_t i = 0; i < sizeof(CAUTIONS) / sizeof(*CAUTIONS); i++) {
		writer_open(writer, "li");
		writer_leaf(writer, "strong", NULL, CAUTIONS[i][0]);
		writer_text_format(writer, " %s", CAUTIONS[i][1]);
		writer_close(writer);
	}
	writer_close(writer);
	writer_close(writer);
}

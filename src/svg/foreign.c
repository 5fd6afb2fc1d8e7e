#include "svg/foreign.h"

#include <string.h>

/* How files begin, by the specification of each kind. */
static const struct {
	const char *start;
	size_t length;
	const char *kind;
} KINDS[] = {
	{"%PDF-", 5, "a PDF file"},                /* ISO 32000-1, 7.5.2 */
	{"%!PS", 4, "a PostScript file"},          /* its document structuring conventions, 3 */
	{"\x89PNG\r\n\x1a\n", 8, "a PNG picture"}, /* W3C PNG, 5.2 */
	{"\xff\xd8\xff", 3, "a JPEG picture"},     /* ITU T.81, B.1.1.3: SOI, a marker */
	{"GIF8", 4, "a GIF picture"},              /* GIF 89a, 17 */
	{"PK\x03\x04", 4, "a zip archive"},        /* ISO/IEC 21320-1, APPNOTE 4.3.7 */
};

const char *svg_foreign_kind(const struct source *source)
{
	for (size_t i = 0; i < sizeof(KINDS) / sizeof(KINDS[0]); i++) {
		if (source->length >= KINDS[i].length &&
		    memcmp(source->bytes, KINDS[i].start, KINDS[i].length) == 0)
			return KINDS[i].kind;
	}
	return NULL;
}

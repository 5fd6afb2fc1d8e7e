/* xml.h - from the source text to elements; only reader.c and xml*.c know the XML parser. */
#ifndef SVG_XML_H
#define SVG_XML_H

#include "svg/document.h"

/*
 * Reads the document's source, which is valid UTF-8, into its elements, ids and style sheets. No
 * file is opened, whatever the source names. Returns 0, or -1 with a fatal notice.
 */
int svg_xml_read(struct svg_document *document);

#endif

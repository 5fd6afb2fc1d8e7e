/* reader.h - what the handlers of the XML parser share; only xml-*.c and reader.c include it. */
#ifndef SVG_READER_H
#define SVG_READER_H

#include <libxml/parser.h>

#include "base/text.h"
#include "svg/document.h"
#include "svg/pieces.h"
#include "svg/tree.h"

/* An element that is open. */
struct svg_open {
	uint32_t index;
	uint32_t namespaces; /* that its tag declares */
};

struct svg_reader {
	struct svg_document *document;
	xmlParserCtxtPtr parser; /* the outer one; entity text is read by others */
	struct svg_open *open;   /* from malloc, as many as may be nested */
	uint32_t depth, most_depth;
	uint32_t namespaces; /* that hold here */
	size_t entities;     /* bytes of all that entities stand for */
	bool declaring;      /* an entity was declared just now */
	xmlEntity refused;   /* what stands for an entity that is not followed */
	size_t grown;        /* bytes that the DOCTYPE added to the text so far */
	uint32_t defaults;   /* attributes that the DOCTYPE gives a value */
	const char *drawing_namespace;
	struct svg_tree tree;
	struct text style;        /* of the style element that is open */
	struct svg_pieces pieces; /* where that text stands */
	bool stopped;
	bool memory_failed;
};

/* The reader of a parser, of an inner one too. */
struct svg_reader *svg_reader_of(void *context);

/* Ends the reading: nothing more is heard. `context` is the parser that is at work. */
void svg_reader_stop(struct svg_reader *reader, void *context);

/* The same where memory ran out. */
void svg_reader_run_out(struct svg_reader *reader, void *context);

/* The same with a fatal notice about a limit. */
void svg_reader_refuse(struct svg_reader *reader, void *context, enum svg_limit limit,
		       const char *message);

uint32_t svg_reader_limit(const struct svg_reader *reader, enum svg_limit limit);

/* How far the outer parser has read the source. */
uint32_t svg_reader_byte(const struct svg_reader *reader);

/*
 * Counts text that the DOCTYPE adds: what a reference stands for, an attribute that no tag writes.
 * False, and the end of the reading, past the limit.
 */
bool svg_reader_grow(struct svg_reader *reader, void *context, size_t bytes);

/* Sets the handlers of elements and text. */
void svg_xml_hear_content(xmlSAXHandler *sax);

/* Sets the handlers of the DOCTYPE and of references. */
void svg_xml_hear_doctype(xmlSAXHandler *sax);

/* Sets the handler of errors. */
void svg_xml_hear_errors(xmlSAXHandler *sax);

#endif

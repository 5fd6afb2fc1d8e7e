/* writer.h - markup through libxml2's writer, which escapes all that is text. */
#ifndef PROOF_WRITER_H
#define PROOF_WRITER_H

#include <libxml/xmlwriter.h>
#include <stdbool.h>

#include "base/text.h"
#include "cutlint/export.h"
#include "cutlint/point.h"

/* After the first failure nothing more is written. */
struct writer {
	xmlBufferPtr buffer;
	xmlTextWriterPtr xml;
	bool failed;
};

/* 0, or -1 where memory ran out; call writer_finish in either case. */
int writer_init(struct writer *writer);

/* Ends all elements and adds the document to `out`. 0, or -1 if anything failed. */
int writer_take(struct writer *writer, struct text *out);
void writer_finish(struct writer *writer);

/* Elements. An empty one is closed in full: <p></p>, since HTML knows no <p/>. */
void writer_open(struct writer *writer, const char *tag);
void writer_close(struct writer *writer);
/* The same for elements of SVG and HTML's void ones: <path/>, <meta/>. */
void writer_close_empty(struct writer *writer);

/* Attributes of the element just opened. What can't stand in XML is written as \xHH. */
void writer_attribute(struct writer *writer, const char *name, const char *value);
void writer_format(struct writer *writer, const char *name, const char *format, ...)
	CUTLINT_PRINTF(3, 4);

/* A figure in mm, or without unit, rounded to a tenth of a micrometre. */
void writer_number(struct writer *writer, const char *name, double value);

/* "#rrggbb". */
void writer_colour(struct writer *writer, const char *name, uint32_t rgb);

/* Text, escaped. */
void writer_text(struct writer *writer, const char *text);
void writer_text_format(struct writer *writer, const char *format, ...) CUTLINT_PRINTF(2, 3);

/* An element that holds text only; `class` may be NULL. */
void writer_leaf(struct writer *writer, const char *tag, const char *class, const char *text);
void writer_leaf_format(struct writer *writer, const char *tag, const char *class,
			const char *format, ...) CUTLINT_PRINTF(4, 5);

/* The page's own constant text, as it is. */
void writer_own(struct writer *writer, const char *constant);

/* An open element of this class. */
void writer_open_class(struct writer *writer, const char *tag, const char *class);

/* Appends a figure, rounded as above. */
void text_add_figure(struct text *text, double value);

#endif

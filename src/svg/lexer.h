/*
 * lexer.h - where the parts of a start tag stand in the source.
 *
 * The XML parser judges whether the text is well-formed; these functions read tags that it has
 * already taken, so they look no further than is needed to find the ends of names and values.
 */
#ifndef SVG_LEXER_H
#define SVG_LEXER_H

#include <stdbool.h>

#include "cutlint/model.h"

/*
 * The start tag that the parser has read up to its `>` or `/>` at byte `end`: in well-formed XML no
 * other `<` stands in it.
 */
struct cutlint_span svg_lex_tag(const char *bytes, uint32_t length, uint32_t end);

/* The entity reference `&name;` that ends before byte `end`. */
struct cutlint_span svg_lex_reference(const char *bytes, uint32_t end);

/*
 * The first tag with more than `most` attributes, or CUTLINT_NONE. For text that was not parsed
 * yet: the parser compares each attribute of a tag with all others, so a tag may not have any
 * number.
 */
uint32_t svg_lex_crowded(const char *bytes, uint32_t length, uint32_t most);

/* Walks over the attributes of a start tag. */
struct svg_lexer {
	const char *bytes;
	uint32_t at, end;
};

struct svg_lexer svg_lexer_start(const char *bytes, struct cutlint_span tag);

/* The next attribute, xmlns declarations included. False at the tag's end. */
bool svg_lexer_next(struct svg_lexer *lexer, struct cutlint_span *name, struct cutlint_span *value);

#endif

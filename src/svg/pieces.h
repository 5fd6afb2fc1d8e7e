/* pieces.h - where the characters of an element's text stand in the source. */
#ifndef SVG_PIECES_H
#define SVG_PIECES_H

#include <stdbool.h>

#include "base/source.h"

/* A stretch of the text. */
struct svg_piece {
	uint32_t offset; /* in the text, up to that of the next piece */
	uint32_t byte;   /* of the source */
	bool fixed;      /* all of it stands there: it comes from a reference */
};

/* Start from {0}. */
struct svg_pieces {
	struct svg_piece *items;
	uint32_t count, capacity;
};

/*
 * Adds characters that the XML parser has read up to about byte `end`: as they stand in the source,
 * with its line ends, else from the reference that ends there. False where memory ran out.
 */
bool svg_pieces_add(struct svg_pieces *pieces, uint32_t offset, const struct source *source,
		    uint32_t end, const char *text, uint32_t length);

/* Adds characters that all stand at one byte. */
bool svg_pieces_add_fixed(struct svg_pieces *pieces, uint32_t offset, uint32_t byte);

/* The byte of an offset in the text; 0 without pieces. */
uint32_t svg_pieces_byte(const struct svg_pieces *pieces, uint32_t offset);

void svg_pieces_finish(struct svg_pieces *pieces);

#endif

#include "svg/pieces.h"

#include <stdlib.h>
#include <string.h>

#include "base/list.h"
#include "cutlint/model.h"
#include "svg/lexer.h"

/* What follows the characters of a CDATA section. */
static const char SECTION_END[] = "]]>";

/* The parser may say a character too few: it tells of it before it steps over it. */
#define MOST_LAG 4

/* Bytes of the source that end before `end` and give a character of the text; 0: none do. */
static uint32_t step_back(const char *bytes, uint32_t end, char wanted)
{
	char last = end ? bytes[end - 1] : '\0';
	if (end && wanted == '\n' && last == '\n')
		return end > 1 && bytes[end - 2] == '\r' ? 2 : 1;
	return end && (last == wanted || (wanted == '\n' && last == '\r')) ? 1 : 0;
}

/* Where the text begins if it ends before `end`; CUTLINT_NONE if it does not stand there. */
static uint32_t match_back(const char *bytes, uint32_t end, const char *text, uint32_t length)
{
	while (length) {
		uint32_t step = step_back(bytes, end, text[--length]);
		if (!step)
			return CUTLINT_NONE;
		end -= step;
	}
	return end;
}

static uint32_t find_start(const struct source *source, uint32_t end, const char *text,
			   uint32_t length)
{
	/* what needs no change is told from the source itself, before it is stepped over */
	uintptr_t inside = (uintptr_t)text - (uintptr_t)source->bytes;
	if (inside < source->length)
		return (uint32_t)inside;
	uint32_t section = (uint32_t)sizeof(SECTION_END) - 1;
	if (end >= section && memcmp(source->bytes + end - section, SECTION_END, section) == 0)
		return match_back(source->bytes, end - section, text, length);
	for (uint32_t lag = 0; lag <= MOST_LAG && end + lag <= source->length; lag++) {
		uint32_t start = match_back(source->bytes, end + lag, text, length);
		if (start != CUTLINT_NONE)
			return start;
	}
	return CUTLINT_NONE;
}

/* A piece that goes on where the last one ends is none of its own. */
static bool add(struct svg_pieces *pieces, struct svg_piece piece)
{
	const struct svg_piece *last = pieces->count ? &pieces->items[pieces->count - 1] : NULL;
	if (last && last->fixed == piece.fixed &&
	    piece.byte == last->byte + (piece.fixed ? 0 : piece.offset - last->offset))
		return true;
	return LIST_ADD(pieces->items, pieces->count, pieces->capacity, piece);
}

bool svg_pieces_add_fixed(struct svg_pieces *pieces, uint32_t offset, uint32_t byte)
{
	return add(pieces, (struct svg_piece){offset, byte, true});
}

bool svg_pieces_add(struct svg_pieces *pieces, uint32_t offset, const struct source *source,
		    uint32_t end, const char *text, uint32_t length)
{
	uint32_t byte = find_start(source, end, text, length);
	if (byte == CUTLINT_NONE)
		return svg_pieces_add_fixed(pieces, offset,
					    svg_lex_reference(source->bytes, end).byte);
	if (!add(pieces, (struct svg_piece){offset, byte, false}))
		return false;
	for (uint32_t i = 0; i < length; i++, byte++) {
		if (source->bytes[byte] != '\r' || source->bytes[byte + 1] != '\n')
			continue;
		byte++;
		if (!add(pieces, (struct svg_piece){offset + i + 1, byte + 1, false}))
			return false;
	}
	return true;
}

uint32_t svg_pieces_byte(const struct svg_pieces *pieces, uint32_t offset)
{
	uint32_t low = 0, high = pieces->count;
	if (!high)
		return 0;
	while (high - low > 1) {
		uint32_t middle = low + (high - low) / 2;
		if (pieces->items[middle].offset <= offset)
			low = middle;
		else
			high = middle;
	}
	const struct svg_piece *piece = &pieces->items[low];
	return piece->fixed ? piece->byte : piece->byte + (offset - piece->offset);
}

void svg_pieces_finish(struct svg_pieces *pieces)
{
	free(pieces->items);
	*pieces = (struct svg_pieces){0};
}

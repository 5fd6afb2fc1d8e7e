#include "svg/reader.h"

#include <libxml/parserInternals.h>

struct svg_reader *svg_reader_of(void *context)
{
	return ((xmlParserCtxtPtr)context)->_private;
}

void svg_reader_stop(struct svg_reader *reader, void *context)
{
	reader->stopped = true;
	xmlStopParser(context);
	if (context != reader->parser)
		xmlStopParser(reader->parser);
}

void svg_reader_run_out(struct svg_reader *reader, void *context)
{
	reader->memory_failed = true;
	svg_reader_stop(reader, context);
}

void svg_reader_refuse(struct svg_reader *reader, void *context, enum svg_limit limit,
		       const char *message)
{
	struct cutlint_span at = {svg_reader_byte(reader), 0};
	svg_say_limit(&reader->document->say, limit, NULL, at, "%s", message);
	svg_reader_stop(reader, context);
}

uint32_t svg_reader_limit(const struct svg_reader *reader, enum svg_limit limit)
{
	return svg_limit_of(&reader->document->options->limits, limit);
}

uint32_t svg_reader_byte(const struct svg_reader *reader)
{
	long byte = xmlByteConsumed(reader->parser);
	uint32_t length = reader->document->source.length;
	return byte < 0 ? 0 : (unsigned long)byte > length ? length : (uint32_t)byte;
}

bool svg_reader_grow(struct svg_reader *reader, void *context, size_t bytes)
{
	size_t most = svg_limit_grown(reader->document->source.length,
				      svg_reader_limit(reader, SVG_LIMIT_ENTITY_GROWTH));
	reader->grown += bytes;
	if (reader->grown <= most)
		return true;
	svg_reader_refuse(reader, context, SVG_LIMIT_ENTITY_GROWTH,
			  "entities, or attributes that the DOCTYPE gives, make the text too long");
	return false;
}

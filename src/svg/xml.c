#include "svg/xml.h"

#include <libxml/SAX2.h>
#include <libxml/parserInternals.h>
#include <stdlib.h>
#include <string.h>

#include "svg/lexer.h"
#include "svg/reader.h"

/* Large pictures and deep nesting may pass: all that could grow is bounded by the handlers. */
#define OPTIONS (XML_PARSE_NOENT | XML_PARSE_NONET | XML_PARSE_IGNORE_ENC | XML_PARSE_HUGE)

static void set_handlers(xmlSAXHandler *sax)
{
	memset(sax, 0, sizeof(*sax));
	sax->initialized = XML_SAX2_MAGIC;
	sax->startDocument = xmlSAX2StartDocument;
	svg_xml_hear_doctype(sax);
	svg_xml_hear_content(sax);
	svg_xml_hear_errors(sax);
}

static xmlParserInputPtr refuse_file(const char *url, const char *id, xmlParserCtxtPtr context)
{
	(void)url, (void)id, (void)context;
	return NULL;
}

static void parse(struct svg_reader *reader)
{
	xmlExternalEntityLoader before = xmlGetExternalEntityLoader();
	xmlSetExternalEntityLoader(refuse_file);
	xmlParseDocument(reader->parser);
	xmlSetExternalEntityLoader(before);
}

/* The parser reads the source's own bytes: no copy of them is made. */
static xmlParserCtxtPtr open_parser(const struct source *source)
{
	xmlParserCtxtPtr parser = xmlNewParserCtxt();
	xmlParserInputPtr input =
		parser ? xmlNewStringInputStream(parser, (const xmlChar *)source->bytes) : NULL;
	if (input && inputPush(parser, input) >= 0)
		return parser;
	if (input)
		xmlFreeInputStream(input);
	if (parser)
		xmlFreeParserCtxt(parser);
	return NULL;
}

static int read_with(struct svg_reader *reader)
{
	const struct source *source = &reader->document->source;
	uint32_t crowded = svg_lex_crowded(source->bytes, source->length,
					   svg_reader_limit(reader, SVG_LIMIT_ATTRIBUTES));
	if (crowded != CUTLINT_NONE) {
		svg_say_limit(&reader->document->say, SVG_LIMIT_ATTRIBUTES, NULL,
			      (struct cutlint_span){crowded, 1},
			      "this tag has too many attributes");
		return -1;
	}
	xmlParserCtxtPtr parser = open_parser(source);
	if (!parser)
		return -1;
	reader->parser = parser;
	set_handlers(parser->sax);
	parser->_private = reader;
	xmlCtxtUseOptions(parser, OPTIONS);
	parse(reader);

	bool complete =
		parser->wellFormed && !reader->stopped && svg_tree_number(&reader->tree) == 0;
	xmlFreeDoc(parser->myDoc);
	parser->myDoc = NULL;
	xmlFreeParserCtxt(parser);
	return complete ? 0 : -1;
}

int svg_xml_read(struct svg_document *document)
{
	xmlChar refused_text[] = "&";
	struct svg_reader *reader = calloc(1, sizeof(*reader));
	if (!reader)
		return -1;
	reader->document = reader->tree.document = document;
	reader->refused = (xmlEntity){.type = XML_ENTITY_DECL,
				      .etype = XML_INTERNAL_PREDEFINED_ENTITY,
				      .name = (const xmlChar *)"amp",
				      .content = refused_text,
				      .length = 1};
	reader->most_depth = svg_reader_limit(reader, SVG_LIMIT_DEPTH);
	reader->open = calloc(reader->most_depth, sizeof(*reader->open));
	reader->memory_failed = !reader->open;
	int result = reader->open ? read_with(reader) : -1;
	if (result < 0 && !reader->memory_failed && document->say.notices->fatal_count == 0)
		svg_say(&document->say, NOTICE_FATAL, "xml-syntax", NULL, (struct cutlint_span){0},
			"the file is not well-formed XML");
	svg_tree_finish(&reader->tree);
	text_finish(&reader->style);
	svg_pieces_finish(&reader->pieces);
	xmlFree((void *)(uintptr_t)
			reader->refused.orig); /* the parser may have kept a text in it */
	free(reader->open);
	free(reader);
	return result;
}

#include "svg/xml.h"

#include <libxml/SAX2.h>
#include <libxml/parser.h>
#include <libxml/parserInternals.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "svg/lexer.h"
#include "svg/tree.h"

static const char SVG_NAMESPACE[] = "http://www.w3.org/2000/svg";

/* An element that is open. */
struct open {
	uint32_t index;
	uint32_t namespaces; /* that its tag declares */
};

struct reader {
	struct svg_document *document;
	xmlParserCtxtPtr parser; /* the outer one; entity text is read by others */
	struct open *open;       /* from malloc, as many as may be nested */
	uint32_t depth, most_depth;
	uint32_t namespaces; /* that hold here */
	size_t characters;   /* bytes of text between tags */
	size_t entities;     /* bytes of all that entities stand for */
	const char *drawing_namespace;
	struct svg_tree tree;
	struct text style; /* of the style element that is open */
	bool stopped;
	bool memory_failed;
};

static struct reader *reader_of(void *context)
{
	return ((xmlParserCtxtPtr)context)->_private;
}

static void stop(struct reader *reader, void *context)
{
	reader->stopped = true;
	xmlStopParser(context);
	if (context != reader->parser)
		xmlStopParser(reader->parser);
}

static void stop_without_memory(struct reader *reader, void *context)
{
	reader->memory_failed = true;
	stop(reader, context);
}

/* How far the outer parser has read the source. */
static uint32_t source_byte(const struct reader *reader)
{
	long byte = xmlByteConsumed(reader->parser);
	uint32_t length = reader->document->source.length;
	return byte < 0 ? 0 : (unsigned long)byte > length ? length : (uint32_t)byte;
}

static void refuse(struct reader *reader, void *context, enum svg_limit limit, const char *message)
{
	struct cutlint_span at = {source_byte(reader), 0};
	svg_say_limit(&reader->document->say, limit, NULL, at, "%s", message);
	stop(reader, context);
}

static uint32_t limit_of(const struct reader *reader, enum svg_limit limit)
{
	return svg_limit_of(&reader->document->options->limits, limit);
}

/* Entities may make more of a text than it holds; without them it gives its own length. */
static bool count_expanded(struct reader *reader, void *context, size_t more)
{
	reader->characters += more;
	size_t most = svg_limit_grown(reader->document->source.length,
				      limit_of(reader, SVG_LIMIT_ENTITY_GROWTH));
	if (reader->characters + reader->tree.value_bytes <= most)
		return true;
	refuse(reader, context, SVG_LIMIT_ENTITY_GROWTH, "entities make the text too long");
	return false;
}

static struct cutlint_span find_tag(const struct reader *reader, void *context)
{
	const struct source *source = &reader->document->source;
	uint32_t byte = source_byte(reader);
	if (context != reader->parser)
		return svg_lex_reference(source->bytes, byte);
	return svg_lex_tag(source->bytes, source->length, byte);
}

static void check_root(struct reader *reader, void *context, const struct cutlint_element *root,
		       const char *uri)
{
	struct svg_say *say = &reader->document->say;
	reader->drawing_namespace = uri ? svg_tree_name(&reader->tree, uri) : NULL;
	if (strcmp(root->tag, "svg") != 0) {
		svg_say(say, NOTICE_FATAL, "not-svg", root, root->start_tag,
			"the root element is <%.60s>, not <svg>", root->tag);
		stop(reader, context);
	} else if (!uri || strcmp(uri, SVG_NAMESPACE) != 0) {
		struct notice *notice =
			svg_say(say, NOTICE_WARNING, "svg-namespace", root, root->start_tag,
				uri ? "the root element is in a namespace that is not SVG's; it is "
				      "read as SVG"
				    : "the root element is in no namespace; it is read as SVG");
		svg_suggest(say, notice, "add xmlns=\"%s\" to the root element", SVG_NAMESPACE);
	}
}

static bool in_drawing_namespace(const struct reader *reader, const char *uri)
{
	if (!uri || !reader->drawing_namespace)
		return uri == reader->drawing_namespace;
	return strcmp(uri, reader->drawing_namespace) == 0 || strcmp(uri, SVG_NAMESPACE) == 0;
}

static bool may_open(struct reader *reader, void *context, uint32_t namespaces)
{
	reader->namespaces += namespaces;
	if (reader->depth == reader->most_depth)
		refuse(reader, context, SVG_LIMIT_DEPTH, "elements are nested too deep");
	else if (reader->document->count >= limit_of(reader, SVG_LIMIT_ELEMENTS))
		refuse(reader, context, SVG_LIMIT_ELEMENTS, "there are too many elements");
	else if (reader->namespaces > limit_of(reader, SVG_LIMIT_NAMESPACES))
		refuse(reader, context, SVG_LIMIT_NAMESPACES,
		       "too many namespaces are declared around here");
	return !reader->stopped;
}

static void start_element(void *context, const xmlChar *tag, const xmlChar *prefix,
			  const xmlChar *uri, int namespace_count, const xmlChar **namespaces,
			  int attribute_count, int default_count, const xmlChar **attributes)
{
	(void)prefix, (void)namespaces, (void)default_count;
	struct reader *reader = reader_of(context);
	struct svg_document *document = reader->document;
	if (reader->stopped)
		return;
	if (!may_open(reader, context, (uint32_t)namespace_count))
		return;
	struct svg_start start = {
		.tag = (const char *)tag,
		.parent = reader->depth ? reader->open[reader->depth - 1].index : CUTLINT_NONE,
		.from_entity = context != reader->parser,
		.span = find_tag(reader, context),
		.attributes = (const char *const *)attributes,
		.attribute_count = (uint32_t)attribute_count,
	};
	struct cutlint_element *element = svg_tree_add(&reader->tree, &start);
	if (!element) {
		stop_without_memory(reader, context);
		return;
	}
	if (element->index == 0)
		check_root(reader, context, element, (const char *)uri);
	if (in_drawing_namespace(reader, (const char *)uri))
		document->nodes[element->index].kind = (uint8_t)svg_kind_of(element->tag);
	reader->open[reader->depth++] = (struct open){element->index, (uint32_t)namespace_count};
	count_expanded(reader, context, 0);
}

static void end_style(struct reader *reader, void *context, uint32_t index)
{
	struct svg_document *document = reader->document;
	const char *text = reader->style.bytes ? reader->style.bytes : "";
	char *copy = arena_copy(document->arena, text, reader->style.length);
	bool failed = reader->style.failed || !copy ||
		      svg_css_add(&document->css, document->arena, &document->say,
				  document->elements[index], copy) < 0;
	reader->style.length = 0;
	if (failed)
		stop_without_memory(reader, context);
}

static void end_element(void *context, const xmlChar *tag, const xmlChar *prefix,
			const xmlChar *uri)
{
	(void)tag, (void)prefix, (void)uri;
	struct reader *reader = reader_of(context);
	struct svg_document *document = reader->document;
	if (reader->stopped || reader->depth == 0)
		return;
	struct open *closed = &reader->open[--reader->depth];
	uint32_t index = closed->index;
	reader->namespaces -= closed->namespaces;
	struct svg_node *node = &document->nodes[index];
	node->after = document->count;
	if (node->has_text && reader->depth)
		document->nodes[reader->open[reader->depth - 1].index].has_text = true;
	if (node->kind == SVG_KIND_STYLE)
		end_style(reader, context, index);
}

static void characters(void *context, const xmlChar *text, int length)
{
	struct reader *reader = reader_of(context);
	if (reader->stopped || reader->depth == 0 ||
	    !count_expanded(reader, context, (size_t)length))
		return;
	struct svg_node *node = &reader->document->nodes[reader->open[reader->depth - 1].index];
	for (int i = 0; i < length && !node->has_text; i++)
		node->has_text = !svg_is_space((char)text[i]);
	if (node->kind == SVG_KIND_STYLE)
		text_add(&reader->style, (const char *)text, (size_t)length);
}

static void instruction(void *context, const xmlChar *target, const xmlChar *data)
{
	(void)data;
	struct reader *reader = reader_of(context);
	if (strcmp((const char *)target, "xml-stylesheet") != 0)
		return;
	struct cutlint_span at = {source_byte(reader), 0};
	svg_say(&reader->document->say, NOTICE_WARNING, "unsupported-content", NULL, at,
		"the style sheet that is named here is not read; colours and what is hidden may "
		"differ");
}

/* Only entities whose text stands in the file are kept: those of other files are never opened. */
static void declare_entity(void *context, const xmlChar *name, int type, const xmlChar *public_id,
			   const xmlChar *system_id, xmlChar *content)
{
	struct reader *reader = reader_of(context);
	if (type != XML_INTERNAL_GENERAL_ENTITY && type != XML_INTERNAL_PARAMETER_ENTITY)
		return;
	reader->entities += content ? strlen((const char *)content) : 0;
	if (reader->entities > limit_of(reader, SVG_LIMIT_ENTITY_BYTES))
		refuse(reader, context, SVG_LIMIT_ENTITY_BYTES, "entities hold too much text");
	else
		xmlSAX2EntityDecl(context, name, type, public_id, system_id, content);
}

static xmlParserInputPtr refuse_file(const char *url, const char *id, xmlParserCtxtPtr context)
{
	(void)url, (void)id, (void)context;
	return NULL;
}

struct wording {
	int code;
	const char *text;
};

static const struct wording WORDINGS[] = {
	{XML_ERR_DOCUMENT_EMPTY, "this is not XML"},
	{XML_ERR_TAG_NAME_MISMATCH, "an end tag does not match its start tag"},
	{XML_ERR_TAG_NOT_FINISHED, "the file ends before all elements are closed"},
	{XML_ERR_DOCUMENT_END, "there is more text behind the end of the root element"},
	{XML_ERR_UNDECLARED_ENTITY, "an entity is used that the file does not declare"},
	{XML_WAR_UNDECLARED_ENTITY, "an entity is used that the file does not declare"},
	{XML_ERR_ENTITY_LOOP, "an entity holds itself, or grows without measure"},
	{XML_ERR_ATTRIBUTE_REDEFINED, "an attribute stands twice in one tag"},
	{XML_NS_ERR_ATTRIBUTE_REDEFINED, "an attribute stands twice in one tag"},
	{XML_ERR_LT_IN_ATTRIBUTE, "a `<` stands in an attribute"},
	{XML_ERR_ATTRIBUTE_NOT_STARTED, "an attribute's value has no quotes"},
	{XML_ERR_INVALID_CHAR, "a character stands here that XML does not allow"},
};

static const char *wording_of(int code)
{
	for (size_t i = 0; i < sizeof(WORDINGS) / sizeof(*WORDINGS); i++) {
		if (WORDINGS[i].code == code)
			return WORDINGS[i].text;
	}
	return "the file is not well-formed XML";
}

/* Namespaces in XML 1.0, 5: a prefix must be declared. A viewer shows nothing from here on. */
static void say_unbound(struct reader *reader)
{
	struct cutlint_span at = {source_byte(reader), 0};
	struct notice *notice =
		svg_say(&reader->document->say, NOTICE_ERROR, "xml-namespace", NULL, at,
			"a prefix is used here that nothing declares: a viewer stops reading, or "
			"shows an error");
	svg_suggest(&reader->document->say, notice,
		    "declare it on the root element (xmlns:PREFIX=\"...\"), or remove what has it");
}

/* The first error that matters: later ones are mostly its consequences. */
static void hear_error(void *context, xmlErrorPtr error)
{
	struct reader *reader = reader_of(context);
	if (error->code == XML_NS_ERR_UNDEFINED_NAMESPACE && !reader->stopped) {
		say_unbound(reader);
		return;
	}
	bool matters = error->level == XML_ERR_FATAL || error->code == XML_WAR_UNDECLARED_ENTITY;
	if (!matters || reader->stopped)
		return;
	const char *message = error->message ? error->message : "";
	struct cutlint_span at = {source_byte(reader), 0};
	svg_say(&reader->document->say, NOTICE_FATAL, "xml-syntax", NULL, at, "%s (libxml2: %.*s)",
		wording_of(error->code), (int)strcspn(message, "\n"), message);
	stop(reader, context);
}

static void set_handlers(xmlSAXHandler *sax)
{
	memset(sax, 0, sizeof(*sax));
	sax->initialized = XML_SAX2_MAGIC;
	sax->startDocument = xmlSAX2StartDocument;
	sax->internalSubset = xmlSAX2InternalSubset;
	sax->entityDecl = declare_entity;
	sax->getEntity = xmlSAX2GetEntity;
	sax->getParameterEntity = xmlSAX2GetParameterEntity;
	sax->startElementNs = start_element;
	sax->endElementNs = end_element;
	sax->characters = characters;
	sax->ignorableWhitespace = characters;
	sax->cdataBlock = characters;
	sax->processingInstruction = instruction;
	sax->serror = hear_error;
}

static bool has_entities(const struct source *source)
{
	return strstr(source->bytes, "<!ENTITY") != NULL;
}

/* With no entities nothing can grow, so large embedded pictures and deep nesting may pass. */
static int parser_options(const struct source *source)
{
	int options = XML_PARSE_NOENT | XML_PARSE_NONET | XML_PARSE_IGNORE_ENC;
	return has_entities(source) ? options : options | XML_PARSE_HUGE;
}

static void parse(struct reader *reader)
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

static int read_with(struct reader *reader)
{
	const struct source *source = &reader->document->source;
	uint32_t crowded = svg_lex_crowded(source->bytes, source->length,
					   limit_of(reader, SVG_LIMIT_ATTRIBUTES));
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
	xmlCtxtUseOptions(parser, parser_options(source));
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
	struct reader *reader = calloc(1, sizeof(*reader));
	if (!reader)
		return -1;
	reader->document = reader->tree.document = document;
	reader->most_depth = limit_of(reader, SVG_LIMIT_DEPTH);
	reader->open = calloc(reader->most_depth, sizeof(*reader->open));
	reader->memory_failed = !reader->open;
	int result = reader->open ? read_with(reader) : -1;
	if (result < 0 && !reader->memory_failed && document->say.notices->fatal_count == 0)
		svg_say(&document->say, NOTICE_FATAL, "xml-syntax", NULL, (struct cutlint_span){0},
			"the file is not well-formed XML");
	svg_tree_finish(&reader->tree);
	text_finish(&reader->style);
	free(reader->open);
	free(reader);
	return result;
}

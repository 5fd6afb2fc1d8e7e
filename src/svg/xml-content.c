#include <string.h>

#include "svg/lexer.h"
#include "svg/reader.h"

static const char SVG_NAMESPACE[] = "http://www.w3.org/2000/svg";

static struct cutlint_span find_tag(const struct svg_reader *reader, void *context)
{
	const struct source *source = &reader->document->source;
	uint32_t byte = svg_reader_byte(reader);
	if (context != reader->parser)
		return svg_lex_reference(source->bytes, byte);
	return svg_lex_tag(source->bytes, source->length, byte);
}

static void check_root(struct svg_reader *reader, void *context, const struct cutlint_element *root,
		       const char *uri)
{
	struct svg_say *say = &reader->document->say;
	reader->drawing_namespace = uri ? svg_tree_name(&reader->tree, uri) : NULL;
	if (strcmp(root->tag, "svg") != 0) {
		struct notice *notice =
			svg_say(say, NOTICE_FATAL, "not-svg", root, root->start_tag,
				"the root element is <%.60s>, not <svg>", root->tag);
		svg_suggest(say, notice, "export the drawing as SVG");
		svg_reader_stop(reader, context);
	} else if (!uri || strcmp(uri, SVG_NAMESPACE) != 0) {
		struct notice *notice =
			svg_say(say, NOTICE_WARNING, "svg-namespace", root, root->start_tag,
				uri ? "the root element is in a namespace that is not SVG's; it is "
				      "read as SVG"
				    : "the root element is in no namespace; it is read as SVG");
		svg_suggest(say, notice, "add xmlns=\"%s\" to the root element", SVG_NAMESPACE);
	}
}

static bool in_drawing_namespace(const struct svg_reader *reader, const char *uri)
{
	if (!uri || !reader->drawing_namespace)
		return uri == reader->drawing_namespace;
	return strcmp(uri, reader->drawing_namespace) == 0 || strcmp(uri, SVG_NAMESPACE) == 0;
}

static bool may_open(struct svg_reader *reader, void *context, uint32_t namespaces)
{
	reader->namespaces += namespaces;
	if (reader->depth == reader->most_depth)
		svg_reader_refuse(reader, context, SVG_LIMIT_DEPTH, "elements are nested too deep");
	else if (reader->document->count >= svg_reader_limit(reader, SVG_LIMIT_ELEMENTS))
		svg_reader_refuse(reader, context, SVG_LIMIT_ELEMENTS,
				  "there are too many elements");
	else if (reader->namespaces > svg_reader_limit(reader, SVG_LIMIT_NAMESPACES))
		svg_reader_refuse(reader, context, SVG_LIMIT_NAMESPACES,
				  "too many namespaces are declared around here");
	return !reader->stopped;
}

/* Attributes that the DOCTYPE gives take room that no tag writes. */
static bool may_have(struct svg_reader *reader, void *context, const struct svg_start *start)
{
	size_t added = 0;
	uint32_t count = start->attribute_count;
	for (uint32_t i = count - start->default_count; i < count; i++) {
		const char *const *parts = start->attributes + 5 * (size_t)i;
		added += strlen(parts[0]) + (size_t)(parts[4] - parts[3]) +
			 sizeof(struct cutlint_attribute);
	}
	if (count > svg_reader_limit(reader, SVG_LIMIT_ATTRIBUTES)) {
		svg_reader_refuse(reader, context, SVG_LIMIT_ATTRIBUTES,
				  "the DOCTYPE gives this tag too many attributes");
		return false;
	}
	return !added || svg_reader_grow(reader, context, added);
}

static void start_element(void *context, const xmlChar *tag, const xmlChar *prefix,
			  const xmlChar *uri, int namespace_count, const xmlChar **namespaces,
			  int attribute_count, int default_count, const xmlChar **attributes)
{
	(void)prefix, (void)namespaces;
	struct svg_reader *reader = svg_reader_of(context);
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
		.default_count = (uint32_t)default_count,
	};
	if (!may_have(reader, context, &start))
		return;
	struct cutlint_element *element = svg_tree_add(&reader->tree, &start);
	if (!element) {
		svg_reader_run_out(reader, context);
		return;
	}
	if (element->index == 0)
		check_root(reader, context, element, (const char *)uri);
	if (in_drawing_namespace(reader, (const char *)uri))
		document->nodes[element->index].kind = (uint8_t)svg_kind_of(element->tag);
	reader->open[reader->depth++] =
		(struct svg_open){element->index, (uint32_t)namespace_count};
}

static void end_style(struct svg_reader *reader, void *context, uint32_t index)
{
	struct svg_document *document = reader->document;
	const char *text = reader->style.bytes ? reader->style.bytes : "";
	char *copy = arena_copy(document->arena, text, reader->style.length);
	bool failed = reader->style.failed || !copy ||
		      svg_css_add(&document->css, document->arena, &document->say,
				  document->elements[index], copy, &reader->pieces) < 0;
	reader->style.length = 0;
	reader->pieces.count = 0;
	if (failed)
		svg_reader_run_out(reader, context);
}

static void end_element(void *context, const xmlChar *tag, const xmlChar *prefix,
			const xmlChar *uri)
{
	(void)tag, (void)prefix, (void)uri;
	struct svg_reader *reader = svg_reader_of(context);
	struct svg_document *document = reader->document;
	if (reader->stopped || reader->depth == 0)
		return;
	const struct svg_open *closed = &reader->open[--reader->depth];
	uint32_t index = closed->index;
	reader->namespaces -= closed->namespaces;
	struct svg_node *node = &document->nodes[index];
	node->after = document->count;
	if (node->has_text && reader->depth)
		document->nodes[reader->open[reader->depth - 1].index].has_text = true;
	if (node->kind == SVG_KIND_STYLE)
		end_style(reader, context, index);
}

static void add_style(struct svg_reader *reader, void *context, const char *text, uint32_t length)
{
	const struct source *source = &reader->document->source;
	uint32_t end = svg_reader_byte(reader), offset = (uint32_t)reader->style.length;
	bool added = context == reader->parser
			     ? svg_pieces_add(&reader->pieces, offset, source, end, text, length)
			     : svg_pieces_add_fixed(&reader->pieces, offset,
						    svg_lex_reference(source->bytes, end).byte);
	text_add(&reader->style, text, length);
	if (!added)
		svg_reader_run_out(reader, context);
}

static void characters(void *context, const xmlChar *text, int length)
{
	struct svg_reader *reader = svg_reader_of(context);
	if (reader->stopped || reader->depth == 0)
		return;
	struct svg_node *node = &reader->document->nodes[reader->open[reader->depth - 1].index];
	for (int i = 0; i < length && !node->has_text; i++)
		node->has_text = !svg_is_space((char)text[i]);
	if (node->kind == SVG_KIND_STYLE)
		add_style(reader, context, (const char *)text, (uint32_t)length);
}

static void instruction(void *context, const xmlChar *target, const xmlChar *data)
{
	(void)data;
	struct svg_reader *reader = svg_reader_of(context);
	if (strcmp((const char *)target, "xml-stylesheet") != 0)
		return;
	const struct source *source = &reader->document->source;
	struct cutlint_span at =
		svg_lex_tag(source->bytes, source->length, svg_reader_byte(reader));
	at.length = 0;
	struct notice *notice = svg_say(
		&reader->document->say, NOTICE_WARNING, "unsupported-content", NULL, at,
		"the style sheet that is named here is not read; colours and what is hidden may "
		"differ");
	svg_suggest(&reader->document->say, notice, "put its rules into a <style> element");
}

void svg_xml_hear_content(xmlSAXHandler *sax)
{
	sax->startElementNs = start_element;
	sax->endElementNs = end_element;
	sax->characters = characters;
	sax->ignorableWhitespace = characters;
	sax->cdataBlock = characters;
	sax->processingInstruction = instruction;
}

#include <libxml/SAX2.h>
#include <string.h>

#include "svg/reader.h"

/* Only entities whose text stands in the file are kept: those of other files are never opened. */
static void declare_entity(void *context, const xmlChar *name, int type, const xmlChar *public_id,
			   const xmlChar *system_id, xmlChar *content)
{
	struct svg_reader *reader = svg_reader_of(context);
	const char *text = content ? (const char *)content : "";
	if (reader->stopped ||
	    (type != XML_INTERNAL_GENERAL_ENTITY && type != XML_INTERNAL_PARAMETER_ENTITY))
		return;
	reader->declaring = true;
	reader->entities += strlen(text);
	if (reader->entities > svg_reader_limit(reader, SVG_LIMIT_ENTITY_BYTES)) {
		svg_reader_refuse(reader, context, SVG_LIMIT_ENTITY_BYTES,
				  "entities hold too much text");
		return;
	}
	struct svg_document *document = reader->document;
	if (type == XML_INTERNAL_GENERAL_ENTITY &&
	    svg_entities_declare(&document->entities, document->arena, (const char *)name, text) <
		    0)
		svg_reader_run_out(reader, context);
	else
		xmlSAX2EntityDecl(context, name, type, public_id, system_id, content);
}

/*
 * The parser asks for an entity each time that it follows a reference, so that this bounds what
 * references in references can make (XML 1.0, 4.4). One that is refused is taken as a character of
 * its own, since the parser would look for it elsewhere.
 */
static xmlEntityPtr follow(void *context, xmlEntityPtr entity)
{
	struct svg_reader *reader = svg_reader_of(context);
	if (reader->declaring) { /* it asks for what it has just declared, too */
		reader->declaring = false;
		return entity;
	}
	size_t length = entity && entity->content ? strlen((const char *)entity->content) : 0;
	if (!reader->stopped && svg_reader_grow(reader, context, length))
		return entity;
	return &reader->refused;
}

static xmlEntityPtr get_entity(void *context, const xmlChar *name)
{
	return follow(context, xmlSAX2GetEntity(context, name));
}

static xmlEntityPtr get_parameter_entity(void *context, const xmlChar *name)
{
	return follow(context, xmlSAX2GetParameterEntity(context, name));
}

/*
 * The parser itself adds the attributes that the DOCTYPE gives a value (XML 1.0, 3.3.2), each
 * compared with all of the tag: there may be no more than one tag may have.
 */
static void declare_attribute(void *context, const xmlChar *element, const xmlChar *name, int type,
			      int kind, const xmlChar *value, xmlEnumerationPtr choices)
{
	(void)element, (void)name, (void)type, (void)kind;
	struct svg_reader *reader = svg_reader_of(context);
	xmlFreeEnumeration(choices);
	reader->defaults += value != NULL;
	if (!reader->stopped && reader->defaults > svg_reader_limit(reader, SVG_LIMIT_ATTRIBUTES))
		svg_reader_refuse(reader, context, SVG_LIMIT_ATTRIBUTES,
				  "the DOCTYPE gives too many attributes a value");
}

void svg_xml_hear_doctype(xmlSAXHandler *sax)
{
	sax->internalSubset = xmlSAX2InternalSubset;
	sax->entityDecl = declare_entity;
	sax->attributeDecl = declare_attribute;
	sax->getEntity = get_entity;
	sax->getParameterEntity = get_parameter_entity;
}

#include <string.h>

#include "svg/reader.h"

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

static const char ENDS_IN_TAG[] = "the file ends inside a tag";

/* Where the file ends that is the cause, unless WORDINGS knows another one. */
static const struct wording END_WORDINGS[] = {
	{XML_ERR_TAG_NOT_FINISHED, "the file ends before all elements are closed"},
	{XML_ERR_DOCUMENT_EMPTY, "the file ends before an element begins"},
	{XML_ERR_COMMENT_NOT_FINISHED, "the file ends inside a comment"},
	{XML_ERR_CDATA_NOT_FINISHED, "the file ends inside a CDATA section"},
	{XML_ERR_PI_NOT_FINISHED, "the file ends inside a processing instruction"},
	{XML_ERR_DOCTYPE_NOT_FINISHED, "the file ends inside the document type"},
	{XML_ERR_INTERNAL_ERROR, "the file ends inside the document type"},
	{XML_ERR_ENTITYREF_SEMICOL_MISSING, "the file ends inside a reference"},
	{XML_ERR_ATTRIBUTE_NOT_STARTED, ENDS_IN_TAG},
};

#define COUNT(array) (sizeof(array) / sizeof(*(array)))

static const char *find_wording(const struct wording *wordings, size_t count, int code)
{
	for (size_t i = 0; i < count; i++) {
		if (wordings[i].code == code)
			return wordings[i].text;
	}
	return NULL;
}

/* NULL where the end of the file is not to blame. */
static const char *end_wording_of(int code)
{
	const char *text = find_wording(END_WORDINGS, COUNT(END_WORDINGS), code);
	if (text)
		return text;
	return find_wording(WORDINGS, COUNT(WORDINGS), code) ? NULL : ENDS_IN_TAG;
}

static const char *wording_of(int code)
{
	const char *text = find_wording(WORDINGS, COUNT(WORDINGS), code);
	return text ? text : "the file is not well-formed XML";
}

static bool is_end(const struct source *source, uint32_t byte)
{
	while (byte < source->length && svg_is_space(source->bytes[byte]))
		byte++;
	return byte == source->length;
}

/* Namespaces in XML 1.0, 5: a prefix must be declared. A viewer shows nothing from here on. */
static void say_unbound(struct svg_reader *reader)
{
	struct cutlint_span at = {svg_reader_byte(reader), 0};
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
	struct svg_reader *reader = svg_reader_of(context);
	if (error->code == XML_NS_ERR_UNDEFINED_NAMESPACE && !reader->stopped) {
		say_unbound(reader);
		return;
	}
	bool matters = error->level == XML_ERR_FATAL || error->code == XML_WAR_UNDECLARED_ENTITY;
	if (!matters || reader->stopped)
		return;
	const char *message = error->message ? error->message : "";
	struct cutlint_span at = {svg_reader_byte(reader), 0};
	bool at_end = is_end(&reader->document->source, at.byte);
	const char *end = at_end ? end_wording_of(error->code) : NULL;
	struct notice *notice = svg_say(
		&reader->document->say, NOTICE_FATAL, "xml-syntax", NULL, at, "%s (libxml2: %.*s)",
		end ? end : wording_of(error->code), (int)strcspn(message, "\n"), message);
	svg_suggest(&reader->document->say, notice,
		    end ? "it may not have been saved or copied whole"
			: "mend the file here, or save it anew with the program that drew it");
	svg_reader_stop(reader, context);
}

void svg_xml_hear_errors(xmlSAXHandler *sax)
{
	sax->serror = hear_error;
}

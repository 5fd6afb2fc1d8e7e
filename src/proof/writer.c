#include "proof/writer.h"

#include <math.h>
#include <stdarg.h>

#include "base/number.h"

static const xmlChar *chars(const char *string)
{
	return (const xmlChar *)string;
}

int writer_init(struct writer *writer)
{
	*writer = (struct writer){.buffer = xmlBufferCreate()};
	writer->xml = writer->buffer ? xmlNewTextWriterMemory(writer->buffer, 0) : NULL;
	writer->failed = !writer->xml;
	if (writer->buffer)
		xmlBufferSetAllocationScheme(writer->buffer, XML_BUFFER_ALLOC_DOUBLEIT);
	return writer->failed ? -1 : 0;
}

int writer_take(struct writer *writer, struct text *out)
{
	if (writer->failed || xmlTextWriterEndDocument(writer->xml) < 0 ||
	    xmlTextWriterFlush(writer->xml) < 0)
		return -1;
	text_add(out, (const char *)xmlBufferContent(writer->buffer),
		 (size_t)xmlBufferLength(writer->buffer));
	return out->failed ? -1 : 0;
}

void writer_finish(struct writer *writer)
{
	xmlFreeTextWriter(writer->xml);
	xmlBufferFree(writer->buffer);
	*writer = (struct writer){.failed = true};
}

/* libxml2 gives a negative number where it failed. */
static void take(struct writer *writer, int result)
{
	writer->failed = writer->failed || result < 0;
}

void writer_open(struct writer *writer, const char *tag)
{
	if (!writer->failed)
		take(writer, xmlTextWriterStartElement(writer->xml, chars(tag)));
}

void writer_close(struct writer *writer)
{
	if (!writer->failed)
		take(writer, xmlTextWriterFullEndElement(writer->xml));
}

void writer_close_empty(struct writer *writer)
{
	if (!writer->failed)
		take(writer, xmlTextWriterEndElement(writer->xml));
}

void writer_open_class(struct writer *writer, const char *tag, const char *class)
{
	writer_open(writer, tag);
	writer_attribute(writer, "class", class);
}

/* U+FFFE and U+FFFF are no characters of XML 1.0, section 2.2. */
static bool is_no_character(const unsigned char *at)
{
	return at[0] == 0xef && at[1] == 0xbf && (at[2] == 0xbe || at[2] == 0xbf);
}

static void add_characters(struct text *out, const char *string)
{
	struct text escaped = {0};
	text_add_escaped(&escaped, string);
	out->failed = out->failed || escaped.failed;
	const char *at = escaped.bytes;
	while (at && *at) {
		bool bad = is_no_character((const unsigned char *)at);
		if (bad)
			text_format(out, "\\xef\\xbf\\x%02x", (unsigned char)at[2]);
		else
			text_add(out, at, 1);
		at += bad ? 3 : 1;
	}
	text_finish(&escaped);
}

typedef int write_text(xmlTextWriterPtr xml, const char *name, const char *value);

static int write_attribute(xmlTextWriterPtr xml, const char *name, const char *value)
{
	return xmlTextWriterWriteAttribute(xml, chars(name), chars(value));
}

static int write_string(xmlTextWriterPtr xml, const char *name, const char *value)
{
	(void)name;
	return xmlTextWriterWriteString(xml, chars(value));
}

static void write(struct writer *writer, write_text *how, const char *name, const char *value)
{
	struct text text = {0};
	add_characters(&text, value ? value : "");
	text_add(&text, "", 0);
	if (text.failed)
		writer->failed = true;
	if (!writer->failed)
		take(writer, how(writer->xml, name, text.bytes));
	text_finish(&text);
}

static void write_formatted(struct writer *writer, write_text *how, const char *name,
			    const char *format, va_list arguments)
{
	struct text text = {0};
	text_vformat(&text, format, arguments);
	text_add(&text, "", 0);
	writer->failed = writer->failed || text.failed;
	if (!writer->failed)
		write(writer, how, name, text.bytes);
	text_finish(&text);
}

void writer_attribute(struct writer *writer, const char *name, const char *value)
{
	write(writer, write_attribute, name, value);
}

void writer_format(struct writer *writer, const char *name, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	write_formatted(writer, write_attribute, name, format, arguments);
	va_end(arguments);
}

void text_add_figure(struct text *text, double value)
{
	char figure[32];
	double rounded = round(value * 1e4) / 1e4;
	number_format(rounded == 0 ? 0.0 : rounded, figure);
	text_add_string(text, figure);
}

void writer_number(struct writer *writer, const char *name, double value)
{
	struct text text = {0};
	text_add_figure(&text, value);
	writer->failed = writer->failed || text.failed;
	writer_attribute(writer, name, text.bytes);
	text_finish(&text);
}

void writer_colour(struct writer *writer, const char *name, uint32_t rgb)
{
	writer_format(writer, name, "#%06x", (unsigned)(rgb & 0xffffff));
}

void writer_text(struct writer *writer, const char *text)
{
	write(writer, write_string, NULL, text);
}

void writer_text_format(struct writer *writer, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	write_formatted(writer, write_string, NULL, format, arguments);
	va_end(arguments);
}

void writer_leaf(struct writer *writer, const char *tag, const char *class, const char *text)
{
	writer_open(writer, tag);
	if (class)
		writer_attribute(writer, "class", class);
	writer_text(writer, text);
	writer_close(writer);
}

void writer_leaf_format(struct writer *writer, const char *tag, const char *class,
			const char *format, ...)
{
	writer_open(writer, tag);
	if (class)
		writer_attribute(writer, "class", class);
	va_list arguments;
	va_start(arguments, format);
	write_formatted(writer, write_string, NULL, format, arguments);
	va_end(arguments);
	writer_close(writer);
}

void writer_own(struct writer *writer, const char *constant)
{
	if (!writer->failed)
		take(writer, xmlTextWriterWriteRaw(writer->xml, chars(constant)));
}

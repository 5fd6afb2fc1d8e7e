#include "made.h"

#include <libxml/xpathInternals.h>
#include <stdlib.h>

void made_open(struct made *made, const char *svg)
{
	*made = (struct made){.document = NULL};
	drawing_open(&made->drawing, svg);
	made->findings.arena = made->drawing.arena;
}

struct finding *made_find(struct made *made, const char *message, double x, double y)
{
	struct finding *finding = findings_add(&made->findings);
	assert_non_null(finding);
	*finding = (struct finding){.rule = "test-rule",
				    .severity = CUTLINT_ERROR,
				    .message = message,
				    .place = {.file = "test.svg",
					      .line = 3,
					      .column = 7,
					      .at = {x, y},
					      .on_sheet = true}};
	return finding;
}

static void name_space(struct made *made, const char *prefix, const char *name)
{
	assert_int_equal(
		xmlXPathRegisterNs(made->paths, (const xmlChar *)prefix, (const xmlChar *)name), 0);
}

void made_make(struct made *made, make_proof *make)
{
	const struct proof proof = {.design = made->drawing.design,
				    .job = &made->drawing.facts,
				    .sheet = made->drawing.sheet,
				    .picture = &made->drawing.picture,
				    .findings = &made->findings,
				    .maker = "cutlint test"};
	assert_int_equal(make(&made->text, &proof), 0);
	made->document = xmlReadMemory(made->text.bytes, (int)made->text.length, NULL, NULL,
				       XML_PARSE_NONET | XML_PARSE_HUGE);
	assert_non_null(made->document);
	made->paths = xmlXPathNewContext(made->document);
	assert_non_null(made->paths);
	name_space(made, "h", "http://www.w3.org/1999/xhtml");
	name_space(made, "s", "http://www.w3.org/2000/svg");
	name_space(made, "x", "http://www.w3.org/1999/xlink");
}

void made_close(struct made *made)
{
	xmlXPathFreeContext(made->paths);
	xmlFreeDoc(made->document);
	text_finish(&made->text);
	drawing_close(&made->drawing);
}

static xmlXPathObjectPtr find(const struct made *made, const char *path)
{
	xmlXPathObjectPtr found = xmlXPathEvalExpression((const xmlChar *)path, made->paths);
	assert_non_null(found);
	return found;
}

int made_count(const struct made *made, const char *path)
{
	xmlXPathObjectPtr found = find(made, path);
	int count = found->nodesetval ? found->nodesetval->nodeNr : 0;
	xmlXPathFreeObject(found);
	return count;
}

char *made_text(const struct made *made, const char *path)
{
	xmlXPathObjectPtr found = find(made, path);
	assert_int_equal(found->nodesetval ? found->nodesetval->nodeNr : 0, 1);
	char *text = (char *)xmlXPathCastToString(found);
	xmlXPathFreeObject(found);
	return text;
}

double made_number(const struct made *made, const char *path)
{
	char *text = made_text(made, path);
	double number = strtod(text, NULL);
	xmlFree(text);
	return number;
}

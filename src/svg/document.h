/* document.h - a drawing between its XML and its shapes. */
#ifndef SVG_DOCUMENT_H
#define SVG_DOCUMENT_H

#include "base/source.h"
#include "model/private.h"
#include "svg/css.h"
#include "svg/element.h"
#include "svg/entity.h"
#include "svg/load.h"
#include "svg/say.h"
#include "svg/scan.h"
#include "svg/table.h"

/* What the loader knows of an element beside the model. */
struct svg_node {
	uint32_t after;         /* the first element behind it and all that it holds */
	uint8_t kind;           /* enum svg_kind */
	bool has_text : 1;      /* characters other than white space, in it or below */
	bool placed : 1;        /* it was drawn at least once */
	bool told : 1;          /* that it will not be cut was said */
	uint8_t told_panes : 4; /* what was said of its panes: a bit for each enum svg_pane_kind */
};

struct svg_document {
	struct arena *arena;
	struct source source;
	const struct svg_options *options;
	struct svg_say say;
	struct cutlint_element **elements; /* from malloc; each element is in the arena */
	struct svg_node *nodes;            /* from malloc */
	uint32_t count, element_capacity, node_capacity;
	struct remark *remarks; /* from malloc */
	uint32_t remark_count, remark_capacity;
	struct svg_table ids; /* to the index of the first element with the id */
	struct svg_entities entities;
	struct svg_css css;
};

void svg_document_finish(struct svg_document *document);

/* Children of an element: `first`, then `svg_next_sibling`, while below `after` of the parent. */
static inline uint32_t svg_next_sibling(const struct svg_document *document, uint32_t index)
{
	return document->nodes[index].after;
}

/* By its name as written. NULL without one. */
const struct cutlint_attribute *svg_attribute(const struct cutlint_element *element,
					      const char *name);

/* `href`, else any attribute with the local name `href` behind a prefix. */
const struct cutlint_attribute *svg_href(const struct cutlint_element *element);

/* CUTLINT_NONE where no element has the id. */
uint32_t svg_find_id(const struct svg_document *document, const char *id, size_t length);

/* The same for the fragment of a reference: as it is, else with its %xx decoded (RFC 3986, 2.1). */
uint32_t svg_find_target(const struct svg_document *document, struct svg_scan fragment);

/* The span of an attribute's value, of the whole attribute if that is empty. */
struct cutlint_span svg_value_span(const struct cutlint_attribute *attribute);

#endif

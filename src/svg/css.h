/*
 * css.h - style sheets of `style` elements.
 *
 * Selectors of elements, classes, ids, attributes, `*`, :root, :first-child, :not(), lists,
 * descendants and children are followed; a rule with any other is not applied, and that is said.
 */
#ifndef SVG_CSS_H
#define SVG_CSS_H

#include "svg/declaration.h"
#include "svg/table.h"

enum svg_simple_kind {
	SVG_BY_TYPE,
	SVG_BY_CLASS,
	SVG_BY_ID,
	SVG_BY_ATTRIBUTE,
	SVG_BY_ROOT,
	SVG_BY_FIRST_CHILD
};

struct svg_simple {
	enum svg_simple_kind kind;
	bool negated;  /* of :not() */
	char relation; /* of an attribute to the value: `=`, or the sign before it; 0: without one
			*/
	struct svg_scan name, value;
};

struct svg_compound {
	uint32_t first, count; /* of simple selectors; none: `*` */
	char combinator;       /* to the compound before: ' ' or '>' */
};

struct svg_rule {
	uint32_t first, count; /* of declarations */
};

struct svg_selector {
	uint32_t first, count; /* of compounds, left to right */
	uint32_t specificity;  /* ids, then classes and attributes, then types: a byte each */
	uint32_t rule;
	uint32_t next; /* in the same bucket */
};

/* Start from {0}. */
struct svg_css {
	struct svg_simple *simples;
	struct svg_compound *compounds;
	struct svg_selector *selectors;
	struct svg_rule *rules;
	struct svg_declaration *declarations;
	uint32_t simple_count, simple_capacity;
	uint32_t compound_count, compound_capacity;
	uint32_t selector_count, selector_capacity;
	uint32_t rule_count, rule_capacity;
	uint32_t declaration_count, declaration_capacity;
	uint64_t steps;           /* comparisons with elements so far */
	struct svg_table buckets; /* of selectors, by what their last compound asks for */
};

/*
 * Adds the style sheet of a style element. `text` must stay; its comments are blanked out. `pieces`
 * tell where it stands. Returns 0, or -1 where memory ran out.
 */
int svg_css_add(struct svg_css *css, struct arena *arena, struct svg_say *say,
		const struct cutlint_element *style, char *text, const struct svg_pieces *pieces);

/* Calls `visit` with each selector that matches the element. */
typedef void svg_css_visit(void *user, const struct svg_selector *selector);
void svg_css_match(struct svg_css *css, const struct cutlint_element *element, svg_css_visit *visit,
		   void *user);

void svg_css_finish(struct svg_css *css);

#endif

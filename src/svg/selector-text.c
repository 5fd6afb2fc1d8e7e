#include "svg/selector-text.h"

#include "base/list.h"
#include "svg/ident.h"

struct reader {
	struct svg_css *css;
	struct arena *arena;
	struct svg_selector *selector;
};

static enum svg_selector_state take_name(struct reader *reader, struct svg_scan *scan,
					 struct svg_scan *out)
{
	switch (svg_take_ident(scan, reader->arena, out)) {
	case SVG_IDENT_TAKEN:
		return SVG_SELECTOR_GOOD;
	case SVG_IDENT_NO_MEMORY:
		return SVG_SELECTOR_NO_MEMORY;
	default:
		return SVG_SELECTOR_INVALID;
	}
}

/* The value of an attribute selector: a string or an identifier, and nothing behind it. */
static enum svg_selector_state take_value(struct reader *reader, struct svg_scan *text,
					  struct svg_scan *out)
{
	svg_skip_spaces(text);
	char quote = text->at < text->end ? *text->at : '\0';
	if (quote != '"' && quote != '\'')
		return take_name(reader, text, out);
	const char *close = text->at + 1;
	while (close < text->end && *close != quote)
		close++;
	if (close == text->end)
		return SVG_SELECTOR_INVALID;
	*out = (struct svg_scan){text->at + 1, close};
	text->at = close + 1;
	return SVG_SELECTOR_GOOD;
}

/* [name], or with = ~= |= ^= $= *= and a value, after the bracket. */
static enum svg_selector_state take_attribute(struct reader *reader, struct svg_scan *scan,
					      struct svg_simple *simple)
{
	struct svg_scan text = svg_take_until(scan, "]");
	simple->kind = SVG_BY_ATTRIBUTE;
	if (!svg_take(scan, ']'))
		return SVG_SELECTOR_INVALID;
	svg_skip_spaces(&text);
	enum svg_selector_state state = take_name(reader, &text, &simple->name);
	svg_skip_spaces(&text);
	if (state != SVG_SELECTOR_GOOD || text.at == text.end)
		return state;
	simple->relation = '=';
	for (const char *relation = "~|^$*"; *relation; relation++) {
		if (svg_take(&text, *relation))
			simple->relation = *relation;
	}
	if (!svg_take(&text, '='))
		return SVG_SELECTOR_NOT_FOLLOWED; /* a namespace: [a|b] */
	state = take_value(reader, &text, &simple->value);
	svg_skip_spaces(&text);
	bool more = text.at < text.end; /* `i`, without regard to case */
	return state == SVG_SELECTOR_GOOD && more ? SVG_SELECTOR_NOT_FOLLOWED : state;
}

static void count_specificity(struct svg_selector *selector, enum svg_simple_kind kind)
{
	unsigned shift = kind == SVG_BY_ID ? 16 : kind == SVG_BY_TYPE ? 0 : 8;
	if ((selector->specificity >> shift & 0xff) < 0xff)
		selector->specificity += 1u << shift;
}

/* A `.class`, `#id`, `[attribute]` or type. */
static enum svg_selector_state take_plain(struct reader *reader, struct svg_scan *scan,
					  struct svg_simple *simple)
{
	if (svg_take(scan, '['))
		return take_attribute(reader, scan, simple);
	simple->kind = svg_take(scan, '.')   ? SVG_BY_CLASS
		       : svg_take(scan, '#') ? SVG_BY_ID
					     : SVG_BY_TYPE;
	return take_name(reader, scan, &simple->name);
}

static enum svg_selector_state add(struct reader *reader, struct svg_compound *compound,
				   const struct svg_simple *simple)
{
	struct svg_css *css = reader->css;
	compound->count++;
	return LIST_ADD(css->simples, css->simple_count, css->simple_capacity, *simple)
		       ? SVG_SELECTOR_GOOD
		       : SVG_SELECTOR_NO_MEMORY;
}

/* The list of :not(), of one plain selector each: it is as specific as the most specific of them.
 */
static enum svg_selector_state take_not(struct reader *reader, struct svg_scan *scan,
					struct svg_compound *compound)
{
	struct svg_scan list = svg_take_until(scan, ")");
	enum svg_simple_kind gravest = SVG_BY_TYPE;
	if (!svg_take(scan, ')'))
		return SVG_SELECTOR_INVALID;
	do {
		struct svg_scan one = svg_trim(svg_take_until(&list, ","));
		struct svg_simple simple = {.negated = true};
		if (one.at < one.end && *one.at == ':')
			return SVG_SELECTOR_NOT_FOLLOWED;
		enum svg_selector_state state = take_plain(reader, &one, &simple);
		if (state == SVG_SELECTOR_GOOD && one.at < one.end)
			state = SVG_SELECTOR_NOT_FOLLOWED;
		if (state == SVG_SELECTOR_GOOD)
			state = add(reader, compound, &simple);
		if (state != SVG_SELECTOR_GOOD)
			return state;
		if (simple.kind == SVG_BY_ID || gravest == SVG_BY_TYPE)
			gravest = simple.kind;
	} while (svg_take(&list, ','));
	count_specificity(reader->selector, gravest);
	return SVG_SELECTOR_GOOD;
}

/* Pseudo-classes and pseudo-elements that viewers know; any other makes a rule invalid. */
static const char *const KNOWN[] = {
	"active",
	"after",
	"any-link",
	"before",
	"checked",
	"dir",
	"disabled",
	"empty",
	"enabled",
	"first-letter",
	"first-line",
	"first-of-type",
	"focus",
	"focus-visible",
	"focus-within",
	"has",
	"host",
	"hover",
	"is",
	"lang",
	"last-child",
	"last-of-type",
	"link",
	"nth-child",
	"nth-last-child",
	"nth-of-type",
	"only-child",
	"only-of-type",
	"placeholder",
	"selection",
	"scope",
	"target",
	"visited",
	"where",
	"nth-last-of-type",
};

static enum svg_selector_state take_pseudo(struct reader *reader, struct svg_scan *scan,
					   struct svg_compound *compound)
{
	bool element = svg_take(scan, ':');
	struct svg_scan name = svg_take_word(scan);
	struct svg_simple simple = {.kind = SVG_BY_FIRST_CHILD};
	if (!element && svg_is_word(name, "not") && svg_take(scan, '('))
		return take_not(reader, scan, compound);
	bool root = svg_is_word(name, "root");
	if (!element && (root || svg_is_word(name, "first-child"))) {
		simple.kind = root ? SVG_BY_ROOT : SVG_BY_FIRST_CHILD;
		count_specificity(reader->selector, simple.kind);
		return add(reader, compound, &simple);
	}
	bool prefixed = name.at < name.end && *name.at == '-';
	for (size_t i = 0; i < sizeof(KNOWN) / sizeof(*KNOWN); i++)
		prefixed = prefixed || svg_is_word(name, KNOWN[i]);
	return prefixed ? SVG_SELECTOR_NOT_FOLLOWED : SVG_SELECTOR_INVALID;
}

static bool ends_compound(struct svg_scan scan)
{
	return scan.at >= scan.end || svg_is_space(*scan.at) || *scan.at == '>' ||
	       *scan.at == '+' || *scan.at == '~';
}

static enum svg_selector_state take_simple(struct reader *reader, struct svg_scan *scan,
					   struct svg_compound *compound, bool first)
{
	struct svg_simple simple = {0};
	if (svg_take(scan, ':'))
		return take_pseudo(reader, scan, compound);
	if (*scan->at == '|')
		return SVG_SELECTOR_NOT_FOLLOWED; /* a namespace: a|b */
	enum svg_selector_state state = take_plain(reader, scan, &simple);
	if (state != SVG_SELECTOR_GOOD)
		return state;
	if (!first && simple.kind == SVG_BY_TYPE)
		return SVG_SELECTOR_INVALID;
	count_specificity(reader->selector, simple.kind);
	return add(reader, compound, &simple);
}

static enum svg_selector_state read_compound(struct reader *reader, struct svg_scan *scan,
					     char combinator)
{
	struct svg_css *css = reader->css;
	struct svg_compound compound = {.first = css->simple_count, .combinator = combinator};
	bool any = svg_take(scan, '*');
	for (bool first = !any; !ends_compound(*scan); first = false) {
		enum svg_selector_state state = take_simple(reader, scan, &compound, first);
		if (state != SVG_SELECTOR_GOOD)
			return state;
		any = true;
	}
	if (!any)
		return SVG_SELECTOR_INVALID;
	return LIST_ADD(css->compounds, css->compound_count, css->compound_capacity, compound)
		       ? SVG_SELECTOR_GOOD
		       : SVG_SELECTOR_NO_MEMORY;
}

enum svg_selector_state svg_selector_read(struct svg_css *css, struct arena *arena,
					  struct svg_scan text, struct svg_selector *out)
{
	struct reader reader = {css, arena, out};
	char combinator = ' ';
	*out = (struct svg_selector){.first = css->compound_count};
	do {
		enum svg_selector_state state = read_compound(&reader, &text, combinator);
		if (state != SVG_SELECTOR_GOOD)
			return state;
		out->count++;
		svg_skip_spaces(&text);
		if (text.at < text.end && (*text.at == '+' || *text.at == '~'))
			return SVG_SELECTOR_NOT_FOLLOWED;
		combinator = svg_take(&text, '>') ? '>' : ' ';
		svg_skip_spaces(&text);
	} while (text.at < text.end || combinator == '>');
	return SVG_SELECTOR_GOOD;
}

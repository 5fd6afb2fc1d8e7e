/* A style sheet from any text: read, and compared with a few elements. */
#include <string.h>

#include "fuzz.h"
#include "svg/css.h"

static const struct cutlint_attribute ATTRIBUTES[] = {
	{.name = "width", .value = "10mm"},
	{.name = "lang", .value = "en-GB"},
	{.name = "class", .value = "a b-1 :c"},
};

static struct cutlint_element element_of(const struct cutlint_element *parent, const char *tag,
					 uint32_t index)
{
	return (struct cutlint_element){.parent = parent,
					.tag = tag,
					.id = index == 2 ? "x" : NULL,
					.classes = index ? "a b-1 :c" : NULL,
					.attributes = ATTRIBUTES,
					.attribute_count = 3,
					.index = index};
}

static void look(void *user, const struct svg_selector *selector)
{
	const struct svg_css *css = user;
	HOLDS(selector->rule < css->rule_count);
	const struct svg_rule *rule = &css->rules[selector->rule];
	HOLDS(rule->first + rule->count <= css->declaration_count);
	for (uint32_t i = 0; i < rule->count; i++)
		HOLDS(css->declarations[rule->first + i].property < SVG_PROPERTY_COUNT);
}

static void read_sheet(struct arena *arena, const uint8_t *bytes, size_t length)
{
	struct cutlint_element root = element_of(NULL, "svg", 0);
	struct cutlint_element group = element_of(&root, "g", 1);
	struct cutlint_element path = element_of(&group, "path", 2);
	struct notices notices = {.arena = arena};
	struct svg_limits limits = {{0}};
	struct svg_say say = {.notices = &notices, .limits = &limits};
	struct svg_pieces pieces = {0};
	struct svg_css css = {0};
	for (int sheet = 0; sheet < 2; sheet++) { /* the second one meets what the first left */
		char *text = arena_copy(arena, (const char *)bytes, length);
		if (!text || svg_css_add(&css, arena, &say, &root, text, &pieces) < 0)
			break;
	}
	svg_css_match(&css, &root, look, &css);
	svg_css_match(&css, &group, look, &css);
	svg_css_match(&css, &path, look, &css);
	svg_css_finish(&css);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	struct arena *arena = arena_create();
	if (arena && (!length || !memchr(bytes, 0, length)))
		read_sheet(arena, bytes, length);
	arena_destroy(arena);
	return 0;
}

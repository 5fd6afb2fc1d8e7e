/*
 * What reading a drawing costs in memory, as a multiple of the file: the worst that small elements,
 * attributes and path data can do. The multiples are those that docs/drawings.md states.
 */
#include <libxml/xmlmemory.h>
#include <malloc.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "helper.h"

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *old, size_t size);
void __real_free(void *old);

static size_t live, peak;

static void *count(void *block)
{
	live += block ? malloc_usable_size(block) : 0;
	peak = live > peak ? live : peak;
	return block;
}

static void forget(void *block)
{
	live -= block ? malloc_usable_size(block) : 0;
}

/* The prototypes that -Wmissing-prototypes asks for. */
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t number, size_t size);
void *__wrap_realloc(void *old, size_t size);
void __wrap_free(void *old);

void *__wrap_malloc(size_t size)
{
	return count(__real_malloc(size));
}

void *__wrap_calloc(size_t number, size_t size)
{
	return count(__real_calloc(number, size));
}

void *__wrap_realloc(void *old, size_t size)
{
	forget(old);
	return count(__real_realloc(old, size));
}

void __wrap_free(void *old)
{
	forget(old);
	__real_free(old);
}

/* The XML parser's memory counts, too; its library takes malloc from elsewhere. */
static char *duplicate(const char *text)
{
	char *copy = __wrap_malloc(strlen(text) + 1);
	return copy ? strcpy(copy, text) : NULL;
}

static int count_parser(void **state)
{
	(void)state;
	return xmlMemSetup(__wrap_free, __wrap_malloc, __wrap_realloc, duplicate);
}

#define FILE_BYTES ((size_t)1000 * 1000)

/* At the peak of the reading, but for 24 bytes a vertex and 250 a flattened curve. */
static double bytes_of(const struct text *text)
{
	size_t start = live;
	peak = live;
	struct loaded loaded = load_bytes(text->bytes, text->length);
	for (uint32_t i = 0; i < loaded.notices.count; i++)
		print_error("%s\n", loaded.notices.items[i].message);
	assert_int_equal(loaded.result, 0);
	double bytes = (double)(peak - start) - 24.0 * loaded.design->vertex_count -
		       250.0 * loaded.design->priv->curve_count;
	unload(&loaded);
	return bytes;
}

/*
 * What flattened curves cost is no matter of the text: 24 bytes a vertex and 250 a curve are taken
 * off.
 *
 * `before`, then `piece` over and over, then `after`; a % in the piece is a number that counts.
 */
static double cost_of(const char *before, const char *piece, const char *after)
{
	struct text text = {0};
	text_add_string(&text, before);
	const char *mark = strchr(piece, '%');
	for (unsigned i = 0; text.length < FILE_BYTES; i++) {
		size_t head = mark ? (size_t)(mark - piece) : strlen(piece);
		text_add(&text, piece, head);
		if (mark)
			text_format(&text, "%u%s", i, mark + 1);
	}
	text_add_string(&text, after);
	assert_false(text.failed);
	double cost = bytes_of(&text) / (double)text.length;
	text_finish(&text);
	print_message("%6.1f times the file: %s\n", cost, piece);
	return cost;
}

static void elements_cost_at_most_forty_times_their_text(void **state)
{
	(void)state;
	static const char *const PIECES[] = {
		"<g/>",
		"<g><g/></g>",
		"<g a=\"\"/>",
		"<g id=\"a%\"/>",
		"<g a%=\"\"/>",
		"<path d=\"M0 0h1\"/>",
		"<path d=\"M0 0h1\" id=\"p%\" class=\"a\"/>",
		"<rect width=\"1\" height=\"1\"/>",
		"<circle r=\"1\"/>",
		"<line y2=\"1\"/>",
		"<text/>",
		"<image/>",
		"<style/>",
		"<use href=\"#p\"/>",
	};
	for (size_t i = 0; i < sizeof(PIECES) / sizeof(*PIECES); i++)
		assert_true(cost_of(ROOT_100MM "<path id=\"p\"/>", PIECES[i], "</svg>") <= 40);
}

static void path_data_costs_at_most_forty_times_its_text(void **state)
{
	(void)state;
	static const char *const PIECES[] = {
		"h1v1h-1v-1", "1 1 0 1-1-1 ", "M1 1z", "M1 1h1", "c1 1 2 2 3 0 1-1 2-2-3 0",
		"M%1e-9 1h0",
	};
	for (size_t i = 0; i < sizeof(PIECES) / sizeof(*PIECES); i++)
		assert_true(cost_of(ROOT_100MM "<path d=\"M0 0", PIECES[i], "\"/></svg>") <= 40);
}

static void text_that_draws_nothing_costs_little(void **state)
{
	(void)state;
	assert_true(cost_of(ROOT_100MM "<!--", "a comment ", "--></svg>") <= 4);
	assert_true(cost_of(ROOT_100MM "<g data-note=\"", "an attribute ", "\"/></svg>") <= 4);
	assert_true(cost_of(ROOT_100MM "<text>", "a letter ", "</text></svg>") <= 4);
	assert_true(cost_of(ROOT_100MM "<text>", "\n", "</text></svg>") <= 8);
}

static void style_sheets_cost_at_most_sixty_times_their_text(void **state)
{
	(void)state;
	static const char *const PIECES[] = {".a%{}", "a{r:1}", "a,", ".a.a.a ", "a{r:1;r:1;r:1}"};
	for (size_t i = 0; i < sizeof(PIECES) / sizeof(*PIECES); i++)
		assert_true(cost_of(ROOT_100MM "<style>", PIECES[i], "a{}</style></svg>") <= 60);
}

static void what_uses_place_costs_at_most_300_bytes_an_element(void **state)
{
	(void)state;
	/* seven in seven in seven ...: 7^6 paths, and the uses and groups that lead to them */
	struct text text = {0};
	text_add_string(&text, ROOT_100MM "<defs><path id=\"u0\" d=\"M1 1h1v1z\"/>");
	double placed = 1;
	for (int i = 1; i <= 6; i++) {
		text_format(&text, "<g id=\"u%d\">", i);
		for (int k = 0; k < 7; k++)
			text_format(&text, "<use href=\"#u%d\"/>", i - 1);
		text_add_string(&text, "</g>");
		placed = placed * 7 + 1;
	}
	text_add_string(&text, "</defs><use href=\"#u6\"/></svg>");
	double cost = (bytes_of(&text) - 40.0 * (double)text.length) / placed;
	print_message("%6.1f bytes an element that is placed\n", cost);
	assert_true(cost <= 300);
	text_finish(&text);
}

static void entities_cost_at_most_forty_times_the_text_that_they_make(void **state)
{
	(void)state;
	/* 4 bytes in the file stand for 27 of tags */
	assert_true(cost_of("<!DOCTYPE svg [<!ENTITY e '<g/><path d=\"M0 0h1\"/>'>]>" ROOT_100MM,
			    "&e; ", "</svg>") <= 40 * 27.0 / 4);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(elements_cost_at_most_forty_times_their_text),
		cmocka_unit_test(path_data_costs_at_most_forty_times_its_text),
		cmocka_unit_test(text_that_draws_nothing_costs_little),
		cmocka_unit_test(style_sheets_cost_at_most_sixty_times_their_text),
		cmocka_unit_test(what_uses_place_costs_at_most_300_bytes_an_element),
		cmocka_unit_test(entities_cost_at_most_forty_times_the_text_that_they_make),
	};
	return cmocka_run_group_tests(tests, count_parser, NULL);
}

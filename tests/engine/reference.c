/* reference.c - what the reader says of art is left out where its role is never burned. */
#include "engine/reference.h"

#include <stdio.h>
#include <string.h>

#include "fresh.h"

#include "base/text.h"
#include "model/private.h"
#include "svg/load.h"

/* A drawing whose groups `guides` are given the role guide; what the reader said, then the rest. */
static struct notices rest_of(struct arena *arena, const char *body)
{
	struct svg_options options = {.flatness_mm = 0.005};
	struct notices notices = {.arena = arena};
	struct cutlint_design *design;
	struct text text = {0};
	text_format(&text,
		    "<svg xmlns='http://www.w3.org/2000/svg' width='9mm' height='9mm'>%s</svg>",
		    body);
	assert_int_equal(svg_load_bytes(arena, text.bytes, text.length, "a.svg", &options, &notices,
					&design),
			 0);
	text_finish(&text);
	for (uint32_t i = 0; i < design->shape_count; i++) {
		struct cutlint_shape *shape = &design->priv->shapes[i];
		for (const struct cutlint_element *at = shape->element; at; at = at->parent) {
			if (at->id && strcmp(at->id, "guides") == 0)
				shape->role = CUTLINT_ROLE_GUIDE;
		}
		for (const struct cutlint_placement *at = shape->placement; at; at = at->outer) {
			if (at->use->id && strcmp(at->use->id, "guides") == 0)
				shape->role = CUTLINT_ROLE_GUIDE;
		}
	}
	assert_true(notices.count > 0);
	assert_int_equal(reference_leave_out(&notices, design), 0);
	return notices;
}

static void is_left_out(void **state, const char *body)
{
	assert_int_equal(rest_of(*state, body).count, 0);
}

static void is_kept(void **state, const char *body, const char *code)
{
	struct notices rest = rest_of(*state, body);
	assert_int_equal(rest.count, 1);
	assert_string_equal(rest.items[0].code, code);
}

#define GUIDES(body)  "<g id='guides'>" body "</g>"
#define DOT           "<circle r='1'/>"
#define SHADE         "<linearGradient id='s'/>"
#define SHADED        "<circle r='1' fill='url(#s)'/>"
#define CLIPPED(body) "<clipPath id='c'/><g clip-path='url(#c)'>" body "</g>"

static void words_and_pictures_among_guides_are_left_out(void **state)
{
	is_left_out(state, GUIDES("<text>a</text><image/><foreignObject/>"));
	is_kept(state, "<text>a</text>" GUIDES("<text>b</text>"), "live-text");
}

static void an_effect_counts_if_one_of_its_shapes_is_burned(void **state)
{
	is_left_out(state, CLIPPED(GUIDES(DOT)));
	is_kept(state, CLIPPED(GUIDES(DOT) DOT), "clip-path");
}

static void a_gradient_that_is_said_at_a_guide_may_paint_art_further_down(void **state)
{
	is_left_out(state, SHADE GUIDES(SHADED));
	is_kept(state, SHADE GUIDES(SHADED) SHADED, "gradient");
}

static void what_a_use_places_has_the_role_of_the_use(void **state)
{
	static const char TEXT[] = "<defs><text id='t'>a</text></defs><use id='guides' href='#t'/>";
	char both[256];
	is_left_out(state, TEXT);
	snprintf(both, sizeof(both), "%s<use href='#t'/>", TEXT);
	is_kept(state, both, "live-text");
}

static void mistakes_among_guides_are_still_said(void **state)
{
	is_kept(state, GUIDES("<path d='M0 0h1 x'/>"), "path-data");
	is_kept(state, GUIDES("<use href='#none'/>" DOT), "use-target");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(words_and_pictures_among_guides_are_left_out),
		FRESH(an_effect_counts_if_one_of_its_shapes_is_burned),
		FRESH(a_gradient_that_is_said_at_a_guide_may_paint_art_further_down),
		FRESH(what_a_use_places_has_the_role_of_the_use),
		FRESH(mistakes_among_guides_are_still_said),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

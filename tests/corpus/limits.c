/* limits.c - each limit of docs/drawings.md by its name on the command line, from both sides. */
#define _GNU_SOURCE /* stpcpy */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "gzip.h"
#include "scene.h"

#define ROOT          "<svg xmlns='http://www.w3.org/2000/svg' width='9mm' height='9mm' viewBox='0 0 9 9'>"
#define DRAWING(body) ROOT body "</svg>"
#define DOT           "<circle id='d' cx='4' cy='4' r='1'/>"
#define USE           "<use href='#d'/>"

static struct ran check_with(const struct scene *scene, const char *file, const char *name,
			     unsigned value)
{
	char limit[64];
	snprintf(limit, sizeof(limit), "%s=%u", name, value);
	return CUTLINT(scene, "check", "--quiet", "--limit", limit, file);
}

/* `enough` is the least value with which the file is read. */
static void is_the_border(const struct scene *scene, const char *file, const char *name,
			  unsigned enough)
{
	char said[64], advice[64];
	struct ran ran = check_with(scene, file, name, enough);
	assert_in_range((unsigned)ran.status, 0, 1);
	assert_lacks(ran.out, "too-large");
	ran_finish(&ran);

	ran = check_with(scene, file, name, enough - 1);
	const char *where = ran.out_length ? ran.out : ran.err;
	snprintf(said, sizeof(said), "(limit %s: %u)", name, enough - 1);
	snprintf(advice, sizeof(advice), "raise the limit: --limit %s=N", name);
	assert_int_equal(ran.status, 2);
	assert_has(where, said);
	assert_has(where, advice);
	ran_finish(&ran);
}

static void a_drawing_at_a_limit_passes_and_one_over_it_is_refused(void **state)
{
	static const struct {
		const char *name, *text;
		unsigned enough;
	} CASES[] = {
		{"file-bytes", DRAWING(DOT), sizeof(DRAWING(DOT)) - 1},
		{"depth", DRAWING("<g><g>" DOT "</g></g>"), 4},
		{"elements", DRAWING("<g/>" DOT), 3},
		{"attributes", DRAWING("<g a='' b='' c='' d='' e='' f='' g=''/>" DOT), 7},
		{"namespaces", DRAWING("<g xmlns:a='a'><g xmlns:b='b'/></g>" DOT), 3},
		{"entity-bytes", "<!DOCTYPE svg [<!ENTITY a 'xx'><!ENTITY b 'yy'>]>" DRAWING(DOT),
		 4},
		{"placed", DRAWING("<defs>" DOT "</defs>" USE USE USE), 3},
		{"placed-bytes", DRAWING("<defs>" DOT "</defs>" USE USE), 2 * (sizeof(DOT) - 1)},
		{"style-steps", DRAWING("<style>*{fill:red} *{fill:blue}</style><g/>" DOT), 6},
		{"vertices", DRAWING("<path d='M1 1h1v1h1'/>"), 4},
		{"crossings",
		 DRAWING("<path fill='none' stroke='red' d='M1 2h7M1 4h7M2 1v7M4 1v7'/>"), 4},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		scene_write(*state, "a.svg", CASES[i].text);
		is_the_border(*state, "a.svg", CASES[i].name, CASES[i].enough);
	}
}

/* The least whole `times` with which made <= times * given + 1 MiB, as the page says. */
static unsigned times_of(size_t made, size_t given)
{
	return (unsigned)((made - ((size_t)1 << 20) + given - 1) / given);
}

static void entities_may_make_so_many_times_the_text(void **state)
{
	static const size_t LENGTH = 30000, TIMES = 60;
	char *text = calloc(1, LENGTH + TIMES * 3 + 1000), *end = text;
	assert_non_null(text);
	end = stpcpy(end, "<!DOCTYPE svg [<!ENTITY a '");
	memset(end, 'x', LENGTH);
	end = stpcpy(end + LENGTH, "'>]>" ROOT DOT);
	for (size_t i = 0; i < TIMES; i++)
		end = stpcpy(end, "&a;");
	end = stpcpy(end, "</svg>");
	scene_write(*state, "a.svg", text);
	is_the_border(*state, "a.svg", "entity-growth",
		      times_of(LENGTH * TIMES, (size_t)(end - text)));
	free(text);
}

static void a_packed_drawing_may_hold_so_many_times_its_bytes(void **state)
{
	static const size_t SPACES = 3000000;
	char *text = calloc(1, SPACES + 1000), *end = stpcpy(text, ROOT DOT);
	assert_non_null(text);
	memset(end, ' ', SPACES);
	end = stpcpy(end + SPACES, "</svg>");
	size_t length = (size_t)(end - text), packed_length;
	char *packed = gzip_pack(text, length, &packed_length);
	scene_write_bytes(*state, "a.svgz", packed, packed_length);
	is_the_border(*state, "a.svgz", "unpack-ratio", times_of(length, packed_length));
	free(packed);
	free(text);
}

static void findings_of_a_kind_are_listed_up_to_a_limit(void **state)
{
	scene_write(*state, "a.svg", DRAWING("<image/><image/><image/>" DOT));
	struct ran ran = check_with(*state, "a.svg", "notices", 3);
	assert_lacks(ran.out, "more of this kind");
	ran_finish(&ran);
	ran = check_with(*state, "a.svg", "notices", 2);
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, "1 more of this kind are not listed (limit notices: 2)");
	assert_has(ran.out, "--limit notices=N");
	ran_finish(&ran);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(a_drawing_at_a_limit_passes_and_one_over_it_is_refused),
		SCENE(entities_may_make_so_many_times_the_text),
		SCENE(a_packed_drawing_may_hold_so_many_times_its_bytes),
		SCENE(findings_of_a_kind_are_listed_up_to_a_limit),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

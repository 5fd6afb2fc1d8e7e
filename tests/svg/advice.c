/*
 * Every warning and every error of the reader says what to do.
 * Usage: test-svg-advice PAGE, the page that lists the kinds of findings.
 */
#include <stdio.h>
#include <string.h>

#include "file.h"
#include "helper.h"

#define ROOT_NO_SIZE ROOT_OPEN ">"

/* One drawing for each thing that the reader says, with its code. */
static const struct {
	const char *code, *text;
} CASES[] = {
	{"clip-path", DRAWING("<clipPath id='c'/><circle r='1' clip-path='url(#c)'/>")},
	{"empty-file", " "},
	{"encoding", "<svg>\xff</svg>"},
	{"encoding", "\x1f\x8b\x08 no gzip"},
	{"encoding", "<?xml version='1.0' encoding='none-such'?><svg/>"},
	{"filter", DRAWING("<filter id='f'/><circle r='1' filter='url(#f)'/>")},
	{"foreign-object", DRAWING("<foreignObject/>")},
	{"length", DRAWING("<circle r='10.'/>")},
	{"length", DRAWING("<circle r='-1'/>")},
	{"length", ROOT_NO_SIZE "<circle r='1%'/></svg>"},
	{"live-text", DRAWING("<text>a</text>")},
	{"marker", DRAWING("<marker id='m'/><line x2='1' stroke='red' marker-end='url(#m)'/>")},
	{"mask", DRAWING("<mask id='m'/><circle r='1' mask='url(#m)'/>")},
	{"not-svg", "<html/>"},
	{"page-size", ROOT_OPEN "width='0' height='1mm'/>"},
	{"page-size", ROOT_OPEN "width='-1mm' height='1mm'/>"},
	{"page-size", ROOT_OPEN "width='1mm' height='1mm' viewBox='0 0 0 1'/>"},
	{"page-size", ROOT_OPEN "width='1mm' height='1e9mm'/>"},
	{"paint-server", DRAWING("<circle r='1' fill='url(#none)'/>")},
	{"path-data", DRAWING("<path d='M0 0 x'/>")},
	{"pattern", DRAWING("<pattern id='p'/><circle r='1' fill='url(#p)'/>")},
	{"physical-size", ROOT_NO_SIZE "</svg>"},
	{"physical-size", ROOT_OPEN "viewBox='0 0 1 1'/>"},
	{"physical-size", ROOT_OPEN "width='1mm' viewBox='0 0 1 1'/>"},
	{"points", DRAWING("<polygon points='0 0 x'/>")},
	{"raster-image", DRAWING("<image/>")},
	{"style", DRAWING("<circle r='1' fill='bleu'/>")},
	{"style", DRAWING("<style>.1{fill:red}</style>")},
	{"svg-namespace", "<svg width='1mm' height='1mm'/>"},
	{"svg-namespace", "<svg xmlns='urn:a' width='1mm' height='1mm'/>"},
	{"too-large", DRAWING("<circle r='9999'/>")},
	{"too-large", DRAWING("<g display='none'><circle r='9999'/></g>")},
	{"too-large", DRAWING("<g transform='scale(1e308)scale(1e308)'><circle r='1'/></g>")},
	{"transform", DRAWING("<g transform='scale(x)'/>")},
	{"transform", DRAWING("<g transform='scale(0)'/>")},
	{"transform", DRAWING("<g transform='scale(2)' style='transform-origin:x'/>")},
	{"unsupported-content", DRAWING("<script/>")},
	{"unsupported-content", DRAWING("<circle r='1'><animate/></circle>")},
	{"unsupported-content", DRAWING("<style>a:hover{fill:red}</style>")},
	{"unsupported-content", DRAWING("<style>@import 'a.css';</style>")},
	{"unsupported-content", DRAWING("<style>@supports(a:b){a{fill:red}}</style>")},
	{"unsupported-content", DRAWING("<style>@media (width:1px){a{fill:red}}</style>")},
	{"unsupported-content", DRAWING("<style type='text/other'/>")},
	{"unsupported-content", DRAWING("<g style='fill:var(--a)'/>")},
	{"unsupported-content", DRAWING("<g style='rotate:45deg'/>")},
	{"unsupported-content", DRAWING("<path d='M0 0h1' style='d:path(\"M0 0\")'/>")},
	{"unsupported-content", "<?xml-stylesheet href='a.css'?>" DRAWING("")},
	{"unsupported-content", ROOT_OPEN "width='1mm' height='1mm' transform='scale(2)'/>"},
	{"use-cycle", DRAWING("<g id='a'><use href='#a'/></g>")},
	{"use-target", DRAWING("<use href='#none'/>")},
	{"use-target", DRAWING("<use href='a.svg#a'/>")},
	{"use-target", DRAWING("<use/>")},
	{"use-target", DRAWING("<use href='#d'/><defs id='d'/>")},
	{"view-box", ROOT_OPEN "width='1mm' height='1mm' viewBox='0'/>"},
	{"view-box",
	 ROOT_OPEN "width='1mm' height='1mm' viewBox='0 0 1 1' preserveAspectRatio='x'/>"},
	{"viewport", DRAWING("<svg width='5' height='5'><circle r='9'/></svg>")},
	{"viewport", DRAWING("<svg width='0'><circle r='9'/></svg>")},
	{"xml-namespace", DRAWING("<a:b/>")},
	{"xml-syntax", "<svg><g></svg>"},
	{"xml-syntax", "<svg>"},
	{"xml-syntax", "no xml"},
};

static void every_warning_and_every_error_says_what_to_do(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		struct loaded loaded = load(CASES[i].text);
		notice_of(&loaded, CASES[i].code);
		for (uint32_t k = 0; k < loaded.notices.count; k++) {
			const struct notice *notice = &loaded.notices.items[k];
			if (notice->level >= NOTICE_WARNING && !notice->suggestion)
				fail_msg("nothing is suggested for '%s'", notice->message);
		}
		unload(&loaded);
	}
}

static void the_page_names_every_kind_of_finding(void **state)
{
	char *page = file_read(*state);
	assert_non_null(page);
	const char *list = strstr(page, "## Kinds of findings of the reader\n");
	assert_non_null(list);
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		char quoted[64];
		snprintf(quoted, sizeof(quoted), "`%s`", CASES[i].code);
		if (!strstr(list, quoted))
			fail_msg("the page does not name %s", quoted);
	}
	free(page);
}

int main(int argc, char **argv)
{
	if (argc != 2)
		return 1;
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_warning_and_every_error_says_what_to_do),
		cmocka_unit_test_prestate(the_page_names_every_kind_of_finding, argv[1]),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

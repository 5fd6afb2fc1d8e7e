/* What a job file may get wrong, and what is said of it where. */
#include <stdio.h>
#include <string.h>

#include "load.h"
#include "unit.h"

struct mistake {
	const char *text;
	unsigned line, column, length;
	const char *message;
};

static void assert_one_mistake(const struct mistake *expected)
{
	struct loaded loaded = load_text(expected->text);
	if (loaded.notices.count != 1)
		fail_msg("%u notices for: %s", loaded.notices.count, expected->text);
	const struct notice *notice = &loaded.notices.items[0];
	struct source_position at = source_position(&loaded.job->source, notice->byte);
	assert_string_equal(notice->message, expected->message);
	if (at.line != expected->line || at.column != expected->column ||
	    notice->length != expected->length)
		fail_msg("%u:%u, %u bytes: %s", at.line, at.column, notice->length,
			 notice->message);
	assert_int_equal(notice->level, NOTICE_FATAL);
	assert_string_equal(notice->code, "job");
	assert_int_equal(loaded.result, -1);
	load_finish(&loaded);
}

static void assert_mistakes(const struct mistake *mistakes, size_t count)
{
	for (size_t i = 0; i < count; i++)
		assert_one_mistake(&mistakes[i]);
}

#define ASSERT_MISTAKES(...)                                                                       \
	do {                                                                                       \
		const struct mistake mistakes[] = {__VA_ARGS__};                                   \
		assert_mistakes(mistakes, sizeof(mistakes) / sizeof(*mistakes));                   \
	} while (0)

static void sections(void **state)
{
	(void)state;
	ASSERT_MISTAKES(
		{"[burm]\nkerf = 0.1 mm\n", 1, 1, 6,
		 "unknown section 'burm'; did you mean 'burn'?"},
		{"[stock]\n  [laser]", 2, 3, 7,
		 "unknown section 'laser'; write stock, burn, card, machine, drawing, roles, "
		 "lettering, recipe, "
		 "modules or rule"},
		{"[burn]\n[burn]\n", 2, 1, 6, "section [burn] stands twice, first in line 1"},
		{"[burn]\n[card]\n[card]\n", 3, 1, 6,
		 "section [card] stands twice, first in line 2"},
		{"[rule a]\n[rule b]\n[rule  a ]\n", 3, 1, 10,
		 "section [rule  a ] stands twice, first in line 1"},
		{"[burn\n", 1, 6, 0, "missing ']' behind '[burn'"},
		{"[burn # hot ]\nkerf = 0.1 mm\n", 1, 6, 0, "missing ']' behind '[burn'"},
		{"[]\n", 1, 1, 2, "section without a word in its brackets"},
		{"[ \t]\n", 1, 1, 4, "section without a word in its brackets"},
		{"[burn] kerf = 0.1 mm\n", 1, 8, 13, "unexpected 'kerf = 0.1 mm' behind ']'"},
		{"[burn back]\n", 1, 1, 11, "[burn] takes no name: 'back'"},
		{"[rule]\n", 1, 1, 6, "[rule] without the rule's name; write [rule NAME]"});
}

static void lines(void **state)
{
	(void)state;
	ASSERT_MISTAKES(
		{"kerf = 0.1 mm\n[burn]\n", 1, 1, 4, "key 'kerf' stands before any section"},
		{"[burn]\nkerf 0.1 mm\n", 2, 1, 11, "missing '=' in 'kerf 0.1 mm'"},
		{"[burn]\nkerf # = 0.1 mm\n", 2, 1, 4, "missing '=' in 'kerf'"},
		{"[burn]\n\t= 0.1 mm\n", 2, 2, 1, "missing key before '='"},
		{"[burn]\n kerf =\n", 2, 2, 4, "'kerf' has no value"},
		{"[burn]\nkerf = # thin\n", 2, 1, 4, "'kerf' has no value"},
		{"[stock]\nname = \"\"\n", 2, 1, 4, "'name' has no value"},
		{"[stock]\nname = \"ivory\n", 2, 8, 1, "missing closing '\"'"},
		{"[stock]\nname = \"ivory\" card\n", 2, 16, 4,
		 "unexpected 'card' behind the closing '\"'"},
		{"[stock]\nname = \"a\\n\"\n", 2, 10, 1,
		 "a backslash in quotes stands before '\"' or another backslash only"},
		{"[burn]\nkerf = 0.1 mm\n\nkerf = 0.2 mm\n", 4, 1, 4,
		 "key 'kerf' stands twice in its section, first in line 2"},
		{"[burn]\ncut-from = back\nkerf = 0.1 mm\nkerf = 0.2 mm\n", 4, 1, 4,
		 "key 'kerf' stands twice in its section, first in line 3"},
		{"[rule x]\nerror = 1 mm\nerror = 1 mm\n", 3, 1, 5,
		 "key 'error' stands twice in its section, first in line 2"},
		{"[roles]\ndefault-words = no\ndefault-words = no\n", 3, 1, 13,
		 "key 'default-words' stands twice in its section, first in line 2"});
}

static void keys(void **state)
{
	(void)state;
	ASSERT_MISTAKES({"[burn]\nkerff = 0.1 mm\n", 2, 1, 5,
			 "unknown key 'kerff' in [burn]; did you mean 'kerf'?"},
			{"[burn]\ntexture = red\n", 2, 1, 7,
			 "unknown key 'texture' in [burn]; write kerf, cut-from or machine-power"},
			{"[stock]\nkerf = 0.1 mm\n", 2, 1, 4,
			 "unknown key 'kerf' in [stock]; it belongs in [burn]"},
			{"[recipe art]\nspeed = 5 mm/s\npower = 80 %\npases = 2\n", 4, 1, 5,
			 "unknown key 'pases' in [recipe]; did you mean 'passes'?"},
			{"[modules]\nrequires = my-rule\n", 2, 1, 8,
			 "unknown key 'requires' in [modules]; did you mean 'require'?"});
}

static void figures(void **state)
{
	(void)state;
	ASSERT_MISTAKES(
		{"[burn]\nkerf = 0.15\n", 2, 8, 4,
		 "missing unit behind '0.15'; write mm, cm, in, pt, px or um"},
		{"[burn]\nkerf = 0.15 nm\n", 2, 13, 2,
		 "unknown unit 'nm' of a length; did you mean 'mm'?"},
		{"[burn]\nkerf = 0.15 furlongs\n", 2, 13, 8,
		 "unknown unit 'furlongs' of a length; write mm, cm, in, pt, px or um"},
		{"[stock]\ncolour = #12345\n", 2, 10, 6,
		 "colour '#12345' is no colour; write it as #rrggbb"},
		{"[burn]\nkerf = thin\n", 2, 8, 4, "'thin' is not a length"},
		{"[burn]\nkerf = 0,15 mm\n", 2, 9, 1,
		 "numbers are written with a point, not a comma"},
		{"[burn]\nkerf = 15 mm\n", 2, 8, 5,
		 "kerf '15 mm' is out of range; it lies from 0.005 mm to 2 mm"},
		{"[burn]\nkerf = -0.1 mm\n", 2, 8, 7,
		 "kerf '-0.1 mm' is out of range; it lies from 0.005 mm to 2 mm"},
		{"[stock]\nthickness = \"1e999 mm\"\n", 2, 14, 5, "'1e999' is too large"},
		{"[stock]\nthickness = 9/8 in\n", 2, 13, 3, "the fraction '9/8' is not below 1"},
		{"[stock]\nthickness = 1/0 in\n", 2, 13, 3, "the fraction '1/0' is not below 1"},
		{"[stock]\ngrammage = 250\n", 2, 12, 3,
		 "missing unit behind '250'; write g/m2, gsm or lb cover"},
		{"[lettering]\nbox = 60 mm\n", 2, 7, 5,
		 "'60 mm' is no box; write two lengths such as '105 mm x 148 mm'"},
		{"[lettering]\nbox = 0 mm x 9 mm\n", 2, 7, 11,
		 "box '0 mm x 9 mm' is out of range; both sides lie above 0 mm and up to 2000 mm"},
		{"[lettering]\nelement = x\n", 2, 1, 7,
		 "unknown key 'element' in [lettering]; did you mean 'elements'?"},
		{"[stock]\nfinish = matt\n", 2, 10, 4,
		 "unknown word 'matt' for finish; write uncoated or coated"},
		{"[stock]\ngrammage = 250 g\n", 2, 16, 1,
		 "unknown unit 'g' of a grammage; write g/m2, gsm or lb cover"},
		{"[recipe art]\nspeed = 5\npower = 80 %\n", 2, 9, 1,
		 "missing unit behind '5'; write mm/s, mm/min, in/min or in/s"},
		{"[recipe art]\nspeed = 5 mm/s\npower = 80\n", 3, 9, 2,
		 "'80' without unit is not from 0 to 1; write '80 %'"},
		{"[recipe art]\nspeed = 5 mm/s\npower = 120 %\n", 3, 9, 5,
		 "power '120 %' is out of range; it lies from 0.1 % to 100 %"},
		{"[recipe art]\nspeed = 5 mm/s\npower = 80 %\npasses = 1.5\n", 4, 10, 3,
		 "'1.5' is not a whole number"},
		{"[recipe art]\nspeed = 5 mm/s\npower = 80 %\npasses = 2 x\n", 4, 12, 1,
		 "unexpected 'x' behind the number"},
		{"[recipe art]\nspeed = 5 mm/s\npower = 80 %\npasses = 0\n", 4, 10, 1,
		 "passes '0' is out of range; it lies from 1 to 1000"});
}

static void words(void **state)
{
	(void)state;
	ASSERT_MISTAKES(
		{"[burn]\ncut-from = bak\n", 2, 12, 3,
		 "unknown word 'bak' for cut-from; did you mean 'back'?"},
		{"[burn]\ncut-from = inside\n", 2, 12, 6,
		 "unknown word 'inside' for cut-from; write front or back"},
		{"[card]\nspine = lfet\n", 2, 9, 4,
		 "unknown word 'lfet' for spine; did you mean 'left'?"},
		{"[roles]\ndefault-words = never\n", 2, 17, 5, "'never' is neither yes nor no"},
		{"[recipe artt]\nspeed = 5 mm/s\npower = 1\n", 1, 1, 13,
		 "unknown role 'artt' of a recipe; did you mean 'art'?"},
		{"[recipe guide]\nspeed = 5 mm/s\npower = 1\n", 1, 1, 14,
		 "lines of the role 'guide' are not burned; a recipe is for art, outline, slit, "
		 "fold or inset"},
		{"[recipe]\nspeed = 5 mm/s\npower = 1\n", 1, 1, 8,
		 "[recipe] without a role; write [recipe art], outline, slit, fold or inset"},
		{"[recipe fold]\nspeed = 5 mm/s\n", 1, 1, 13, "[recipe fold] has no power"},
		{"[modules]\nrequire = ./my-rule\n", 2, 12, 1,
		 "a module is required by its name, not by a path: './my-rule'"});
}

static void card_sizes(void **state)
{
	(void)state;
	ASSERT_MISTAKES(
		{"[card]\nsize = A6\n", 2, 8, 2,
		 "'A6' names two sizes; write 'ISO A6' (105 mm x 148 mm) or 'US A6' (4 1/2 in x "
		 "6 1/4 in)"},
		{"[card]\nsize = \"A10\"\n", 2, 9, 3,
		 "'A10' names two sizes; write 'ISO A10' (26 mm x 37 mm) or 'US A10' (5 3/4 in x "
		 "9 1/4 in)"},
		{"[card]\nsize = ISO A66\n", 2, 8, 7,
		 "unknown card size 'ISO A66'; did you mean 'ISO A6'?"},
		{"[card]\nsize = iso a6\n", 2, 8, 6,
		 "unknown card size 'iso a6'; did you mean 'ISO A6'?"},
		{"[card]\nsize = postage stamp\n", 2, 8, 13,
		 "unknown card size 'postage stamp'; write a name such as 'ISO A6', or '105 mm x "
		 "148 mm'"},
		{"[card]\nsize = C6\n", 2, 8, 2,
		 "'C6' is an envelope (114 mm x 162 mm); the card for it is 'ISO A6'"},
		{"[card]\nsize = 105 mm\n", 2, 8, 6,
		 "'105 mm' is no card size; write two lengths such as '105 mm x 148 mm'"},
		{"[card]\nsize = 105 mm x 148\n", 2, 17, 3,
		 "missing unit behind '148'; write mm, cm, in, pt, px or um"},
		{"[card]\nsize = 105 x 148 mm\n", 2, 8, 3,
		 "missing unit behind '105'; write mm, cm, in, pt, px or um"},
		{"[card]\nsize = 105 mm x 148 m\n", 2, 21, 1,
		 "unknown unit 'm' of a length; did you mean 'mm'?"},
		{"[card]\nsize = 105 mm x 148 in\n", 2, 8, 15,
		 "card size '105 mm x 148 in' is out of range; both sides lie from 5 mm to 2000 "
		 "mm"});
}

static void roles_and_patterns(void **state)
{
	(void)state;
	ASSERT_MISTAKES(
		{"[roles]\nart = petal(s|\n", 2, 15, 0, "bad pattern: missing closing parenthesis"},
		{"[roles]\nart = \"petal\\\\d(s\"\n", 2, 18, 0,
		 "bad pattern: missing closing parenthesis"},
		{"[roles]\n  fold = a*b+(?z)\n", 2, 16, 1,
		 "bad pattern: unrecognized character after (? or (?-"},
		{"[roles]\nart = \\C\n", 2, 9, 0,
		 "bad pattern: using \\C is disabled by the application"},
		{"[roles]\nfodl = fold\n", 2, 1, 4,
		 "unknown role 'fodl' in [roles]; did you mean 'fold'?"},
		{"[roles]\nfold strok = #808080\n", 2, 6, 5,
		 "unknown paint 'strok' behind the role; did you mean 'stroke'?"},
		{"[roles]\nas_seen = x\n", 2, 1, 7,
		 "unknown role 'as_seen' in [roles]; did you mean 'as-seen'?"},
		{"[roles]\ndefault-word = no\n", 2, 1, 12,
		 "unknown role 'default-word' in [roles]; did you mean 'default-words'?"});
}

static void bytes_that_are_no_text(void **state)
{
	(void)state;
	ASSERT_MISTAKES(
		{"[stock]\nname = caf\xe9\n", 2, 11, 1, "byte 0xe9 is not UTF-8"},
		{"[stock]\nname = \xf0\x9d\x84\x9e\xff\n", 2, 9, 1, "byte 0xff is not UTF-8"});

	struct loaded loaded = load_bytes("[burn]\r\nkerf\0 = 1 mm\r\n", 22);
	struct source_position at =
		source_position(&loaded.job->source, loaded.notices.items[0].byte);
	assert_int_equal(loaded.notices.count, 1);
	assert_string_equal(loaded.notices.items[0].message, "NUL byte; a job file is plain text");
	assert_int_equal(at.line, 2);
	assert_int_equal(at.column, 5);
	load_finish(&loaded);
}

static void places_hold_behind_tabs_crlf_a_mark_and_astral_characters(void **state)
{
	(void)state;
	ASSERT_MISTAKES(
		{"\xef\xbb\xbfkerf = 1 mm\r\n", 1, 1, 4, "key 'kerf' stands before any section"},
		{"\xef\xbb\xbf[burn]\r\n\tkerf\t=\t0.1 nm\r\n", 2, 13, 2,
		 "unknown unit 'nm' of a length; did you mean 'mm'?"},
		{"[stock]\r\nname = \"\xf0\x9d\x84\x9e\xf0\x9d\x84\x9e\" x\r\n", 2, 13, 1,
		 "unexpected 'x' behind the closing '\"'"},
		{"[stock]\rname = \"a\" x\r", 2, 12, 1, "unexpected 'x' behind the closing '\"'"});
}

static void words_from_the_file_cannot_forge_a_line(void **state)
{
	(void)state;
	ASSERT_MISTAKES(
		{"[burn]\n\x1b[2J = 1\n", 2, 1, 4,
		 "unknown key '\\x1b[2J' in [burn]; write kerf, cut-from or machine-power"},
		{"[burn]\naaaaaaaaaabbbbbbbbbbccccccccccddddddddddeeeeeeeeee = 1\n", 2, 1, 50,
		 "unknown key 'aaaaaaaaaabbbbbbbbbbccccccccccdddddddddd...' in [burn]; write kerf, "
		 "cut-from or machine-power"});
}

static void all_mistakes_of_a_file_are_said_in_one_run(void **state)
{
	(void)state;
	/* In the order of the file, though the line without `=` is met first. */
	struct loaded loaded = load_text("[burn]\n"
					 "kerf = 0.15\n"
					 "cut-from = rear\n"
					 "cut-from\n"
					 "[roles]\n"
					 "art = (\n"
					 "[card]\n"
					 "size = A7\n");
	static const unsigned LINES[] = {2, 3, 4, 6, 8};
	assert_int_equal(loaded.result, -1);
	assert_int_equal(loaded.notices.count, 5);
	for (size_t i = 0; i < 5; i++) {
		const struct notice *notice = &loaded.notices.items[i];
		assert_int_equal(source_position(&loaded.job->source, notice->byte).line, LINES[i]);
	}
	load_finish(&loaded);
}

static void a_file_that_is_all_mistakes_ends_after_a_hundred(void **state)
{
	(void)state;
	char text[4000] = "[burn]\n";
	for (int i = 0; i < 500; i++)
		strcat(text, i % 3 ? "rubbish\n" : "ash\n");
	struct loaded loaded = load_text(text);
	assert_int_equal(loaded.notices.count, 101);
	assert_string_equal(loaded.notices.items[100].message,
			    "more than 100 mistakes; the rest is not shown");
	load_finish(&loaded);
}

static void a_file_that_cannot_be_read_says_why(void **state)
{
	(void)state;
	struct arena *arena = arena_create();
	struct notices notices = {.arena = arena};
	struct job *job;
	assert_int_equal(job_load(arena, "/nonexistent/cutlint.job", &notices, &job), -1);
	assert_int_equal(notices.count, 1);
	assert_string_equal(notices.items[0].message,
			    "cannot read '/nonexistent/cutlint.job': No such file or directory");
	assert_string_equal(job->source.name, "/nonexistent/cutlint.job");
	assert_int_equal(source_position(&job->source, notices.items[0].byte).line, 1);
	job_finish(job);
	arena_destroy(arena);
}

/* PCRE2 (pcre2pattern, "Repetition"): a quantifier repeats what stands before it. */
static void patterns_of_a_shell(void **state)
{
	(void)state;
#define FILES(pattern) "[rule a b]\nreason = c\nfiles = " pattern "\n"
#define SHELL(pattern) "'" pattern "' is a shell's pattern, and files takes a PCRE2 pattern; write "
	ASSERT_MISTAKES(
		{FILES("*.svg"), 3, 9, 5, SHELL("*.svg") "[.]svg$"},
		{FILES("*-black.svg"), 3, 9, 11, SHELL("*-black.svg") "-black[.]svg$"},
		{FILES("drafts/*.svg"), 3, 9, 12, SHELL("drafts/*.svg") "^drafts/[^/]*[.]svg$"},
		{FILES("card*.svg"), 3, 9, 9, SHELL("card*.svg") "(^|/)card[^/]*[.]svg$"},
		{FILES("**/old/*.svg"), 3, 9, 12, SHELL("**/old/*.svg") "(^|/)old/[^/]*[.]svg$"},
		{FILES("cards/**/a?.svg"), 3, 9, 15,
		 SHELL("cards/**/a?.svg") "^cards/.*/a[^/][.]svg$"},
		{FILES("\"(drafts\""), 3, 17, 0, "bad pattern: missing closing parenthesis"});
}

/* Each is a PCRE2 pattern that is as likely meant. */
static void patterns_with_stars_that_are_not_a_shells(void **state)
{
	(void)state;
	static const char *const texts[] = {
		FILES("^drafts/.*\\.svg$"), FILES("^drafts/[^/]*[.]svg$"),
		FILES("(old|new)*.svg"),    FILES("drafts/*"),
		FILES("^a.*.svg"),
	};
	for (size_t i = 0; i < sizeof(texts) / sizeof(*texts); i++) {
		struct loaded loaded = load_text(texts[i]);
		assert_int_equal(loaded.notices.count, 0);
		load_finish(&loaded);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(patterns_of_a_shell),
		cmocka_unit_test(patterns_with_stars_that_are_not_a_shells),
		cmocka_unit_test(sections),
		cmocka_unit_test(lines),
		cmocka_unit_test(keys),
		cmocka_unit_test(figures),
		cmocka_unit_test(words),
		cmocka_unit_test(card_sizes),
		cmocka_unit_test(roles_and_patterns),
		cmocka_unit_test(bytes_that_are_no_text),
		cmocka_unit_test(places_hold_behind_tabs_crlf_a_mark_and_astral_characters),
		cmocka_unit_test(words_from_the_file_cannot_forge_a_line),
		cmocka_unit_test(all_mistakes_of_a_file_are_said_in_one_run),
		cmocka_unit_test(a_file_that_is_all_mistakes_ends_after_a_hundred),
		cmocka_unit_test(a_file_that_cannot_be_read_says_why),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

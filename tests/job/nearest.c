#include "job/nearest.h"

#include "unit.h"

static const char *near(const char *word, const char *valid)
{
	const char *words[] = {valid};
	return nearest_word(word, words, 1);
}

static void one_slip_is_understood(void **state)
{
	(void)state;
	assert_string_equal(near("kerf", "kerf"), "kerf");
	assert_string_equal(near("kerff", "kerf"), "kerf");
	assert_string_equal(near("krf", "kerf"), "kerf");
	assert_string_equal(near("kerg", "kerf"), "kerf");
	assert_string_equal(near("kref", "kerf"), "kerf");
}

static void up_to_a_third_of_the_longer_word_may_differ(void **state)
{
	(void)state;
	/* A third of 6, and of 7, rounded up. */
	assert_string_equal(near("strxxe", "stroke"), "stroke");
	assert_null(near("stxxxe", "stroke"));
	assert_string_equal(near("outxxxe", "outline"), "outline");
	assert_null(near("ouxxxxe", "outline"));
	assert_null(near("xx", "mm"));
	assert_string_equal(near("xm", "mm"), "mm");
}

static void known_distances_decide(void **state)
{
	(void)state;
	/* Levenshtein's textbook pair: kitten to sitting takes 3 of at most 3; Saturday to
	 * Sunday 3. */
	assert_string_equal(near("kitten", "sitting"), "sitting");
	assert_string_equal(near("Saturday", "Sunday"), "Sunday");
	/* A swap counts 1: within a third of 3, which two substitutions would not be. */
	assert_string_equal(near("atr", "art"), "art");
	assert_null(near("axx", "art"));
}

static void the_nearest_wins_and_the_first_of_equals(void **state)
{
	(void)state;
	static const char *const WORDS[] = {"fold", "face", "fade", "fate"};
	assert_string_equal(nearest_word("fcae", WORDS, 4), "face");
	assert_string_equal(nearest_word("fabe", WORDS, 4), "face");
	assert_string_equal(nearest_word("fate", WORDS, 4), "fate");
	assert_null(nearest_word("window", WORDS, 4));
	assert_null(nearest_word("fold", WORDS, 0));
	assert_null(nearest_word("", WORDS, 4));
}

static void very_long_words_have_none(void **state)
{
	(void)state;
	char word[400];
	for (size_t i = 0; i < 399; i++)
		word[i] = 'k';
	word[399] = '\0';
	assert_null(near(word, "kerf"));
	assert_null(near("kerf", word));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(one_slip_is_understood),
		cmocka_unit_test(up_to_a_third_of_the_longer_word_may_differ),
		cmocka_unit_test(known_distances_decide),
		cmocka_unit_test(the_nearest_wins_and_the_first_of_equals),
		cmocka_unit_test(very_long_words_have_none),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

#include "engine/finding.h"

#include "fresh.h"

static void add(struct findings *findings, const char *file, uint32_t byte, const char *rule,
		const char *message)
{
	struct finding *finding = findings_add(findings);
	*finding = (struct finding){
		.rule = rule, .message = message, .place = {.file = file, .byte = byte}};
}

static void findings_sort_by_file_as_given_then_byte_rule_and_message(void **state)
{
	struct findings findings = {.arena = *state};
	add(&findings, "z.svg", 9, "b", "second");
	add(&findings, "z.svg", 9, "b", "first");
	add(&findings, "a.svg", 1, "a", "of the file named second");
	add(&findings, "z.svg", 9, "a", "third rule");
	add(&findings, "z.svg", 2, "z", "at the start");
	findings_sort(&findings);
	assert_string_equal(findings.items[0].message, "at the start");
	assert_string_equal(findings.items[1].message, "third rule");
	assert_string_equal(findings.items[2].message, "first");
	assert_string_equal(findings.items[3].message, "second");
	assert_string_equal(findings.items[4].message, "of the file named second");
}

static void the_order_in_which_findings_come_does_not_show(void **state)
{
	static const char *const MESSAGES[] = {"a", "b", "c", "d"};
	for (unsigned first = 0; first < 4; first++) {
		struct findings findings = {.arena = *state};
		for (unsigned i = 0; i < 4; i++)
			add(&findings, "x.svg", 5, "rule", MESSAGES[(first + i * 3) % 4]);
		findings_sort(&findings);
		for (unsigned i = 0; i < 4; i++)
			assert_string_equal(findings.items[i].message, MESSAGES[i]);
	}
}

static void a_list_grows(void **state)
{
	struct findings findings = {.arena = *state};
	for (uint32_t i = 0; i < 1000; i++)
		add(&findings, "x.svg", 1000 - i, "rule", "message");
	findings_sort(&findings);
	assert_int_equal(findings.count, 1000);
	for (uint32_t i = 0; i < 1000; i++)
		assert_int_equal(findings.items[i].place.byte, i + 1);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(findings_sort_by_file_as_given_then_byte_rule_and_message),
		FRESH(the_order_in_which_findings_come_does_not_show),
		FRESH(a_list_grows),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

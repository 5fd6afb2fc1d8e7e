/* jobs.c - one job for several drawings, several jobs for one, and rules by stretches of files. */
#include <string.h>

#include "scene.h"

static unsigned count_of(const char *text, const char *part)
{
	unsigned count = 0;
	for (const char *at = strstr(text, part); at; at = strstr(at + 1, part))
		count++;
	return count;
}

static void what_is_wrong_with_the_job_is_said_once_behind_all_drawings(void **state)
{
	scene_write(*state, "a.svg", GOOD_DRAWING);
	scene_write(*state, "b.svg", BAD_DRAWING);
	scene_write(*state, "cutlint.job", "[stock]\nname = white vinyl\n");
	struct ran ran = CUTLINT(*state, "check", "a.svg", "b.svg", "a.svg");
	assert_int_equal(ran.status, 1);
	assert_int_equal(count_of(ran.out, "cutlint.job:2:1: error: "), 1);
	assert_true(strstr(ran.out, "cutlint.job:2:1") > strstr(ran.out, "b.svg:4:1"));
	assert_has(ran.err, "2 errors, 1 warning in 3 files\n");
	ran_finish(&ran);
}

/* A kerf of 0.15 mm leaves 0.15 mm of the 0.30 mm between two windows, one of 0.05 mm 0.25 mm. */
static void several_jobs_say_which_of_them_a_finding_is_for(void **state)
{
	scene_write(*state, "bad.svg", BAD_DRAWING);
	scene_write(*state, "wide.job", "[burn]\nkerf = 0.15 mm\n");
	scene_write(*state, "fine.job",
		    "[burn]\nkerf = 0.05 mm\n[rule hole-size]\nseverity = note\n");
	scene_write(*state, "same.job", "[burn]\nkerf = 0.15 mm\n");
	struct ran ran = CUTLINT(*state, "check", "--job", "wide.job", "--job=fine.job",
				 "--job=same.job", "--job", "wide.job", "bad.svg");
	assert_int_equal(ran.status, 1);
	assert_int_equal(count_of(ran.out, "[bridge-width]"), 2);
	assert_has(ran.out, "; with wide.job and same.job (/svg/g[1]/circle[2]) [bridge-width]");
	assert_has(ran.out, "thin wall of 0.25 mm is under 0.35 mm");
	assert_has(ran.out, "; with fine.job (/svg/g[1]/circle[2]) [bridge-width]");
	assert_has(ran.err, "in 1 file\n");
	ran_finish(&ran);
}

static void the_log_says_so_too(void **state)
{
	scene_write(*state, "bad.svg", BAD_DRAWING);
	scene_write(*state, "wide.job", "[burn]\nkerf = 0.15 mm\n");
	scene_write(*state, "fine.job", "[burn]\nkerf = 0.05 mm\n");
	struct ran ran = CUTLINT(*state, "check", "--format=sarif", "--job", "wide.job", "--job",
				 "fine.job", "bad.svg");
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, "; with wide.job");
	assert_has(ran.out, "; with fine.job");
	ran_finish(&ran);
}

static void what_all_jobs_find_is_said_once_without_their_names(void **state)
{
	scene_write(*state, "bad.svg", BAD_DRAWING);
	scene_write(*state, "a.job", "[stock]\nname = ivory\n");
	scene_write(*state, "b.job", "[stock]\nname = black\n");
	struct ran one = CUTLINT(*state, "check", "--job", "a.job", "bad.svg");
	struct ran both = CUTLINT(*state, "check", "--job", "a.job", "--job", "b.job", "bad.svg");
	assert_string_equal(both.out, one.out);
	assert_string_equal(both.err, one.err);
	ran_finish(&one);
	ran_finish(&both);
}

static void a_job_that_cannot_be_used_leaves_the_others_at_work(void **state)
{
	scene_write(*state, "bad.svg", BAD_DRAWING);
	scene_write(*state, "good.job", "");
	scene_write(*state, "broken.job", "[burn]\nkerv = 0.15 mm\n");
	struct ran ran =
		CUTLINT(*state, "check", "--job", "broken.job", "--job", "good.job", "bad.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "broken.job:2:1: error: unknown key 'kerv'");
	assert_has(ran.out, "[bridge-width]");
	ran_finish(&ran);

	ran = CUTLINT(*state, "check", "--format=sarif", "--job", "broken.job", "bad.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.out, "'bad.svg' is not checked: its job can't be used");
	ran_finish(&ran);
}

static void standard_input_is_read_once_and_takes_one_job(void **state)
{
	REFUSES(*state, "standard input can be read once", "check", "--job", "a.job", "--job",
		"b.job", "-");
}

static void a_job_is_never_written_over(void **state)
{
	scene_write(*state, "good.svg", GOOD_DRAWING);
	scene_write(*state, "a.job", "");
	scene_write(*state, "b.job", "");
	REFUSES(*state, "it is to be read", "check", "--job", "a.job", "--job", "b.job", "--output",
		"b.job", "good.svg");
}

#define DRAFTS_OFF                                                                                 \
	"[rule bridge-width drafts]\nfiles = ^drafts/\nreason = not cut yet\nseverity = off\n"

static void a_stretch_of_files_is_silenced_with_a_reason(void **state)
{
	scene_make_folder(*state, "drafts");
	scene_write(*state, "drafts/bad.svg", BAD_DRAWING);
	scene_write(*state, "bad.svg", BAD_DRAWING);
	scene_write(*state, "cutlint.job", DRAFTS_OFF);
	struct ran ran = CUTLINT(*state, "check", "drafts/bad.svg", "bad.svg");
	assert_int_equal(count_of(ran.out, "[bridge-width]"), 1);
	assert_has(ran.out, "\nbad.svg:3:44: error: ");
	assert_has(ran.out, "drafts/bad.svg:4:1: warning: ");
	assert_has(ran.err, "1 error, 2 warnings in 2 files; 1 silenced\n");
	ran_finish(&ran);
}

static void the_log_and_the_proof_know_the_silence(void **state)
{
	scene_make_folder(*state, "drafts");
	scene_write(*state, "drafts/bad.svg", BAD_DRAWING);
	scene_write(*state, "cutlint.job", DRAFTS_OFF);
	struct ran ran = CUTLINT(*state, "check", "--format=sarif", "drafts/bad.svg");
	assert_has(ran.out, "\"justification\":\"not cut yet\"");
	assert_has(ran.out, "\"kind\":\"external\"");
	ran_finish(&ran);
	ran = CUTLINT(*state, "proof", "-o", "-", "drafts/bad.svg");
	assert_has(ran.out, "1 silenced");
	ran_finish(&ran);
}

/* However the drawing is named, its path counts from the job's folder on. */
static void the_pattern_sees_the_path_from_the_jobs_folder_on(void **state)
{
	scene_make_folder(*state, "drafts");
	scene_write(*state, "drafts/bad.svg", BAD_DRAWING);
	scene_write(*state, "cutlint.job", DRAFTS_OFF);
	char *whole = scene_path(*state, "drafts/bad.svg");
	const char *const names[] = {"./drafts/bad.svg", "drafts/../drafts/bad.svg", whole};
	for (size_t i = 0; i < 3; i++) {
		struct ran ran = CUTLINT(*state, "check", names[i]);
		assert_lacks(ran.out, "[bridge-width]");
		ran_finish(&ran);
	}
	test_free(whole);
}

static void a_stretch_of_files_has_options_and_severities_of_its_own(void **state)
{
	scene_write(*state, "a.svg", BAD_DRAWING);
	scene_write(*state, "b.svg", BAD_DRAWING);
	scene_write(
		*state, "cutlint.job",
		"[rule hole-size]\nseverity = off\n"
		"[rule hole-size b]\nfiles = b[.]svg$\nreason = a customer's\nseverity = error\n"
		"[rule bridge-width b]\nfiles = b[.]svg$\nreason = thin card\nerror = 0.1 mm\n");
	struct ran ran = CUTLINT(*state, "check", "a.svg", "b.svg");
	assert_has(ran.out, "a.svg:3:44: error: ");
	assert_lacks(ran.out, "a.svg:4:1");
	assert_has(ran.out, "b.svg:3:44: warning: ");
	assert_has(ran.out, "b.svg:4:1: error: ");
	ran_finish(&ran);
}

static void a_stretch_that_silences_nothing_is_a_finding_at_its_line(void **state)
{
	scene_write(*state, "a.svg", GOOD_DRAWING);
	scene_write(*state, "cutlint.job",
		    "[rule hole-size a]\nfiles = ^a\nreason = pricks\nseverity = off\n"
		    "[rule hole-size z]\nfiles = ^z\nreason = pricks\nseverity = off\n");
	struct ran ran = CUTLINT(*state, "check", "a.svg");
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, "cutlint.job:1:1: warning: this severity for 'hole-size' meets no "
			    "finding in 1 file that it takes [unused-silence]\n");
	assert_lacks(ran.out, "cutlint.job:5:1");
	ran_finish(&ran);

	scene_write(*state, "ab.svg", BAD_DRAWING);
	ran = CUTLINT(*state, "check", "a.svg", "ab.svg");
	assert_lacks(ran.out, "unused-silence");
	ran_finish(&ran);
}

static void assert_job_refused(const struct scene *scene, const char *job, const char *said)
{
	scene_write(scene, "cutlint.job", job);
	REFUSES(scene, said, "check", "a.svg");
}

static void a_stretch_without_files_reason_or_rule_is_a_mistake_of_the_job(void **state)
{
	scene_write(*state, "a.svg", GOOD_DRAWING);
	assert_job_refused(*state, "[rule hole-size a]\nreason = x\n",
			   "cutlint.job:1:1: error: a [rule NAME LABEL] without files");
	assert_job_refused(*state, "[rule hole-size a]\nfiles = x\n",
			   "cutlint.job:1:1: error: a [rule NAME LABEL] without a reason");
	assert_job_refused(*state, "[rule hole-sise a]\nfiles = x\nreason = y\n",
			   "cutlint.job:1:1: error: there is no rule 'hole-sise'");
	assert_job_refused(*state, "[rule hole-size a]\nfiles = (\nreason = y\n",
			   "cutlint.job:2:10: error: bad pattern");
	assert_job_refused(*state, "[rule hole-size a]\nfiles = a\nreason = y\nwarning = 3 kg\n",
			   "cutlint.job:4:");
	assert_job_refused(
		*state, "[rule hole-size]\nreason = y\n",
		"cutlint.job:2:1: error: key 'reason' belongs in a section with a label");
	assert_job_refused(*state, "[rule hole-size a]\nfiles = a\nreason = y\nseverity = of\n",
			   "cutlint.job:4:12: error: 'of' is no severity");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(what_is_wrong_with_the_job_is_said_once_behind_all_drawings),
		SCENE(several_jobs_say_which_of_them_a_finding_is_for),
		SCENE(the_log_says_so_too),
		SCENE(what_all_jobs_find_is_said_once_without_their_names),
		SCENE(a_job_that_cannot_be_used_leaves_the_others_at_work),
		SCENE(standard_input_is_read_once_and_takes_one_job),
		SCENE(a_job_is_never_written_over),
		SCENE(a_stretch_of_files_is_silenced_with_a_reason),
		SCENE(the_log_and_the_proof_know_the_silence),
		SCENE(the_pattern_sees_the_path_from_the_jobs_folder_on),
		SCENE(a_stretch_of_files_has_options_and_severities_of_its_own),
		SCENE(a_stretch_that_silences_nothing_is_a_finding_at_its_line),
		SCENE(a_stretch_without_files_reason_or_rule_is_a_mistake_of_the_job),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

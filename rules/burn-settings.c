/* burn-settings.c - recipes that are missing or can't be right, and stock that must not be burned.
 */
#include "cutlint/rule.h"

#include <math.h>
#include <string.h>

struct options {
	double score_warning, score_error;
	double kerf_least_mm, kerf_spot_mm;
};

static const struct cutlint_option OPTIONS[] = {
	{"score-warning", CUTLINT_OPTION_SHARE, offsetof(struct options, score_warning), "50 %", 0,
	 1, NULL, false, "a score that takes more than this share of a cut's energy is a warning"},
	{"score-error", CUTLINT_OPTION_SHARE, offsetof(struct options, score_error), "90 %", 0, 1,
	 NULL, false, "a score that takes more than this share of a cut's energy is an error"},
	{"kerf-least", CUTLINT_OPTION_LENGTH, offsetof(struct options, kerf_least_mm), "0.04 mm", 0,
	 10, NULL, false, "a kerf narrower than this is a warning"},
	{"kerf-spot", CUTLINT_OPTION_LENGTH, offsetof(struct options, kerf_spot_mm), "0.25 mm", 0,
	 10, NULL, false,
	 "a kerf wider than this is a warning where it is also wider than the stock is thick"},
	{.name = NULL},
};

#define SEE_CAUTIONS "see docs/cautions.md"

/* Words in the name of a stock that must not be burned, or not before its maker was asked. */
static const struct banned {
	const char *word;
	enum cutlint_severity severity;
	const char *caution;
} BANNED[] = {
	{"pvc", CUTLINT_ERROR, "it gives off hydrogen chloride"},
	{"polyvinyl", CUTLINT_ERROR, "it gives off hydrogen chloride"},
	{"vinyl", CUTLINT_ERROR, "it gives off hydrogen chloride"},
	{"chlorinated", CUTLINT_ERROR, "it gives off hydrogen chloride"},
	{"chloride", CUTLINT_ERROR, "it gives off hydrogen chloride"},
	{"faux leather", CUTLINT_ERROR, "most of it is PVC, which gives off hydrogen chloride"},
	{"artificial leather", CUTLINT_ERROR,
	 "most of it is PVC, which gives off hydrogen chloride"},
	{"leatherette", CUTLINT_ERROR, "most of it is PVC, which gives off hydrogen chloride"},
	{"abs", CUTLINT_ERROR, "it gives off cyanide"},
	{"polystyrene", CUTLINT_ERROR, "it melts and burns"},
	{"foam board", CUTLINT_ERROR, "its core of polystyrene foam melts and burns"},
	{"foamboard", CUTLINT_ERROR, "its core of polystyrene foam melts and burns"},
	{"coated", CUTLINT_WARNING, "what the coating gives off is not known"},
	{"laminated", CUTLINT_WARNING, "what the laminate gives off is not known"},
	{"foil", CUTLINT_WARNING, "what the foil and its glue give off is not known"},
	{"glitter", CUTLINT_WARNING, "what the glitter gives off is not known"},
	{"metallic", CUTLINT_WARNING, "what the coating gives off is not known"},
	{"unknown", CUTLINT_WARNING, "what it gives off is not known"},
};

static char lower(char c)
{
	return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

static bool is_letter(char c)
{
	return (lower(c) >= 'a' && lower(c) <= 'z') || (unsigned char)c >= 0x80;
}

/* The length of the match of a word at a place; white space and hyphens are alike. 0 for none. */
static size_t match_word(const char *at, const char *word)
{
	size_t i = 0;
	for (; word[i]; i++) {
		bool gap = word[i] == ' ' && (at[i] == ' ' || at[i] == '-' || at[i] == '_');
		if (!gap && lower(at[i]) != word[i])
			return 0;
	}
	return is_letter(at[i]) ? 0 : i;
}

/* "PVC-free" is praise. */
static bool has_word(const char *name, const char *word)
{
	for (const char *at = name; *at; at++) {
		size_t length = at > name && is_letter(at[-1]) ? 0 : match_word(at, word);
		if (length == 0)
			continue;
		const char *behind = at + length + strspn(at + length, " -");
		if (match_word(behind, "free") == 0)
			return true;
	}
	return false;
}

static void check_stock(struct cutlint_check *check)
{
	const char *name = cutlint_check_job(check)->stock_name;
	for (size_t i = 0; i < sizeof(BANNED) / sizeof(*BANNED); i++) {
		const struct banned *banned = &BANNED[i];
		if (!has_word(name, banned->word))
			continue;
		struct cutlint_place place = cutlint_place_job(check, "stock", NULL, "name");
		struct cutlint_finding *finding =
			banned->severity == CUTLINT_ERROR
				? cutlint_report(check, CUTLINT_ERROR, place,
						 "stock '%s' must not be burned: %s", name,
						 banned->caution)
				: cutlint_report(check, CUTLINT_WARNING, place,
						 "stock '%s' may be harmful to burn: %s", name,
						 banned->caution);
		cutlint_suggest(
			finding,
			banned->severity == CUTLINT_ERROR
				? "take another stock, or cut it with a knife; " SEE_CAUTIONS
				: "burn it only if its maker says that it can be; " SEE_CAUTIONS);
		return;
	}
}

static void check_kerf(struct cutlint_check *check, const struct options *options)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	struct cutlint_place place = cutlint_place_job(check, "burn", NULL, "kerf");
	struct cutlint_finding *finding;
	if (job->kerf_mm < options->kerf_least_mm - 1e-6)
		finding = cutlint_report(check, CUTLINT_WARNING, place,
					 "kerf of %.3f mm is under %.3f mm: narrower than a beam's "
					 "spot",
					 job->kerf_mm, options->kerf_least_mm);
	else if (job->kerf_mm > options->kerf_spot_mm + 1e-6 &&
		 job->kerf_mm > job->stock_thickness_mm + 1e-6)
		finding = cutlint_report(
			check, CUTLINT_WARNING, place,
			"kerf of %.2f mm is over %.2f mm, and wider than the stock "
			"is thick (%.2f mm)",
			job->kerf_mm, options->kerf_spot_mm, job->stock_thickness_mm);
	else
		return;
	cutlint_limit(finding, job->kerf_mm < options->kerf_least_mm ? "kerf-least" : "kerf-spot");
	cutlint_measured(finding, "kerf", job->kerf_mm, NAN, "mm");
	cutlint_suggest(finding, "cut a square, and give half of the hole less the part; a broad "
				 "kerf tells of a beam out of focus");
}

/* Where the first line of a role stands; CUTLINT_NONE if the drawing has none. */
static uint32_t first_of(const struct cutlint_design *design, enum cutlint_role role)
{
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (cutlint_outline_role(design, i) == role)
			return i;
	}
	return CUTLINT_NONE;
}

/* The roles that are burned on the card's own sheet. */
static const enum cutlint_role ROLES[] = {CUTLINT_ROLE_ART, CUTLINT_ROLE_OUTLINE, CUTLINT_ROLE_SLIT,
					  CUTLINT_ROLE_FOLD};
#define ROLE_COUNT (sizeof(ROLES) / sizeof(*ROLES))

static const char *word_of_given(const struct cutlint_job *job)
{
	for (int role = 0; role < CUTLINT_ROLE_COUNT; role++) {
		if (job->recipe[role].given)
			return cutlint_role_word((enum cutlint_role)role);
	}
	return NULL;
}

static void check_missing(struct cutlint_check *check)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_job *job = cutlint_check_job(check);
	const char *given = word_of_given(job);
	for (size_t i = 0; given && i < ROLE_COUNT; i++) {
		uint32_t first = first_of(design, ROLES[i]);
		const char *word = cutlint_role_word(ROLES[i]);
		if (first == CUTLINT_NONE || job->recipe[ROLES[i]].given)
			continue;
		struct cutlint_finding *finding = cutlint_report(
			check, CUTLINT_WARNING, cutlint_place_job(check, "recipe", given, NULL),
			"there is no recipe for the role %s, which the drawing has", word);
		cutlint_relate(finding, cutlint_place_outline(design, first),
			       "the first line of that role");
		cutlint_suggest(finding, "add a section [recipe %s] with speed and power", word);
	}
}

/* What a recipe puts into a millimetre, as a share of full power: times W it is J/mm. */
static double energy_of(const struct cutlint_recipe *recipe)
{
	return recipe->power * recipe->passes / recipe->speed_mm_s;
}

/* The cut that takes the least energy; ROLE_COUNT if no cut has a recipe. */
static size_t weakest_cut(const struct cutlint_job *job)
{
	size_t weakest = ROLE_COUNT;
	for (size_t i = 0; i < ROLE_COUNT; i++) {
		const struct cutlint_recipe *recipe = &job->recipe[ROLES[i]];
		if (!recipe->given || !cutlint_role_cuts(ROLES[i]))
			continue;
		if (weakest == ROLE_COUNT ||
		    energy_of(recipe) < energy_of(&job->recipe[ROLES[weakest]]))
			weakest = i;
	}
	return weakest;
}

static void check_score(struct cutlint_check *check, const struct options *options)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	const struct cutlint_recipe *score = &job->recipe[CUTLINT_ROLE_FOLD];
	size_t cut = weakest_cut(job);
	bool scored = first_of(cutlint_check_design(check), CUTLINT_ROLE_FOLD) != CUTLINT_NONE;
	if (!score->given || cut == ROLE_COUNT || !scored)
		return;
	double share = energy_of(score) / energy_of(&job->recipe[ROLES[cut]]);
	bool bad = share > options->score_error + 1e-9;
	double limit = bad ? options->score_error : options->score_warning;
	if (share <= limit + 1e-9)
		return;

	const char *word = cutlint_role_word(ROLES[cut]);
	struct cutlint_finding *finding = cutlint_report(
		check, bad ? CUTLINT_ERROR : CUTLINT_WARNING,
		cutlint_place_job(check, "recipe", "fold", "power"),
		"score takes %.0f %% of the energy that cuts through (role %s), over %.0f %%",
		100 * share, word, 100 * limit);
	cutlint_limit(finding, bad ? "score-error" : "score-warning");
	cutlint_measured(finding, "share", share, limit, "");
	cutlint_relate(finding, cutlint_place_job(check, "recipe", word, "power"),
		       "the recipe of the cut");
	cutlint_suggest(
		finding, "burn the fold with less power, fewer passes, or %.1f times as fast",
		cutlint_at_least(share / fmin(options->score_warning, options->score_error), 0.1));
}

static void report_range(struct cutlint_check *check, const char *word, const char *key,
			 const char *limit_key, const char *message, double value, double limit,
			 const char *unit)
{
	struct cutlint_finding *finding =
		cutlint_report(check, CUTLINT_ERROR, cutlint_place_job(check, "recipe", word, key),
			       "%s of the role %s: %g %s, the machine's %s is %g %s", message, word,
			       value, unit, limit_key, limit, unit);
	cutlint_measured(finding, key, value, limit, unit);
	cutlint_relate(finding, cutlint_place_job(check, "machine", NULL, limit_key),
		       "what the machine can do");
	cutlint_suggest(finding,
			"change the recipe so that the machine can keep it, with power and "
			"passes to match");
}

static void check_range(struct cutlint_check *check)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	for (int role = 0; role < CUTLINT_ROLE_COUNT; role++) {
		const struct cutlint_recipe *recipe = &job->recipe[role];
		const char *word = cutlint_role_word((enum cutlint_role)role);
		if (!recipe->given)
			continue;
		if (job->fastest_mm_s > 0 && recipe->speed_mm_s > job->fastest_mm_s + 1e-9)
			report_range(check, word, "speed", "fastest", "too fast a speed",
				     recipe->speed_mm_s, job->fastest_mm_s, "mm/s");
		if (job->slowest_mm_s > 0 && recipe->speed_mm_s < job->slowest_mm_s - 1e-9)
			report_range(check, word, "speed", "slowest", "too slow a speed",
				     recipe->speed_mm_s, job->slowest_mm_s, "mm/s");
		if (job->least_power > 0 && recipe->power < job->least_power - 1e-9)
			report_range(check, word, "power", "least-power", "too low a power",
				     100 * recipe->power, 100 * job->least_power, "%");
	}
}

static enum cutlint_outcome check_settings(struct cutlint_check *check, const void *options)
{
	check_stock(check);
	check_kerf(check, options);
	check_missing(check);
	check_score(check, options);
	check_range(check);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "burn-settings",
	.summary =
		"recipes that are missing or can't be right, an unlikely kerf, and stock that must "
		"not be burned",
	.advice = "Give each role that is burned a recipe; score with at most half of the energy "
		  "that "
		  "cuts; never burn PVC, vinyl, ABS or foam.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.check = check_settings,
};

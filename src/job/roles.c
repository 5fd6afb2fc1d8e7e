#include "job/roles.h"

#include <stdlib.h>
#include <string.h>

#include "job/chain.h"
#include "job/pattern.h"
#include "job/role_words.h"
#include "model/private.h"

#define NO_PATTERN UINT32_MAX

/* One element of the chain that leads to the shape at hand, and what is known down to it. */
struct level {
	const struct cutlint_element *element;
	size_t path_length;
	uint32_t own;           /* the first pattern that takes this very element */
	uint32_t winner;        /* the same of the innermost element that has one */
	enum cutlint_role word; /* of the innermost element that says one; else ROLE_COUNT */
};

/*
 * Shapes are walked in the order of the file. Neighbours share most of their chain, so only the
 * levels at which it differs from the last shape's are looked at anew.
 */
struct assigning {
	const struct job_roles *roles;
	struct notices *notices;
	struct pattern_matcher matcher;
	struct chain chain;
	struct text path; /* the names down to the last level */
	struct level *levels;
	bool *matched; /* a row a level: which patterns match the path down to it */
	size_t level_count, level_capacity;
	struct cutlint_paint fill, stroke; /* the last shape's, and the first pattern that */
	uint32_t paint_winner;             /* takes them */
	bool paint_known;
};

static bool *row(const struct assigning *assigning, size_t level)
{
	return assigning->matched + level * assigning->roles->count;
}

static int reserve_level(struct assigning *assigning)
{
	if (assigning->level_count < assigning->level_capacity)
		return 0;
	size_t capacity = assigning->level_capacity ? assigning->level_capacity * 2 : 32;
	struct level *levels = realloc(assigning->levels, capacity * sizeof(*levels));
	if (!levels)
		return -1;
	assigning->levels = levels;
	bool *matched = realloc(assigning->matched, capacity * (assigning->roles->count + 1));
	if (!matched)
		return -1;
	assigning->matched = matched;
	assigning->level_capacity = capacity;
	return 0;
}

/*
 * A pattern takes an element if it matches the path down to it, and either one of its matches ends
 * inside the element's own names or it does not match the path of the element above.
 */
static int find_own(struct assigning *assigning, struct level *level, size_t own)
{
	bool *matched = row(assigning, assigning->level_count);
	const bool *above = assigning->level_count ? matched - assigning->roles->count : NULL;
	for (uint32_t i = 0; i < assigning->roles->count; i++) {
		const struct pattern *pattern = &assigning->roles->patterns[i];
		struct pattern_result result = {false, false};
		if (pattern->subject == PATTERN_NAME &&
		    pattern_search(&assigning->matcher, pattern, assigning->path.bytes,
				   assigning->path.length, own, assigning->notices, &result) < 0)
			return -1;
		matched[i] = result.matched;
		bool takes = result.reached || (result.matched && !(above && above[i]));
		if (takes && level->own == NO_PATTERN)
			level->own = i;
	}
	return 0;
}

static int read_names(struct assigning *assigning, struct level *level, size_t above)
{
	const char *bytes = assigning->path.bytes;
	size_t own = above > 0 ? above + 1 : 0;
	if (find_own(assigning, level, own) < 0)
		return -1;
	if (level->own != NO_PATTERN)
		level->winner = level->own;
	enum cutlint_role word = role_words_find(bytes + own, assigning->path.length - own);
	if (word != CUTLINT_ROLE_COUNT)
		level->word = word;
	return 0;
}

static int push_level(struct assigning *assigning, const struct cutlint_element *element)
{
	struct text *path = &assigning->path;
	if (reserve_level(assigning) < 0)
		return -1;
	size_t count = assigning->level_count, above = 0;
	struct level *level = &assigning->levels[count];
	*level = (struct level){.winner = NO_PATTERN, .word = CUTLINT_ROLE_COUNT};
	if (count > 0) {
		*level = assigning->levels[count - 1];
		above = level->path_length;
	}
	level->element = element;
	level->own = NO_PATTERN;

	path->length = above;
	chain_add_names(path, element);
	level->path_length = path->length;
	if (path->failed)
		return -1;
	if (path->length > above) {
		if (read_names(assigning, level, above) < 0)
			return -1;
	} else if (count > 0) {
		memcpy(row(assigning, count), row(assigning, count - 1), assigning->roles->count);
	} else {
		memset(row(assigning, count), 0, assigning->roles->count);
	}
	assigning->level_count++;
	return 0;
}

static int follow_chain(struct assigning *assigning, const struct cutlint_shape *shape)
{
	const struct chain *chain = &assigning->chain;
	if (chain_set(&assigning->chain, shape) < 0)
		return -1;
	size_t same = 0;
	while (same < assigning->level_count && same < chain->count &&
	       assigning->levels[same].element == chain->elements[same])
		same++;
	assigning->level_count = same;
	for (; same < chain->count; same++) {
		if (push_level(assigning, chain->elements[same]) < 0)
			return -1;
	}
	return 0;
}

static bool same_paint(struct cutlint_paint a, struct cutlint_paint b)
{
	return a.kind == b.kind && a.rgb == b.rgb;
}

/* A paint as patterns see it; false for a gradient and the like, which no pattern takes. */
static bool write_paint(struct cutlint_paint paint, struct text *out)
{
	out->length = 0;
	if (paint.kind == CUTLINT_PAINT_NONE)
		text_add_string(out, "none");
	else if (paint.kind == CUTLINT_PAINT_COLOUR)
		text_format(out, "#%06x", (unsigned)paint.rgb & 0xffffffu);
	return out->length > 0;
}

static int match_paint(struct assigning *assigning, const struct cutlint_shape *shape,
		       struct text *text)
{
	for (uint32_t i = 0; i < assigning->roles->count; i++) {
		const struct pattern *pattern = &assigning->roles->patterns[i];
		struct cutlint_paint paint =
			pattern->subject == PATTERN_FILL ? shape->fill : shape->stroke;
		struct pattern_result result;
		if (pattern->subject == PATTERN_NAME || !write_paint(paint, text))
			continue;
		if (pattern_search(&assigning->matcher, pattern, text->bytes, text->length, 0,
				   assigning->notices, &result) < 0)
			return -1;
		if (result.matched) {
			assigning->paint_winner = i;
			break;
		}
	}
	return text->failed ? -1 : 0;
}

static int find_paint(struct assigning *assigning, const struct cutlint_shape *shape)
{
	if (assigning->paint_known && same_paint(assigning->fill, shape->fill) &&
	    same_paint(assigning->stroke, shape->stroke))
		return 0;
	assigning->paint_known = true;
	assigning->fill = shape->fill;
	assigning->stroke = shape->stroke;
	assigning->paint_winner = NO_PATTERN;
	struct text text = {0};
	int result = match_paint(assigning, shape, &text);
	text_finish(&text);
	return result;
}

static int assign(struct assigning *assigning, struct cutlint_shape *shape)
{
	if (follow_chain(assigning, shape) < 0 || find_paint(assigning, shape) < 0)
		return -1;
	const struct job_roles *roles = assigning->roles;
	const struct level *last = &assigning->levels[assigning->level_count - 1];
	uint32_t pattern =
		last->own < assigning->paint_winner ? last->own : assigning->paint_winner;
	if (pattern == NO_PATTERN)
		pattern = last->winner;

	bool worded = roles->default_words && last->word != CUTLINT_ROLE_COUNT;
	shape->role_named = pattern != NO_PATTERN || worded;
	shape->role = pattern != NO_PATTERN ? roles->patterns[pattern].role
		      : worded              ? last->word
					    : CUTLINT_ROLE_ART;
	return 0;
}

int job_assign_roles(const struct job *job, struct cutlint_design *design, struct notices *notices)
{
	struct assigning assigning = {.roles = job->roles, .notices = notices};
	int fatal = notices->fatal_count;
	int result = pattern_matcher_init(&assigning.matcher);
	for (uint32_t i = 0; i < design->shape_count && result == 0; i++)
		result = assign(&assigning, &design->priv->shapes[i]);
	if (result < 0 && notices->fatal_count == fatal)
		notice_add(notices, NOTICE_FATAL, "job", 0, 0, "out of memory");

	pattern_matcher_finish(&assigning.matcher);
	text_finish(&assigning.path);
	free(assigning.chain.elements);
	free(assigning.levels);
	free(assigning.matched);
	return result;
}

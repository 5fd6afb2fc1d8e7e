#include "job/pattern.h"

#include <stdio.h>
#include <string.h>

/*
 * A search for a name in a path of names takes some hundred steps. The limits let a pattern be far
 * from clever and still keep a whole drawing from standing still.
 */
#define MATCH_LIMIT    100000u
#define DEPTH_LIMIT    20000u
#define HEAP_LIMIT_KIB 16384u
#define SEARCH_LIMIT   (UINT64_C(4) << 30)

bool pattern_compile(struct reading *reading, const struct job_entry *entry,
		     struct pattern *pattern)
{
	uint32_t options = PCRE2_UTF | PCRE2_NEVER_BACKSLASH_C;
	if (pattern->subject != PATTERN_NAME)
		options |= PCRE2_CASELESS; /* colours are written in both cases */
	int error;
	PCRE2_SIZE offset;
	pattern->entry = entry;
	pattern->code = pcre2_compile((PCRE2_SPTR)entry->value, PCRE2_ZERO_TERMINATED, options,
				      &error, &offset, NULL);
	if (pattern->code) {
		/* Faster where the library can; where not, matching interprets the pattern. */
		pcre2_jit_compile(pattern->code, PCRE2_JIT_COMPLETE);
		return true;
	}
	char why[120] = "", message[200];
	pcre2_get_error_message(error, (PCRE2_UCHAR *)why, sizeof(why));
	snprintf(message, sizeof(message), "bad pattern: %s%s", why,
		 entry->value[0] == '*' ? "; leave the first * out, a pattern is found anywhere"
					: "");
	job_mistake_value(reading, entry, (unsigned)offset, offset < strlen(entry->value) ? 1 : 0,
			  message);
	return false;
}

int pattern_matcher_init(struct pattern_matcher *matcher)
{
	matcher->context = pcre2_match_context_create(NULL);
	matcher->data = pcre2_match_data_create(1, NULL);
	if (!matcher->context || !matcher->data)
		return -1;
	pcre2_set_match_limit(matcher->context, MATCH_LIMIT);
	pcre2_set_depth_limit(matcher->context, DEPTH_LIMIT);
	pcre2_set_heap_limit(matcher->context, HEAP_LIMIT_KIB);
	return 0;
}

void pattern_matcher_finish(struct pattern_matcher *matcher)
{
	pcre2_match_data_free(matcher->data);
	pcre2_match_context_free(matcher->context);
	*matcher = (struct pattern_matcher){0};
}

static int refuse(const struct pattern *pattern, int error, struct notices *notices)
{
	const struct job_entry *entry = pattern->entry;
	char why[120] = "";
	switch (error) {
	case PCRE2_ERROR_MATCHLIMIT:
	case PCRE2_ERROR_DEPTHLIMIT:
	case PCRE2_ERROR_HEAPLIMIT:
		snprintf(why, sizeof(why), "it takes too much work; make it simpler");
		break;
	default:
		pcre2_get_error_message(error, (PCRE2_UCHAR *)why, sizeof(why));
	}
	notice_add(notices, NOTICE_FATAL, "job", entry->value_byte, entry->value_length,
		   "this pattern cannot be matched: %s", why);
	return -1;
}

/* The first search of a text, from its start, checks that it is UTF-8. */
static int match(const struct pattern_matcher *matcher, const struct pattern *pattern,
		 const char *text, size_t length, size_t start)
{
	uint32_t options = start > 0 ? PCRE2_NO_UTF_CHECK : 0;
	int found = pcre2_match(pattern->code, (PCRE2_SPTR)text, length, start, options,
				matcher->data, matcher->context);
	/* Compiled patterns run on a small stack of their own. */
	if (found == PCRE2_ERROR_JIT_STACKLIMIT)
		found = pcre2_match(pattern->code, (PCRE2_SPTR)text, length, start,
				    options | PCRE2_NO_JIT, matcher->data, matcher->context);
	return found;
}

/* The next character's start. */
static size_t step(const char *text, size_t length, size_t at)
{
	at++;
	while (at < length && ((unsigned char)text[at] & 0xc0) == 0x80)
		at++;
	return at;
}

int pattern_search(struct pattern_matcher *matcher, const struct pattern *pattern, const char *text,
		   size_t length, size_t own, struct notices *notices, struct pattern_result *out)
{
	*out = (struct pattern_result){false, false};
	size_t start = 0;
	while (start <= length && !out->reached) {
		matcher->searched += length - start + 1;
		if (matcher->searched > SEARCH_LIMIT)
			return refuse(pattern, PCRE2_ERROR_MATCHLIMIT, notices);
		int found = match(matcher, pattern, text, length, start);
		if (found == PCRE2_ERROR_NOMATCH)
			break;
		if (found < 0)
			return refuse(pattern, found, notices);
		const PCRE2_SIZE *ends = pcre2_get_ovector_pointer(matcher->data);
		out->matched = true;
		out->reached = ends[1] > own;
		start = step(text, length, ends[0] > start ? ends[0] : start);
	}
	return 0;
}

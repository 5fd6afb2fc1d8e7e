#include "job/role_words.h"

#include <stdbool.h>
#include <string.h>

struct name {
	const char *at, *end;
};

static bool is_letter(char c)
{
	unsigned char byte = (unsigned char)c;
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || byte >= 0x80;
}

static char lower(char c)
{
	return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

/* The next run of letters; empty at the end. */
static struct name next_word(struct name *rest)
{
	while (rest->at < rest->end && !is_letter(*rest->at))
		rest->at++;
	struct name word = {rest->at, rest->at};
	while (word.end < rest->end && is_letter(*word.end))
		word.end++;
	rest->at = word.end;
	return word;
}

static bool equals(struct name word, const char *other)
{
	size_t length = strlen(other);
	if ((size_t)(word.end - word.at) != length)
		return false;
	for (size_t i = 0; i < length; i++) {
		if (lower(word.at[i]) != other[i])
			return false;
	}
	return true;
}

/* The word or its plural. */
static bool names(struct name word, const char *singular)
{
	size_t length = strlen(singular);
	if ((size_t)(word.end - word.at) == length + 1 && lower(word.end[-1]) == 's')
		word.end--;
	return equals(word, singular);
}

/* "as-seen", "as_seen" and "as seen" are one word. */
static bool takes_seen(struct name word, struct name *rest)
{
	struct name after = *rest;
	struct name seen = next_word(&after);
	if (!equals(word, "as") || !equals(seen, "seen") || seen.at != word.end + 1 ||
	    !strchr("-_ ", *word.end))
		return false;
	*rest = after;
	return true;
}

static enum cutlint_role role_of(struct name word, struct name *rest)
{
	if (takes_seen(word, rest))
		return CUTLINT_ROLE_AS_SEEN;
	for (int role = 0; role < CUTLINT_ROLE_COUNT; role++) {
		if (names(word, cutlint_role_word((enum cutlint_role)role)))
			return (enum cutlint_role)role;
	}
	return CUTLINT_ROLE_COUNT;
}

/* How much a role's word counts beside the others of a name; of equals, the last. */
static int rank(enum cutlint_role role)
{
	switch (role) {
	case CUTLINT_ROLE_AS_SEEN:
		return 3;
	case CUTLINT_ROLE_GUIDE:
		return 2;
	case CUTLINT_ROLE_SKIP:
		return 1;
	default:
		return 0;
	}
}

enum cutlint_role role_words_find(const char *name, size_t length)
{
	enum cutlint_role best = CUTLINT_ROLE_COUNT;
	struct name rest = {name, name + length};
	for (;;) {
		struct name word = next_word(&rest);
		if (word.at == word.end)
			return best;
		enum cutlint_role role = role_of(word, &rest);
		if (role == CUTLINT_ROLE_COUNT)
			continue;
		if (best == CUTLINT_ROLE_COUNT || rank(role) >= rank(best))
			best = role;
	}
}

#include "job/glob.h"

#include <string.h>

static bool is_plain(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
	       c == '/' || c == '-' || c == '_';
}

bool glob_is_meant(const char *pattern)
{
	if (pattern[0] == '*')
		return true;
	for (size_t i = 1; pattern[i]; i++) {
		bool plain = is_plain(pattern[i - 1]) && !(i > 1 && pattern[i - 2] == '\\');
		char next = pattern[i + 1];
		if (pattern[i] == '*' && plain && (next == '.' || next == '/' || next == '*'))
			return true;
	}
	return false;
}

static void add_character(struct text *out, char c)
{
	if (strchr("^$|(){}+\\", c))
		text_format(out, "\\%c", c);
	else if (c == '.')
		text_add_string(out, "[.]");
	else if (c == '?')
		text_add_string(out, "[^/]");
	else
		text_add(out, &c, 1);
}

/* A pattern that is found anywhere in the path needs no star at its start or end. */
void glob_add_pattern(struct text *out, const char *glob)
{
	size_t length = strlen(glob), at = strspn(glob, "*");
	bool ends = length > 0 && glob[length - 1] != '*';
	if (at > 0 && glob[at] == '/') {
		text_add_string(out, "(^|/)");
		at++;
	} else if (at == 0) {
		text_add_string(out, strchr(glob, '/') ? "^" : "(^|/)");
	}
	while (length > at && glob[length - 1] == '*')
		length--;
	while (at < length) {
		size_t stars = strspn(glob + at, "*");
		if (stars == 0)
			add_character(out, glob[at]);
		else
			text_add_string(out, stars > 1 ? ".*" : "[^/]*");
		at += stars > 0 ? stars : 1;
	}
	if (ends)
		text_add_string(out, "$");
}

/* load.h - from SVG bytes to a design. */
#ifndef SVG_LOAD_H
#define SVG_LOAD_H

#include "base/arena.h"
#include "base/notice.h"
#include "base/source.h"
#include "cutlint/model.h"
#include "svg/limits.h"

/* Codes of notices that a report can count; far more than there are. */
#define SVG_MOST_CODES 48

/* Notices of one code, those that are not listed included. */
struct svg_heard {
	const char *code;
	uint32_t count;
	enum notice_level level; /* the gravest among them */
};

/* What a reading leaves behind also where it fails. */
struct svg_report {
	struct source source; /* the text that notices' places count in; no lines: none was read */
	struct svg_heard heard[SVG_MOST_CODES]; /* up to the first without a code */
	uint32_t template_shapes; /* in templates that nothing places: no shapes of the design */
};

struct svg_options {
	double flatness_mm; /* largest distance of a chord from its curve */
	double unit_mm;     /* of a user unit where the file states no physical size; 0: 1/96 in */
	struct svg_limits limits;
	struct svg_report *report; /* NULL: not wanted */
};

/*
 * Reads a drawing; `path` "-" is standard input, `name` is shown to people. The design and all that
 * it points to live in `arena`. All outlines come with role art; see job/roles.h. Returns 0, or -1
 * with a fatal notice where the file can't be read or is not well-formed XML. A file that can be
 * used only in part gives notices and 0.
 */
int svg_load(struct arena *arena, const char *path, const char *name,
	     const struct svg_options *options, struct notices *notices,
	     struct cutlint_design **out);

/* The same from bytes, which are copied. */
int svg_load_bytes(struct arena *arena, const char *bytes, size_t length, const char *name,
		   const struct svg_options *options, struct notices *notices,
		   struct cutlint_design **out);

#endif

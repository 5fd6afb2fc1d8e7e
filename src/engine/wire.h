/*
 * wire.h - what the rules' process tells its parent: frames of a length, a kind and a body. Both
 * ends are the same program, so numbers travel in the machine's own order; the reader still trusts
 * no length, since a module gone wild may have written into the pipe.
 */
#ifndef ENGINE_WIRE_H
#define ENGINE_WIRE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/text.h"
#include "engine/finding.h"

enum wire_kind {
	WIRE_RULE_BEGINS = 1, /* body: its number */
	WIRE_FINDING,         /* body: a finding */
	WIRE_COULD_NOT_LOOK,  /* body: the reason */
	WIRE_RULE_ENDS        /* body: its number */
};

/* The longest body. */
#define WIRE_MOST ((uint32_t)16 * 1024 * 1024)

/* Each appends one frame. Returns 0; -1 where memory ran out or the body gets too long. */
int wire_put_number(struct text *out, enum wire_kind kind, uint32_t number);
int wire_put_string(struct text *out, enum wire_kind kind, const char *string);
int wire_put_finding(struct text *out, const struct finding *finding);

struct wire_frame {
	enum wire_kind kind;
	const unsigned char *body;
	uint32_t length;
};

/*
 * Takes the first frame of `bytes`. Returns the bytes used, 0 if the frame is not whole yet, -1 for
 * what is no frame.
 */
ptrdiff_t wire_take_frame(const unsigned char *bytes, size_t length, struct wire_frame *out);

/* Each reads a whole body into the arena. Returns 0 or -1. */
int wire_get_number(const struct wire_frame *frame, uint32_t *out);
int wire_get_string(const struct wire_frame *frame, struct arena *arena, const char **out);
/* `rule` and the places' files are left NULL. */
int wire_get_finding(const struct wire_frame *frame, struct arena *arena, struct finding *out);

#endif

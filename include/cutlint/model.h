/*
 * model.h - the drawing as a rule sees it. Read-only; it outlives every rule's call.
 *
 * An element is what stands in the file. A shape is an element as it is placed on the sheet: most
 * elements make one shape, an element that is instanced by `use` makes one for each placement. An
 * outline is one subpath of a shape, flattened to vertices. All vertices of the drawing stand in
 * one array, outline after outline; "vertex" as a number is always an index into that array.
 */
#ifndef CUTLINT_MODEL_H
#define CUTLINT_MODEL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "cutlint/box.h"
#include "cutlint/export.h"
#include "cutlint/point.h"

/* What a shape is for. The order is that of the words in the documentation. */
enum cutlint_role {
	CUTLINT_ROLE_ART,     /* burned: the picture */
	CUTLINT_ROLE_OUTLINE, /* burned: the outer edge of a card */
	CUTLINT_ROLE_BLANK,   /* not burned: the edge of a card that comes already cut */
	CUTLINT_ROLE_SLIT,    /* burned: an open cut that is meant to be open */
	CUTLINT_ROLE_FOLD,    /* scored, not through */
	CUTLINT_ROLE_FACE,    /* not burned: marks the face, the front panel of the folded card */
	CUTLINT_ROLE_INSET,   /* burned on another sheet: the coloured panel behind the face */
	CUTLINT_ROLE_AS_SEEN, /* not burned: a guide copy of the art as the finished card shows it
			       */
	CUTLINT_ROLE_GUIDE,   /* not burned: for reference only */
	CUTLINT_ROLE_SKIP,    /* not burned, not looked at */
	CUTLINT_ROLE_COUNT
};

/* Why a shape is not burned, whatever its role. */
enum cutlint_unburned {
	CUTLINT_BURNED,
	CUTLINT_UNBURNED_DISPLAY,    /* display: none, on it or on an ancestor */
	CUTLINT_UNBURNED_VISIBILITY, /* visibility: hidden or collapse */
	CUTLINT_UNBURNED_OPACITY,    /* opacity 0, on it or on an ancestor */
	CUTLINT_UNBURNED_PAINT,      /* neither fill nor stroke */
	CUTLINT_UNBURNED_TEXT,       /* text: no outline without its font */
	CUTLINT_UNBURNED_IMAGE,      /* a raster picture */
	CUTLINT_UNBURNED_OTHER       /* foreignObject and what else has no outline */
};

enum cutlint_fill_rule { CUTLINT_FILL_NONZERO, CUTLINT_FILL_EVENODD };

enum cutlint_paint_kind {
	CUTLINT_PAINT_NONE,
	CUTLINT_PAINT_COLOUR,
	CUTLINT_PAINT_SERVER /* a gradient, a pattern, or a colour that could not be read */
};

struct cutlint_paint {
	enum cutlint_paint_kind kind;
	uint32_t rgb; /* 0xrrggbb; 0 unless a colour */
};

/* A stretch of the source text, which is UTF-8. Length 0 where there is none. */
struct cutlint_span {
	uint32_t byte, length;
};

struct cutlint_attribute {
	const char *name;                          /* as written, with its prefix */
	const char *value;                         /* with entities resolved */
	struct cutlint_span name_span, value_span; /* value without its quotes */
};

struct cutlint_element {
	const struct cutlint_element *parent; /* NULL for the root */
	const char *tag;                      /* local name: "path" */
	const char *id;                       /* NULL without one; so for the two below */
	const char *classes;
	const char *label; /* an attribute with the local name `label` */
	const struct cutlint_attribute *attributes;
	uint32_t attribute_count;
	uint32_t index;                /* in document order; the root is 0 */
	uint32_t nth;                  /* 1 for the first child of its parent with this tag */
	struct cutlint_span start_tag; /* from `<` to `>` */
	bool from_entity; /* stands in an entity's text: spans are those of the reference */
};

/* One step of a chain of `use`, from the innermost outwards. */
struct cutlint_placement {
	const struct cutlint_element *use;
	const struct cutlint_placement *outer; /* the use in whose instance this one stands */
};

struct cutlint_shape {
	const struct cutlint_element *element;
	const struct cutlint_placement *placement; /* NULL for an element drawn where it stands */
	double matrix[6]; /* a b c d e f of SVG: from the element's user space to sheet mm */
	struct cutlint_paint fill, stroke;
	enum cutlint_fill_rule fill_rule;
	double stroke_width_mm;
	bool dashed;  /* has a dash array */
	bool clipped; /* it or an ancestor has a clip-path or a mask */
	enum cutlint_unburned unburned;
	enum cutlint_role role;
	bool role_named; /* a pattern took it; else it is art by default */
	uint32_t first_outline, outline_count;
	/* Of art that is lettering: the element by which the job takes it; NULL for the rest. */
	const struct cutlint_element *lettering;
};

/*
 * One command of path data (or one side of a basic shape) that drew something. It owns the vertices
 * from first_vertex up to, not including, that of the next command of the same outline.
 */
struct cutlint_command {
	uint32_t first_vertex; /* the vertex at which it starts */
	uint32_t byte;         /* where its text starts; the start tag where it has none */
	uint32_t curve; /* private index of the true curve; CUTLINT_NONE for a straight line */
};

struct cutlint_outline {
	uint32_t shape;
	uint32_t first_vertex, vertex_count; /* a closed outline does not repeat its first vertex */
	uint32_t first_command, command_count;
	bool closed; /* by closepath, by its kind, or since its end is exactly its start */
};

struct cutlint_design {
	const char *file; /* as named by the user */
	const struct cutlint_element *const *elements;
	const struct cutlint_shape *shapes;
	const struct cutlint_outline *outlines;
	const struct cutlint_point *vertices;
	const struct cutlint_command *commands;
	uint32_t element_count, shape_count, outline_count, vertex_count, command_count;
	double page_width_mm, page_height_mm; /* the page lies from 0,0; 0 where there is none */
	bool physical; /* the file states a physical size; else 1/96 in a user unit was taken */
	double flatness_mm; /* no vertex chain is farther than this from its true curve */
	const struct cutlint_private *priv; /* the host's own */
};

/* A word for a role: "art", "as-seen". */
CUTLINT_EXPORT const char *cutlint_role_word(enum cutlint_role role);

/* Whether lines of this role are burned through: art, outline, slit. */
CUTLINT_EXPORT bool cutlint_role_cuts(enum cutlint_role role);

/* Whether lines of this role heat the card's own sheet: those that cut, and folds. */
CUTLINT_EXPORT bool cutlint_role_heats(enum cutlint_role role);

/* Whether lines of this role are burned at all: cut or scored, here or on another sheet. */
CUTLINT_EXPORT bool cutlint_role_burned(enum cutlint_role role);

/* The shape that an outline belongs to. */
static inline const struct cutlint_shape *cutlint_outline_shape(const struct cutlint_design *design,
								uint32_t outline)
{
	return &design->shapes[design->outlines[outline].shape];
}

/* The role of an outline, CUTLINT_ROLE_SKIP for all that is not burned and not looked at. */
CUTLINT_EXPORT enum cutlint_role cutlint_outline_role(const struct cutlint_design *design,
						      uint32_t outline);

/*
 * How many mirror images the transforms that placed a shape hold, its own, its ancestors' and its
 * uses': negative factors of scales and of upright matrices. Two make a half-turn.
 */
CUTLINT_EXPORT unsigned cutlint_shape_flips(const struct cutlint_shape *shape);

/* Length in mm along the true curves, to a relative 1e-9, its closing side included. */
CUTLINT_EXPORT double cutlint_outline_length(const struct cutlint_design *design, uint32_t outline);

/*
 * Signed area in mm² of the flattened outline, positive where it runs clockwise on the screen (y
 * down); an open outline is closed by a straight line. The shoelace formula.
 */
CUTLINT_EXPORT double cutlint_outline_area(const struct cutlint_design *design, uint32_t outline);

CUTLINT_EXPORT struct cutlint_box cutlint_outline_box(const struct cutlint_design *design,
						      uint32_t outline);

/* The outline that owns a vertex; CUTLINT_NONE past the end. Logarithmic time. */
CUTLINT_EXPORT uint32_t cutlint_vertex_outline(const struct cutlint_design *design,
					       uint32_t vertex);

/* The command that drew the side starting at a vertex. Logarithmic time. */
CUTLINT_EXPORT const struct cutlint_command *
cutlint_vertex_command(const struct cutlint_design *design, uint32_t vertex);

/*
 * Writes the element's name for people: "path#hinge-3", or "/svg/g[2]/path[14]" without an id.
 * Returns what snprintf returns. Control characters are escaped.
 */
CUTLINT_EXPORT int cutlint_element_name(const struct cutlint_element *element, char *out,
					size_t size);

#endif

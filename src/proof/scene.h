/* scene.h - what all pictures of a proof share: the stretch of sheet, views, colours. */
#ifndef PROOF_SCENE_H
#define PROOF_SCENE_H

#include "proof/path.h"
#include "proof/proof.h"

/* From the sheet to a picture, mm to mm: SVG's a b c d e f. */
struct view {
	double a, b, c, d, e, f;
};

struct scene {
	const struct proof *proof;
	struct path_grain grain;
	struct cutlint_box box; /* what is shown of the sheet: cards and burn lines with a margin */
	double unit_mm;         /* a hundredth of its longer side: the size of marks and text */
	struct view front;      /* the open card seen from its outside, as the front lies upright */
	bool mirrored;          /* the beam sees the inside */
	uint32_t card;          /* the first with a face, to be folded; CUTLINT_NONE */
	uint32_t stock, inset;  /* 0xrrggbb */
	bool stock_given, inset_given; /* else a colour was taken for granted */
	uint32_t inset_outline;        /* the first that is drawn; CUTLINT_NONE without */
	uint32_t inset_beside;         /* the first that lies on no face; CUTLINT_NONE */
};

struct scene scene_of(const struct proof *proof);

/* Whether a card has a face, and so can be shown folded; the next such card, CUTLINT_NONE first. */
bool scene_folds(const struct scene *scene, uint32_t card);
uint32_t scene_next_folded(const struct scene *scene, uint32_t card);

/* As a card is seen from its outside, with its front upright. */
struct view scene_view(const struct scene *scene, uint32_t card);

struct cutlint_xy view_apply(const struct view *view, struct cutlint_xy at);
struct cutlint_box view_box(const struct view *view, struct cutlint_box box);
void view_write(const struct view *view, struct writer *writer);

struct cutlint_box box_wider(struct cutlint_box box, double margin_mm);

static inline double box_width(struct cutlint_box box)
{
	return box.right - box.left;
}
static inline double box_height(struct cutlint_box box)
{
	return box.bottom - box.top;
}

/* The attributes of a picture of this box, of true size: width, height, viewBox. */
void scene_write_frame(struct writer *writer, struct cutlint_box box);

#endif

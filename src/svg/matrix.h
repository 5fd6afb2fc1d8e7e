/* matrix.h - affine transforms in SVG's order: x' = ax + cy + e, y' = bx + dy + f. */
#ifndef SVG_MATRIX_H
#define SVG_MATRIX_H

#include "cutlint/point.h"

struct svg_matrix {
	double a, b, c, d, e, f;
};

#define SVG_IDENTITY ((struct svg_matrix){1, 0, 0, 1, 0, 0})

/* First `inner`, then `outer`. */
static inline struct svg_matrix svg_multiply(struct svg_matrix outer, struct svg_matrix inner)
{
	return (struct svg_matrix){
		outer.a * inner.a + outer.c * inner.b,
		outer.b * inner.a + outer.d * inner.b,
		outer.a * inner.c + outer.c * inner.d,
		outer.b * inner.c + outer.d * inner.d,
		outer.a * inner.e + outer.c * inner.f + outer.e,
		outer.b * inner.e + outer.d * inner.f + outer.f,
	};
}

static inline struct svg_matrix svg_translation(double x, double y)
{
	return (struct svg_matrix){1, 0, 0, 1, x, y};
}

static inline struct svg_matrix svg_scaling(double x, double y)
{
	return (struct svg_matrix){x, 0, 0, y, 0, 0};
}

static inline struct cutlint_xy svg_apply(const struct svg_matrix *matrix, struct cutlint_xy at)
{
	return (struct cutlint_xy){matrix->a * at.x + matrix->c * at.y + matrix->e,
				   matrix->b * at.x + matrix->d * at.y + matrix->f};
}

/* Without the shift: for directions and half-axes. */
static inline struct cutlint_xy svg_apply_linear(const struct svg_matrix *matrix,
						 struct cutlint_xy by)
{
	return (struct cutlint_xy){matrix->a * by.x + matrix->c * by.y,
				   matrix->b * by.x + matrix->d * by.y};
}

static inline double svg_determinant(const struct svg_matrix *matrix)
{
	return matrix->a * matrix->d - matrix->b * matrix->c;
}

#endif

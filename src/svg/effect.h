/* effect.h - what a viewer draws with a shape beside its outline: tones, patterns, markers. */
#ifndef SVG_EFFECT_H
#define SVG_EFFECT_H

#include "svg/walk.h"

/*
 * Says which paint leads nowhere, and of a shape that is burned what of it is seen and not burned.
 */
void svg_say_effects(const struct svg_subject *subject, const struct svg_style *style,
		     enum svg_kind kind, bool burned);

#endif

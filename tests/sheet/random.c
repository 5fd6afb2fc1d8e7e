#include "random.h"

#include <stdio.h>

#include "drawing.h"

enum { MOST_SHAPES = 24 };

double dice_roll(struct dice *dice, double low, double high)
{
	dice->state = dice->state * 6364136223846793005u + 1442695040888963407u;
	return low + (high - low) * (double)(dice->state >> 11) / 9007199254740992.0;
}

static int add_shape(struct dice *dice, char *out, size_t size)
{
	double x = dice_roll(dice, 4, 96), y = dice_roll(dice, 4, 56),
	       turn = dice_roll(dice, 0, 360);
	double a = dice_roll(dice, 0.5, 7), b = dice_roll(dice, 0.5, 7);
	switch ((int)dice_roll(dice, 0, 3)) {
	case 0:
		return snprintf(out, size, "<circle cx='%.4f' cy='%.4f' r='%.4f'/>", x, y, a);
	case 1:
		return snprintf(out, size,
				"<ellipse rx='%.4f' ry='%.4f' "
				"transform='translate(%.4f %.4f) rotate(%.3f)'/>",
				a, b, x, y, turn);
	default:
		return snprintf(out, size,
				"<path d='M%.4f 0L0 %.4fL%.4f 0L0 %.4fZ' "
				"transform='translate(%.4f %.4f) rotate(%.3f)'/>",
				a, b, -a / 2, -b, x, y, turn);
	}
}

void random_design(uint64_t number, const char *group, char *out, size_t size)
{
	struct dice dice = {number * 7919 + 1};
	int shapes = (int)dice_roll(&dice, 2, MOST_SHAPES);
	size_t used = (size_t)snprintf(out, size, PAGE_START(100, 60) "<g fill='black' %s>", group);
	for (int i = 0; i < shapes; i++)
		used += (size_t)add_shape(&dice, out + used, size - used);
	snprintf(out + used, size - used, "</g></svg>");
}

#include "proof/detail.h"

#include "proof/burn.h"
#include "proof/dimension.h"
#include "proof/figure.h"
#include "proof/marks.h"
#include "proof/store.h"

/* On paper. */
static const double WIDTH_MM = 60, HEIGHT_MM = 36;

/* What is measured takes up to a quarter of it. */
static const double AROUND = 4;
/* What is large is shown smaller, and fills more of it. */
static const double CLOSE_ROUND = 1.25;

bool detail_wanted(const struct scene *scene, const struct finding *finding, uint32_t number)
{
	return scene->grain.tolerance_nm <= 0 && number < DETAIL_MOST && marks_has_place(finding);
}

static bool fits(struct cutlint_box box, double scale, double around)
{
	return box_width(box) * around <= WIDTH_MM / scale &&
	       box_height(box) * around <= HEIGHT_MM / scale;
}

double detail_scale(const struct finding *finding)
{
	static const double LARGER[] = {20, 10, 5, 2}, SMALLER[] = {1, 0.5, 0.2};
	struct cutlint_box box = marks_extent(finding);
	if (finding->figure_count == 0)
		return 2;
	for (int i = 0; i < 4; i++) {
		if (fits(box, LARGER[i], AROUND))
			return LARGER[i];
	}
	for (int i = 0; i < 3; i++) {
		if (fits(box, SMALLER[i], CLOSE_ROUND))
			return SMALLER[i];
	}
	return 0.1;
}

static void write_cross(struct writer *writer, struct cutlint_xy at, double size)
{
	figure_line(writer, (struct cutlint_xy){at.x - size, at.y},
		    (struct cutlint_xy){at.x + size, at.y}, FIGURE_INK, size * 0.12);
	figure_line(writer, (struct cutlint_xy){at.x, at.y - size},
		    (struct cutlint_xy){at.x, at.y + size}, FIGURE_INK, size * 0.12);
}

void detail_write(const struct scene *scene, struct writer *writer, const struct finding *finding,
		  uint32_t number)
{
	struct cutlint_box box = marks_extent(finding);
	double scale = detail_scale(finding);
	double half_width = WIDTH_MM / scale / 2, half_height = HEIGHT_MM / scale / 2;
	struct cutlint_xy middle = {(box.left + box.right) / 2, (box.top + box.bottom) / 2};
	writer_open(writer, "svg");
	writer_attribute(writer, "xmlns", "http://www.w3.org/2000/svg");
	writer_attribute(writer, "xmlns:xlink", "http://www.w3.org/1999/xlink");
	writer_attribute(writer, "class", "detail");
	writer_format(writer, "width", "%.2fmm", WIDTH_MM);
	writer_format(writer, "height", "%.2fmm", HEIGHT_MM);
	writer_format(writer, "viewBox", "%.4f %.4f %.4f %.4f", middle.x - half_width,
		      middle.y - half_height, 2 * half_width, 2 * half_height);
	writer_attribute(writer, "role", "img");
	writer_format(writer, "aria-label", "%g times the true size: the place of finding %u",
		      scale, (unsigned)number + 1);
	store_use_regions(writer);
	burn_draw_lines(scene, writer, 0.3 / scale);
	if (finding->figure_count)
		dimension_draw(scene, writer, finding, 3.0 / scale, 3.0 / scale);
	else
		write_cross(writer, middle, 3.0 / scale);
	writer_close_empty(writer);
}

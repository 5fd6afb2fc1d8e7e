#include "proof/plate.h"

#include "proof/figure.h"

/* What fits on a page of A4, laid across or upright, less margins, heading and caption, in mm. */
static const double ACROSS_WIDE_MM = 277, ACROSS_HIGH_MM = 172;
static const double UPRIGHT_WIDE_MM = 190, UPRIGHT_HIGH_MM = 255;

void plate_open_section(struct writer *writer, const char *id, const char *heading)
{
	writer_open(writer, "section");
	writer_attribute(writer, "id", id);
	writer_format(writer, "aria-labelledby", "%s-heading", id);
	writer_open(writer, "h2");
	writer_format(writer, "id", "%s-heading", id);
	writer_text(writer, heading);
	writer_close(writer);
}

static bool fits_across(struct cutlint_box box)
{
	return box_width(box) <= ACROSS_WIDE_MM && box_height(box) <= ACROSS_HIGH_MM;
}

static bool fits_upright(struct cutlint_box box)
{
	return box_width(box) <= UPRIGHT_WIDE_MM && box_height(box) <= UPRIGHT_HIGH_MM;
}

void plate_open(struct writer *writer, const char *class, struct cutlint_box box)
{
	const char *paper = fits_across(box) ? "" : fits_upright(box) ? " upright" : " reduced";
	writer_open(writer, "figure");
	writer_format(writer, "class", "plate %s%s", class, paper);
}

void plate_close(struct writer *writer, const char *caption)
{
	writer_leaf(writer, "figcaption", NULL, caption);
	writer_close(writer);
}

void plate_close_true(struct writer *writer, struct cutlint_box box, const char *caption)
{
	writer_open(writer, "figcaption");
	writer_text(writer, caption);
	if (!fits_across(box) && !fits_upright(box))
		writer_leaf(writer, "span", "on-paper",
			    " Too large for A4: on paper it is smaller than true, and so is its "
			    "ruler.");
	else
		writer_leaf(writer, "span", "on-paper",
			    " At 100 % on A4 it has its true size: check the ruler.");
	writer_close(writer);
	writer_close(writer);
}

void plate_open_picture(struct writer *writer, struct cutlint_box box, const char *role,
			const char *label)
{
	figure_open(writer, "picture", box);
	/* The style sheet's em is the picture's width: captions keep their size on the screen. */
	writer_number(writer, "font-size", box_width(box));
	writer_attribute(writer, "role", role);
	writer_attribute(writer, "aria-label", label);
}

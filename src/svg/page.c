#include "svg/page.h"

#include <math.h>

/* A page of less than a micrometre or more than a kilometre is a mistake in a number. */
static bool is_side(double mm)
{
	return mm >= 1e-3 && mm <= 1e6;
}

struct request {
	const struct svg_subject *root;
	struct svg_say *say;
	bool has_width, has_height, has_box;
	double width, height; /* px */
	struct svg_rectangle box;
	double unit_mm; /* of a user unit, where the file gives no size */
};

/* Only an absolute size is one: a percentage is of a window that is not there. */
static bool find_size(const struct svg_subject *root, enum svg_property property, double *px)
{
	struct svg_length length;
	if (svg_find_length(root, property, &length) != SVG_FOUND ||
	    length.unit == SVG_UNIT_PERCENT)
		return false;
	*px = length.value;
	if (length.value >= 0)
		return true;
	struct notice *notice =
		svg_say(&root->document->say, NOTICE_ERROR, "page-size", root->element,
			root->element->start_tag, "%s is negative; it is ignored",
			svg_property_name(property));
	svg_suggest(&root->document->say, notice, "write the size of the sheet in mm");
	return false;
}

static void say_page_size(const struct request *request, const char *message)
{
	struct notice *notice =
		svg_say(request->say, NOTICE_ERROR, "page-size", request->root->element,
			request->root->element->start_tag, "%s", message);
	svg_suggest(request->say, notice,
		    "give the <svg> element the width and height of the sheet in mm, and a "
		    "viewBox of the drawing's extent");
}

static struct request read_request(const struct svg_subject *root)
{
	struct request request = {.root = root, .say = &root->document->say};
	bool empty;
	request.has_width = find_size(root, SVG_WIDTH, &request.width);
	request.has_height = find_size(root, SVG_HEIGHT, &request.height);
	request.has_box = svg_find_view_box(root, &request.box, &empty);
	double unit = root->document->options->unit_mm;
	request.unit_mm = unit > 0 && isfinite(unit) ? unit : SVG_MM_PER_PX;
	if (empty)
		say_page_size(&request, "the viewBox has a width or height of 0, so that a viewer "
					"shows nothing; it is ignored");
	return request;
}

/* One size given: the other follows from the view box's proportions, as in CSS for images. */
static void complete_size(struct request *request)
{
	if (!request->has_box || request->has_width == request->has_height)
		return;
	if (request->has_width)
		request->height = request->width * request->box.height / request->box.width;
	else
		request->width = request->height * request->box.width / request->box.height;
	const char *missing = request->has_width ? "height" : "width";
	double mm = (request->has_width ? request->height : request->width) * SVG_MM_PER_PX;
	request->has_width = request->has_height = true;
	if (!is_side(mm))
		return; /* which is said of the page */
	struct notice *notice =
		svg_say(request->say, NOTICE_WARNING, "physical-size", request->root->element,
			request->root->element->start_tag,
			"the drawing states no %s; %.2f mm follow from the viewBox", missing, mm);
	svg_suggest(request->say, notice, "write %s=\"%.2fmm\" on the <svg> element", missing, mm);
}

static struct svg_page page_of_size(const struct request *request)
{
	struct svg_page page = {
		.width_mm = request->width * SVG_MM_PER_PX,
		.height_mm = request->height * SVG_MM_PER_PX,
		.physical = true,
		.matrix = svg_scaling(SVG_MM_PER_PX, SVG_MM_PER_PX),
		.viewport = {request->width, request->height},
	};
	if (!request->has_box)
		return page;
	struct svg_rectangle viewport = {0, 0, request->width, request->height};
	struct svg_matrix view =
		svg_view_transform(request->box, svg_find_align(request->root), viewport);
	page.matrix = svg_multiply(page.matrix, view);
	page.viewport = (struct svg_viewport){request->box.width, request->box.height};
	return page;
}

static struct svg_page page_without_size(const struct request *request)
{
	double unit = request->unit_mm;
	struct svg_page page = {.matrix = svg_scaling(unit, unit)};
	if (!request->has_box)
		return page;
	page.matrix = svg_multiply(page.matrix, svg_translation(-request->box.x, -request->box.y));
	page.viewport = (struct svg_viewport){request->box.width, request->box.height};
	page.width_mm = request->box.width * unit;
	page.height_mm = request->box.height * unit;
	return page;
}

static void say_no_size(const struct request *request, const struct svg_page *page)
{
	const struct cutlint_element *root = request->root->element;
	const char *source = request->unit_mm == SVG_MM_PER_PX ? "1/96 in" : "as the job says";
	struct notice *notice;
	if (request->has_box)
		notice = svg_say(request->say, NOTICE_ERROR, "physical-size", root, root->start_tag,
				 "the drawing states no physical size; a user unit is taken as "
				 "%.6g mm (%s), so the page comes out at %.2f x %.2f mm",
				 request->unit_mm, source, page->width_mm, page->height_mm);
	else
		notice = svg_say(request->say, NOTICE_ERROR, "physical-size", root, root->start_tag,
				 "the drawing states no physical size and no viewBox; a user unit "
				 "is taken as %.6g mm (%s), and there is no page",
				 request->unit_mm, source);
	svg_suggest(request->say, notice,
		    "write the true width and height with a unit on the <svg> element, such as "
		    "width=\"210mm\" height=\"297mm\"");
}

struct svg_page svg_page_read(const struct svg_subject *root)
{
	struct request request = read_request(root);
	complete_size(&request);
	bool sized = request.has_width && request.has_height;
	if (sized && is_side(request.width * SVG_MM_PER_PX) &&
	    is_side(request.height * SVG_MM_PER_PX))
		return page_of_size(&request);
	struct svg_page page = page_without_size(&request);
	bool whole = is_side(page.width_mm) && is_side(page.height_mm);
	if (sized)
		say_page_size(&request, request.width == 0 || request.height == 0
						? "the page has a width or height of 0"
						: "no page is so small or so large");
	else if (request.has_box && !whole)
		say_page_size(&request, "the drawing states no physical size, and no page is as "
					"small or as large as its viewBox makes it");
	else
		say_no_size(&request, &page);
	if (sized || !whole)
		page.width_mm = page.height_mm = 0;
	return page;
}

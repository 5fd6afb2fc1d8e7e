#include "proof/store.h"

#include <stdio.h>

#include "proof/inset.h"

/* The inks of the pictures: near black, and what lies bare behind a window. */
#define INK  "#2b2622"
#define BARE "#d8d2c4"

static double in_units(const struct scene *scene, double mm)
{
	return mm / scene->grain.unit_mm;
}

static void open_scaled(const struct scene *scene, struct writer *writer, const char *id)
{
	writer_open(writer, "g");
	if (id)
		writer_attribute(writer, "id", id);
	writer_format(writer, "transform", "scale(%g)", scene->grain.unit_mm);
}

static void write_rect(struct writer *writer, struct cutlint_box box)
{
	writer_number(writer, "x", box.left);
	writer_number(writer, "y", box.top);
	writer_number(writer, "width", box_width(box));
	writer_number(writer, "height", box_height(box));
}

/* A pattern whose contents are mm, for paths that are written in the grain's unit. */
static void open_pattern(const struct scene *scene, struct writer *writer, const char *id,
			 struct cutlint_box box)
{
	writer_open(writer, "pattern");
	writer_attribute(writer, "id", id);
	writer_attribute(writer, "patternUnits", "userSpaceOnUse");
	write_rect(writer, box);
	writer_format(writer, "patternTransform", "scale(%g)", in_units(scene, 1));
}

static void write_mark(struct writer *writer, const char *data, const char *stroke, double width)
{
	writer_open(writer, "path");
	writer_attribute(writer, "d", data);
	writer_attribute(writer, "fill", "none");
	writer_attribute(writer, "stroke", stroke);
	writer_number(writer, "stroke-width", width);
	writer_close_empty(writer);
}

static void write_fill(struct writer *writer, struct cutlint_box box, const char *paint)
{
	writer_open(writer, "rect");
	write_rect(writer, box);
	writer_attribute(writer, "fill", paint);
	writer_close_empty(writer);
}

/* Light dots on dark colours, dark ones on light. */
static const char *dots_on(uint32_t rgb)
{
	unsigned light = (rgb >> 16 & 0xff) * 3 + (rgb >> 8 & 0xff) * 6 + (rgb & 0xff);
	return light > 1280 ? INK : "#ffffff";
}

static void write_loose(const struct scene *scene, struct writer *writer)
{
	const struct cutlint_box tile = {0, 0, 1.6, 1.6};
	open_pattern(scene, writer, "p-loose", tile);
	write_fill(writer, tile, "#ffffff");
	write_mark(writer, "M0 0L1.6 1.6M1.6 0L0 1.6", INK, 0.3);
	writer_close_empty(writer);
}

static void write_bare(const struct scene *scene, struct writer *writer)
{
	const struct cutlint_box tile = {0, 0, 1.2, 1.2};
	open_pattern(scene, writer, "p-bare", tile);
	write_fill(writer, tile, BARE);
	write_mark(writer, "M-.3 .3L.3 -.3M0 1.2L1.2 0M.9 1.5L1.5 .9", "#6d665a", 0.2);
	writer_close_empty(writer);
}

static void write_window(const struct scene *scene, struct writer *writer)
{
	const struct cutlint_box tile = {0, 0, 2, 2};
	open_pattern(scene, writer, "p-window", tile);
	writer_open(writer, "rect");
	write_rect(writer, tile);
	writer_colour(writer, "fill", scene->inset);
	writer_close_empty(writer);
	writer_open(writer, "path");
	writer_attribute(writer, "d", "M.85 1h.3M1.85 2h.15M0 2h.15M0 0h.15M1.85 0h.15");
	writer_attribute(writer, "stroke", dots_on(scene->inset));
	writer_attribute(writer, "stroke-width", "0.3");
	writer_attribute(writer, "stroke-opacity", "0.55");
	writer_close_empty(writer);
	writer_close_empty(writer);
}

/* All regions of a kind; the rest of each attribute is the caller's. */
static void write_regions(const struct scene *scene, struct writer *writer,
			  enum cutlint_part_kind kind)
{
	const struct sheet_picture *picture = scene->proof->picture;
	struct path_run run = path_run_start(writer, &scene->grain);
	for (uint32_t i = 0; i < picture->region_count; i++) {
		const struct picture_region *region = &picture->regions[i];
		if (region->kind != kind)
			continue;
		path_run_break(&run);
		for (uint32_t r = 0; r < region->ring_count; r++) {
			struct picture_ring ring = picture->rings[region->first_ring + r];
			path_run_add(&run, &picture->points[ring.first], ring.count, true);
		}
	}
	path_run_end(&run);
}

/* Where all windows look the same they are filled; else they cut out what lies behind them. */
static bool is_same_behind(const struct scene *scene)
{
	return scene->card == CUTLINT_NONE && scene->inset_outline == CUTLINT_NONE;
}

static void write_openings(const struct scene *scene, struct writer *writer)
{
	write_regions(scene, writer, CUTLINT_PART_WINDOW);
	write_regions(scene, writer, CUTLINT_PART_WASTE);
}

static struct cutlint_box box_in_units(const struct scene *scene, struct cutlint_box box)
{
	return (struct cutlint_box){in_units(scene, box.left), in_units(scene, box.top),
				    in_units(scene, box.right), in_units(scene, box.bottom)};
}

/* The inset where it lies behind the face, for the paths' own unit and for mm. */
static void write_clips(const struct scene *scene, struct writer *writer)
{
	if (!is_same_behind(scene)) {
		writer_open(writer, "clipPath");
		writer_attribute(writer, "id", "openings");
		writer_attribute(writer, "clip-rule", "evenodd");
		write_openings(scene, writer);
		writer_close_empty(writer);
	}
	writer_open(writer, "clipPath");
	writer_attribute(writer, "id", "inset");
	inset_write(scene, writer, 1, INK);
	writer_close_empty(writer);
}

static void write_windows(const struct scene *scene, struct writer *writer)
{
	writer_open_class(writer, "g", "window");
	if (is_same_behind(scene)) {
		writer_attribute(writer, "fill", "url(#p-window)");
		write_openings(scene, writer);
	} else {
		writer_attribute(writer, "clip-path", "url(#openings)");
		write_fill(writer, box_in_units(scene, scene->box), "url(#p-bare)");
		inset_write(scene, writer, in_units(scene, 1), "url(#p-window)");
	}
	writer_close_empty(writer);
}

static void write_all_regions(const struct scene *scene, struct writer *writer)
{
	open_scaled(scene, writer, "regions");
	writer_attribute(writer, "fill-rule", "evenodd");
	writer_open_class(writer, "g", "kept");
	writer_colour(writer, "fill", scene->stock);
	writer_attribute(writer, "stroke", INK);
	writer_number(writer, "stroke-width", in_units(scene, 0.12));
	write_regions(scene, writer, CUTLINT_PART_FRAME);
	writer_close_empty(writer);
	write_windows(scene, writer);
	writer_open_class(writer, "g", "loose");
	writer_attribute(writer, "fill", "url(#p-loose)");
	writer_attribute(writer, "stroke", INK);
	writer_number(writer, "stroke-width", in_units(scene, 0.2));
	write_regions(scene, writer, CUTLINT_PART_LOOSE);
	writer_close_empty(writer);
	writer_close_empty(writer);
}

/* Which roles are lines to look at. As-seen art is a copy: it would only hide the rest. */
static bool is_shown(enum cutlint_role role)
{
	return role <= CUTLINT_ROLE_INSET;
}

bool store_has_lines(const struct scene *scene, enum cutlint_role role)
{
	const struct cutlint_design *design = scene->proof->design;
	for (uint32_t i = 0; i < design->outline_count && is_shown(role); i++) {
		if (cutlint_outline_role(design, i) == role)
			return true;
	}
	return false;
}

static void write_lines(const struct scene *scene, struct writer *writer, enum cutlint_role role)
{
	const struct cutlint_design *design = scene->proof->design;
	writer_open(writer, "g");
	writer_format(writer, "id", "lines-%s", cutlint_role_word(role));
	writer_format(writer, "transform", "scale(%g)", scene->grain.unit_mm);
	struct path_run run = path_run_start(writer, &scene->grain);
	for (uint32_t i = 0; i < design->outline_count; i++) {
		const struct cutlint_outline *outline = &design->outlines[i];
		if (cutlint_outline_role(design, i) != role)
			continue;
		path_run_break(&run);
		path_run_add(&run, &design->vertices[outline->first_vertex], outline->vertex_count,
			     outline->closed);
	}
	path_run_end(&run);
	writer_close_empty(writer);
}

void store_write(const struct scene *scene, struct writer *writer)
{
	writer_open(writer, "defs");
	write_loose(scene, writer);
	write_bare(scene, writer);
	write_window(scene, writer);
	write_clips(scene, writer);
	write_all_regions(scene, writer);
	for (int i = 0; i < CUTLINT_ROLE_COUNT; i++) {
		enum cutlint_role role = (enum cutlint_role)i;
		if (store_has_lines(scene, role))
			write_lines(scene, writer, role);
	}
	writer_close_empty(writer);
}

static void use(struct writer *writer, const char *id)
{
	writer_open(writer, "use");
	/* Plain XLink reads in every viewer; HTML's parser knows it, too. */
	writer_format(writer, "xlink:href", "#%s", id);
}

void store_use_regions(struct writer *writer)
{
	use(writer, "regions");
	writer_close_empty(writer);
}

void store_use_lines(const struct scene *scene, struct writer *writer, enum cutlint_role role,
		     const char *class, const char *paint, double width_mm)
{
	char id[32] = "lines-";
	if (!store_has_lines(scene, role))
		return;
	snprintf(id + 6, sizeof(id) - 6, "%s", cutlint_role_word(role));
	use(writer, id);
	writer_attribute(writer, "class", class);
	writer_attribute(writer, "fill", "none");
	writer_attribute(writer, "stroke", paint);
	writer_number(writer, "stroke-width", in_units(scene, width_mm));
	writer_attribute(writer, "stroke-linecap", "round");
	writer_attribute(writer, "stroke-linejoin", "round");
	writer_close_empty(writer);
}

void store_use_kerf(const struct scene *scene, struct writer *writer)
{
	char inset[8];
	double kerf = scene->proof->job->kerf_mm;
	snprintf(inset, sizeof(inset), "#%06x", (unsigned)(scene->inset & 0xffffff));
	if (is_same_behind(scene)) {
		store_use_lines(scene, writer, CUTLINT_ROLE_ART, "kerf", inset, kerf);
		return;
	}
	store_use_lines(scene, writer, CUTLINT_ROLE_ART, "kerf", BARE, kerf);
	writer_open(writer, "g");
	writer_attribute(writer, "clip-path", "url(#inset)");
	store_use_lines(scene, writer, CUTLINT_ROLE_ART, "kerf", inset, kerf);
	writer_close_empty(writer);
}

void store_patch(const struct scene *scene, struct writer *writer, enum store_patch patch,
		 double width_mm, double height_mm)
{
	static const char *const FILLS[] = {[STORE_WINDOW] = "url(#p-window)",
					    [STORE_BARE] = "url(#p-bare)",
					    [STORE_LOOSE] = "url(#p-loose)"};
	open_scaled(scene, writer, NULL);
	writer_open(writer, "rect");
	writer_number(writer, "width", in_units(scene, width_mm));
	writer_number(writer, "height", in_units(scene, height_mm));
	if (patch == STORE_KEPT)
		writer_colour(writer, "fill", scene->stock);
	else
		writer_attribute(writer, "fill", FILLS[patch]);
	writer_attribute(writer, "stroke", INK);
	writer_number(writer, "stroke-width", in_units(scene, 0.2));
	writer_close_empty(writer);
	writer_close_empty(writer);
}

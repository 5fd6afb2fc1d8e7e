#include "job/roles.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "load.h"
#include "model/private.h"
#include "unit.h"

/* A drawing made by hand: elements in the order of the file, some of them drawn. */
struct drawing {
	struct cutlint_element elements[32];
	struct cutlint_shape shapes[32];
	struct cutlint_placement placements[8];
	struct cutlint_attribute attributes[8];
	struct cutlint_private priv;
	struct cutlint_design design;
	uint32_t element_count, placement_count;
};

static struct cutlint_element *add(struct drawing *drawing, struct cutlint_element *parent,
				   const char *id, const char *classes, const char *label)
{
	uint32_t index = drawing->element_count++;
	drawing->elements[index] = (struct cutlint_element){.parent = parent,
							    .tag = "g",
							    .id = id,
							    .classes = classes,
							    .label = label,
							    .index = index};
	return &drawing->elements[index];
}

static struct cutlint_element *add_use(struct drawing *drawing, struct cutlint_element *parent,
				       const char *id, const char *attribute, const char *href)
{
	struct cutlint_element *use = add(drawing, parent, id, NULL, NULL);
	struct cutlint_attribute *added = &drawing->attributes[use->index % 8];
	*added = (struct cutlint_attribute){.name = attribute, .value = href};
	use->attributes = added;
	use->attribute_count = 1;
	return use;
}

static struct cutlint_shape *draw(struct drawing *drawing, const struct cutlint_element *element)
{
	struct cutlint_shape *shape = &drawing->shapes[drawing->design.shape_count++];
	*shape = (struct cutlint_shape){.element = element,
					.stroke = {CUTLINT_PAINT_COLOUR, 0x000000}};
	return shape;
}

static const struct cutlint_placement *place(struct drawing *drawing,
					     const struct cutlint_element *use,
					     const struct cutlint_placement *outer)
{
	struct cutlint_placement *placement = &drawing->placements[drawing->placement_count++];
	*placement = (struct cutlint_placement){use, outer};
	return placement;
}

static int assign(struct drawing *drawing, struct loaded *loaded)
{
	drawing->design.shapes = drawing->priv.shapes = drawing->shapes;
	drawing->design.priv = &drawing->priv;
	return job_assign_roles(loaded->job, &drawing->design, &loaded->notices);
}

static void assign_by(struct drawing *drawing, const char *roles)
{
	char text[1024];
	snprintf(text, sizeof(text), "[roles]\n%s", roles);
	struct loaded loaded = load_good(text);
	assert_int_equal(assign(drawing, &loaded), 0);
	assert_int_equal(loaded.notices.count, 0);
	load_finish(&loaded);
}

static void assert_role(const struct cutlint_shape *shape, enum cutlint_role role, bool named)
{
	assert_string_equal(cutlint_role_word(shape->role), cutlint_role_word(role));
	assert_int_equal(shape->role_named, named);
}

/* The role of one shape in nested groups with these ids, NULL-terminated. */
static void assert_nested(const char *roles, const char *const *ids, enum cutlint_role role,
			  bool named)
{
	struct drawing drawing = {0};
	struct cutlint_element *element = NULL;
	for (; *ids; ids++)
		element = add(&drawing, element, **ids ? *ids : NULL, NULL, NULL);
	struct cutlint_shape *shape = draw(&drawing, element);
	assign_by(&drawing, roles);
	assert_role(shape, role, named);
}

#define ASSERT_NESTED(roles, role, named, ...)                                                     \
	do {                                                                                       \
		const char *const ids[] = {__VA_ARGS__, NULL};                                     \
		assert_nested(roles, ids, role, named);                                            \
	} while (0)

static void a_pattern_sees_ids_classes_and_labels_from_the_root(void **state)
{
	(void)state;
	struct drawing drawing = {0};
	struct cutlint_element *root = add(&drawing, NULL, "svg1", NULL, NULL);
	struct cutlint_element *group = add(&drawing, root, "g7", " big  red ", "Petals");
	struct cutlint_element *empty = add(&drawing, group, "", NULL, NULL);
	struct cutlint_element *leaf = add(&drawing, empty, "p9", NULL, NULL);
	struct cutlint_shape *shape = draw(&drawing, leaf);
	assign_by(&drawing, "slit = ^svg1/g7/big/red/Petals/p9$\n");
	assert_role(shape, CUTLINT_ROLE_SLIT, true);
}

static void the_innermost_element_that_any_pattern_takes_wins(void **state)
{
	(void)state;
	const char *roles = "art = (^|/)petals(/|$)\nguide = (^|/)notes(/|$)\n";
	ASSERT_NESTED(roles, CUTLINT_ROLE_ART, true, "petals", "p1");
	ASSERT_NESTED(roles, CUTLINT_ROLE_GUIDE, true, "petals", "notes");
	ASSERT_NESTED(roles, CUTLINT_ROLE_GUIDE, true, "petals", "notes", "p1");
	ASSERT_NESTED(roles, CUTLINT_ROLE_ART, true, "notes", "petals", "p1");
	ASSERT_NESTED(roles, CUTLINT_ROLE_ART, true, "petals", "notes", "petals");
	ASSERT_NESTED(roles, CUTLINT_ROLE_GUIDE, true, "notes", "petals", "notes", "x", "y");
	ASSERT_NESTED(roles, CUTLINT_ROLE_ART, false, "petals2", "p1");
}

static void at_one_element_the_order_in_the_job_decides(void **state)
{
	(void)state;
	ASSERT_NESTED("fold = score\nslit = line\n", CUTLINT_ROLE_FOLD, true, "score line");
	ASSERT_NESTED("slit = line\nfold = score\n", CUTLINT_ROLE_SLIT, true, "score line");
}

static void a_match_that_ends_above_an_element_does_not_take_it(void **state)
{
	(void)state;
	/* "petals/" ends before the names of what is deeper; "petals.*" reaches into them. */
	ASSERT_NESTED("art = petals/\nguide = notes\n", CUTLINT_ROLE_GUIDE, true, "petals", "x",
		      "notes");
	ASSERT_NESTED("art = petals/\nguide = notes\n", CUTLINT_ROLE_ART, true, "petals", "notes");
	ASSERT_NESTED("art = petals/\nguide = petals\n", CUTLINT_ROLE_GUIDE, true, "petals");
	ASSERT_NESTED("art = petals.*\nguide = notes\n", CUTLINT_ROLE_ART, true, "petals", "notes",
		      "x");
	/* Matches that overlap are all looked at: the slash between two names serves both. */
	ASSERT_NESTED("art = (^|/)a(/|$)\nguide = (^|/)b(/|$)\n", CUTLINT_ROLE_ART, true, "b", "a",
		      "a");
	ASSERT_NESTED("art = (^|/)a(/|$)\nguide = ^a/b$\n", CUTLINT_ROLE_ART, true, "a", "b", "a");
	ASSERT_NESTED("art = (^|/)a(/|$)\nguide = ^b/a/a$\n", CUTLINT_ROLE_ART, true, "b", "a",
		      "a");
	ASSERT_NESTED("art = (^|/)\xc3\xa9(/|$)\nguide = b\n", CUTLINT_ROLE_ART, true, "b",
		      "\xc3\xa9", "\xc3\xa9");
}

static void a_match_without_length_takes_where_it_first_holds(void **state)
{
	(void)state;
	const char *roles = "slit = ^(?=.*hinge)\nguide = (^|/)notes(/|$)\n";
	ASSERT_NESTED(roles, CUTLINT_ROLE_SLIT, true, "door", "hinge", "x");
	ASSERT_NESTED(roles, CUTLINT_ROLE_GUIDE, true, "hinge", "notes", "x");
	ASSERT_NESTED(roles, CUTLINT_ROLE_SLIT, true, "notes", "hinge", "x");
}

static void an_element_without_names_takes_nothing(void **state)
{
	(void)state;
	ASSERT_NESTED("guide = .*\n", CUTLINT_ROLE_ART, false, "", "");
	ASSERT_NESTED("guide = .*\n", CUTLINT_ROLE_GUIDE, true, "", "x", "");
	ASSERT_NESTED("fold = x\nguide = ^$\n", CUTLINT_ROLE_FOLD, true, "", "x", "");
}

static void paint_takes_the_drawn_element_itself(void **state)
{
	(void)state;
	struct drawing drawing = {0};
	struct cutlint_element *group = add(&drawing, NULL, "notes", NULL, NULL);
	struct cutlint_element *leaf = add(&drawing, group, "line", NULL, NULL);
	struct cutlint_shape *grey = draw(&drawing, leaf);
	struct cutlint_shape *black = draw(&drawing, leaf);
	struct cutlint_shape *dark = draw(&drawing, leaf);
	struct cutlint_shape *filled = draw(&drawing, leaf);
	struct cutlint_shape *shaded = draw(&drawing, leaf);
	grey->stroke.rgb = 0x80a0c0;
	dark->fill = (struct cutlint_paint){CUTLINT_PAINT_COLOUR, 0x00000a};
	filled->fill = (struct cutlint_paint){CUTLINT_PAINT_COLOUR, 0x00000a};
	filled->stroke = (struct cutlint_paint){CUTLINT_PAINT_NONE, 0};
	shaded->stroke = (struct cutlint_paint){CUTLINT_PAINT_SERVER, 0};
	assign_by(&drawing, "guide = notes\nfold stroke = ^#80A0C0$\nslit fill = #00000a\n"
			    "inset fill = .*\nskip stroke = #|none\n");
	assert_role(grey, CUTLINT_ROLE_FOLD, true);
	assert_role(black, CUTLINT_ROLE_INSET, true);
	assert_role(dark, CUTLINT_ROLE_SLIT, true);
	assert_role(filled, CUTLINT_ROLE_SLIT, true);
	assert_role(shaded, CUTLINT_ROLE_INSET, true);

	assign_by(&drawing, "guide = notes\noutline stroke = none\n");
	assert_role(grey, CUTLINT_ROLE_GUIDE, true);
	assert_role(black, CUTLINT_ROLE_GUIDE, true);
	assert_role(filled, CUTLINT_ROLE_OUTLINE, true);
	assert_role(shaded, CUTLINT_ROLE_GUIDE, true);

	assign_by(&drawing, "blank = /line$\nfold stroke = #80a0c0\n");
	assert_role(grey, CUTLINT_ROLE_BLANK, true);
	assign_by(&drawing, "fold stroke = #80a0c0\nblank = /line$\n");
	assert_role(grey, CUTLINT_ROLE_FOLD, true);
}

static void default_words_are_whole_words(void **state)
{
	(void)state;
	static const struct {
		const char *name;
		enum cutlint_role role;
		bool named;
	} CASES[] = {
		{"art", CUTLINT_ROLE_ART, true},
		{"Fold", CUTLINT_ROLE_FOLD, true},
		{"FOLDS", CUTLINT_ROLE_FOLD, true},
		{"card-outline", CUTLINT_ROLE_OUTLINE, true},
		{"slits_2", CUTLINT_ROLE_SLIT, true},
		{"fold3", CUTLINT_ROLE_FOLD, true},
		{"blank card", CUTLINT_ROLE_BLANK, true},
		{"face", CUTLINT_ROLE_FACE, true},
		{"red inset", CUTLINT_ROLE_INSET, true},
		{"as-seen", CUTLINT_ROLE_AS_SEEN, true},
		{"as_seen", CUTLINT_ROLE_AS_SEEN, true},
		{"As Seen art", CUTLINT_ROLE_AS_SEEN, true},
		{"art as-seen", CUTLINT_ROLE_AS_SEEN, true},
		{"as-seen guide", CUTLINT_ROLE_AS_SEEN, true},
		{"fold guide", CUTLINT_ROLE_GUIDE, true},
		{"guide fold", CUTLINT_ROLE_GUIDE, true},
		{"skip art", CUTLINT_ROLE_SKIP, true},
		{"face art", CUTLINT_ROLE_ART, true},
		{"inset outline", CUTLINT_ROLE_OUTLINE, true},
		{"heart", CUTLINT_ROLE_ART, false},
		{"party", CUTLINT_ROLE_ART, false},
		{"folder", CUTLINT_ROLE_ART, false},
		{"unfold", CUTLINT_ROLE_ART, false},
		{"surface", CUTLINT_ROLE_ART, false},
		{"as", CUTLINT_ROLE_ART, false},
		{"as--seen", CUTLINT_ROLE_ART, false},
		{"f\xc3\xa9"
		 "fold",
		 CUTLINT_ROLE_ART, false},
		{"foldss", CUTLINT_ROLE_ART, false},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		ASSERT_NESTED("", CASES[i].role, CASES[i].named, "svg1", CASES[i].name);
	}
}

static void default_words_count_innermost_and_after_all_patterns(void **state)
{
	(void)state;
	ASSERT_NESTED("", CUTLINT_ROLE_FOLD, true, "guides", "fold", "p1");
	ASSERT_NESTED("", CUTLINT_ROLE_GUIDE, true, "fold", "guides", "");
	ASSERT_NESTED("art = petals\n", CUTLINT_ROLE_ART, true, "petals", "guide");
	ASSERT_NESTED("art = petals\n", CUTLINT_ROLE_GUIDE, true, "leaves", "guide");
	ASSERT_NESTED("default-words = no\n", CUTLINT_ROLE_ART, false, "guide", "p1");
}

static void an_instance_is_seen_through_its_use(void **state)
{
	(void)state;
	struct drawing drawing = {0};
	struct cutlint_element *root = add(&drawing, NULL, "svg1", NULL, NULL);
	struct cutlint_element *defs = add(&drawing, root, "stencils", NULL, NULL);
	struct cutlint_element *symbol = add(&drawing, defs, "leaf", NULL, NULL);
	struct cutlint_element *vein = add(&drawing, symbol, "vein", NULL, NULL);
	struct cutlint_element *branch = add(&drawing, defs, "branch", NULL, NULL);
	struct cutlint_element *inner = add_use(&drawing, branch, "u1", "xlink:href", " #leaf ");
	struct cutlint_element *cards = add(&drawing, root, "cards", NULL, NULL);
	struct cutlint_element *outer = add_use(&drawing, cards, "u2", "href", "#branch");

	struct cutlint_shape *plain = draw(&drawing, vein);
	struct cutlint_shape *nested = draw(&drawing, vein);
	nested->placement = place(&drawing, inner, place(&drawing, outer, NULL));
	struct cutlint_shape *single = draw(&drawing, vein);
	single->placement = place(&drawing, inner, NULL);
	assign_by(&drawing, "slit = ^svg1/cards/u2/branch/u1/leaf/vein$\n"
			    "fold = ^svg1/stencils/branch/u1/leaf/vein$\n"
			    "blank = ^svg1/stencils/leaf/vein$\n");
	assert_role(plain, CUTLINT_ROLE_BLANK, true);
	assert_role(nested, CUTLINT_ROLE_SLIT, true);
	assert_role(single, CUTLINT_ROLE_FOLD, true);
}

static void an_instance_may_be_given_its_role_where_it_is_used(void **state)
{
	(void)state;
	struct drawing drawing = {0};
	struct cutlint_element *root = add(&drawing, NULL, NULL, NULL, NULL);
	struct cutlint_element *petal = add(&drawing, root, "petal", NULL, NULL);
	struct cutlint_element *guides = add(&drawing, root, "guides", NULL, NULL);
	struct cutlint_element *use = add_use(&drawing, guides, NULL, "href", "#petal");
	struct cutlint_shape *drawn = draw(&drawing, petal);
	struct cutlint_shape *instance = draw(&drawing, petal);
	instance->placement = place(&drawing, use, NULL);
	assign_by(&drawing, "");
	assert_role(drawn, CUTLINT_ROLE_ART, false);
	assert_role(instance, CUTLINT_ROLE_GUIDE, true);
}

static void assert_too_much_work(const char *pattern)
{
	struct drawing drawing = {0};
	struct cutlint_element *root =
		add(&drawing, NULL, "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaab", NULL, NULL);
	draw(&drawing, root);
	char text[128];
	snprintf(text, sizeof(text), "[roles]\n\nart = %s\n", pattern);
	struct loaded loaded = load_good(text);
	assert_int_equal(assign(&drawing, &loaded), -1);
	assert_int_equal(loaded.notices.count, 1);
	const struct notice *notice = &loaded.notices.items[0];
	struct source_position at = source_position(&loaded.job->source, notice->byte);
	assert_string_equal(notice->message, "this pattern cannot be matched: it takes too much "
					     "work; make it simpler");
	assert_int_equal(notice->level, NOTICE_FATAL);
	assert_int_equal(at.line, 3);
	assert_int_equal(at.column, 7);
	load_finish(&loaded);
}

static void a_pattern_that_takes_too_much_work_is_refused_at_its_line(void **state)
{
	(void)state;
	/* Also where PCRE2 does not compile to machine code: its syntax, (*NO_JIT). */
	assert_too_much_work("^(a+)+$");
	assert_too_much_work("(*NO_JIT)^(a+)+$");
	/* A pattern may lower the limit but not raise it. */
	assert_too_much_work("(*LIMIT_MATCH=4000000000)^(a+)+$");
}

static void the_order_of_shapes_changes_nothing(void **state)
{
	(void)state;
	struct drawing drawing = {0};
	static const char *const IDS[] = {"a", "fold", "b", "guide", "c", "art", "d"};
	struct cutlint_element *root = add(&drawing, NULL, "svg1", NULL, NULL);
	struct cutlint_element *made[7];
	for (int i = 0; i < 7; i++)
		made[i] = add(&drawing, i % 3 ? made[i - 1] : root, IDS[i], NULL, NULL);
	for (int i = 0; i < 7; i++)
		draw(&drawing, made[i]);
	for (int i = 6; i >= 0; i--)
		draw(&drawing, made[i]);
	assign_by(&drawing, "slit = (^|/)b(/|$)\n");
	for (int i = 0; i < 7; i++) {
		assert_int_equal(drawing.shapes[i].role, drawing.shapes[13 - i].role);
		assert_int_equal(drawing.shapes[i].role_named, drawing.shapes[13 - i].role_named);
	}
	assert_role(&drawing.shapes[2], CUTLINT_ROLE_SLIT, true);
	assert_role(&drawing.shapes[1], CUTLINT_ROLE_FOLD, true);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_pattern_sees_ids_classes_and_labels_from_the_root),
		cmocka_unit_test(the_innermost_element_that_any_pattern_takes_wins),
		cmocka_unit_test(at_one_element_the_order_in_the_job_decides),
		cmocka_unit_test(a_match_that_ends_above_an_element_does_not_take_it),
		cmocka_unit_test(a_match_without_length_takes_where_it_first_holds),
		cmocka_unit_test(an_element_without_names_takes_nothing),
		cmocka_unit_test(paint_takes_the_drawn_element_itself),
		cmocka_unit_test(default_words_are_whole_words),
		cmocka_unit_test(default_words_count_innermost_and_after_all_patterns),
		cmocka_unit_test(an_instance_is_seen_through_its_use),
		cmocka_unit_test(an_instance_may_be_given_its_role_where_it_is_used),
		cmocka_unit_test(a_pattern_that_takes_too_much_work_is_refused_at_its_line),
		cmocka_unit_test(the_order_of_shapes_changes_nothing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

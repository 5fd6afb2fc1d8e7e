/* scene.h - a folder of its own for each test, with the files that it writes there. */
#ifndef TESTS_SCENE_H
#define TESTS_SCENE_H

#include "command.h"
#include "unit.h"

/* Two windows well inside a card: nothing to find. */
#define GOOD_DRAWING                                                                               \
	"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"60mm\" height=\"30mm\" "                \
	"viewBox=\"0 0 60 30\">\n"                                                                 \
	"<rect id=\"outline\" x=\"2\" y=\"2\" width=\"56\" height=\"26\"/>\n"                      \
	"<g id=\"art\"><circle cx=\"18\" cy=\"15\" r=\"5\"/>"                                      \
	"<circle cx=\"42\" cy=\"15\" r=\"5\"/></g>\n"                                              \
	"</svg>\n"

/* The same with windows 0.3 mm apart, and one 0.3 mm dot: an error and a warning. */
#define BAD_DRAWING                                                                                \
	"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"60mm\" height=\"30mm\" "                \
	"viewBox=\"0 0 60 30\">\n"                                                                 \
	"<rect id=\"outline\" x=\"2\" y=\"2\" width=\"56\" height=\"26\"/>\n"                      \
	"<g id=\"art\"><circle cx=\"20\" cy=\"15\" r=\"5\"/>"                                      \
	"<circle cx=\"30.3\" cy=\"15\" r=\"5\"/>\n"                                                \
	"<circle id=\"dot\" cx=\"45\" cy=\"15\" r=\"0.15\"/></g>\n"                                \
	"</svg>\n"

/* For tests as the state: an empty folder that holds `.git`, where the search for a job ends. */
struct scene {
	char folder[32];
};

int scene_open(void **state);
int scene_close(void **state);

#define SCENE(test) cmocka_unit_test_setup_teardown(test, scene_open, scene_close)

/* Writes a file into the folder. */
void scene_write(const struct scene *scene, const char *name, const char *text);
void scene_write_bytes(const struct scene *scene, const char *name, const void *bytes,
		       size_t length);

void scene_make_folder(const struct scene *scene, const char *name);

/* The path of a file in the folder, in memory that test_free frees. */
char *scene_path(const struct scene *scene, const char *name);

/* Runs cutlint in the folder with these arguments, which end with NULL. */
struct ran scene_cutlint(const struct scene *scene, const char *const *arguments);
#define CUTLINT(scene, ...) scene_cutlint(scene, (const char *const[]){__VA_ARGS__, NULL})

/* The same in other surroundings; their folder is set. */
struct ran scene_cutlint_in(const struct scene *scene, const struct surroundings *surroundings,
			    const char *const *arguments);

/* Runs it: it ends well and prints these words. */
void scene_prints(const struct scene *scene, const char *said, const char *const *arguments);
#define PRINTS(scene, said, ...) scene_prints(scene, said, (const char *const[]){__VA_ARGS__, NULL})

/* Runs it: it ends with 2, prints nothing, and says these words on standard error. */
void scene_refuses(const struct scene *scene, const char *said, const char *const *arguments);
#define REFUSES(scene, said, ...)                                                                  \
	scene_refuses(scene, said, (const char *const[]){__VA_ARGS__, NULL})

void assert_has(const char *text, const char *part);
void assert_lacks(const char *text, const char *part);

#endif

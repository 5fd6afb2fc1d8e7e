/* png-outside.c - the module that draws a PNG opens nothing that its SVG refers to. */
#define _POSIX_C_SOURCE 200809L /* fork */
#include <dlfcn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "pixels.h"
#include "raster/raster.h"
#include "scene.h"

#define RED   0xff0000
#define WHITE 0xffffff

static int write_bytes(void *user, const void *bytes, size_t length)
{
	return fwrite(bytes, 1, length, user) == length ? 0 : -1;
}

static void tell(void *user, uint32_t rows, uint32_t of)
{
	(void)user;
	(void)rows;
	(void)of;
}

/* In a process of its own, as cutlint does it. */
_Noreturn static void draw(const char *folder, const char *svg, const char *path)
{
	char fault[512] = "";
	void *module = dlopen(MODULE, RTLD_NOW | RTLD_LOCAL);
	const struct raster *raster = module ? dlsym(module, RASTER_SYMBOL) : NULL;
	FILE *out = fopen(path, "wb");
	const struct raster_order order = {.svg = svg,
					   .length = strlen(svg),
					   .dpi = 25.4,
					   .write = write_bytes,
					   .tell = tell,
					   .user = out};
	if (!raster || !out || chdir(folder) < 0)
		_exit(2);
	int drawn = raster->draw(&order, fault, sizeof(fault));
	_exit(drawn < 0 || fclose(out) != 0);
}

/* The colour in the middle of a sheet of 10 mm, on which an image lies all over. */
static uint32_t colour_under(const struct scene *scene, const char *reference)
{
	char svg[1024];
	int status;
	char *path = scene_path(scene, "out.png");
	struct pixels pixels;
	snprintf(svg, sizeof(svg),
		 "<svg xmlns='http://www.w3.org/2000/svg' "
		 "xmlns:xlink='http://www.w3.org/1999/xlink' width='10mm' height='10mm' "
		 "viewBox='0 0 10 10'><image xlink:href='%s' width='10' height='10' "
		 "preserveAspectRatio='none'/></svg>",
		 reference);
	fflush(NULL);
	pid_t pid = fork();
	if (pid == 0)
		draw(scene->folder, svg, path);
	assert_int_equal(waitpid(pid, &status, 0), pid);
	assert_int_equal(status, 0);
	pixels_read(&pixels, path);
	assert_int_equal(pixels.width, 10);
	uint32_t colour = pixels_at(&pixels, 5, 5);
	pixels_free(&pixels);
	test_free(path);
	return colour;
}

/* A PNG of one red pixel, written by libpng 1.6 and encoded as in RFC 4648. */
#define RED_HERE                                                                                   \
	"data:image/png;base64,"                                                                   \
	"iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVQI12P4z8AAAAMBAQAY3Y2wAAAAAElFTkSu" \
	"QmCC"

static void an_image_in_the_text_itself_is_drawn(void **state)
{
	assert_int_equal(colour_under(*state, RED_HERE), RED);
}

static void files_are_not_opened(void **state)
{
	char *red = scene_path(*state, "red.png"), address[128];
	pixels_write_one(red, RED);
	snprintf(address, sizeof(address), "file://%s", red);
	assert_int_equal(colour_under(*state, "red.png"), WHITE);
	assert_int_equal(colour_under(*state, "./red.png"), WHITE);
	assert_int_equal(colour_under(*state, red), WHITE);
	assert_int_equal(colour_under(*state, address), WHITE);
	test_free(red);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(an_image_in_the_text_itself_is_drawn),
		SCENE(files_are_not_opened),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}

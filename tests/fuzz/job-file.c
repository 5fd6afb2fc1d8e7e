/* A job file from any bytes, its roles given to a small drawing. */
#define _GNU_SOURCE /* memfd_create */
#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#include "fuzz.h"
#include "job/job.h"
#include "job/roles.h"
#include "svg/load.h"

static const char DRAWING[] =
	"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\" viewBox=\"0 0 9 "
	"9\">"
	"<g id=\"art\" class=\"cut\"><path d=\"M0 0h5v5z\" stroke=\"red\"/></g>"
	"<line id=\"fold-1\" y2=\"9\" stroke=\"blue\"/></svg>";

static void assign(struct arena *arena, const struct job *job)
{
	struct svg_options options = {.flatness_mm = 0.05};
	struct notices notices = {.arena = arena};
	struct cutlint_design *design;
	HOLDS(svg_load_bytes(arena, DRAWING, sizeof(DRAWING) - 1, "a.svg", &options, &notices,
			     &design) == 0);
	job_assign_roles(job, design, &notices);
	for (uint32_t i = 0; i < design->shape_count; i++)
		HOLDS(design->shapes[i].role < CUTLINT_ROLE_COUNT);
}

static void read_job(struct arena *arena, const uint8_t *bytes, size_t length)
{
	char path[64];
	int file = memfd_create("job", MFD_CLOEXEC);
	HOLDS(file >= 0 && write(file, bytes, length) == (ssize_t)length);
	snprintf(path, sizeof(path), "/proc/self/fd/%d", file);

	struct notices notices = {.arena = arena};
	struct job *job = NULL;
	int result = job_load(arena, path, &notices, &job);
	close(file);
	HOLDS(job != NULL);
	HOLDS((result == 0) == (notices.fatal_count == 0));
	for (uint32_t i = 0; i < notices.count; i++)
		HOLDS(notices.items[i].byte <= job->source.length);
	if (result == 0)
		assign(arena, job);
	job_finish(job);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	struct arena *arena = arena_create();
	if (arena)
		read_job(arena, bytes, length);
	arena_destroy(arena);
	return 0;
}

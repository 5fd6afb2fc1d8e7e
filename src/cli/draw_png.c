#define _GNU_SOURCE /* MAP_ANONYMOUS, strsignal */
#include "cli/draw_png.h"

#include <dlfcn.h>
#include <errno.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include "cli/command.h"
#include "engine/home.h"
#include "engine/process.h"
#include "engine/shared_object.h"
#include "raster/raster.h"

#define WITHOUT "a proof in .html or .svg works without"

/* What the process that draws tells beside the bytes of the PNG, in memory of both. */
struct board {
	_Atomic uint32_t rows, of;
	char fault[512];
};

/* Either end of the work. */
struct drawing_process {
	const struct png_order *order;
	const char *module;
	struct board *board;
	int pipe;
	pid_t pid;
};

static const char *module_path(struct arena *arena)
{
	return home_path(arena, "cutlint/png.so", "src/raster/png.so");
}

static int say_failed(const struct png_order *order, const char *why)
{
	say_error("cannot draw '%s': %s", order->name, why);
	return -1;
}

int png_look_for_module(struct arena *arena, const char *name)
{
	const char *path = module_path(arena);
	if (!path)
		say_error("out of memory");
	else if (access(path, F_OK) < 0)
		say_error("cannot draw '%s': there is no module '%s'; it is built with cutlint "
			  "where librsvg is found (Debian's package librsvg2-dev); " WITHOUT,
			  name, path);
	else
		return 0;
	return -1;
}

static int write_bytes(void *user, const void *bytes, size_t length)
{
	const struct drawing_process *process = user;
	return process_send(process->pipe, bytes, length);
}

static void tell_rows(void *user, uint32_t rows, uint32_t of)
{
	const struct drawing_process *process = user;
	atomic_store(&process->board->of, of);
	atomic_store(&process->board->rows, rows);
}

/* The module's descriptor; NULL, with the reason on the board. */
static const struct raster *load(const struct drawing_process *process)
{
	char *fault = process->board->fault;
	size_t size = sizeof(process->board->fault);
	const char *why = shared_object_fault(process->module);
	if (why) {
		snprintf(fault, size, "its module '%s' can't be used: %s; " WITHOUT,
			 process->module, why);
		return NULL;
	}
	void *handle = dlopen(process->module, RTLD_NOW | RTLD_LOCAL);
	if (!handle) {
		snprintf(fault, size,
			 "%s; it takes librsvg (Debian's package librsvg2-2); " WITHOUT, dlerror());
		return NULL;
	}
	const struct raster *raster = dlsym(handle, RASTER_SYMBOL);
	if (raster && raster->abi == RASTER_ABI && raster->size == sizeof(*raster))
		return raster;
	snprintf(fault, size, "its module '%s' belongs to another cutlint; " WITHOUT,
		 process->module);
	return NULL;
}

_Noreturn static void work(struct drawing_process *process, const struct text *svg)
{
	const struct raster *raster = load(process);
	const struct raster_order order = {.svg = svg->bytes,
					   .length = svg->length,
					   .dpi = process->order->dpi,
					   .write = write_bytes,
					   .tell = tell_rows,
					   .user = process};
	char *fault = process->board->fault;
	int drawn = raster ? raster->draw(&order, fault, sizeof(process->board->fault)) : -1;
	_exit(drawn < 0 ? EXIT_FAILURE : EXIT_SUCCESS);
}

static void tell_progress(const struct drawing_process *process)
{
	uint32_t of = atomic_load(&process->board->of);
	if (of)
		progress_tell(process->order->progress, "drawing row", NULL,
			      atomic_load(&process->board->rows), of);
}

/* Takes all that comes through the pipe, until its other end is closed. */
static void receive(const struct drawing_process *process, struct text *out)
{
	char bytes[1 << 14];
	while (!out->failed) {
		ssize_t got = read(process->pipe, bytes, sizeof(bytes));
		if (got < 0 && errno == EINTR)
			continue;
		if (got <= 0)
			break;
		text_add(out, bytes, (size_t)got);
		tell_progress(process);
	}
	close(process->pipe);
}

static int finish(const struct drawing_process *process, const struct text *out)
{
	const struct board *board = process->board;
	char crash[96];
	int status = 0;
	if (out->failed)
		kill(process->pid, SIGKILL);
	while (waitpid(process->pid, &status, 0) < 0 && errno == EINTR)
		continue;
	if (out->failed)
		return say_failed(process->order, "out of memory");
	if (WIFEXITED(status) && WEXITSTATUS(status) == EXIT_SUCCESS)
		return 0;
	if (WIFEXITED(status) && *board->fault)
		return say_failed(process->order, board->fault);
	snprintf(crash, sizeof(crash), "its module crashed (%s); " WITHOUT,
		 WIFSIGNALED(status) ? strsignal(WTERMSIG(status)) : "without a word");
	return say_failed(process->order, crash);
}

static int run(struct drawing_process *process, const struct text *svg, struct text *out)
{
	progress_tell(process->order->progress, "drawing", NULL, 0, 0);
	process->pid = process_start(&process->pipe);
	if (process->pid == 0)
		work(process, svg);
	if (process->pid < 0)
		return say_failed(process->order, strerror(errno));
	receive(process, out);
	return finish(process, out);
}

int png_draw(const struct png_order *order, const struct text *svg, struct text *out)
{
	struct arena *arena = arena_create();
	struct drawing_process process = {.order = order,
					  .module = arena ? module_path(arena) : NULL};
	int status = -1;
	process.board = mmap(NULL, sizeof(*process.board), PROT_READ | PROT_WRITE,
			     MAP_SHARED | MAP_ANONYMOUS, -1, 0);
	if (process.board == MAP_FAILED || !process.module)
		say_failed(order, "out of memory");
	else
		status = run(&process, svg, out);
	if (process.board != MAP_FAILED)
		munmap(process.board, sizeof(*process.board));
	arena_destroy(arena);
	return status;
}

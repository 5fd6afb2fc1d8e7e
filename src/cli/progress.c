#define _GNU_SOURCE /* pthread_condattr_setclock */
#include "cli/progress.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <time.h>
#include <unistd.h>

#include "base/text.h"

/* ECMA-48: to the line's start, erase to its end. */
#define ERASE "\r\x1b[K"

#define FIRST_NS 1000000000 /* shorter work needs no line */
#define PAUSE_NS 100000000  /* between two lines, so that many small files do not flicker */
#define COLUMNS  80         /* where the terminal does not tell */

struct progress_line {
	struct progress hook;
	pthread_t thread;
	pthread_mutex_t lock;
	pthread_cond_t changed;
	const char *file;
	uint32_t number, of;
	/* Under the lock. */
	struct text text;
	struct timespec due; /* nothing is drawn before */
	bool told, shown, stopped;
};

static void put(const char *bytes, size_t length)
{
	while (length) {
		ssize_t written = write(STDERR_FILENO, bytes, length);
		if (written <= 0)
			return;
		bytes += written;
		length -= (size_t)written;
	}
}

static struct timespec after(struct timespec time, long ns)
{
	time.tv_nsec += ns;
	time.tv_sec += time.tv_nsec / 1000000000;
	time.tv_nsec %= 1000000000;
	return time;
}

static bool is_due(const struct progress_line *line, struct timespec now)
{
	return now.tv_sec > line->due.tv_sec ||
	       (now.tv_sec == line->due.tv_sec && now.tv_nsec >= line->due.tv_nsec);
}

/* So many bytes that the line does not wrap; a character is taken to be one column wide. */
static size_t fitting(const struct text *text)
{
	struct winsize size = {0};
	bool known = ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 1;
	size_t most = (known ? size.ws_col : COLUMNS) - 1u, length = 0;
	while (length < text->length) {
		bool begins = ((unsigned char)text->bytes[length] & 0xc0) != 0x80;
		if (begins && most-- == 0)
			break;
		length++;
	}
	return length;
}

static void draw(struct progress_line *line)
{
	put(ERASE, sizeof(ERASE) - 1);
	put(line->text.bytes, fitting(&line->text));
	line->told = false;
	line->shown = true;
}

/* The work itself may not come by for long: the line has a thread of its own. */
static void *watch(void *user)
{
	struct progress_line *line = user;
	pthread_mutex_lock(&line->lock);
	while (!line->stopped) {
		struct timespec now;
		clock_gettime(CLOCK_MONOTONIC, &now);
		if (!line->told) {
			pthread_cond_wait(&line->changed, &line->lock);
		} else if (!is_due(line, now)) {
			pthread_cond_timedwait(&line->changed, &line->lock, &line->due);
		} else {
			draw(line);
			line->due = after(now, PAUSE_NS);
		}
	}
	pthread_mutex_unlock(&line->lock);
	return NULL;
}

static void set_text(struct progress_line *line, const char *what, const char *name,
		     uint32_t number, uint32_t of)
{
	struct text *text = &line->text;
	text->length = 0;
	text_add_string(text, what);
	if (of)
		text_format(text, " %u of %u", number, of);
	if (name) {
		text_add_string(text, " (");
		text_add_escaped(text, name);
		text_add_string(text, ")");
	}
	if (line->of > 1)
		text_format(text, ", file %u of %u", line->number, line->of);
	text_add_string(text, ": ");
	text_add_escaped(text, line->file ? line->file : "");
}

static void hear(void *user, const char *what, const char *name, uint32_t number, uint32_t of)
{
	struct progress_line *line = user;
	pthread_mutex_lock(&line->lock);
	set_text(line, what, name, number, of);
	line->told = !line->text.failed;
	pthread_cond_signal(&line->changed);
	pthread_mutex_unlock(&line->lock);
}

static bool is_set(const char *name)
{
	const char *value = getenv(name);
	return value && *value;
}

static bool is_wanted(bool quiet)
{
	const char *terminal = getenv("TERM");
	return !quiet && !is_set("NO_COLOR") && isatty(STDERR_FILENO) && terminal && *terminal &&
	       strcmp(terminal, "dumb") != 0;
}

static int init(struct progress_line *line)
{
	pthread_condattr_t attributes;
	if (pthread_condattr_init(&attributes) != 0)
		return -1;
	pthread_condattr_setclock(&attributes, CLOCK_MONOTONIC);
	int result = pthread_cond_init(&line->changed, &attributes);
	pthread_condattr_destroy(&attributes);
	if (result != 0 || pthread_mutex_init(&line->lock, NULL) != 0)
		return -1;
	clock_gettime(CLOCK_MONOTONIC, &line->due);
	line->due = after(line->due, FIRST_NS);
	line->hook = (struct progress){.hear = hear, .user = line};
	return pthread_create(&line->thread, NULL, watch, line) == 0 ? 0 : -1;
}

struct progress_line *progress_start(bool quiet)
{
	struct progress_line *line = is_wanted(quiet) ? calloc(1, sizeof(*line)) : NULL;
	if (line && init(line) < 0) {
		free(line);
		line = NULL;
	}
	return line;
}

void progress_stop(struct progress_line *line)
{
	if (!line)
		return;
	progress_clear(line);
	pthread_mutex_lock(&line->lock);
	line->stopped = true;
	pthread_cond_signal(&line->changed);
	pthread_mutex_unlock(&line->lock);
	pthread_join(line->thread, NULL);
	pthread_cond_destroy(&line->changed);
	pthread_mutex_destroy(&line->lock);
	text_finish(&line->text);
	free(line);
}

void progress_set_file(struct progress_line *line, const char *name, uint32_t number, uint32_t of)
{
	if (!line)
		return;
	line->file = name;
	line->number = number;
	line->of = of;
}

const struct progress *progress_hook(const struct progress_line *line)
{
	return line ? &line->hook : NULL;
}

void progress_clear(struct progress_line *line)
{
	if (!line)
		return;
	pthread_mutex_lock(&line->lock);
	if (line->shown)
		put(ERASE, sizeof(ERASE) - 1);
	line->told = line->shown = false;
	pthread_mutex_unlock(&line->lock);
}

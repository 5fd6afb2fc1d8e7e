#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "cli/command.h"
#include "report/report.h"

static void write_error(struct text *text)
{
	if (text->bytes)
		fwrite(text->bytes, 1, text->length, stderr);
	text_finish(text);
}

static void say(enum cutlint_severity severity, const char *format, va_list arguments)
{
	struct text message = {0}, line = {0};
	text_vformat(&message, format, arguments);
	report_own(&line, severity, message.failed ? "out of memory" : message.bytes,
		   colour_wanted(COLOUR_AUTO, STDERR_FILENO));
	text_finish(&message);
	write_error(&line);
}

void say_error(const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	say(CUTLINT_ERROR, format, arguments);
	va_end(arguments);
}

void say_note(const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	say(CUTLINT_NOTE, format, arguments);
	va_end(arguments);
}

void say_troubles(const struct troubles *troubles, bool colour)
{
	struct text text = {0};
	report_troubles(&text, troubles, colour);
	write_error(&text);
}

void output_text(FILE *out, const struct text *text)
{
	if (text->length)
		fwrite(text->bytes, 1, text->length, out);
}

int output_close(FILE *out, const char *name, int status)
{
	errno = 0;
	bool failed = ferror(out) != 0;
	failed = (out == stdout ? fflush(out) : fclose(out)) != 0 || failed;
	if (!failed)
		return status;
	say_error("cannot write %s: %s", name, errno ? strerror(errno) : "an earlier write failed");
	return STATUS_FAILED;
}

int output_all(struct text *text, int status)
{
	if (text->failed) {
		say_error("out of memory");
		status = STATUS_FAILED;
	} else {
		output_text(stdout, text);
	}
	text_finish(text);
	return output_close(stdout, "standard output", status);
}

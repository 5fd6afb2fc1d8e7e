#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "cli/command.h"
#include "report/report.h"

void say_text(struct text *text)
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
	say_text(&line);
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
	say_text(&text);
}

static void say_not_written(const char *name, int reason)
{
	say_error("cannot write %s: %s", name, strerror(reason));
}

void output_text(FILE *out, const char *name, const struct text *text)
{
	if (ferror(out))
		return;
	errno = 0;
	if (text->length)
		fwrite(text->bytes, 1, text->length, out);
	if (fflush(out) != 0 || ferror(out))
		say_not_written(name, errno);
}

int output_close(FILE *out, const char *name, int status)
{
	bool said = ferror(out) != 0;
	errno = 0;
	bool failed = (out == stdout ? fflush(out) : fclose(out)) != 0;
	if (failed && !said)
		say_not_written(name, errno);
	return failed || said ? STATUS_FAILED : status;
}

int output_all(struct text *text, int status)
{
	static const char NAME[] = "standard output";
	if (text->failed) {
		say_error("out of memory");
		status = STATUS_FAILED;
	} else {
		output_text(stdout, NAME, text);
	}
	text_finish(text);
	return output_close(stdout, NAME, status);
}

#include "cli/check_output.h"

#include <stdio.h>

#include "cli/command.h"
#include "cli/replace.h"

static const char STANDARD_OUTPUT[] = "standard output";

void check_output_add(struct check_output *output, const struct text *text)
{
	if (!output->path)
		output_text(stdout, STANDARD_OUTPUT, text);
	else if (text->length)
		text_add(&output->held, text->bytes, text->length);
}

int check_output_close(struct check_output *output, int status)
{
	if (!output->path)
		return output_close(stdout, STANDARD_OUTPUT, status);
	text_add(&output->held, "", 0);
	bool failed = output->held.failed;
	if (failed)
		say_error("cannot write '%s': out of memory", output->path);
	else
		failed = replace_file(output->path, &output->held) < 0;
	check_output_drop(output);
	return failed ? STATUS_FAILED : status;
}

void check_output_drop(struct check_output *output)
{
	text_finish(&output->held);
}

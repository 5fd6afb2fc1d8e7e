#include "engine/worker.h"

#include <stdlib.h>
#include <unistd.h>

#include "engine/process.h"
#include "engine/wire.h"

struct cutlint_check worker_check(const struct rules_run *run)
{
	return (struct cutlint_check){.arena = run->arena,
				      .design = run->design,
				      .job = run->setup->job,
				      .sheet = run->sheet};
}

static int send_text(int pipe, struct text *text, int result)
{
	if (result == 0)
		result = process_send(pipe, text->bytes, text->length);
	text->length = 0;
	return result;
}

static int work_on(const struct rules_run *run, uint32_t number, int pipe, struct text *text,
		   struct arena *arena)
{
	if (send_text(pipe, text, wire_put_number(text, WIRE_RULE_BEGINS, number)) < 0)
		return -1;
	struct cutlint_check check = worker_check(run);
	check.arena = arena;
	rule_check_run(&check, &run->setup->rules[number]);
	for (const struct cutlint_finding *finding = check.first; finding;
	     finding = finding->next) {
		if (send_text(pipe, text, wire_put_finding(text, &finding->found)) < 0)
			return -1;
	}
	if (check.reason &&
	    send_text(pipe, text, wire_put_string(text, WIRE_COULD_NOT_LOOK, check.reason)) < 0)
		return -1;
	return send_text(pipe, text, wire_put_number(text, WIRE_RULE_ENDS, number));
}

_Noreturn void worker_run(const struct rules_run *run, uint32_t first, int pipe)
{
	struct text text = {0};
	struct arena *arena = arena_create(); /* what one rule says, until it is sent */
	for (uint32_t i = first; i < run->setup->rule_count; i++) {
		if (!arena || work_on(run, i, pipe, &text, arena) < 0)
			_exit(EXIT_FAILURE);
		arena_empty(arena);
	}
	_exit(EXIT_SUCCESS);
}

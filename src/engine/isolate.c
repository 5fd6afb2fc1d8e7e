#define _GNU_SOURCE /* strsignal */
#include "engine/isolate.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "engine/process.h"
#include "engine/rule_check.h"
#include "engine/wire.h"
#include "engine/worker.h"

static const char *rule_name(const struct rules_run *run, uint32_t number)
{
	return run->setup->rules[number].module->rule->name;
}

/* What a place does not bring from the rule's process, or what must not be believed from there. */
static void settle_place(const struct rules_run *run, struct finding_place *place)
{
	place->file = place->in_job ? run->setup->job->source.name : run->design->file;
	if (place->index >= run->design->element_count)
		place->index = 0;
}

/* Adds a finding to the run's list, as the job wants it. */
static void take(const struct rules_run *run, uint32_t number, const struct finding *found)
{
	const struct setup_rule *rule = &run->setup->rules[number];
	struct finding *finding = findings_add(run->findings);
	if (!finding)
		return;
	*finding = *found;
	finding->rule = rule_name(run, number);
	if (rule->severity_given)
		finding->severity = rule->severity;
	settle_place(run, &finding->place);
	for (uint32_t i = 0; i < finding->related_count; i++)
		settle_place(run, &finding->related[i]);
}

static void tell(const struct rules_run *run, uint32_t number)
{
	progress_tell(run->progress, "rule", rule_name(run, number), number + 1,
		      run->setup->rule_count);
}

static void say_could_not_look(const struct rules_run *run, uint32_t number, const char *reason)
{
	trouble_add(run->troubles, "rule '%s' could not look at '%s': %s", rule_name(run, number),
		    run->design->file, reason);
}

void isolate_run_here(const struct rules_run *run)
{
	for (uint32_t i = 0; i < run->setup->rule_count; i++) {
		struct cutlint_check check = worker_check(run);
		tell(run, i);
		rule_check_run(&check, &run->setup->rules[i]);
		for (struct cutlint_finding *finding = check.first; finding;
		     finding = finding->next)
			take(run, i, &finding->found);
		if (check.reason)
			say_could_not_look(run, i, check.reason);
	}
}

struct worker {
	const struct rules_run *run;
	pid_t pid;
	int pipe;
	uint32_t next;  /* the rule that begins next */
	bool busy;      /* rule next - 1 has begun and not ended */
	uint32_t count; /* findings before it began */
	bool rubbish;   /* it sent what no worker sends */
	bool late;      /* a rule ran past the limit */
	double deadline_s;
	unsigned char *bytes; /* received, not yet taken */
	size_t length, capacity;
};

static double now_s(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

static void take_number(struct worker *worker, const struct wire_frame *frame)
{
	uint32_t number;
	bool begins = frame->kind == WIRE_RULE_BEGINS;
	uint32_t expected = begins ? worker->next : worker->next - 1;
	if (wire_get_number(frame, &number) < 0 || number != expected || worker->busy == begins ||
	    number >= worker->run->setup->rule_count) {
		worker->rubbish = true;
		return;
	}
	worker->busy = begins;
	if (begins)
		tell(worker->run, number);
	worker->next = number + 1;
	worker->count = worker->run->findings->count;
	worker->deadline_s = now_s() + worker->run->limit_s;
}

static void take_words(struct worker *worker, const struct wire_frame *frame)
{
	const struct rules_run *run = worker->run;
	struct finding found;
	const char *reason;
	if (!worker->busy)
		worker->rubbish = true;
	else if (frame->kind == WIRE_FINDING && wire_get_finding(frame, run->arena, &found) == 0)
		take(run, worker->next - 1, &found);
	else if (frame->kind == WIRE_COULD_NOT_LOOK &&
		 wire_get_string(frame, run->arena, &reason) == 0)
		say_could_not_look(run, worker->next - 1, reason);
	else
		worker->rubbish = true;
}

static void take_frames(struct worker *worker)
{
	size_t used = 0;
	while (!worker->rubbish) {
		struct wire_frame frame;
		ptrdiff_t step =
			wire_take_frame(worker->bytes + used, worker->length - used, &frame);
		if (step <= 0) {
			worker->rubbish = step < 0;
			break;
		}
		if (frame.kind == WIRE_RULE_BEGINS || frame.kind == WIRE_RULE_ENDS)
			take_number(worker, &frame);
		else
			take_words(worker, &frame);
		used += (size_t)step;
	}
	memmove(worker->bytes, worker->bytes + used, worker->length - used);
	worker->length -= used;
}

/* Returns 1 for bytes, 0 for the end, -1 for a failure. */
static int receive(struct worker *worker)
{
	if (worker->capacity - worker->length < 4096) {
		size_t capacity = worker->capacity ? worker->capacity * 2 : (size_t)64 * 1024;
		unsigned char *bytes = realloc(worker->bytes, capacity);
		if (!bytes)
			return -1;
		worker->bytes = bytes;
		worker->capacity = capacity;
	}
	ssize_t got = read(worker->pipe, worker->bytes + worker->length,
			   worker->capacity - worker->length);
	if (got < 0)
		return errno == EINTR ? 1 : -1;
	worker->length += (size_t)got;
	return got > 0;
}

/* Waits for bytes up to the deadline. Returns false if none came in time. */
static bool wait_for_bytes(struct worker *worker)
{
	for (;;) {
		int wait_ms = -1;
		if (worker->run->limit_s > 0) {
			double left_s = worker->deadline_s - now_s();
			if (left_s <= 0)
				return false;
			wait_ms = left_s > 1e6 ? 1000000000 : (int)(left_s * 1000) + 1;
		}
		struct pollfd waited = {.fd = worker->pipe, .events = POLLIN};
		int ready = poll(&waited, 1, wait_ms);
		if (ready > 0 || (ready < 0 && errno != EINTR))
			return true;
	}
}

static bool all_done(const struct worker *worker)
{
	return !worker->busy && worker->next == worker->run->setup->rule_count;
}

/* Takes what the process sends until all rules are done or it can't go on. */
static void listen_to(struct worker *worker)
{
	worker->deadline_s = now_s() + worker->run->limit_s;
	while (!worker->rubbish && !all_done(worker)) {
		if (!wait_for_bytes(worker)) {
			worker->late = true;
			return;
		}
		if (receive(worker) <= 0)
			return;
		take_frames(worker);
	}
}

static int start(struct worker *worker)
{
	worker->pid = process_start(&worker->pipe);
	if (worker->pid == 0)
		worker_run(worker->run, worker->next, worker->pipe);
	return worker->pid < 0 ? -1 : 0;
}

/*
 * Returns how the process ended. Having closed its pipe does not mean that it ended: a module may
 * hold it past the limit even so.
 */
static int finish(struct worker *worker)
{
	const struct timespec pause = {.tv_nsec = 2000000};
	int status = 0;
	close(worker->pipe);
	for (;;) {
		bool force = worker->late || worker->rubbish;
		if (force)
			kill(worker->pid, SIGKILL);
		pid_t ended = waitpid(worker->pid, &status, force ? 0 : WNOHANG);
		if (ended == worker->pid || (ended < 0 && errno != EINTR))
			return status;
		if (worker->run->limit_s > 0 && now_s() > worker->deadline_s)
			worker->late = true;
		nanosleep(&pause, NULL);
	}
}

static void say_failure(const struct worker *worker, uint32_t number, int status)
{
	const struct rules_run *run = worker->run;
	struct text how = {0};
	if (worker->late)
		text_format(&how, "took longer than %g s", run->limit_s);
	else if (worker->rubbish)
		text_add_string(&how, "wrote into the pipe of its findings");
	else if (WIFSIGNALED(status))
		text_format(&how, "crashed with signal %d (%s)", WTERMSIG(status),
			    strsignal(WTERMSIG(status)));
	else
		text_format(&how, "ended its process with exit status %d", WEXITSTATUS(status));
	trouble_add(run->troubles, "rule '%s' %s on '%s'; its findings are lost",
		    rule_name(run, number), how.failed ? "failed" : how.bytes, run->design->file);
	text_finish(&how);
}

/* One process: from the rule `next` on, as far as it gets. */
static int run_worker(struct worker *worker)
{
	worker->busy = worker->rubbish = worker->late = false;
	worker->length = 0;
	worker->count = worker->run->findings->count;
	if (start(worker) < 0) {
		trouble_add(worker->run->troubles, "cannot start a process for the rules: %s",
			    strerror(errno));
		return -1;
	}
	listen_to(worker);
	bool done = all_done(worker) && !worker->rubbish;
	int status = finish(worker);
	if (done)
		return 0;

	/* Between two rules nothing but a rule's leavings can fail: the next one is to blame. */
	uint32_t failed = worker->busy ? worker->next - 1 : worker->next;
	if (failed == worker->run->setup->rule_count)
		failed--;
	worker->run->findings->count = worker->count;
	say_failure(worker, failed, status);
	worker->next = failed + 1;
	return 0;
}

void isolate_run(const struct rules_run *run)
{
	struct worker worker = {.run = run};
	while (worker.next < run->setup->rule_count && run_worker(&worker) == 0)
		continue;
	free(worker.bytes);
}

/* `[rule NAME LABEL]`: a rule's settings for a stretch of files. */
#define _GNU_SOURCE /* realpath */
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "job/glob.h"
#include "job/pattern.h"
#include "job/word.h"

/* Room for one more; there are never more than sections. NULL where memory ran out. */
static struct job_stretch *room(struct reading *reading)
{
	struct job *job = reading->job;
	if (!job->stretches)
		job->stretches =
			ARENA_ARRAY(reading->arena, struct job_stretch, job->section_count);
	return job->stretches ? &job->stretches[job->stretch_count] : NULL;
}

/* As a PCRE2 pattern it would be refused, or never match. */
static void refuse_glob(struct reading *reading, const struct job_entry *files)
{
	struct text instead = {NULL, 0, 0, false};
	glob_add_pattern(&instead, files->value);
	const char *pattern = text_keep(&instead, reading->arena);
	job_mistake(reading, files->value_byte, files->value_length,
		    "'%s' is a shell's pattern, and files takes a PCRE2 pattern; write %s",
		    word_shown(files->value, strlen(files->value)).text,
		    pattern ? word_shown(pattern, strlen(pattern)).text
			    : "'.*' for any characters and '[.]' for a dot");
}

static void keep(struct reading *reading, const struct job_section *section, size_t length,
		 const struct job_entry *files, const char *reason)
{
	struct job_stretch *stretch = room(reading);
	struct pattern *pattern = ARENA_NEW(reading->arena, struct pattern);
	const char *rule = arena_copy(reading->arena, section->name, length);
	if (!stretch || !pattern || !rule) {
		job_mistake(reading, section->byte, section->length, "out of memory");
		return;
	}
	pattern->subject = PATTERN_NAME;
	if (glob_is_meant(files->value)) {
		refuse_glob(reading, files);
		return;
	}
	if (!pattern_compile(reading, files, pattern))
		return;
	*stretch = (struct job_stretch){section, rule, reason, pattern};
	reading->job->stretch_count++;
}

static void read_stretch(struct reading *reading, const struct job_section *section, size_t length)
{
	const struct job_entry *files = job_find_entry(section, JOB_FILES_KEY);
	const struct job_entry *reason = job_find_entry(section, JOB_REASON_KEY);
	if (!files)
		job_mistake(
			reading, section->byte, section->length,
			"a [rule NAME LABEL] without files; write files = PATTERN, or leave "
			"'%s' out to mean all",
			word_shown(section->name + length, strlen(section->name + length)).text);
	if (!reason)
		job_mistake(reading, section->byte, section->length,
			    "a [rule NAME LABEL] without a reason; write reason = why the rule "
			    "differs for these files");
	if (files && reason)
		keep(reading, section, length, files, reason->value);
}

/* For all files a rule needs no label and gives no reason: nothing of it is hidden. */
static void read_plain(struct reading *reading, const struct job_section *section)
{
	static const char *const KEYS[] = {JOB_FILES_KEY, JOB_REASON_KEY};
	for (size_t i = 0; i < sizeof(KEYS) / sizeof(KEYS[0]); i++) {
		const struct job_entry *entry = job_find_entry(section, KEYS[i]);
		if (entry)
			job_mistake(reading, entry->key_byte, entry->key_length,
				    "key '%s' belongs in a section with a label: [rule %s LABEL]",
				    KEYS[i], section->name);
	}
}

void job_read_rule(struct reading *reading, const struct job_section *section)
{
	size_t length = section->name ? strcspn(section->name, " \t") : 0;
	if (!section->name)
		job_mistake(reading, section->byte, section->length,
			    "[rule] without the rule's name; write [rule NAME]");
	else if (section->name[length])
		read_stretch(reading, section, length);
	else
		read_plain(reading, section);
}

void job_stretches_finish(struct job *job)
{
	for (uint32_t i = 0; i < job->stretch_count; i++)
		pcre2_code_free(job->stretches[i].files->code);
	job->stretch_count = 0;
}

/* The real folder of a file, with a `/` behind it, whether or not the file is there. */
static void add_folder(struct text *out, const char *path)
{
	const char *slash = strrchr(path, '/');
	struct text written = {0};
	text_add(&written, slash ? path : "./", slash ? (size_t)(slash - path) + 1 : 2);
	char *folder = written.failed ? NULL : realpath(written.bytes, NULL);
	text_add_escaped(out, folder ? folder : written.failed ? "" : written.bytes);
	if (out->length && out->bytes[out->length - 1] != '/')
		text_add_string(out, "/");
	out->failed = out->failed || written.failed;
	text_finish(&written);
	free(folder);
}

static const char *last_name(const char *path)
{
	const char *slash = strrchr(path, '/');
	return slash ? slash + 1 : path;
}

int job_stretch_takes(const struct job *job, const struct job_stretch *stretch, const char *drawing,
		      struct notices *notices, bool *takes)
{
	struct text path = {0}, base = {0};
	struct pattern_matcher matcher = {0};
	struct pattern_result found = {false, false};
	add_folder(&path, drawing);
	text_add_escaped(&path, last_name(drawing));
	add_folder(&base, job->source.name);

	int result = pattern_matcher_init(&matcher);
	if (result < 0 || path.failed || base.failed) {
		notice_add(notices, NOTICE_FATAL, "job", 0, 0, "out of memory");
		result = -1;
	} else {
		bool inside = strncmp(path.bytes, base.bytes, base.length) == 0;
		size_t skipped = inside ? base.length : 0;
		result = pattern_search(&matcher, stretch->files, path.bytes + skipped,
					path.length - skipped, 0, notices, &found);
	}
	*takes = found.matched;
	pattern_matcher_finish(&matcher);
	text_finish(&path);
	text_finish(&base);
	return result;
}

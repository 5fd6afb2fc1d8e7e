/* sarif.c - the log: one run with its rules, files, results and notifications. */
#define _GNU_SOURCE /* getcwd with NULL */
#include "report/sarif.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "report/sarif-log.h"

#define SCHEMA                                                                                     \
	"https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/"                      \
	"sarif-schema-2.1.0.json"

struct sarif *sarif_create(const char *version)
{
	struct sarif *sarif = calloc(1, sizeof(*sarif));
	if (!sarif)
		return NULL;
	sarif->version = version;
	sarif->folder = getcwd(NULL, 0);
	sarif->rules = json_array();
	sarif->rule_index = json_object();
	sarif->artifacts = json_array();
	sarif->artifact_index = json_object();
	sarif->notifications = json_array();
	sarif->job_results = json_object();
	sarif->failed = !sarif->rules || !sarif->rule_index || !sarif->artifacts ||
			!sarif->artifact_index || !sarif->notifications || !sarif->job_results;
	return sarif;
}

void sarif_destroy(struct sarif *sarif)
{
	if (!sarif)
		return;
	free(sarif->folder);
	json_decref(sarif->rules);
	json_decref(sarif->rule_index);
	json_decref(sarif->artifacts);
	json_decref(sarif->artifact_index);
	json_decref(sarif->notifications);
	json_decref(sarif->job_results);
	text_finish(&sarif->results);
	free(sarif);
}

void sarif_put(struct sarif *sarif, json_t *object, const char *key, json_t *value)
{
	if (json_object_set_new(object, key, value) < 0)
		sarif->failed = true;
}

void sarif_push(struct sarif *sarif, json_t *array, json_t *value)
{
	if (json_array_append_new(array, value) < 0)
		sarif->failed = true;
}

void sarif_put_string(struct sarif *sarif, json_t *object, const char *key, const char *string)
{
	if (string)
		sarif_put(sarif, object, key, json_of_string(string));
}

static void add_result(struct sarif *sarif, json_t *result)
{
	if (!result)
		sarif->failed = true;
	if (sarif->results.length)
		text_add_string(&sarif->results, ",\n");
	if (json_add_text(&sarif->results, result, 0) < 0)
		sarif->failed = true;
	json_decref(result);
}

/* Results in job files wait for the log's end: other drawings may have the same. */
static void add_job_result(struct sarif *sarif, json_t *result)
{
	struct text key = {0};
	json_t *seen = NULL;
	if (json_add_text(&key, result, 0) == 0)
		seen = json_object_get(sarif->job_results, key.bytes);
	if (seen) {
		json_int_t count = json_integer_value(json_object_get(seen, "occurrenceCount"));
		sarif_put(sarif, seen, "occurrenceCount", json_integer(count ? count + 1 : 2));
		json_decref(result);
	} else if (key.failed || !result) {
		sarif->failed = true;
		json_decref(result);
	} else {
		sarif_put(sarif, sarif->job_results, key.bytes, result);
	}
	text_finish(&key);
}

static bool is_in_job(const struct sarif_files *files, const struct finding_place *place)
{
	return files->job && place->file && strcmp(place->file, files->job->name) == 0;
}

static void add_findings(struct sarif *sarif, const struct sarif_files *files,
			 const struct findings *findings)
{
	struct fingerprints *fingerprints = fingerprints_create(files->design, files->job);
	if (!fingerprints || (findings && findings->failed))
		sarif->failed = true;
	for (uint32_t i = 0; fingerprints && findings && i < findings->count; i++) {
		const struct finding *finding = &findings->items[i];
		json_t *result = sarif_result(sarif, files, finding, fingerprints);
		if (is_in_job(files, &finding->place))
			add_job_result(sarif, result);
		else
			add_result(sarif, result);
	}
	fingerprints_destroy(fingerprints);
}

/* 3.24.6 */
#define TARGET "analysisTarget"
#define STREAM "standardStream"
#define CONFIG SARIF_ROLE_CONFIG

void sarif_add_drawing(struct sarif *sarif, const struct sarif_input *input)
{
	struct sarif_files files = {
		.drawing = input->drawing, .job = input->job, .design = input->design};
	files.drawing_artifact =
		sarif_artifact(sarif, input->drawing, input->standard_input ? STREAM : TARGET);
	if (input->job)
		files.job_artifact = sarif_artifact(sarif, input->job, CONFIG);
	add_findings(sarif, &files, input->findings);
}

void sarif_add_job(struct sarif *sarif, const struct source *job, const struct findings *findings)
{
	struct sarif_files files = {.drawing = job, .job = job};
	files.drawing_artifact = files.job_artifact = sarif_artifact(sarif, job, CONFIG);
	add_findings(sarif, &files, findings);
}

/* Troubles know the line and column, not the bytes. */
static json_t *trouble_location(struct sarif *sarif, const struct trouble *trouble)
{
	const struct source source = {.name = trouble->file};
	json_t *physical = json_object(), *location = json_object();
	uint32_t artifact = sarif_artifact(sarif, &source, CONFIG);
	sarif_put(sarif, physical, "artifactLocation", sarif_artifact_location(sarif, artifact));
	if (trouble->line)
		sarif_put(sarif, physical, "region",
			  json_pack("{s:I, s:I, s:I}", "startLine", (json_int_t)trouble->line,
				    "startColumn", (json_int_t)trouble->column, "endColumn",
				    (json_int_t)trouble->column));
	sarif_put(sarif, location, "physicalLocation", physical);
	return location;
}

static void add_trouble(struct sarif *sarif, const struct trouble *trouble)
{
	struct text text = {0};
	text_add_string(&text, trouble->message);
	if (trouble->suggestion)
		text_format(&text, ". Suggestion: %s", trouble->suggestion);
	sarif->failed = sarif->failed || text.failed;
	json_t *notification =
		json_pack("{s:s, s:o}", "level", "error", "message",
			  sarif_message(text.failed ? trouble->message : text.bytes));
	if (trouble->file)
		sarif_put(sarif, notification, "locations",
			  json_pack("[o]", trouble_location(sarif, trouble)));
	sarif_push(sarif, sarif->notifications, notification);
	text_finish(&text);
}

void sarif_add_troubles(struct sarif *sarif, const struct troubles *troubles)
{
	for (uint32_t i = 0; i < troubles->count; i++)
		add_trouble(sarif, &troubles->items[i]);
	if (troubles->failed)
		sarif_add_error(sarif, "out of memory");
}

void sarif_add_error(struct sarif *sarif, const char *message)
{
	struct trouble trouble = {.message = message};
	add_trouble(sarif, &trouble);
}

static json_t *tool_of(const struct sarif *sarif)
{
	return json_pack("{s:{s:s, s:s, s:O}}", "driver", "name", "cutlint", "semanticVersion",
			 sarif->version, "rules", sarif->rules);
}

/* What the exit status says is the same as without a log. */
static json_t *invocation_of(const struct sarif *sarif, int exit_status)
{
	return json_pack("{s:b, s:i, s:O}", "executionSuccessful", exit_status < 2, "exitCode",
			 exit_status, "toolExecutionNotifications", sarif->notifications);
}

/* Where relative references start from is not told (3.14.14): it would make logs differ. */
static json_t *bases(void)
{
	return json_pack("{s:{s:{s:s}}}", "SRCROOT", "description", "text",
			 "The folder in which cutlint was started.");
}

static void add_member(struct text *out, struct sarif *sarif, const char *key, json_t *value)
{
	text_format(out, "\"%s\": ", key);
	if (json_add_text(out, value, 0) < 0)
		sarif->failed = true;
	text_add_string(out, ",\n");
	json_decref(value);
}

int sarif_add_log(struct text *out, struct sarif *sarif, int exit_status)
{
	const char *key;
	json_t *result;
	json_object_foreach(sarif->job_results, key, result) add_result(sarif, json_incref(result));

	text_add_string(out, "{\n\"$schema\": \"" SCHEMA "\",\n\"version\": \"2.1.0\",\n"
			     "\"runs\": [{\n");
	add_member(out, sarif, "tool", tool_of(sarif));
	add_member(out, sarif, "invocations", json_pack("[o]", invocation_of(sarif, exit_status)));
	add_member(out, sarif, "columnKind", json_string("unicodeCodePoints"));
	/* Lone carriage returns end lines, too, beyond the default of 3.14.17. */
	add_member(out, sarif, "newlineSequences", json_pack("[s, s, s]", "\r\n", "\n", "\r"));
	add_member(out, sarif, "originalUriBaseIds", bases());
	add_member(out, sarif, "artifacts", json_incref(sarif->artifacts));
	text_add_string(out, "\"results\": [\n");
	text_add(out, sarif->results.bytes ? sarif->results.bytes : "", sarif->results.length);
	text_add_string(out, "\n]}]}\n");
	return sarif->failed || sarif->results.failed || out->failed ? -1 : 0;
}

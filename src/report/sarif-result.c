/* sarif-result.c - one finding as a result. */
#include "report/sarif-log.h"

/* 3.11.5: braces stand twice; 3.11.6: what looks like a link is none. */
static void add_plain(struct text *out, const char *string)
{
	for (const char *at = string; *at; at++) {
		if (at[0] == ']' && at[1] == '(')
			text_add_string(out, "\\");
		text_add(out, at, 1);
		if (*at == '{' || *at == '}')
			text_add(out, at, 1);
	}
}

json_t *sarif_message(const char *string)
{
	struct text text = {0};
	text_add(&text, "", 0);
	add_plain(&text, string);
	json_t *message =
		text.failed ? NULL : json_pack("{s:o}", "text", json_of_string(text.bytes));
	text_finish(&text);
	return message;
}

/* The first sentence says what is wrong (3.11.3), the second what to change. */
static json_t *message_of(const struct finding *finding)
{
	struct text text = {0};
	text_add_string(&text, finding->message);
	if (finding->job)
		text_format(&text, "; with %s", finding->job);
	if (finding->suggestion)
		text_format(&text, ". Suggestion: %s", finding->suggestion);
	json_t *message = text.failed ? NULL : sarif_message(text.bytes);
	text_finish(&text);
	return message;
}

static json_t *related_of(struct sarif *sarif, const struct sarif_files *files,
			  const struct finding *finding)
{
	json_t *list = json_array();
	for (uint32_t i = 0; i < finding->related_count; i++) {
		json_t *location = sarif_location(sarif, files, &finding->related[i]);
		sarif_put(sarif, location, "id", json_integer((json_int_t)i + 1));
		sarif_push(sarif, list, location);
	}
	return list;
}

static json_t *measure_of(const struct finding_measure *measure)
{
	return json_pack("{s:o, s:o, s:o, s:o}", "what", json_of_string(measure->what), "value",
			 json_of_figure(measure->value), "limit", json_of_figure(measure->limit),
			 "unit", json_of_string(measure->unit));
}

static json_t *properties_of(struct sarif *sarif, const struct finding *finding)
{
	json_t *measures = json_array(), *properties = json_object();
	for (uint32_t i = 0; i < finding->measure_count; i++)
		sarif_push(sarif, measures, measure_of(&finding->measures[i]));
	sarif_put(sarif, properties, "measures", measures);
	return properties;
}

static void put_fingerprint(struct sarif *sarif, json_t *result, const struct finding *finding,
			    struct fingerprints *fingerprints)
{
	char fingerprint[FINGERPRINT_LENGTH + 1];
	if (fingerprints_next(fingerprints, finding, fingerprint) < 0)
		sarif->failed = true;
	else
		sarif_put(sarif, result, "partialFingerprints",
			  json_pack("{s:s}", "cutlint/v1", fingerprint));
}

/*
 * 3.35.2: in the source where the drawing says it, external where the job file does. All results of
 * a run have the list, or none has (3.27.23).
 */
static void put_suppressions(struct sarif *sarif, json_t *result, const struct sarif_files *files,
			     const struct silence *silence)
{
	json_t *list = json_array();
	sarif_put(sarif, result, "suppressions", list);
	if (!silence)
		return;
	bool in_job = silence->place.in_job;
	json_t *suppression =
		json_pack("{s:s, s:s, s:o}", "kind", in_job ? "external" : "inSource", "status",
			  "accepted", "justification", json_of_string(silence->reason));
	sarif_put(sarif, suppression, "location", sarif_location(sarif, files, &silence->place));
	sarif_push(sarif, list, suppression);
}

static json_t *replacement_of(struct sarif *sarif, const struct source *source,
			      const struct finding_edit *edit)
{
	json_t *replacement = json_object();
	sarif_put(sarif, replacement, "deletedRegion",
		  sarif_region(sarif, source, edit->byte, edit->length));
	if (*edit->text)
		sarif_put(sarif, replacement, "insertedContent",
			  json_pack("{s:o}", "text", json_of_string(edit->text)));
	return replacement;
}

/*
 * 3.55. A text that is not the file's own is not offered edits: who makes them would have to encode
 * or to compress (3.57.4).
 */
static void put_fixes(struct sarif *sarif, json_t *result, const struct sarif_files *files,
		      const struct finding *finding)
{
	const struct source *source = files->drawing;
	if (!finding->edit_count || source->encoding || source->packed)
		return;
	json_t *replacements = json_array();
	for (uint32_t i = 0; i < finding->edit_count; i++)
		sarif_push(sarif, replacements, replacement_of(sarif, source, &finding->edits[i]));
	json_t *change = json_pack("{s:o, s:o}", "artifactLocation",
				   sarif_artifact_location(sarif, files->drawing_artifact),
				   "replacements", replacements);
	const char *what = finding->suggestion ? finding->suggestion : "mend it";
	sarif_put(sarif, result, "fixes",
		  json_pack("[{s:o, s:[o]}]", "description", sarif_message(what), "artifactChanges",
			    change));
}

json_t *sarif_result(struct sarif *sarif, const struct sarif_files *files,
		     const struct finding *finding, struct fingerprints *fingerprints)
{
	json_t *result =
		json_pack("{s:s, s:I, s:s, s:o, s:[o]}", "ruleId", finding->rule, "ruleIndex",
			  (json_int_t)sarif_rule_index(sarif, finding->rule), "level",
			  severity_word(finding->severity), "message", message_of(finding),
			  "locations", sarif_location_in_context(sarif, files, &finding->place));
	if (finding->related_count)
		sarif_put(sarif, result, "relatedLocations", related_of(sarif, files, finding));
	put_fingerprint(sarif, result, finding, fingerprints);
	put_suppressions(sarif, result, files, finding->silence);
	put_fixes(sarif, result, files, finding);
	if (finding->measure_count)
		sarif_put(sarif, result, "properties", properties_of(sarif, finding));
	return result;
}

/* sarif-rule.c - descriptors of rules (3.49), and of the findings that are cutlint's own. */
#include <string.h>

#include "engine/option.h"
#include "report/sarif-kind.h"
#include "report/sarif-log.h"

static json_t *take_text(struct text *text)
{
	json_t *string = text->failed || !text->bytes ? NULL : json_of_string(text->bytes);
	text_finish(text);
	return string;
}

static json_t *help_text(const struct cutlint_rule *rule)
{
	struct text text = {0};
	text_add_sentence(&text, rule->advice);
	text_format(&text, "\nIn the job file, section [rule %s]:", rule->name);
	text_add_string(&text, "\nseverity: note, warning, error or off, for all its findings.");
	for (size_t i = 0; i < option_count(rule); i++) {
		const struct cutlint_option *option = &rule->options[i];
		text_format(&text, "\n%s = %s: %s (", option->name, option->fallback,
			    option->meaning);
		option_add_range(&text, option);
		text_add_string(&text, ").");
	}
	return take_text(&text);
}

/* 3.11.4: no HTML; a bar would end a cell. */
static void add_cell(struct text *out, const char *string)
{
	for (; *string; string++) {
		if (strchr("|<>`*_[]\\", *string))
			text_add_string(out, "\\");
		text_add(out, string, 1);
	}
}

static void add_row(struct text *out, const struct cutlint_option *option)
{
	struct text range = {0};
	text_format(out, "| `%s` | %s | ", option->name, option->fallback);
	add_cell(out, option->meaning);
	text_add_string(out, " | ");
	option_add_range(&range, option);
	out->failed = out->failed || range.failed;
	add_cell(out, range.bytes ? range.bytes : "");
	text_add_string(out, " |\n");
	text_finish(&range);
}

static json_t *help_markdown(const struct cutlint_rule *rule)
{
	struct text text = {0};
	text_format(&text, "# %s\n\n", rule->name);
	text_add_sentence(&text, rule->summary);
	text_add_string(&text, "\n\n## What to do\n\n");
	text_add_sentence(&text, rule->advice);
	text_format(&text,
		    "\n\n## In the job file\n\nSection `[rule %s]`; `severity` (note, warning, "
		    "error or off) holds for all its findings.\n",
		    rule->name);
	if (option_count(rule))
		text_add_string(&text, "\n| option | default | meaning | range |\n"
				       "| --- | --- | --- | --- |\n");
	for (size_t i = 0; i < option_count(rule); i++)
		add_row(&text, &rule->options[i]);
	return take_text(&text);
}

static json_t *in_full(const struct cutlint_rule *rule)
{
	struct text text = {0};
	text_add_sentence(&text, rule->summary);
	text_add_string(&text, " ");
	text_add_sentence(&text, rule->advice);
	return take_text(&text);
}

static json_t *summary_of(const char *summary)
{
	struct text text = {0};
	text_add_sentence(&text, summary);
	return take_text(&text);
}

static json_t *options_of(struct sarif *sarif, const struct cutlint_rule *rule)
{
	json_t *options = json_object();
	for (size_t i = 0; i < option_count(rule); i++)
		sarif_put(sarif, options, rule->options[i].name,
			  json_of_string(rule->options[i].fallback));
	return options;
}

static json_t *descriptor_of(struct sarif *sarif, const struct cutlint_rule *rule)
{
	json_t *descriptor = json_pack(
		"{s:s, s:{s:o}, s:{s:o}, s:{s:o, s:o}, s:{s:s}}", "id", rule->name,
		"shortDescription", "text", summary_of(rule->summary), "fullDescription", "text",
		in_full(rule), "help", "text", help_text(rule), "markdown", help_markdown(rule),
		"defaultConfiguration", "level", severity_word(rule->severity));
	sarif_put(sarif, descriptor, "properties",
		  json_pack("{s:[s], s:o}", "tags", "laser-cutting", "defaults",
			    options_of(sarif, rule)));
	return descriptor;
}

static uint32_t add_descriptor(struct sarif *sarif, const char *id, json_t *descriptor)
{
	uint32_t index = (uint32_t)json_array_size(sarif->rules);
	sarif_push(sarif, sarif->rules, descriptor);
	sarif_put(sarif, sarif->rule_index, id, json_integer(index));
	return index;
}

void sarif_add_rules(struct sarif *sarif, const struct registry *registry)
{
	for (uint32_t i = 0; i < registry->count; i++) {
		const struct cutlint_rule *rule = registry->modules[i].rule;
		add_descriptor(sarif, rule->name, descriptor_of(sarif, rule));
	}
}

/* Which of these it is the user sees from its id. */
static const char OWN_HELP[] =
	"cutlint says this itself, not one of its rules. Its documents tell what it does then: "
	"docs/drawings.md for what is read and not read of a drawing, docs/silences.md for "
	"silences, docs/output.md for the rest.";

uint32_t sarif_rule_index(struct sarif *sarif, const char *rule)
{
	const json_t *known = json_object_get(sarif->rule_index, rule);
	if (known)
		return (uint32_t)json_integer_value(known);
	json_t *descriptor = json_pack("{s:s}", "id", rule);
	const char *summary = sarif_kind_summary(rule);
	if (!summary)
		summary = "what cutlint itself has to say";
	sarif_put(sarif, descriptor, "shortDescription",
		  json_pack("{s:o}", "text", summary_of(summary)));
	sarif_put(sarif, descriptor, "fullDescription",
		  json_pack("{s:o}", "text", summary_of(summary)));
	sarif_put(sarif, descriptor, "help", json_pack("{s:s}", "text", OWN_HELP));
	return add_descriptor(sarif, rule, descriptor);
}

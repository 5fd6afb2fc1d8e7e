/* rules.c - cutlint rules: which rules there are, and what one of them does. */
#include <stdlib.h>
#include <unistd.h>

#include "cli/command.h"
#include "cli/session.h"
#include "engine/finding.h"
#include "engine/option.h"

static const struct option OPTIONS[] = {
	{"rules", required_argument, NULL, 'r'},
	{"help", no_argument, NULL, 'h'},
	{NULL, 0, NULL, 0},
};

static void add_option(struct text *text, const struct cutlint_option *option)
{
	struct text range = {0};
	option_add_range(&range, option);
	text_format(text, "    %s = %s\n        %s; %s\n", option->name, option->fallback,
		    option->meaning, range.failed ? "?" : range.bytes);
	text_finish(&range);
}

static void add_options(struct text *text, const struct cutlint_rule *rule)
{
	for (size_t i = 0; i < option_count(rule); i++)
		add_option(text, &rule->options[i]);
}

static void add_brief(struct text *text, const struct cutlint_rule *rule)
{
	text_format(text, "%s (%s): %s\n", rule->name, severity_word(rule->severity),
		    rule->summary);
	add_options(text, rule);
}

static void add_in_full(struct text *text, const struct module *module)
{
	const struct cutlint_rule *rule = module->rule;
	text_format(text, "%s\n\n", rule->name);
	text_add_sentence(text, rule->summary);
	text_add_string(text, "\n");
	text_add_sentence(text, rule->advice);
	text_format(text, "\n\nGravest severity: %s\nModule: ", severity_word(rule->severity));
	text_add_escaped(text, module->file);
	text_format(text, "\n\nIn the job file, with the defaults:\n\n    [rule %s]\n", rule->name);
	text_add_string(text, "    severity = SEVERITY\n"
			      "        overrides the severity of all its findings; note, "
			      "warning, error or off (unset by default)\n");
	add_options(text, rule);
}

static int show(const struct session *session, const char *name)
{
	struct text text = {0};
	const struct module *module = name ? registry_find(&session->registry, name) : NULL;
	if (name && !module) {
		const char *near = registry_nearest(&session->registry, name);
		if (near)
			say_error("there is no rule '%s'; did you mean '%s'?", name, near);
		else
			say_error("there is no rule '%s'; 'cutlint rules' lists them", name);
		return STATUS_FAILED;
	}
	if (module)
		add_in_full(&text, module);
	for (uint32_t i = 0; !module && i < session->registry.count; i++)
		add_brief(&text, session->registry.modules[i].rule);
	return output_all(&text, session->failed ? STATUS_FAILED : STATUS_CLEAN);
}

static int load_and_show(const char **folders, size_t folder_count, char **names, int count)
{
	struct session session;
	if (count > 1) {
		say_error("'cutlint rules' explains one rule at a time");
		return STATUS_FAILED;
	}
	if (session_init(&session) < 0)
		return STATUS_FAILED;
	session.rule_folders = folders;
	session.rule_folder_count = folder_count;
	session.colour = colour_wanted(COLOUR_AUTO, STDERR_FILENO);
	session_load_rules(&session);
	int status = show(&session, count ? names[0] : NULL);
	session_finish(&session);
	return status;
}

static int run_rules(int argc, char **argv)
{
	size_t folder_count = 0;
	bool help = false;
	int option, status = STATUS_FAILED;
	const char **folders = calloc((size_t)argc, sizeof(*folders));
	if (!folders) {
		say_error("out of memory");
		return status;
	}
	option_start();
	while ((option = option_next(argc, argv, ":h", OPTIONS)) != -1) {
		if (option == OPTION_FAULT)
			goto out;
		if (option == 'r')
			folders[folder_count++] = optarg;
		else
			help = true;
	}
	status = help ? command_help.run(2, (char *[]){"help", "rules", NULL})
		      : load_and_show(folders, folder_count, argv + optind, argc - optind);
out:
	free(folders);
	return status;
}

const struct command command_rules = {
	.name = "rules",
	.summary = "list the rules with their options, or explain one",
	.usage = "usage: cutlint rules [--rules DIR]... [NAME]\n"
		 "\n"
		 "Lists all rules with their options, defaults and ranges; with a name, explains\n"
		 "that rule.\n"
		 "\n"
		 "  --rules DIR  load the rule modules of this folder, too (repeatable)\n"
		 "  -h, --help   print this\n",
	.run = run_rules,
};

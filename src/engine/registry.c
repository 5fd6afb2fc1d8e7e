#define _GNU_SOURCE /* dladdr1 */
#include "engine/registry.h"

#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <link.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/text.h"
#include "engine/descriptor.h"
#include "engine/grow.h"
#include "engine/home.h"
#include "engine/shared_object.h"
#include "job/nearest.h"

#define SUFFIX ".so"

static char *join(struct arena *arena, const char *folder, const char *name)
{
	struct text text = {0};
	text_format(&text, "%s/%s", folder, name);
	return text_keep(&text, arena);
}

static void refuse(struct troubles *troubles, const char *file, const char *why)
{
	trouble_add(troubles, "rule module '%s' is refused: %s", file, why);
}

/* Bytes of the data symbol at `symbol`; 0 if it is no data, SIZE_MAX where that can't be told. */
static size_t symbol_bytes(void *symbol)
{
	Dl_info info;
	ElfW(Sym) *entry = NULL;
	if (!dladdr1(symbol, &info, (void **)&entry, RTLD_DL_SYMENT) || !entry)
		return SIZE_MAX;
	return (entry->st_info & 0xf) == STT_OBJECT ? entry->st_size : 0;
}

/* Keeps the list sorted by name, so that the order of folders can't show in any output. */
static int insert(struct registry *registry, const char *file, const struct stat *status,
		  const struct cutlint_rule *rule)
{
	struct module *modules = list_grow(registry->arena, registry->modules, registry->count,
					   &registry->capacity, sizeof(*modules));
	if (!modules)
		return -1;
	registry->modules = modules;
	uint32_t at = registry->count;
	while (at > 0 && strcmp(modules[at - 1].rule->name, rule->name) > 0) {
		modules[at] = modules[at - 1];
		at--;
	}
	modules[at] = (struct module){
		.file = file, .rule = rule, .device = status->st_dev, .node = status->st_ino};
	registry->count++;
	return 0;
}

/* The descriptor of an opened module, NULL with the reason if it can't be taken. */
static const struct cutlint_rule *descriptor_of(const struct registry *registry, void *handle,
						const char *stem, struct text *why)
{
	void *symbol = dlsym(handle, CUTLINT_RULE_SYMBOL);
	if (!symbol) {
		text_format(why, "it has no symbol %s", CUTLINT_RULE_SYMBOL);
		return NULL;
	}
	const struct cutlint_rule *rule = symbol;
	if (descriptor_verify(rule, stem, symbol_bytes(symbol), why) < 0)
		return NULL;
	const struct module *taken = registry_find(registry, rule->name);
	if (taken) {
		text_format(why, "the name '%s' is taken by '%s'", rule->name, taken->file);
		return NULL;
	}
	return rule;
}

/* The very file, by whatever path: a folder may be named twice. */
static bool is_loaded(const struct registry *registry, const struct stat *status)
{
	for (uint32_t i = 0; i < registry->count; i++) {
		const struct module *module = &registry->modules[i];
		if (module->device == status->st_dev && module->node == status->st_ino)
			return true;
	}
	return false;
}

static void load(struct registry *registry, const char *file, const char *stem,
		 struct troubles *troubles)
{
	struct stat status = {0};
	if (stat(file, &status) == 0 && is_loaded(registry, &status))
		return;
	const char *fault = shared_object_fault(file);
	void *handle = fault ? NULL : dlopen(file, RTLD_NOW | RTLD_LOCAL);
	if (!handle) {
		refuse(troubles, file, fault ? fault : dlerror());
		return;
	}
	struct text why = {0};
	const struct cutlint_rule *rule = descriptor_of(registry, handle, stem, &why);
	if (rule && insert(registry, file, &status, rule) < 0) {
		text_add_string(&why, "out of memory");
		rule = NULL;
	}
	if (!rule) {
		refuse(troubles, file, why.failed ? "out of memory" : why.bytes);
		dlclose(handle);
	}
	text_finish(&why);
}

static int is_module(const struct dirent *entry)
{
	size_t length = strlen(entry->d_name), suffix = strlen(SUFFIX);
	return length > suffix && strcmp(entry->d_name + length - suffix, SUFFIX) == 0;
}

static int by_bytes(const struct dirent **a, const struct dirent **b)
{
	return strcmp((*a)->d_name, (*b)->d_name);
}

void registry_add_folder(struct registry *registry, const char *folder, struct troubles *troubles)
{
	struct dirent **entries = NULL;
	int count = scandir(folder, &entries, is_module, by_bytes);
	if (count < 0) {
		trouble_add(troubles, "cannot read the rule folder '%s': %s", folder,
			    strerror(errno));
		return;
	}
	for (int i = 0; i < count; i++) {
		const char *file = join(registry->arena, folder, entries[i]->d_name);
		const char *stem = arena_copy(registry->arena, entries[i]->d_name,
					      strlen(entries[i]->d_name) - strlen(SUFFIX));
		if (file && stem)
			load(registry, file, stem, troubles);
		else
			troubles->failed = true;
		free(entries[i]);
	}
	free(entries);
}

const struct module *registry_find(const struct registry *registry, const char *name)
{
	for (uint32_t i = 0; i < registry->count; i++) {
		if (strcmp(registry->modules[i].rule->name, name) == 0)
			return &registry->modules[i];
	}
	return NULL;
}

const char *registry_nearest(const struct registry *registry, const char *name)
{
	const char **names = calloc(registry->count + 1, sizeof(*names));
	if (!names)
		return NULL;
	for (uint32_t i = 0; i < registry->count; i++)
		names[i] = registry->modules[i].rule->name;
	const char *near = nearest_word(name, names, registry->count);
	free(names);
	return near;
}

const char *registry_own_folder(struct arena *arena)
{
	return home_path(arena, "cutlint/rules", "rules");
}

/* page.c - the proof as one page of HTML that asks for nothing from anywhere. */
#include <string.h>

#include "proof/caution.h"
#include "proof/embedded.h"
#include "proof/facts.h"
#include "proof/figure.h"
#include "proof/list.h"
#include "proof/plate.h"
#include "proof/section.h"
#include "proof/store.h"

static const char *last_name(const char *file)
{
	const char *slash = strrchr(file, '/');
	return slash && slash[1] ? slash + 1 : file;
}

static void write_meta(struct writer *writer, const char *name, const char *content)
{
	writer_open(writer, "meta");
	writer_attribute(writer, "name", name);
	writer_attribute(writer, "content", content);
	writer_close_empty(writer);
}

static void write_policy(struct writer *writer)
{
	writer_open(writer, "meta");
	writer_attribute(writer, "http-equiv", "Content-Security-Policy");
	writer_format(writer, "content",
		      "default-src 'none'; style-src %s; script-src %s; base-uri 'none'; "
		      "form-action 'none'",
		      page_style_hash, page_script_hash);
	writer_close_empty(writer);
}

static void write_head(struct page *page)
{
	struct writer *writer = &page->writer;
	writer_open(writer, "head");
	writer_open(writer, "meta");
	writer_attribute(writer, "charset", "utf-8");
	writer_close_empty(writer);
	write_policy(writer);
	write_meta(writer, "viewport", "width=device-width, initial-scale=1");
	write_meta(writer, "color-scheme", "light dark");
	writer_leaf_format(writer, "title", NULL, "Proof of %s",
			   last_name(page->scene.proof->design->file));
	writer_open(writer, "style");
	writer_own(writer, page_style);
	writer_close(writer);
	writer_close(writer);
}

static void add_count(struct text *text, uint32_t count, const char *what)
{
	if (count)
		text_format(text, "%s%u %s%s", text->length ? ", " : "", (unsigned)count, what,
			    count == 1 ? "" : "s");
}

static void write_verdict(struct page *page)
{
	struct list_tally tally = list_count(page->scene.proof->findings);
	struct text text = {0};
	add_count(&text, tally.by_severity[CUTLINT_ERROR], "error");
	add_count(&text, tally.by_severity[CUTLINT_WARNING], "warning");
	add_count(&text, tally.by_severity[CUTLINT_NOTE], "note");
	bool bad = tally.by_severity[CUTLINT_ERROR] || tally.by_severity[CUTLINT_WARNING];
	if (!text.length)
		text_add_string(&text, "Nothing found");
	if (tally.silenced)
		text_format(&text, "; %u silenced", (unsigned)tally.silenced);
	page->writer.failed = page->writer.failed || text.failed;
	writer_leaf_format(&page->writer, "p", "verdict", "%s%s", text.bytes,
			   bad ? ": not ready to cut." : ".");
	text_finish(&text);
	if (page->scene.proof->incomplete)
		writer_leaf(&page->writer, "p", "verdict",
			    "Not all rules could look: this proof may show less than there is.");
}

static void write_links(struct writer *writer)
{
	static const struct {
		const char *to, *text;
	} LINKS[] = {{"#look", "Finished card"},
		     {"#burn", "Burn and findings"},
		     {"#heat", "Heat"},
		     {"#facts", "Facts"},
		     {"#cautions", "Cautions"}};
	writer_open(writer, "nav");
	writer_attribute(writer, "aria-label", "On this page");
	for (size_t i = 0; i < sizeof(LINKS) / sizeof(*LINKS); i++) {
		writer_open(writer, "a");
		writer_attribute(writer, "href", LINKS[i].to);
		writer_text(writer, LINKS[i].text);
		writer_close(writer);
		writer_text(writer, " ");
	}
	writer_close(writer);
}

static void write_header(struct page *page)
{
	struct writer *writer = &page->writer;
	writer_open(writer, "header");
	writer_leaf(writer, "p", "kicker", "Proof before the burn");
	writer_leaf(writer, "h1", NULL, last_name(page->scene.proof->design->file));
	write_verdict(page);
	write_links(writer);
	writer_close(writer);
}

static void write_facts(struct page *page)
{
	plate_open_section(&page->writer, "facts", "Facts");
	facts_write(&page->scene, &page->writer, &page->order);
	writer_close(&page->writer);
}

static void write_body(struct page *page)
{
	struct writer *writer = &page->writer;
	writer_open(writer, "body");
	writer_open_class(writer, "a", "skip");
	writer_attribute(writer, "href", "#findings");
	writer_text(writer, "To the findings");
	writer_close(writer);
	figure_open(writer, "store", (struct cutlint_box){0, 0, 1, 1});
	writer_attribute(writer, "aria-hidden", "true");
	store_write(&page->scene, writer);
	writer_close_empty(writer);
	write_header(page);
	writer_open(writer, "main");
	section_look(page);
	section_burn(page);
	section_heat(page);
	write_facts(page);
	caution_write(writer);
	writer_close(writer);
	writer_open(writer, "footer");
	writer_leaf_format(writer, "p", NULL,
			   "Made by %s from %s. Lines are drawn anew, within "
			   "%.3g mm of the drawing's curves.",
			   page->scene.proof->maker, page->scene.proof->design->file,
			   page->scene.proof->design->flatness_mm);
	writer_close(writer);
	writer_open(writer, "script");
	writer_own(writer, page_script);
	writer_close(writer);
	writer_close(writer);
}

static int write_page(struct page *page, struct text *out)
{
	text_add_string(out, "<!DOCTYPE html>\n");
	writer_open(&page->writer, "html");
	writer_attribute(&page->writer, "xmlns", "http://www.w3.org/1999/xhtml");
	writer_attribute(&page->writer, "lang", "en");
	writer_attribute(&page->writer, "class", "plain");
	write_head(page);
	write_body(page);
	writer_close(&page->writer);
	return writer_take(&page->writer, out);
}

int proof_page(struct text *out, const struct proof *proof)
{
	struct page page = {.scene = scene_of(proof)};
	int status = -1;
	if (writer_init(&page.writer) == 0 && order_init(&page.order, proof) == 0 &&
	    heat_init(&page.heat, &page.scene) == 0)
		status = write_page(&page, out);
	heat_finish(&page.heat);
	order_finish(&page.order);
	writer_finish(&page.writer);
	return status;
}

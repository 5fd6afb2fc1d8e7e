#include "report/report.h"

void tally_add(struct tally *tally, const struct findings *findings)
{
	for (uint32_t i = 0; i < findings->count; i++) {
		const struct finding *finding = &findings->items[i];
		if (finding->silence)
			tally->silenced++;
		else
			tally->by_severity[finding->severity]++;
	}
}

static const char *plural(uint32_t count)
{
	return count == 1 ? "" : "s";
}

void report_tally(struct text *out, const struct tally *tally)
{
	bool any = false;
	for (int severity = CUTLINT_ERROR; severity >= CUTLINT_NOTE; severity--) {
		uint32_t count = tally->by_severity[severity];
		if (!count)
			continue;
		text_format(out, "%s%u %s%s", any ? ", " : "", count,
			    severity_word((enum cutlint_severity)severity), plural(count));
		any = true;
	}
	/* Where nothing could be looked at, "no findings" would read as good news. */
	if (!any && tally->failed_count == tally->file_count) {
		text_format(out, "%u file%s could not be checked in full\n", tally->file_count,
			    plural(tally->file_count));
		return;
	}
	if (!any)
		text_add_string(out, "no findings");
	text_format(out, " in %u file%s", tally->file_count, plural(tally->file_count));
	if (tally->silenced)
		text_format(out, "; %u silenced", tally->silenced);
	if (tally->failed_count)
		text_format(out, "; %u file%s could not be checked in full", tally->failed_count,
			    plural(tally->failed_count));
	text_add_string(out, "\n");
}

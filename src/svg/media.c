#include "svg/media.h"

#include "svg/declaration.h"

static enum svg_media media_of_query(struct svg_scan query)
{
	query = svg_trim(query);
	struct svg_scan word = svg_take_word(&query);
	bool negated = svg_is_word(word, "not");
	if (negated || svg_is_word(word, "only")) {
		svg_skip_spaces(&query);
		word = svg_take_word(&query);
	}
	svg_skip_spaces(&query);
	if (word.at == word.end)
		return SVG_MEDIA_ASKS;
	bool shown = svg_is_word(word, "all") || svg_is_word(word, "screen");
	bool asks = query.at < query.end;
	if (asks && (shown || negated))
		return SVG_MEDIA_ASKS;
	return shown != negated ? SVG_MEDIA_SHOWN : SVG_MEDIA_OTHER;
}

enum svg_media svg_media_of(struct svg_scan list)
{
	enum svg_media media = SVG_MEDIA_OTHER;
	list = svg_trim(list);
	if (list.at == list.end)
		return SVG_MEDIA_SHOWN;
	while (list.at < list.end) {
		enum svg_media one = media_of_query(svg_take_until(&list, ","));
		svg_take(&list, ',');
		if (one == SVG_MEDIA_SHOWN)
			return one;
		media = one == SVG_MEDIA_ASKS ? one : media;
	}
	return media;
}

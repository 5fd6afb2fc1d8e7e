/* media.h - for which media a style sheet or a part of it is (Media Queries 4). */
#ifndef SVG_MEDIA_H
#define SVG_MEDIA_H

#include "svg/scan.h"

enum svg_media {
	SVG_MEDIA_SHOWN, /* holds for a screen */
	SVG_MEDIA_OTHER, /* for print or another medium only */
	SVG_MEDIA_ASKS   /* asks for a property of the device, which nobody knows here */
};

/* Of a list of media queries; an empty one holds for all. */
enum svg_media svg_media_of(struct svg_scan list);

#endif

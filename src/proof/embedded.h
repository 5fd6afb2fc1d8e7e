/* embedded.h - the page's own style and script: page.css and page.js, as embed.py writes them. */
#ifndef PROOF_EMBEDDED_H
#define PROOF_EMBEDDED_H

extern const char page_style[], page_script[];

/* As a Content-Security-Policy takes them: "'sha256-...'". */
extern const char page_style_hash[], page_script_hash[];

#endif

/* sarif-kind.h - what each kind of cutlint's own findings says; docs/output.md lists them. */
#ifndef REPORT_SARIF_KIND_H
#define REPORT_SARIF_KIND_H

/* A phrase in lower case without full stop. NULL for no such kind. */
const char *sarif_kind_summary(const char *kind);

#endif

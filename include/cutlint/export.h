/* export.h - marks what libcutlint and its rule modules show to the outside. */
#ifndef CUTLINT_EXPORT_H
#define CUTLINT_EXPORT_H

#if defined(__GNUC__)
#define CUTLINT_EXPORT                __attribute__((visibility("default")))
#define CUTLINT_PRINTF(string, first) __attribute__((__format__(__printf__, string, first)))
#else
#define CUTLINT_EXPORT
#define CUTLINT_PRINTF(string, first)
#endif

#endif

/* sarif-log.h - what the parts of the SARIF writer share. */
#ifndef REPORT_SARIF_LOG_H
#define REPORT_SARIF_LOG_H

#include "cutlint/model.h"
#include "report/fingerprint.h"
#include "report/json.h"
#include "report/sarif.h"

struct sarif {
	const char *version;
	char *folder;           /* the current one, which relative references start from */
	json_t *rules;          /* reportingDescriptor objects */
	json_t *rule_index;     /* a rule's id to its place in `rules` */
	json_t *artifacts;      /* artifact objects */
	json_t *artifact_index; /* a file's name to its place in `artifacts` */
	json_t *notifications;  /* notification objects */
	json_t *job_results;    /* what was found in job files, each by its own text */
	struct text results;    /* result objects as text, since there may be very many */
	bool failed;            /* memory ran out */
};

/* Each takes the value also where it fails, and then sets sarif->failed. */
void sarif_put(struct sarif *sarif, json_t *object, const char *key, json_t *value);
void sarif_push(struct sarif *sarif, json_t *array, json_t *value);
/* A string; nothing for NULL. */
void sarif_put_string(struct sarif *sarif, json_t *object, const char *key, const char *string);

/* A message object (3.11) with a text in which nothing is a placeholder or a link. */
json_t *sarif_message(const char *text);

/* The place of a rule in the list; a kind of cutlint's own is added to it. */
uint32_t sarif_rule_index(struct sarif *sarif, const char *rule);

/* The role of a job file (3.24.6). */
#define SARIF_ROLE_CONFIG "userSpecifiedConfiguration"

/* Adds a file, if it is new, and returns its place in the list. `source` has at least a name. */
uint32_t sarif_artifact(struct sarif *sarif, const struct source *source, const char *role);

/* An artifactLocation object (3.4) for a file that was added. */
json_t *sarif_artifact_location(struct sarif *sarif, uint32_t artifact);

/* A region object (3.30): the same stretch as lines, as characters and, if it can be, as bytes. */
json_t *sarif_region(struct sarif *sarif, const struct source *source, uint32_t byte,
		     uint32_t length);

/* The files that the places of one drawing's findings lie in. */
struct sarif_files {
	const struct source *drawing, *job;
	uint32_t drawing_artifact, job_artifact;
	const struct cutlint_design *design; /* NULL without one */
};

/* A location object (3.28); the second has a contextRegion (3.29.5), too. */
json_t *sarif_location(struct sarif *sarif, const struct sarif_files *files,
		       const struct finding_place *place);
json_t *sarif_location_in_context(struct sarif *sarif, const struct sarif_files *files,
				  const struct finding_place *place);

/* A result object (3.27). */
json_t *sarif_result(struct sarif *sarif, const struct sarif_files *files,
		     const struct finding *finding, struct fingerprints *fingerprints);

#endif

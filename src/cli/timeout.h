/* timeout.h - the option --rule-timeout SECONDS of the commands that run rules. */
#ifndef CLI_TIMEOUT_H
#define CLI_TIMEOUT_H

/* A choice of this project. */
#define TIMEOUT_DEFAULT_S 60.0

/* Returns 0, or -1 for what is no time that it takes, which was said; 0 seconds are no limit. */
int timeout_take(double *limit_s, const char *value);

#endif

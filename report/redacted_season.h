/* redacted_season.h - the season that a command writes of: as it is, or without its names. */
#ifndef LAPWING_REPORT_REDACTED_SEASON_H
#define LAPWING_REPORT_REDACTED_SEASON_H

#include "report/report_options.h"
#include "schema/store.h"

struct redacted_season {
    struct store *store; /* to write of */
    struct store *owned; /* the copy; NULL where nothing is redacted */
};

/* Without redaction *made is the season itself. Else it is copied by options (report/redact.h), and the key's
 * file is read before and written again before anything else is, so that no id leaves unexplained; others who
 * could read it are told of on the error stream. with_asked as in struct redact_how. On OK the caller ends
 * *made with redacted_season_end(). BAD_INPUT: the key would lie among the files that are given away, or is none. */
enum status redacted_season_open(struct store *season, const char *campaign,
                                 const struct report_options *options, int with_asked,
                                 struct redacted_season *made, struct fault *fault);

/* The status to end with: a failure of closing when status is OK. */
enum status redacted_season_end(struct redacted_season *made, enum status status,
                                struct fault *fault);

/* The id of a declared name of a kind ("configuration", "facility", "entry"); the name itself where nothing is
 * redacted. NOT_FOUND: there is no such name. */
enum { REDACTED_ID = 200 };
enum status redacted_season_id(const struct redacted_season *made, const char *kind,
                               const char *name, char id[REDACTED_ID], struct fault *fault);

#endif

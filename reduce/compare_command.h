/* compare_command.h - `lapwing compare`: what is asked, and all of it but the page.
 *
 * The page is report's, and so is leaving out names: lapwing.c calls compare_begin(), then report where a copy
 * without names is wanted, compare_write(), report where a page is wanted, and compare_end(). */
#ifndef LAPWING_COMPARE_COMMAND_H
#define LAPWING_COMPARE_COMMAND_H

#include "reduce/compare_table.h"
#include "reduce/season_open.h"
#include "schema/command.h"

struct comparison {
    struct season season;           /* open; what is asked is in the tables of schema/asked.h */
    struct compare_request request; /* its texts belong to argv and to the campaign */
    unsigned without;               /* steps left out; 0: the deltas as they stand */
    int is_redacted;                /* 1: ids for names are wanted */
    const char *key_file;           /* of the ids; NULL: none; belongs to argv */
    const char *output;             /* file; NULL: standard output; belongs to argv */
    size_t flips;                   /* verdicts that --without flips */
};

/* Reads the arguments and asks. The caller ends *made with compare_end(), also after
 * a failure. */
enum status compare_begin(const struct common_options *common, int argc, char **argv,
                          struct comparison *made, struct fault *fault);

/* Writes text, CSV or JSON of what was asked: from made->season.store, or its copy without names. Nothing of a
 * page. */
enum status compare_write(struct comparison *made, struct store *store, struct fault *fault);

/* The status to end with: a failure of closing when status is OK. */
enum status compare_end(struct comparison *made, enum status status, struct fault *fault);

extern const char compare_usage[];

#endif

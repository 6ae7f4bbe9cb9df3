/* compare_command.h - `lapwing compare`: what is asked, and all of it but the page.
 *
 * The page is report's: lapwing.c calls compare_begin(), then report where a page is wanted, then
 * compare_end(). */
#ifndef LAPWING_COMPARE_COMMAND_H
#define LAPWING_COMPARE_COMMAND_H

#include "reduce/season_open.h"
#include "schema/command.h"

struct comparison {
    struct season season; /* open; what is asked is in the tables of schema/asked.h */
    int wants_page;       /* 1: nothing is written yet */
    const char *output;   /* file; NULL: standard output; belongs to argv */
    size_t flips;         /* verdicts that --without flips */
};

/* Reads the arguments, asks, and writes text, CSV or JSON. The caller ends *made with compare_end(), also after
 * a failure. */
enum status compare_begin(const struct common_options *common, int argc, char **argv,
                          struct comparison *made, struct fault *fault);

/* The status to end with: a failure of closing when status is OK. */
enum status compare_end(struct comparison *made, enum status status, struct fault *fault);

extern const char compare_usage[];

#endif

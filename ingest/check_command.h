/* check_command.h - `lapwing check`: read everything, report every problem, change nothing. */
#ifndef LAPWING_CHECK_COMMAND_H
#define LAPWING_CHECK_COMMAND_H

#include <stddef.h>

#include "schema/campaign.h"
#include "schema/command.h"

extern const struct command check_command;
extern const char check_usage[];

struct check_result {
    size_t sheet_problems; /* of campaign.yaml, the sheets, the balances' files and season.sqlite */
    size_t log_problems;
    size_t logs; /* read */
};

/* Problems of one log after which its reading stops; that it stopped is the last one told. */
enum { LOG_PROBLEMS_MAX = 1000 };

/* Checks a folder; report (may be NULL) is told every problem in the order of reading, one that all
 * logs of a map share once (ingest/problem_fold.h). OK also when
 * there are problems; other statuses: memory and the like. */
enum status check_folder(const char *folder, campaign_problem *report, void *context,
                         struct check_result *result, struct fault *fault);

#endif

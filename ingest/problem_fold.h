/* problem_fold.h - one fault of a channel map, met in every log that is read with it, told once.
 *
 * Problems of logs read with the same map that have the same text and stand at the same line and
 * column become the first of them, "(and 4 more logs)".                                            */
#ifndef LAPWING_PROBLEM_FOLD_H
#define LAPWING_PROBLEM_FOLD_H

#include <stddef.h>

#include "ingest/problems.h"

struct folded_problem;

struct problem_fold {
    const char *map, *file; /* of the log being read; set by the caller before it is read */
    struct folded_problem *items;
    size_t n, capacity;
    int failed; /* 1: a problem was lost for want of memory */
};

/* Takes a problem of the log that is being read; of the type campaign_problem, context is the fold. */
void problem_fold_take(void *fold, const struct fault *problem);

/* Tells every problem, folded, in the order of reading. NO_MEMORY when one was lost. */
enum status problem_fold_tell(struct problem_fold *fold, campaign_problem *report, void *context,
                              struct fault *fault);
void problem_fold_end(struct problem_fold *fold); /* an empty one is fine */

#endif

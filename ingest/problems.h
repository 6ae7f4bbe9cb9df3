/* problems.h - gathers everything that is wrong with a file before giving up on it. */
#ifndef LAPWING_PROBLEMS_H
#define LAPWING_PROBLEMS_H

#include <stddef.h>

#include "schema/campaign.h"
#include "schema/fault.h"

struct problems {
    campaign_problem *report; /* told of each; may be NULL */
    void *context;
    size_t n;
    struct fault first;
};

struct problems problems_to(campaign_problem *report, void *context);
void problems_add(struct problems *problems, const struct fault *problem);

/* OK when there was none, else BAD_INPUT with the first one in *fault. */
enum status problems_status(const struct problems *problems, struct fault *fault);

/* Adds a BAD_INPUT or NOT_FOUND to the problems and gives OK; gives any other status back. */
enum status problems_take(struct problems *problems, enum status status, const struct fault *fault);

#endif

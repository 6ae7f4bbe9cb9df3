/* problems.c - see problems.h. */
#include "ingest/problems.h"

struct problems problems_to(campaign_problem *report, void *context)
{
    return (struct problems){.report = report, .context = context};
}

void problems_add(struct problems *problems, const struct fault *problem)
{
    if (problems->n++ == 0)
        problems->first = *problem;
    if (problems->report != NULL)
        problems->report(problems->context, problem);
}

enum status problems_status(const struct problems *problems, struct fault *fault)
{
    if (problems->n == 0)
        return OK;
    if (fault != NULL)
        *fault = problems->first;
    return BAD_INPUT;
}

enum status problems_take(struct problems *problems, enum status status, const struct fault *fault)
{
    if (status != BAD_INPUT && status != NOT_FOUND)
        return status;
    problems_add(problems, fault);
    return OK;
}

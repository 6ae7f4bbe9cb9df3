/* mountings.c - numbering mountings; see mountings.h. */
#include "reduce/mountings.h"

#include <string.h>

static int same_configuration(const struct run_row *a, const struct run_row *b)
{
    return strcmp(a->configuration, b->configuration) == 0;
}

/* Mounting of an earlier run with this run's label; 0 when there is none. */
static size_t labelled_before(const struct run_row *const *runs, size_t at, const size_t *mounting)
{
    for (size_t i = 0; i < at; i++)
        if (same_configuration(runs[i], runs[at]) &&
            strcmp(runs[i]->mounting, runs[at]->mounting) == 0)
            return mounting[i];
    return 0;
}

static size_t highest_before(const struct run_row *const *runs, size_t at, const size_t *mounting)
{
    size_t highest = 0;
    for (size_t i = 0; i < at; i++)
        if (same_configuration(runs[i], runs[at]) && mounting[i] > highest)
            highest = mounting[i];
    return highest;
}

void mountings_number(const struct run_row *const *runs, size_t n, size_t *mounting)
{
    for (size_t i = 0; i < n; i++) {
        size_t known = 0;
        if (runs[i]->mounting[0] != '\0')
            known = labelled_before(runs, i, mounting);
        else if (i > 0 && same_configuration(runs[i - 1], runs[i]))
            known = mounting[i - 1];
        mounting[i] = known != 0 ? known : highest_before(runs, i, mounting) + 1;
    }
}

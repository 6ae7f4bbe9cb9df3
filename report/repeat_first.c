/* repeat_first.c - see repeat_first.h. */
#include "report/repeat_first.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

double repeat_needed(double delta, double worthwhile)
{
    return isfinite(delta) ? fmax(fabs(delta), worthwhile - fabs(delta)) : (double)NAN;
}

static double rate(const struct repeat_row *row)
{
    return row->doubt / row->minutes;
}

/* Number that is missing as the last of its kind. */
static int by_missing(double a, double b)
{
    return (isnan(a) != 0) - (isnan(b) != 0);
}

static int by_rank(const void *a, const void *b)
{
    const struct repeat_row *first = a;
    const struct repeat_row *second = b;
    int order = by_missing(second->doubt, first->doubt);

    if (order == 0)
        order = by_missing(first->minutes, second->minutes);
    if (order == 0 && !isnan(first->doubt) && !isnan(first->minutes))
        order = (rate(first) < rate(second)) - (rate(first) > rate(second));
    if (order == 0 && isnan(first->doubt))
        order = (first->minutes > second->minutes) - (first->minutes < second->minutes);
    if (order != 0)
        return order;
    return first->configuration < second->configuration ? -1 : 1;
}

/* What hangs on a run or two is as open as what has no verdict, and what a check on the night says to
 * repeat is here too. */
static int is_open(const struct findings *findings, const struct finding_configuration *at)
{
    if (at == trust_not_firm(findings) || findings_hangs_on(at)[0] != '\0')
        return 1;
    return !at->is_baseline && at->deltas[0].is_there &&
           (at->deltas[0].verdict[0] == '\0' ||
            strcmp(at->deltas[0].verdict, "can't tell yet") == 0);
}

enum status repeat_first(const struct findings *findings, const double *minutes,
                         struct repeat_row **rows, size_t *n, struct fault *fault)
{
    *n = 0;
    *rows = calloc(findings->n_configurations + 1, sizeof **rows);
    if (*rows == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to rank %zu configurations",
                    findings->n_configurations);
    for (size_t i = 0; findings->n_metrics > 0 && i < findings->n_configurations; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        const struct finding_delta *delta = &at->deltas[0];
        if (!is_open(findings, at))
            continue;
        struct repeat_row row = {at, minutes[i], NAN, NAN};
        row.needed = repeat_needed(delta->delta, findings->metrics[0].worthwhile);
        row.doubt = fmax(delta->half_width - row.needed, 0);
        if (!isfinite(delta->half_width) || !isfinite(row.needed))
            row.doubt = (double)NAN;
        (*rows)[(*n)++] = row;
    }
    qsort(*rows, *n, sizeof **rows, by_rank);
    return OK;
}

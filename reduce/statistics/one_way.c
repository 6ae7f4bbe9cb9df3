/* one_way.c - see one_way.h. */
#include "reduce/statistics/one_way.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>

#include "reduce/physics/finite.h"

struct group {
    size_t name, n;
    long double sum;     /* of values minus the first of all */
    long double squares; /* about the group's mean */
};

struct grouped {
    struct group *groups;
    size_t *place; /* n, into groups */
    size_t count;
};

static void grouped_free(struct grouped *grouped)
{
    free(grouped->groups);
    free(grouped->place);
}

static void fill_groups(const double *values, const size_t *group, size_t n,
                        struct grouped *grouped)
{
    for (size_t i = 0; i < n; i++) {
        size_t k = 0;
        while (k < grouped->count && grouped->groups[k].name != group[i])
            k++;
        if (k == grouped->count)
            grouped->groups[grouped->count++] = (struct group){.name = group[i]};
        grouped->place[i] = k;
        grouped->groups[k].n++;
        grouped->groups[k].sum += (long double)values[i] - values[0];
    }
    for (size_t i = 0; i < n; i++) {
        struct group *of = &grouped->groups[grouped->place[i]];
        long double off = (long double)values[i] - values[0] - of->sum / (long double)of->n;
        of->squares += off * off;
    }
}

/* The caller ends it with grouped_free() whatever the outcome. */
static enum outcome group_values(const double *values, const size_t *group, size_t n,
                                 struct grouped *grouped)
{
    *grouped = (struct grouped){NULL, NULL, 0};
    if (n < 3)
        return OUTCOME_TOO_FEW;
    if (!all_finite(values, n))
        return OUTCOME_NOT_FINITE;
    grouped->groups = calloc(n, sizeof *grouped->groups);
    grouped->place = calloc(n, sizeof *grouped->place);
    if (grouped->groups == NULL || grouped->place == NULL)
        return OUTCOME_NO_MEMORY;
    fill_groups(values, group, n, grouped);
    return grouped->count >= 2 && grouped->count < n ? OUTCOME_OK : OUTCOME_TOO_FEW;
}

static enum outcome analyse(const struct grouped *grouped, size_t n, struct one_way *result)
{
    long double sum = 0, within = 0, between = 0;

    for (size_t k = 0; k < grouped->count; k++) {
        sum += grouped->groups[k].sum;
        within += grouped->groups[k].squares;
    }
    for (size_t k = 0; k < grouped->count; k++) {
        const struct group *of = &grouped->groups[k];
        long double off = of->sum / (long double)of->n - sum / (long double)n;
        between += (long double)of->n * off * off;
    }
    if (!(within > 0))
        return OUTCOME_SINGULAR;
    double freedom = (double)grouped->count - 1, under = (double)(n - grouped->count);
    double f = (double)(between / freedom / (within / under));
    *result = (struct one_way){grouped->count,
                               (double)between,
                               (double)within,
                               (double)(within / under),
                               {f, freedom, under, gsl_cdf_fdist_Q(f, freedom, under)}};
    return OUTCOME_OK;
}

enum outcome one_way_analyse(const double *values, const size_t *group, size_t n,
                             struct one_way *result)
{
    struct grouped grouped;
    *result = (struct one_way){0, NAN, NAN, NAN, {NAN, NAN, NAN, NAN}};
    enum outcome outcome = group_values(values, group, n, &grouped);
    if (outcome == OUTCOME_OK)
        outcome = analyse(&grouped, n, result);
    grouped_free(&grouped);
    return outcome;
}

static enum outcome bartlett(const struct grouped *grouped, size_t n, struct group_test *test)
{
    double k = (double)grouped->count, freedom = (double)n - k;
    double squares = 0, logarithms = 0, inverses = 0;

    for (size_t i = 0; i < grouped->count; i++) {
        const struct group *of = &grouped->groups[i];
        double own = (double)of->n - 1;
        if (of->n < 2)
            return OUTCOME_TOO_FEW;
        if (!(of->squares > 0))
            return OUTCOME_SINGULAR;
        squares += (double)of->squares;
        logarithms += own * log((double)of->squares / own);
        inverses += 1 / own;
    }
    double correction = 1 + (inverses - 1 / freedom) / (3 * (k - 1));
    double statistic = (freedom * log(squares / freedom) - logarithms) / correction;
    *test = (struct group_test){statistic, k - 1, INFINITY, gsl_cdf_chisq_Q(statistic, k - 1)};
    return OUTCOME_OK;
}

enum outcome equal_variances_bartlett(const double *values, const size_t *group, size_t n,
                                      struct group_test *test)
{
    struct grouped grouped;
    *test = (struct group_test){NAN, NAN, NAN, NAN};
    enum outcome outcome = group_values(values, group, n, &grouped);
    if (outcome == OUTCOME_OK)
        outcome = bartlett(&grouped, n, test);
    grouped_free(&grouped);
    return outcome;
}

static void take_distances(const double *values, const struct grouped *grouped, size_t n,
                           double *sorted, double *distance)
{
    for (size_t k = 0; k < grouped->count; k++) {
        size_t m = 0;
        for (size_t i = 0; i < n; i++)
            if (grouped->place[i] == k)
                sorted[m++] = values[i];
        gsl_sort(sorted, 1, m);
        double median = gsl_stats_median_from_sorted_data(sorted, 1, m);
        for (size_t i = 0; i < n; i++)
            if (grouped->place[i] == k)
                distance[i] = fabs(values[i] - median);
    }
}

enum outcome equal_variances_levene(const double *values, const size_t *group, size_t n,
                                    struct group_test *test)
{
    struct grouped grouped;
    struct one_way result;
    *test = (struct group_test){NAN, NAN, NAN, NAN};
    enum outcome outcome = group_values(values, group, n, &grouped);
    double *sorted = calloc(n + 1, sizeof *sorted), *distance = calloc(n + 1, sizeof *distance);
    if (outcome == OUTCOME_OK && (sorted == NULL || distance == NULL))
        outcome = OUTCOME_NO_MEMORY;
    if (outcome == OUTCOME_OK) {
        take_distances(values, &grouped, n, sorted, distance);
        outcome = one_way_analyse(distance, group, n, &result);
        if (outcome == OUTCOME_OK)
            *test = result.f;
    }
    free(distance);
    free(sorted);
    grouped_free(&grouped);
    return outcome;
}

/* budget_sum.c - see budget_sum.h. */
#include "reduce/statistics/budget_sum.h"

#include <math.h>
#include <string.h>

struct budget_sum budget_sum_begin(const struct budget_term *terms, const double *correlation,
                                   size_t n)
{
    struct budget_sum sum = {.terms = terms, .correlation = correlation, .n = n};
    for (size_t i = 0; i < n; i++)
        sum.freedom[i] = (double)INFINITY;
    return sum;
}

/* c_i sum_j r_ij c_j */
static double net_of(const struct budget_sum *sum, const double *c, size_t i)
{
    double reached = 0;
    if (sum->correlation == NULL || c[i] == 0)
        return c[i] * c[i];
    for (size_t j = 0; j < sum->n; j++)
        reached += sum->correlation[i * sum->n + j] * c[j];
    return c[i] * reached;
}

void budget_sum_add(struct budget_sum *sum, const double *contribution, const double *freedom)
{
    double variance[UNCERTAINTY_SOURCES_MAX] = {0}, least[UNCERTAINTY_SOURCES_MAX];
    for (size_t i = 0; i < sum->n; i++)
        least[i] = (double)INFINITY;
    for (size_t i = 0; i < sum->n; i++) {
        size_t group = sum->terms[i].group;
        double net = net_of(sum, contribution, i);
        sum->own[i] += contribution[i] * contribution[i];
        sum->net[i] += net;
        variance[group] += net;
        if (contribution[i] != 0)
            least[group] = fmin(least[group], freedom[i]);
    }
    for (size_t i = 0; i < sum->n; i++) {
        if (sum->terms[i].is_estimated_anew) {
            sum->spread += variance[i] * variance[i] / least[i];
            continue;
        }
        sum->group[i] += variance[i];
        sum->freedom[i] = fmin(sum->freedom[i], least[i]);
    }
}

void budget_sum_join(struct budget_sum *sum, const struct budget_sum *other)
{
    for (size_t i = 0; i < sum->n; i++) {
        sum->own[i] += other->own[i];
        sum->net[i] += other->net[i];
        sum->group[i] += other->group[i];
        sum->freedom[i] = fmin(sum->freedom[i], other->freedom[i]);
    }
    sum->spread += other->spread;
}

struct combined budget_sum_total(const struct budget_sum *sum)
{
    double variance = 0, spread = sum->spread;
    for (size_t i = 0; i < sum->n; i++) {
        variance += sum->net[i];
        spread += sum->group[i] * sum->group[i] / sum->freedom[i];
    }
    variance = fmax(variance, 0);
    struct combined combined = {sqrt(variance), (double)INFINITY};
    if (spread > 0)
        combined.freedom = variance * variance / spread;
    return combined;
}

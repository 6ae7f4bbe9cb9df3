/* term_selection.c - see term_selection.h. */
#include "reduce/statistics/term_selection.h"

#include <math.h>
#include <stdlib.h>

#include "reduce/statistics/least_squares.h"

struct candidates {
    const double *x, *y;
    size_t n, p;
    const int *is_held;
    const unsigned char *needs;
    enum term_fate *fate;
    double *packed; /* n x terms that stay */
};

/* Column of the packed matrix for each term that stays; gives their number. */
static size_t pack(const struct candidates *all)
{
    size_t terms = 0;
    for (size_t j = 0; j < all->p; j++)
        terms += all->fate[j] == TERM_STAYS;
    for (size_t i = 0; i < all->n; i++) {
        size_t column = 0;
        for (size_t j = 0; j < all->p; j++)
            if (all->fate[j] == TERM_STAYS)
                all->packed[i * terms + column++] = all->x[i * all->p + j];
    }
    return terms;
}

static int may_go(const struct candidates *all, size_t j)
{
    if (all->fate[j] != TERM_STAYS || all->is_held[j])
        return 0;
    for (size_t k = 0; k < all->p; k++)
        if (k != j && all->fate[k] == TERM_STAYS && all->needs[k * all->p + j])
            return 0;
    return 1;
}

/* The next term to go, and why; 0 when all may stay. An exact fit has no t: nothing is weak then. */
static int find_next(const struct candidates *all, const struct least_squares *fit,
                     const struct term_rules *rules, size_t *next, enum term_fate *why,
                     double *value)
{
    double smallest[2] = {INFINITY, rules->least_t}; /* |t| of those too alike, of the others */
    int found[2] = {0, 0};
    size_t term[2] = {0, 0}, column = 0;
    double inflation = 0;
    for (size_t j = 0; j < all->p; j++) {
        if (all->fate[j] != TERM_STAYS)
            continue;
        double t = fit->error[column] > 0 ? fabs(fit->coefficient[column]) / fit->error[column]
                                          : (double)INFINITY;
        int is_alike = fit->inflation[column] > rules->most_inflation;
        int kind = is_alike ? 0 : 1;
        if (may_go(all, j) && (t < smallest[kind] || (is_alike && !found[0]))) {
            smallest[kind] = t;
            found[kind] = 1;
            term[kind] = j;
            inflation = is_alike ? fit->inflation[column] : inflation;
        }
        column++;
    }
    *next = found[0] ? term[0] : term[1];
    *why = found[0] ? TERM_TOO_ALIKE : TERM_TOO_WEAK;
    *value = found[0] ? inflation : smallest[1];
    return found[0] || found[1];
}

static enum outcome drop_one(struct candidates *all, const struct term_rules *rules, double *value,
                             int *more)
{
    struct least_squares fit;
    size_t terms = pack(all);
    enum outcome outcome = least_squares_fit(all->packed, all->y, all->n, terms, &fit);
    *more = 0;
    if (outcome != OUTCOME_OK)
        return outcome;
    size_t next = 0;
    enum term_fate why = TERM_STAYS;
    double size = 0;
    *more = find_next(all, &fit, rules, &next, &why, &size);
    if (*more) {
        all->fate[next] = why;
        value[next] = size;
    }
    least_squares_free(&fit);
    return OUTCOME_OK;
}

enum outcome term_selection(const double *x, const double *y, size_t n, size_t p,
                            const int *is_held, const unsigned char *needs,
                            const struct term_rules *rules, enum term_fate *fate, double *value)
{
    struct candidates all = {x, y, n, p, is_held, needs, fate, calloc(n * p + 1, sizeof(double))};
    enum outcome outcome = all.packed != NULL ? OUTCOME_OK : OUTCOME_NO_MEMORY;
    int more = 1;
    for (size_t j = 0; j < p; j++)
        value[j] = 0;
    while (outcome == OUTCOME_OK && more)
        outcome = drop_one(&all, rules, value, &more);
    free(all.packed);
    return outcome;
}

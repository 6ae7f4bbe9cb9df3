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

/* The term to go next of one kind, those too alike or the others. */
struct next_term {
    int found;
    size_t term;
    struct term_leaving with;
};

/* An exact fit has no t: nothing is weak then. */
static void find_next(const struct candidates *all, const struct least_squares *fit,
                      const struct term_rules *rules, struct next_term *alike,
                      struct next_term *weak)
{
    size_t column = 0;
    for (size_t j = 0; j < all->p; j++) {
        if (all->fate[j] != TERM_STAYS)
            continue;
        struct term_leaving with = {(double)INFINITY, fit->inflation[column]};
        if (fit->error[column] > 0)
            with.t = fabs(fit->coefficient[column]) / fit->error[column];
        column++;
        int is_alike = with.inflation > rules->most_inflation;
        struct next_term *next = is_alike ? alike : weak;
        if (!may_go(all, j) || (!is_alike && !(with.t < rules->least_t)) ||
            (next->found && !(with.t < next->with.t)))
            continue;
        *next = (struct next_term){1, j, with};
    }
}

static enum outcome drop_one(struct candidates *all, const struct term_rules *rules,
                             struct term_leaving *leaving, int *more)
{
    struct least_squares fit;
    struct next_term alike = {0}, weak = {0};
    size_t terms = pack(all);
    enum outcome outcome = least_squares_fit(all->packed, all->y, all->n, terms, &fit);
    *more = 0;
    if (outcome != OUTCOME_OK)
        return outcome;
    find_next(all, &fit, rules, &alike, &weak);
    least_squares_free(&fit);
    const struct next_term *next = alike.found ? &alike : &weak;
    *more = next->found;
    if (!*more)
        return OUTCOME_OK;
    all->fate[next->term] = alike.found ? TERM_TOO_ALIKE : TERM_TOO_WEAK;
    leaving[next->term] = next->with;
    return OUTCOME_OK;
}

enum outcome term_selection(const double *x, const double *y, size_t n, size_t p,
                            const int *is_held, const unsigned char *needs,
                            const struct term_rules *rules, enum term_fate *fate,
                            struct term_leaving *leaving)
{
    struct candidates all = {x, y, n, p, is_held, needs, fate, calloc(n * p + 1, sizeof(double))};
    enum outcome outcome = all.packed != NULL ? OUTCOME_OK : OUTCOME_NO_MEMORY;
    int more = 1;
    for (size_t j = 0; j < p; j++)
        leaving[j] = (struct term_leaving){0, 0};
    while (outcome == OUTCOME_OK && more)
        outcome = drop_one(&all, rules, leaving, &more);
    free(all.packed);
    return outcome;
}

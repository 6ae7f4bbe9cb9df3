/* plan_attitudes.c - see plan_attitudes.h. */
#include "reduce/plan_attitudes.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

static size_t find_target(const struct campaign *campaign, const char *name)
{
    size_t i = 0;
    while (name != NULL && i < campaign->attitudes.n_targets &&
           strcmp(campaign->attitudes.targets[i].name, name) != 0)
        i++;
    return name == NULL ? campaign->attitudes.n_targets : i;
}

/* As declared; else where the main measure is taken, where the pressures are drawn, or the first listed. */
static size_t find_reference(const struct campaign *campaign)
{
    const char *const names[] = {campaign->plan.reference, campaign->main_attitude,
                                 campaign->map_attitude};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        size_t target = find_target(campaign, names[i]);
        if (target < campaign->attitudes.n_targets)
            return target;
    }
    return campaign->plan.attitudes.n > 0 ? find_target(campaign, campaign->plan.attitudes.text[0])
                                          : 0;
}

/* Below 0: a is visited first. Heights from the side of the approach, then small yaw before large. */
static int compare_attitudes(const struct target *a, const struct target *b,
                             enum plan_approach approach)
{
    static const enum attitude_axis heights[] = {ATTITUDE_FRONT_RIDE_HEIGHT,
                                                 ATTITUDE_REAR_RIDE_HEIGHT};
    double sign = approach == APPROACH_FROM_ABOVE ? -1 : 1;
    for (size_t i = 0; i < 2; i++) {
        double apart = sign * (a->coordinate[heights[i]] - b->coordinate[heights[i]]);
        if (fabs(apart) > 0)
            return apart < 0 ? -1 : 1;
    }
    double apart = fabs(a->coordinate[ATTITUDE_YAW]) - fabs(b->coordinate[ATTITUDE_YAW]);
    return apart < 0 ? -1 : apart > 0;
}

/* By insertion: there are few, and those that are equal keep the order of the list. */
static void sort_by_height(const struct campaign *campaign, size_t *visit, size_t n)
{
    const struct target *targets = campaign->attitudes.targets;
    for (size_t i = 1; i < n; i++)
        for (size_t k = i; k > 0 && compare_attitudes(&targets[visit[k]], &targets[visit[k - 1]],
                                                      campaign->plan.approach) < 0;
             k--) {
            size_t kept = visit[k];
            visit[k] = visit[k - 1];
            visit[k - 1] = kept;
        }
}

enum status plan_attitudes_make(const struct campaign *campaign, struct plan_attitudes *attitudes,
                                struct fault *fault)
{
    const struct text_list *listed = &campaign->plan.attitudes;
    size_t n = listed->n > 0 ? listed->n : campaign->attitudes.n_targets;
    size_t reference = find_reference(campaign);
    void *array = NULL;
    *attitudes =
        (struct plan_attitudes){.is_random = campaign->plan.attitude_order == ATTITUDES_RANDOM,
                                .approach = campaign->plan.approach};
    enum status status = array_make(&array, n + 2, sizeof *attitudes->visit, fault);
    if (status != OK)
        return status;
    attitudes->visit = array;
    attitudes->visit[attitudes->n++] = reference;
    for (size_t i = 0; i < n; i++) {
        size_t target = listed->n > 0 ? find_target(campaign, listed->text[i]) : i;
        if (target != reference)
            attitudes->visit[attitudes->n++] = target;
    }
    if (attitudes->n == 1) /* nothing in between: once is enough */
        return OK;
    if (campaign->plan.attitude_order == ATTITUDES_BY_HEIGHT)
        sort_by_height(campaign, attitudes->visit + 1, attitudes->n - 1);
    attitudes->visit[attitudes->n++] = reference;
    return OK;
}

void plan_attitudes_end(struct plan_attitudes *attitudes)
{
    free(attitudes->visit);
    *attitudes = (struct plan_attitudes){.visit = NULL};
}

enum status plan_attitudes_of_run(const struct plan_attitudes *attitudes, unsigned long seed,
                                  size_t run, size_t *visit, struct fault *fault)
{
    memcpy(visit, attitudes->visit, attitudes->n * sizeof *visit);
    if (!attitudes->is_random || attitudes->n < 4)
        return OK;
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    if (random == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the order of the attitudes");
    gsl_rng_set(random, seed);
    for (size_t i = 0; i <= run; i++)
        gsl_ran_shuffle(random, visit + 1, attitudes->n - 2, sizeof *visit);
    gsl_rng_free(random);
    return OK;
}

/* compare_pair.c - see compare_pair.h. */
#include "reduce/compare_pair.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/compare_plan.h"
#include "reduce/family_contents.h"
#include "reduce/groups.h"
#include "reduce/measured_deltas.h"
#include "reduce/statistics/student.h"

static const char not_declared[] = "not declared before the night: exploratory, no verdict";

struct pair_work {
    const struct compare_request *request;
    const struct season_entry *entry;
    struct night night;
    struct family family;
    struct season_knowledge season;
    struct statement *insert;
    size_t first, second; /* in the family */
};

static int wants_quantity(const struct pair_work *work, enum quantity quantity)
{
    const char *metric = work->request->metric;
    const char *symbol = quantity_row(quantity)->symbol;
    if (metric == NULL || strcmp(metric, symbol) == 0)
        return 1;
    const struct metric *declared = campaign_metric(work->night.campaign, metric);
    return declared != NULL && strcmp(declared->quantity, symbol) == 0;
}

static int wants_measure(const struct pair_work *work, size_t measure)
{
    return work->request->attitude == NULL ||
           strcmp(work->request->attitude, work->family.measures[measure]) == 0;
}

struct difference {
    double value, standard, freedom, multiplier;
    const char *reason;
};

static struct difference subtract(const struct pair_work *work,
                                  const struct measured_deltas *deltas, double confidence)
{
    size_t a = work->first;
    size_t b = work->second;
    const struct delta_reading *first = &deltas->readings[a];
    const struct delta_reading *second = &deltas->readings[b];
    double variance = deltas->covariance[a * deltas->n + a] +
                      deltas->covariance[b * deltas->n + b] -
                      2 * deltas->covariance[a * deltas->n + b];
    struct difference difference = {.value = first->delta - second->delta,
                                    .standard = sqrt(fmax(variance, 0)),
                                    .freedom =
                                        fmin(first->degrees_of_freedom, second->degrees_of_freedom),
                                    .reason = not_declared};
    if (isfinite(variance) && difference.freedom > 0) {
        difference.multiplier = student_multiplier(confidence, difference.freedom);
        return difference;
    }
    difference.standard = difference.freedom = difference.multiplier = (double)NAN;
    difference.reason = first->reason[0] != '\0' ? first->reason : second->reason;
    return difference;
}

static const char *common_word(const char *first, const char *second)
{
    if (first == NULL || second == NULL)
        return "";
    return strcmp(first, second) == 0 ? first : "";
}

static enum status write_pair(struct pair_work *work, const struct measured_deltas *deltas,
                              enum quantity quantity, size_t measure, double confidence,
                              struct fault *fault)
{
    struct difference difference = subtract(work, deltas, confidence);
    const struct delta_reading *first = &deltas->readings[work->first];
    const struct delta_reading *second = &deltas->readings[work->second];
    double half = difference.multiplier * difference.standard;
    const char *const texts[] = {work->family.configurations[work->first],
                                 work->family.configurations[work->second],
                                 work->entry->facility,
                                 work->entry->entry,
                                 quantity_row(quantity)->symbol,
                                 work->family.measures[measure],
                                 difference.reason,
                                 common_word(first->method, second->method),
                                 common_word(first->noise_source, second->noise_source)};
    const double reals[] = {
        difference.value,        difference.standard,     difference.freedom,   half,
        difference.value - half, difference.value + half, difference.multiplier};
    enum status status = OK;
    if (isnan(difference.value))
        return OK;
    for (int i = 0; status == OK && i < 9; i++)
        status = statement_bind_text(work->insert, 1 + i, texts[i], fault);
    for (int i = 0; status == OK && i < 7; i++)
        status = statement_bind_real(work->insert, 10 + i,
                                     isfinite(reals[i]) ? reals[i] : (double)NAN, fault);
    if (status == OK)
        status = statement_bind_integer(work->insert, 17, (int64_t)first->mountings, fault);
    if (status == OK)
        status = statement_bind_integer(work->insert, 18, (int64_t)second->mountings, fault);
    return status == OK ? statement_run(work->insert, fault) : status;
}

static enum status write_measures(struct pair_work *work, struct fault *fault)
{
    const struct compare_plan plan = compare_plan_make(work->night.campaign, &work->family);
    enum status status = OK;
    for (size_t i = 0; i < plan.n_quantities; i++)
        for (size_t k = 0; status == OK && k < work->family.n_measures; k++) {
            const struct measuring measuring = {&work->family, &work->season, k, plan.confidence};
            struct measured_deltas deltas = {0};
            if (!wants_quantity(work, plan.quantities[i]) || !wants_measure(work, k))
                continue;
            status = measured_deltas_make(&measuring, plan.quantities[i], &deltas, fault);
            if (status == OK)
                status = write_pair(work, &deltas, plan.quantities[i], k, plan.confidence, fault);
            measured_deltas_end(&deltas);
        }
    return status;
}

static size_t find_configuration(const struct family *family, const char *name)
{
    size_t i = 0;
    while (i < family->n_configurations && strcmp(family->configurations[i], name) != 0)
        i++;
    return i;
}

static enum status compare_in(struct pair_work *work, const struct run_group *group,
                              struct fault *fault)
{
    enum status status = family_read(&work->night, group, BASIS_STANDS, &work->family, fault);
    if (status != OK)
        return status;
    work->first = find_configuration(&work->family, work->request->first);
    work->second = find_configuration(&work->family, work->request->second);
    const struct compare_plan plan = compare_plan_make(work->night.campaign, &work->family);
    size_t n = work->family.n_configurations;
    int is_pair = work->first > 0 && work->second > 0 && work->first < n && work->second < n;
    if (is_pair)
        status = family_keep_one_content(&work->night, &work->family, NULL, fault);
    if (is_pair && status == OK)
        status = season_knowledge_read(&work->night, &work->family, plan.quantities,
                                       plan.n_quantities, &work->season, fault);
    if (is_pair && status == OK)
        status = write_measures(work, fault);
    season_knowledge_end(&work->season);
    family_end(&work->family);
    return status;
}

/* The family of the first configuration in the entry; NULL when it was not run there. */
static const struct run_group *find_group(const struct pair_work *work,
                                          const struct group_list *list)
{
    const char *baseline = night_baseline(&work->night, work->request->first);
    for (size_t i = 0; i < list->n_groups; i++) {
        const struct run_group *group = &list->groups[i];
        if (strcmp(group->name, baseline) == 0 &&
            strcmp(group->runs[0]->facility, work->entry->facility) == 0 &&
            strcmp(group->runs[0]->entry, work->entry->entry) == 0)
            return group;
    }
    return NULL;
}

static enum status compare_groups(struct pair_work *work, struct fault *fault)
{
    struct group_list list;
    enum status status = groups_make(&work->night, GROUP_BY_FAMILY, &list, fault);
    if (status != OK)
        return status;
    const struct run_group *group = find_group(work, &list);
    if (group != NULL)
        status = compare_in(work, group, fault);
    groups_end(&list);
    return status;
}

enum status compare_pair(struct store *store, const struct compare_request *request,
                         const struct season_entry *entry, struct fault *fault)
{
    struct pair_work work = {.request = request, .entry = entry};
    if (request->campaign == NULL || request->first == NULL || request->second == NULL)
        return OK;
    enum status status = night_read(store, request->campaign, &work.night, fault);
    if (status != OK)
        return status;
    status = statement_prepare(
        store,
        "INSERT INTO asked_delta (is_pair, is_main, real_but_small, disagrees, configuration, "
        "baseline, facility, entry, quantity, target, reason, method, noise_source, delta, "
        "standard_uncertainty, degrees_of_freedom, half_width, lower, upper, multiplier, "
        "mountings, "
        "baseline_mountings) VALUES (1, 0, 0, 0, ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, "
        "?12, "
        "?13, ?14, ?15, ?16, ?17, ?18)",
        &work.insert, fault);
    if (status == OK)
        status = compare_groups(&work, fault);
    statement_free(work.insert);
    night_end(&work.night);
    return status;
}

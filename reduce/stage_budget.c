/* stage_budget.c - see stage_budget.h. */
#include "reduce/stage_budget.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/compare_plan.h"
#include "reduce/delta_budget.h"
#include "reduce/flagging.h"
#include "reduce/reductions.h"
#include "reduce/rows.h"
#include "reduce/stage_uncertainty.h"
#include "schema/bind_row.h"

static const char method_version[] = "shared sources cancel but for their scale v1";

/* Predicted and observed scatter farther apart than this, either way, are not one process: common
 * practice, no source. Fewer degrees of freedom tell no such ratio. */
static const double UNLIKE = 2;
static const double FREEDOM_LEAST = 3;

struct budget_work {
    const struct night *night;
    const struct run_group *group;
    struct family family;
    struct compare_plan plan;
    struct family_budget data;
    struct statement *total, *source;
    struct flagger flagger;
    int64_t reduction;
};

/* One quantity at one measure. */
struct place {
    enum quantity quantity;
    size_t output, measure;
    double observed, observed_freedom; /* sd of a mounting; NAN when not known */
};

static enum status make_key(const struct night *night, const struct run_group *group,
                            struct key_text *key, struct fault *fault)
{
    enum status status = OK;
    memset(key, 0, sizeof *key);
    for (size_t i = 0; status == OK && i < group->n_runs; i++) {
        char *subject = NULL;
        status = group_subject(group->runs[i], group->runs[i]->configuration, &subject, fault);
        if (status == OK)
            status = reduction_key_add(night->store, "uncertainty", subject, key, fault);
        free(subject);
    }
    if (status == OK)
        status = reduction_key_add(night->store, "compare", group->subject, key, fault);
    uncertainty_key_add(night->campaign, group->runs[0]->facility, key);
    key_text_word(key, "method budget", method_version);
    return status == OK ? key_text_status(key, fault) : status;
}

static enum status read_noise(const struct budget_work *work, struct place *place,
                              struct fault *fault)
{
    struct statement *row = NULL;
    int found = 0;
    const char *const texts[] = {work->group->subject, quantity_row(place->quantity)->symbol,
                                 work->family.measures[place->measure]};
    enum status status = rows_open(
        work->night->store,
        "SELECT n.standard_deviation, n.degrees_of_freedom FROM noise AS n JOIN reduction "
        "AS d ON d.reduction = n.reduction WHERE d.is_current = 1 AND d.stage = "
        "'compare' AND d.subject = ?1 AND n.quantity = ?2 AND n.target = ?3",
        texts, 3, &row, fault);
    if (status == OK)
        status = statement_step(row, &found, fault);
    place->observed = status == OK && found ? statement_real(row, 0) : (double)NAN;
    place->observed_freedom = status == OK && found ? statement_real(row, 1) : (double)NAN;
    statement_free(row);
    return status;
}

static enum status write_total(struct budget_work *work, size_t configuration,
                               const struct place *place, const struct budget_sum *of,
                               const struct budget_sum *baseline, const struct budget_sum *delta,
                               double predicted, struct fault *fault)
{
    struct combined absolute = budget_sum_total(of), shift = budget_sum_total(delta);
    const char *const texts[] = {
        work->family.configurations[configuration], work->family.configurations[0],
        quantity_row(place->quantity)->symbol, work->family.measures[place->measure]};
    const double reals[] = {
        absolute.standard, absolute.freedom,       budget_sum_total(baseline).standard,
        shift.standard,    shift.freedom,          predicted,
        place->observed,   place->observed_freedom};
    int is_main = compare_plan_is_main(&work->plan, &work->family, place->quantity, place->measure);
    enum status status = bind_texts(work->total, 1, texts, 4, fault);
    if (status == OK)
        status = bind_reals(work->total, 5, reals, 8, fault);
    if (status == OK)
        status = statement_bind_integer(work->total, 13, is_main, fault);
    if (status == OK)
        status = statement_bind_integer(work->total, 14, work->reduction, fault);
    return status == OK ? statement_run(work->total, fault) : status;
}

static int is_same_source(const struct budget_list *list, size_t a, size_t b)
{
    return strcmp(list->source[a].name, list->source[b].name) == 0 &&
           list->source[a].reach == list->source[b].reach;
}

/* A source's places are told as one, under the first of them. */
static enum status write_source(struct budget_work *work, size_t configuration,
                                const struct place *place, size_t first,
                                const struct budget_sum *const sums[3], double variance,
                                struct fault *fault)
{
    const struct budget_list *list = &work->data.list;
    double own[3] = {0}, net = 0;
    for (size_t i = first; i < BUDGET_PLACES; i++) {
        if (!is_same_source(list, first, i))
            continue;
        for (int k = 0; k < 3; k++)
            own[k] += sums[k]->own[i];
        net += sums[2]->net[i];
    }
    if (own[0] + own[1] + own[2] == 0)
        return OK;
    const char *const texts[] = {work->family.configurations[configuration],
                                 quantity_row(place->quantity)->symbol,
                                 work->family.measures[place->measure], list->source[first].name,
                                 budget_reach_word(first, list->source[first].reach)};
    const double reals[] = {sqrt(own[0]), sqrt(own[1]), sqrt(own[2]),
                            variance > 0 ? 100 * net / variance : 0};
    enum status status = bind_texts(work->source, 1, texts, 5, fault);
    if (status == OK)
        status = bind_reals(work->source, 6, reals, 4, fault);
    if (status == OK)
        status = statement_bind_integer(work->source, 10, (int64_t)first, fault);
    if (status == OK)
        status = statement_bind_integer(work->source, 11, work->reduction, fault);
    return status == OK ? statement_run(work->source, fault) : status;
}

static int is_first_of_name(const struct budget_list *list, size_t place)
{
    if (list->source[place].name[0] == '\0')
        return 0;
    for (size_t i = 0; i < place; i++)
        if (is_same_source(list, i, place))
            return 0;
    return 1;
}

static enum status write_configuration(struct budget_work *work, size_t configuration,
                                       const struct place *place,
                                       const struct configuration_budget *baseline,
                                       struct fault *fault)
{
    struct configuration_budget made;
    configuration_budget_make(&work->data, configuration, place->measure, place->output, &made);
    if (made.runs == 0 || baseline->runs == 0)
        return OK;
    struct budget_sum of = budget_absolute(&made), base = budget_absolute(baseline);
    struct budget_sum delta = budget_delta(&made, baseline);
    double total = budget_sum_total(&delta).standard;
    enum status status = write_total(work, configuration, place, &of, &base, &delta,
                                     sqrt(made.mounting_variance), fault);
    const struct budget_sum *const sums[] = {&of, &base, &delta};
    for (size_t i = 0; status == OK && i < BUDGET_PLACES; i++)
        if (is_first_of_name(&work->data.list, i))
            status = write_source(work, configuration, place, i, sums, total * total, fault);
    return status;
}

/* Of all mountings of the family; NAN without any. */
static double predicted_scatter(const struct budget_work *work, const struct place *place)
{
    double sum = 0;
    size_t n = 0;
    for (size_t i = 0; i < work->family.n_configurations; i++) {
        struct configuration_budget made;
        configuration_budget_make(&work->data, i, place->measure, place->output, &made);
        sum += made.mounting_variance * (double)made.mountings;
        n += made.mountings;
    }
    return n > 0 ? sqrt(sum / (double)n) : (double)NAN;
}

/* Only where somebody declared what the budget lacks: without it the two never agree. */
static enum status flag_unlike(struct budget_work *work, const struct place *place,
                               struct fault *fault)
{
    const struct run_row *run = work->group->runs[0];
    double predicted = predicted_scatter(work, place);
    double ratio = place->observed / predicted;
    if (campaign_uncertainties(work->night->campaign, run->facility) == NULL ||
        !(place->observed_freedom >= FREEDOM_LEAST) || !(predicted > 0) || !(place->observed > 0) ||
        (ratio <= UNLIKE && ratio >= 1 / UNLIKE))
        return OK;
    const char *symbol = quantity_row(place->quantity)->symbol;
    struct flag_note note = flag_note_make(FLAG_BUDGET_UNLIKE_SCATTER, "", "", symbol);
    note.value = place->observed;
    note.limit = ratio > 1 ? predicted * UNLIKE : predicted / UNLIKE;
    note.unit = quantity_row(place->quantity)->unit;
    (void)snprintf(note.detail, sizeof note.detail,
                   "%s at %.60s: mountings scatter by %.2g (%.1f degrees of freedom), the budget "
                   "says %.2g of one, ratio %.2g; %s",
                   symbol, work->family.measures[place->measure], place->observed,
                   place->observed_freedom, predicted, ratio,
                   ratio > 1
                       ? "something that changes from mounting to mounting is not in it: find it, "
                         "or declare it with reaches: run"
                       : "something in it that reaches a point or a run is too large, or "
                         "reaches farther than a run");
    return flagger_write(&work->flagger, &note, fault);
}

static enum status write_measure(struct budget_work *work, struct place *place, struct fault *fault)
{
    struct configuration_budget baseline;
    configuration_budget_make(&work->data, 0, place->measure, place->output, &baseline);
    enum status status = read_noise(work, place, fault);
    for (size_t i = 1; status == OK && i < work->family.n_configurations; i++)
        status = write_configuration(work, i, place, &baseline, fault);
    if (status == OK &&
        compare_plan_is_main(&work->plan, &work->family, place->quantity, place->measure))
        status = flag_unlike(work, place, fault);
    return status;
}

static enum status write_all(struct budget_work *work, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; i < work->plan.n_quantities; i++) {
        struct place place = {.quantity = work->plan.quantities[i]};
        place.output = uncertain_output(place.quantity);
        for (size_t k = 0;
             place.output < UNCERTAIN_OUTPUTS && status == OK && k < work->family.n_measures; k++) {
            place.measure = k;
            status = write_measure(work, &place, fault);
        }
    }
    return status;
}

static enum status open_writers(struct budget_work *work, struct fault *fault)
{
    struct store *store = work->night->store;
    enum status status = flagger_open(store, work->reduction, &work->flagger, fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "INSERT INTO delta_uncertainty (configuration, baseline, quantity, target, "
            "standard_configuration, degrees_of_freedom_configuration, standard_baseline, "
            "standard_delta, degrees_of_freedom_delta, predicted_scatter, observed_scatter, "
            "observed_degrees_of_freedom, is_main, reduction) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
            &work->total, fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "INSERT INTO delta_budget (configuration, quantity, target, source, reach, "
            "u_configuration, u_baseline, u_delta, share_percent, position, reduction) "
            "VALUES (?,?,?,?,?,?,?,?,?,?,?)",
            &work->source, fault);
    return status;
}

static enum status reduce_family(struct budget_work *work, struct fault *fault)
{
    enum status status = family_read(work->night, work->group, BASIS_STANDS, &work->family, fault);
    if (status != OK)
        return status;
    work->plan = compare_plan_make(work->night->campaign, &work->family);
    status = family_budget_read(work->night, work->group, &work->family, &work->data, fault);
    if (status == OK)
        status = open_writers(work, fault);
    if (status == OK)
        status = write_all(work, fault);
    statement_free(work->total);
    statement_free(work->source);
    flagger_end(&work->flagger);
    family_budget_end(&work->data);
    family_end(&work->family);
    return status;
}

enum status stage_budget(const struct night *night, const struct run_group *group, int *fresh,
                         struct fault *fault)
{
    struct key_text key;
    struct budget_work work;
    memset(&work, 0, sizeof work);
    work.night = night;
    work.group = group;
    *fresh = 0;
    enum status status = make_key(night, group, &key, fault);
    if (status == OK)
        status = store_reduction(night->store, "budget", group->subject, key.text, &work.reduction,
                                 fresh, fault);
    key_text_end(&key);
    return status == OK && *fresh ? reduce_family(&work, fault) : status;
}

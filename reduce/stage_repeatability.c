/* stage_repeatability.c - the repeatability of one family; see stage_repeatability.h. */
#include "reduce/stage_repeatability.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/compare_plan.h"
#include "reduce/family_contents.h"
#include "reduce/measure_evidence.h"
#include "reduce/reductions.h"
#include "reduce/repeat_points.h"
#include "reduce/repeat_weighted.h"
#include "reduce/repeatability.h"
#include "reduce/repeatability_rows.h"
#include "reduce/rows.h"
#include "reduce/statistics/visit_variances.h"

static const char method_version[] =
    "within and between visits, mountings by brackets, of one content v1";

struct repeat_work {
    const struct night *night;
    struct family family;
    struct compare_plan plan;
    struct repeat_points points;
    struct visit_point *values; /* room for every point and every run */
    struct repeatability_writer writer;
};

static void add_quantities(const struct campaign *campaign, struct key_text *key)
{
    for (size_t i = 0; i < campaign->n_metrics; i++)
        key_text_word(key, "quantity", campaign->metrics[i].quantity);
    for (size_t i = 0; i < campaign->attitudes.n_targets; i++) {
        key_text_word(key, "target", campaign->attitudes.targets[i].name);
        key_text_number(key, "  weight", campaign->attitudes.targets[i].weight);
    }
    key_text_number(key, "reference area [m2]", campaign->car.reference_area);
}

/* One line a run, so that a changed target reduction of any of its configurations is a new key. */
static enum status make_key(const struct night *night, const struct run_group *group,
                            struct key_text *key, struct fault *fault)
{
    enum status status = OK;
    memset(key, 0, sizeof *key);
    key_text_word(key, "baseline", group->name);
    for (size_t i = 0; i < night->n_configurations; i++)
        key_text_word(key, "configuration", night->configurations[i].configuration);
    add_quantities(night->campaign, key);
    key_text_number(key, "entry started_s", repeatability_entry_start(night, group->runs[0]));
    family_key_order(night, group->runs[0], key);
    for (size_t i = 0; status == OK && i < group->n_runs; i++) {
        char *subject = NULL;
        const struct run_row *run = group->runs[i];
        status = group_subject(run, run->configuration, &subject, fault);
        if (status == OK)
            status = reduction_key_add(night->store, "target", subject, key, fault);
        free(subject);
    }
    key_text_word(key, "method repeatability", method_version);
    return status == OK ? key_text_status(key, fault) : status;
}

/* Points at a target into work->values; gives how many, and the largest of them in *largest. */
static size_t take_points(const struct repeat_work *work, enum quantity quantity, size_t target,
                          double *largest)
{
    size_t n = 0;
    for (size_t i = 0; i < work->points.n; i++) {
        const struct repeat_point *point = &work->points.points[i];
        double value = point->value[quantity];
        if (point->target != target || !isfinite(value))
            continue;
        work->values[n++] = (struct visit_point){point->group, point->visit, value};
        *largest = fmax(*largest, fabs(value));
    }
    return n;
}

/* The same of the weighted values of runs: each is a visit. */
static size_t take_runs(const struct repeat_work *work, enum quantity quantity, size_t measure,
                        double *largest)
{
    size_t n = 0;
    for (size_t i = 0; i < work->family.n_runs; i++) {
        double value = family_value(&work->family, i, measure, quantity);
        if (work->points.run_group[i] == SIZE_MAX || !isfinite(value))
            continue;
        work->values[n++] = (struct visit_point){work->points.run_group[i], i, value};
        *largest = fmax(*largest, fabs(value));
    }
    return n;
}

/* Scatter below this share of the values is rounding of the arithmetic. */
static int is_rounding(struct variance_estimate estimate, double largest)
{
    static const double share = 1e-12;
    return estimate.variance <= share * largest * share * largest;
}

static enum status write_level(struct repeat_work *work, const struct repeatability_place *place,
                               enum variance_level level, struct visit_estimate estimate,
                               double largest, struct fault *fault)
{
    if (!(estimate.estimate.freedom > 0) || !isfinite(estimate.estimate.variance) ||
        is_rounding(estimate.estimate, largest))
        return OK;
    return repeatability_write_level(&work->writer, place, level, estimate.estimate,
                                     estimate.measurements, fault);
}

static enum status write_visits(struct repeat_work *work, const struct repeatability_place *place,
                                enum quantity quantity, size_t measure, struct fault *fault)
{
    struct visit_estimate within, returned;
    double largest = 0;
    int is_weighted = work->family.has_weighted && measure + 1 == work->family.n_measures;
    size_t n = is_weighted ? take_runs(work, quantity, measure, &largest)
                           : take_points(work, quantity, measure, &largest);
    visit_variances(work->values, n, &within, &returned);
    if (is_weighted)
        within = repeat_weighted_within(work->night->campaign, &work->family, &work->points,
                                        quantity, work->values);
    enum status status = write_level(work, place, VARIANCE_BACK_TO_BACK, within, largest, fault);
    if (status == OK)
        status = write_level(work, place, VARIANCE_RETURNED, returned, largest, fault);
    return status;
}

static enum status write_mountings(struct repeat_work *work,
                                   const struct repeatability_place *place,
                                   const struct evidence *evidence, struct fault *fault)
{
    const struct bracket_noise *noise = &evidence->bracket.noise;
    enum status status = OK;
    if (evidence_has_noise(evidence))
        status = write_level(
            work, place, VARIANCE_REFITTED,
            (struct visit_estimate){
                {noise->standard_deviation * noise->standard_deviation, noise->degrees_of_freedom},
                evidence->n},
            0, fault);
    for (size_t i = 0; status == OK && i < evidence->n;) {
        size_t configuration = evidence->mountings[i].configuration;
        double sum = 0;
        size_t mountings = 0;
        for (; i < evidence->n && evidence->mountings[i].configuration == configuration; i++) {
            sum += evidence->mountings[i].value;
            mountings++;
        }
        status = repeatability_write_mean(&work->writer, place,
                                          work->family.configurations[configuration], mountings,
                                          sum / (double)mountings, fault);
    }
    return status;
}

static enum status write_measure(struct repeat_work *work, enum quantity quantity, size_t measure,
                                 struct fault *fault)
{
    const struct repeatability_place place = {quantity_row(quantity)->symbol,
                                              work->family.measures[measure]};
    struct evidence evidence;
    enum status status = evidence_make(&work->family, quantity, measure, NULL, &evidence, fault);
    if (status != OK)
        return status;
    status = write_visits(work, &place, quantity, measure, fault);
    if (status == OK)
        status = write_mountings(work, &place, &evidence, fault);
    evidence_end(&evidence);
    return status;
}

static enum status read_family(struct repeat_work *work, const struct run_group *group,
                               struct fault *fault)
{
    void *array = NULL;
    enum status status = family_read(work->night, group, BASIS_STANDS, &work->family, fault);
    if (status == OK)
        status = family_keep_one_content(work->night, &work->family, NULL, fault);
    if (status == OK)
        status = repeat_points_read(work->night, &work->family, &work->points, fault);
    if (status == OK)
        status =
            array_make(&array, work->points.n + work->family.n_runs, sizeof *work->values, fault);
    work->values = array;
    work->plan = compare_plan_make(work->night->campaign, &work->family);
    return status;
}

static enum status write_family(const struct night *night, const struct run_group *group,
                                int64_t reduction, struct fault *fault)
{
    struct repeat_work work;
    memset(&work, 0, sizeof work);
    work.night = night;
    enum status status = read_family(&work, group, fault);
    if (status == OK)
        status = repeatability_writer_open(night, group->runs[0], reduction, &work.writer, fault);
    for (size_t i = 0; i < work.plan.n_quantities; i++)
        for (size_t k = 0; status == OK && k < work.family.n_measures; k++)
            status = write_measure(&work, work.plan.quantities[i], k, fault);
    repeatability_writer_end(&work.writer);
    free(work.values);
    repeat_points_end(&work.points);
    family_end(&work.family);
    return status;
}

enum status stage_repeatability(const struct night *night, const struct run_group *group,
                                int *fresh, struct fault *fault)
{
    struct key_text key;
    int64_t reduction = 0;
    *fresh = 0;
    enum status status = make_key(night, group, &key, fault);
    if (status == OK)
        status = store_reduction(night->store, "repeatability", group->subject, key.text,
                                 &reduction, fresh, fault);
    key_text_end(&key);
    if (status != OK || !*fresh)
        return status;
    return write_family(night, group, reduction, fault);
}

/* stage_compare.c - the comparison of one family; see stage_compare.h. */
#include "reduce/stage_compare.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/bracket_watch.h"
#include "reduce/compare_plan.h"
#include "reduce/compare_rows.h"
#include "reduce/exclusion_effects.h"
#include "reduce/family_contents.h"
#include "reduce/flagging.h"
#include "reduce/delta_shrink.h"
#include "reduce/point_quantities.h"
#include "reduce/reductions.h"
#include "reduce/robustness.h"
#include "reduce/rows.h"
#include "reduce/season_knowledge.h"

static const char method_version[] =
    "whole night by runs beside brackets by mounting, the season's noise "
    "where tonight's is thin, shared slope errors, simultaneous for the "
    "main measure, of one content v7";

struct compare_work {
    const struct night *night;
    const struct run_group *group;
    struct family family;
    struct compare_plan plan;
    struct season_knowledge season;
    struct compare_writer writer;
    struct flagger flagger;
};

static void add_metrics(const struct campaign *campaign, struct key_text *key)
{
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        const struct metric *metric = &campaign->metrics[i];
        const double values[] = {(double)metric->better, metric->toward, metric->worthwhile};
        key_text_word(key, "metric", metric->quantity);
        key_text_numbers(key, "  better toward worthwhile", values, 3);
    }
    for (size_t i = 0; i < campaign->attitudes.n_targets; i++) {
        key_text_word(key, "target", campaign->attitudes.targets[i].name);
        key_text_number(key, "  weight", campaign->attitudes.targets[i].weight);
    }
    const struct metric *metric =
        campaign->main_metric == NULL ? NULL : campaign_metric(campaign, campaign->main_metric);
    key_text_word(key, "main quantity", metric == NULL ? "" : metric->quantity);
    key_text_word(key, "main attitude",
                  campaign->main_attitude == NULL ? "" : campaign->main_attitude);
    key_text_number(key, "confidence", campaign->limits.confidence);
    key_text_number(key, "reference area [m2]", campaign->car.reference_area);
}

static enum status add_targets(const struct night *night, const struct run_group *group,
                               struct key_text *key, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < group->n_runs; i++) {
        char *subject = NULL;
        const struct run_row *run = group->runs[i];
        status = group_subject(run, run->configuration, &subject, fault);
        if (status == OK)
            status = reduction_key_add(night->store, "target", subject, key, fault);
        free(subject);
    }
    return status;
}

static enum status make_key(const struct night *night, const struct run_group *group,
                            struct key_text *key, struct fault *fault)
{
    memset(key, 0, sizeof *key);
    key_text_word(key, "baseline", group->name);
    for (size_t i = 0; i < night->n_configurations; i++)
        key_text_word(key, "configuration", night->configurations[i].configuration);
    add_metrics(night->campaign, key);
    family_key_order(night, group->runs[0], key);
    enum status status = add_targets(night, group, key, fault);
    if (status == OK)
        status = season_knowledge_key(night, group->runs[0], key, fault);
    key_text_word(key, "method compare", method_version);
    return status == OK ? key_text_status(key, fault) : status;
}

static enum status flag_configuration(struct compare_work *work, enum flag_rule rule,
                                      size_t configuration, enum flag_state state,
                                      const char *detail, struct fault *fault)
{
    struct flag_note note =
        flag_note_make(rule, "", "", work->family.configurations[configuration]);
    note.state = state;
    (void)snprintf(note.detail, sizeof note.detail, "%s", detail);
    return flagger_write(&work->flagger, &note, fault);
}

/* What the main measure's evidence is short of, once a configuration. */
static enum status flag_evidence(struct compare_work *work, const struct evidence *evidence,
                                 size_t configuration, const struct delta_reading *reading,
                                 struct fault *fault)
{
    int is_borrowed = reading->noise_source[0] == 's';
    if (configuration >= BRACKET_CONFIGURATIONS_MAX || evidence->counted[configuration] == 0)
        return OK;
    size_t mountings = evidence->counted[configuration];
    size_t left_out = mountings;
    enum status status = OK;
    if (evidence->outcome == OUTCOME_OK && !evidence->is_single)
        left_out = evidence->bracket.deltas[configuration].unbracketed;
    if (left_out > 0) {
        char detail[200];
        (void)snprintf(detail, sizeof detail,
                       "%zu of %zu mountings have no baseline return before and after", left_out,
                       mountings);
        status =
            flag_configuration(work, FLAG_UNBRACKETED, configuration,
                               isnan(reading->delta) ? FLAG_REFUSED : FLAG_FLAGGED, detail, fault);
    }
    if (status == OK && mountings == 1)
        status =
            flag_configuration(work, FLAG_NOT_REFITTED, configuration, FLAG_FLAGGED,
                               is_borrowed ? "1 mounting; the season's noise has its refit in it"
                                           : "1 mounting; a verdict needs 2",
                               fault);
    return status;
}

/* Two methods that do not agree, and noise that is not tonight's. */
static enum status flag_methods(struct compare_work *work, const struct evidence *evidence,
                                size_t configuration, const struct delta_reading *reading,
                                struct fault *fault)
{
    struct flag_note note =
        flag_note_make(FLAG_ESTIMATES_DISAGREE, "", "", work->family.configurations[configuration]);
    char text[240];
    enum status status = OK;
    if (reading->disagrees) {
        note.value = reading->delta - reading->beside.delta;
        note.limit = 2 * hypot(reading->standard_uncertainty, reading->beside.standard_error);
        note.unit = quantity_row(evidence->quantity)->unit;
        if (quantity_row(evidence->quantity)->in_counts)
            note.effect = fabs(note.value) / count_size(work->night->campaign);
        (void)snprintf(note.detail, sizeof note.detail,
                       "%s by the %s %+.4g, by the %s %+.4g: %.4g apart, limit %.4g",
                       quantity_row(evidence->quantity)->symbol, reading->method, reading->delta,
                       reading->method[0] == 'w' ? "local bracket" : "whole night",
                       reading->beside.delta, fabs(note.value), note.limit);
        status = flagger_write(&work->flagger, &note, fault);
    }
    if (status != OK || reading->noise_source[0] != 's')
        return status;
    (void)snprintf(
        text, sizeof text,
        "tonight's own noise has %.3g degrees of freedom, limit %d; the season's has %.3g",
        evidence_has_noise(evidence) ? evidence->bracket.noise.degrees_of_freedom : 0,
        (int)EVIDENCE_FREEDOM_LEAST, evidence->noise.freedom);
    return flag_configuration(work, FLAG_NOISE_BORROWED, configuration, FLAG_FLAGGED, text, fault);
}

/* What is thin about the main measure's interval, and the drift that its brackets span. */
static enum status flag_interval(struct compare_work *work, const struct evidence *evidence,
                                 size_t configuration, const struct delta_reading *reading,
                                 struct fault *fault)
{
    struct flag_note note;
    enum status status = OK;
    const struct metric *metric = work->plan.main_metric;
    if (delta_has_few_degrees(reading)) {
        note = flag_note_make(FLAG_FEW_DEGREES, "", "", work->family.configurations[configuration]);
        note.value = reading->degrees_of_freedom;
        note.limit = delta_few_degrees;
        note.unit = "1";
        (void)snprintf(note.detail, sizeof note.detail,
                       "the interval has %s, from %zu mounting%s and %zu of "
                       "the baseline; limit %g",
                       delta_freedom_text(reading).text, reading->mountings,
                       reading->mountings == 1 ? "" : "s", reading->baseline_mountings,
                       delta_few_degrees);
        status = flagger_write(&work->flagger, &note, fault);
    }
    if (status == OK)
        status = flag_methods(work, evidence, configuration, reading, fault);
    if (status == OK && metric != NULL &&
        bracket_watch_check(&work->family, evidence, configuration, work->night->campaign, metric,
                            &note))
        status = flagger_write(&work->flagger, &note, fault);
    return status;
}

static enum status write_deltas(struct compare_work *work, const struct evidence *evidence,
                                int is_main, int has_flags, struct fault *fault)
{
    const struct family *family = &work->family;
    void *array = NULL;
    enum status status =
        array_make(&array, family->n_configurations, sizeof(struct delta_reading), fault);
    struct delta_reading *readings = array;
    const struct season_measure *season =
        season_measure(&work->season, evidence->quantity, evidence->measure);
    const struct delta_rule rule = {work->plan.confidence, is_main ? work->plan.main_metric : NULL,
                                    season->entries, 0};
    if (status == OK) {
        delta_read_all(evidence, family->n_configurations, &rule, readings);
        status = delta_shrink(season, family->n_configurations, readings, fault);
    }
    for (size_t i = 1; status == OK && i < family->n_configurations; i++) {
        status =
            compare_write_delta(&work->writer, family, evidence, i, is_main, &readings[i], fault);
        if (status == OK && has_flags)
            status = flag_evidence(work, evidence, i, &readings[i], fault);
        if (status == OK && is_main)
            status = flag_interval(work, evidence, i, &readings[i], fault);
    }
    free(readings);
    return status;
}

/* Without a declared main measure the flags rest on the first quantity at the first target. */
static enum status compare_measure(struct compare_work *work, size_t quantity, size_t measure,
                                   struct fault *fault)
{
    struct evidence evidence;
    enum quantity kind = work->plan.quantities[quantity];
    int is_main = compare_plan_is_main(&work->plan, &work->family, kind, measure);
    int has_flags =
        compare_plan_has_main(&work->plan, &work->family) ? is_main : quantity == 0 && measure == 0;
    enum status status =
        evidence_make(&work->family, kind, measure,
                      &season_measure(&work->season, kind, measure)->refitted, &evidence, fault);
    if (status != OK)
        return status;
    status = compare_write_observations(&work->writer, &work->family, &evidence, fault);
    if (status == OK)
        status = write_deltas(work, &evidence, is_main, has_flags, fault);
    if (status == OK)
        status = compare_write_noise(&work->writer, &work->family, &evidence, fault);
    evidence_end(&evidence);
    return status;
}

/* A run that misses a weighted target has no weighted value: one flag a run, with the first that is
 * missing. Gives 0 when none is. */
static int find_missed(const struct attitudes *attitudes, const struct family_run *run,
                       struct flag_note *note)
{
    size_t missed = 0;
    size_t weighted = 0;
    double weight = 0;
    const char *first = NULL;
    for (size_t k = 0; k < attitudes->n_targets; k++) {
        const struct target *target = &attitudes->targets[k];
        if (!(target->weight > 0))
            continue;
        weighted++;
        if (isfinite(run->time[k]))
            continue;
        first = first == NULL ? target->name : first;
        weight += target->weight;
        missed++;
    }
    if (first == NULL)
        return 0;
    *note = flag_note_make(FLAG_ATTITUDE_NOT_MEASURED, run->run->run, "", first);
    note->value = weight;
    note->unit = "1";
    (void)snprintf(note->detail, sizeof note->detail,
                   "%zu of %zu weighted targets, weight %g, have no usable point, first %.80s: the "
                   "run has no weighted value",
                   missed, weighted, weight, first);
    return 1;
}

/* A run that is left out on purpose misses nothing. */
static int is_excluded(const struct night *night, const struct run_row *run)
{
    const struct decision_row *whole = decision_on(&night->decisions, run->run, "");
    return whole != NULL && whole->decision == DECISION_EXCLUDE;
}

static enum status flag_missed_targets(struct compare_work *work, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < work->family.n_runs; i++) {
        struct flag_note note;
        if (is_excluded(work->night, work->family.runs[i].run))
            continue;
        if (find_missed(&work->night->campaign->attitudes, &work->family.runs[i], &note))
            status = flagger_write(&work->flagger, &note, fault);
    }
    return status;
}

static enum status compare_family(struct compare_work *work, int64_t reduction, struct fault *fault)
{
    struct store *store = work->night->store;
    enum status status = family_read(work->night, work->group, BASIS_STANDS, &work->family, fault);
    if (status != OK)
        return status;
    work->plan = compare_plan_make(work->night->campaign, &work->family);
    status = flagger_open(store, reduction, &work->flagger, fault);
    if (status == OK)
        status = compare_writer_open(store, reduction, &work->writer, fault);
    if (status == OK)
        status = flag_missed_targets(work, fault);
    if (status == OK)
        status = family_keep_one_content(work->night, &work->family, &work->flagger, fault);
    if (status == OK)
        status = season_knowledge_read(work->night, &work->family, work->plan.quantities,
                                       work->plan.n_quantities, &work->season, fault);
    for (size_t i = 0; i < work->plan.n_quantities; i++)
        for (size_t k = 0; status == OK && k < work->family.n_measures; k++)
            status = compare_measure(work, i, k, fault);
    struct exclusion_request request = {work->night,   work->group,    &work->family, &work->plan,
                                        &work->season, &work->flagger, reduction,     0};
    if (status == OK)
        status = exclusion_effects_write(&request, fault);
    if (status == OK)
        status = robustness_write(&request, fault);
    season_knowledge_end(&work->season);
    compare_writer_end(&work->writer);
    flagger_end(&work->flagger);
    family_end(&work->family);
    return status;
}

enum status stage_compare(const struct night *night, const struct run_group *group, int *fresh,
                          struct fault *fault)
{
    struct key_text key;
    struct compare_work work;
    int64_t reduction = 0;
    memset(&work, 0, sizeof work);
    work.night = night;
    work.group = group;
    *fresh = 0;
    enum status status = make_key(night, group, &key, fault);
    if (status == OK)
        status = store_reduction(night->store, "compare", group->subject, key.text, &reduction,
                                 fresh, fault);
    key_text_end(&key);
    if (status != OK || !*fresh)
        return status;
    return compare_family(&work, reduction, fault);
}

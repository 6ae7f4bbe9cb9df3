/* stage_compare.c - the comparison of one family; see stage_compare.h. */
#include "reduce/stage_compare.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/compare_rows.h"
#include "reduce/flagging.h"
#include "reduce/reductions.h"

static const char method_version[] =
    "bracketed by mounting with shared slope errors, simultaneous for the main measure v2";

/* Compared beside the quantities of the metrics, because every one of them rests on them. */
static const enum quantity always[] = {QUANTITY_CLF, QUANTITY_CLR, QUANTITY_CY};

struct compare_work {
    const struct night *night;
    const struct run_group *group;
    struct family family;
    enum quantity quantities[QUANTITY_COUNT];
    size_t n_quantities;
    const struct metric *main_metric; /* NULL when none is declared */
    size_t main_measure;              /* n_measures when none is declared */
    struct compare_writer writer;
    struct flagger flagger;
};

static void add_quantity(struct compare_work *work, enum quantity quantity)
{
    if (quantity == QUANTITY_COUNT)
        return;
    for (size_t i = 0; i < work->n_quantities; i++)
        if (work->quantities[i] == quantity)
            return;
    work->quantities[work->n_quantities++] = quantity;
}

static void choose_measures(struct compare_work *work)
{
    const struct campaign *campaign = work->night->campaign;
    for (size_t i = 0; i < campaign->n_metrics; i++)
        add_quantity(work, quantity_from_symbol(campaign->metrics[i].quantity));
    for (size_t i = 0; i < sizeof always / sizeof always[0]; i++)
        add_quantity(work, always[i]);
    work->main_measure = work->family.n_measures;
    if (campaign->main_metric == NULL || campaign->main_attitude == NULL)
        return;
    work->main_metric = campaign_metric(campaign, campaign->main_metric);
    work->main_measure = family_measure(&work->family, campaign->main_attitude);
}

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
                                 size_t configuration, struct fault *fault)
{
    if (configuration >= BRACKET_CONFIGURATIONS_MAX || evidence->counted[configuration] == 0)
        return OK;
    size_t mountings = evidence->counted[configuration];
    size_t left_out = mountings;
    enum status status = OK;
    if (evidence->outcome == OUTCOME_OK)
        left_out = evidence->bracket.deltas[configuration].unbracketed;
    if (left_out > 0) {
        char detail[200];
        (void)snprintf(detail, sizeof detail,
                       "%zu of %zu mountings have no baseline return before and after", left_out,
                       mountings);
        status =
            flag_configuration(work, FLAG_UNBRACKETED, configuration,
                               left_out == mountings ? FLAG_REFUSED : FLAG_FLAGGED, detail, fault);
    }
    if (status == OK && mountings == 1)
        status = flag_configuration(work, FLAG_NOT_REFITTED, configuration, FLAG_FLAGGED,
                                    "1 mounting; a verdict needs 2", fault);
    return status;
}

static enum status write_deltas(struct compare_work *work, const struct evidence *evidence,
                                int is_main, int has_flags, struct fault *fault)
{
    const struct family *family = &work->family;
    double confidence = work->night->campaign->limits.confidence;
    struct delta_multiplier simultaneous =
        is_main ? delta_simultaneous(evidence, family->n_configurations, confidence)
                : (struct delta_multiplier){(double)NAN, (double)NAN};
    enum status status = OK;
    for (size_t i = 1; status == OK && i < family->n_configurations; i++) {
        struct delta_reading reading;
        delta_read(evidence, i, confidence, is_main ? &simultaneous : NULL,
                   is_main ? work->main_metric : NULL, &reading);
        status = compare_write_delta(&work->writer, family, evidence, i, is_main, &reading, fault);
        if (status == OK && has_flags)
            status = flag_evidence(work, evidence, i, fault);
    }
    return status;
}

/* Without a declared main measure the flags rest on the first quantity at the first target. */
static enum status compare_measure(struct compare_work *work, size_t quantity, size_t measure,
                                   struct fault *fault)
{
    struct evidence evidence;
    enum quantity kind = work->quantities[quantity];
    int has_main = work->main_metric != NULL && work->main_measure < work->family.n_measures;
    int is_main = has_main && measure == work->main_measure &&
                  kind == quantity_from_symbol(work->main_metric->quantity);
    int has_flags = has_main ? is_main : quantity == 0 && measure == 0;
    enum status status = evidence_make(&work->family, kind, measure, &evidence, fault);
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

static enum status flag_missed_targets(struct compare_work *work, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < work->family.n_runs; i++) {
        struct flag_note note;
        if (find_missed(&work->night->campaign->attitudes, &work->family.runs[i], &note))
            status = flagger_write(&work->flagger, &note, fault);
    }
    return status;
}

static enum status compare_family(struct compare_work *work, int64_t reduction, struct fault *fault)
{
    struct store *store = work->night->store;
    enum status status = family_read(work->night, work->group, &work->family, fault);
    if (status != OK)
        return status;
    choose_measures(work);
    status = flagger_open(store, reduction, &work->flagger, fault);
    if (status == OK)
        status = compare_writer_open(store, reduction, &work->writer, fault);
    if (status == OK)
        status = flag_missed_targets(work, fault);
    for (size_t i = 0; i < work->n_quantities; i++)
        for (size_t k = 0; status == OK && k < work->family.n_measures; k++)
            status = compare_measure(work, i, k, fault);
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

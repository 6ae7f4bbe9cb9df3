/* stage_uncertainty.c - see stage_uncertainty.h. */
#include "reduce/stage_uncertainty.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/budget_rows.h"
#include "reduce/point_quantities.h"
#include "reduce/reductions.h"
#include "reduce/rows.h"
#include "reduce/run_work.h"

static const char method_version[] = "central differences, trials where bent v1";

/* What the target stage did to a point. */
struct carried_row {
    const struct attained_point *point;
    int is_carried;
    double u[CARRIED_VALUES]; /* added by the step; NAN where none */
    double freedom;
};

struct uncertainty_work {
    const struct night *night;
    const struct run_group *group;
    struct attained_list list, part; /* part: of those that a comparison takes */
    struct target_fits **fits;       /* one a target, made when first asked for */
    struct carried_row *rows;        /* one a point of the list, in its order */
    struct budget_list sources;
    struct budget_writer writer;
    int wants_trials[UNCERTAIN_OUTPUTS];
};

void uncertainty_key_add(const struct campaign *campaign, const char *facility,
                         struct key_text *key)
{
    const struct facility_uncertainties *list = campaign_uncertainties(campaign, facility);
    for (size_t i = 0; list != NULL && i < list->n; i++) {
        const struct declared_uncertainty *item = &list->items[i];
        const double numbers[] = {item->standard,      item->is_relative,   item->freedom,
                                  (double)item->reach, (double)item->shape, item->correlation};
        key_text_word(key, "uncertainty", item->source);
        key_text_word(key, "  of", uncertain_input_row(item->of)->word);
        key_text_numbers(key, "  standard relative freedom reach shape correlation", numbers, 6);
        key_text_word(key, "  correlated with",
                      item->correlated_with != NULL ? item->correlated_with : "");
        key_text_word(key, "  unit", item->output_unit != NULL ? item->output_unit : "");
        key_text_word(key, "  evidence", item->evidence);
    }
}

static enum status make_key(const struct uncertainty_work *work, struct key_text *key,
                            struct fault *fault)
{
    const struct campaign *campaign = work->night->campaign;
    enum status status = OK;
    memset(key, 0, sizeof *key);
    for (size_t i = 0; status == OK && i < work->group->n_runs; i++)
        status =
            reduction_key_add(work->night->store, "point", work->group->runs[i]->run, key, fault);
    if (status == OK)
        status = reduction_key_add(work->night->store, "target", work->group->subject, key, fault);
    uncertainty_key_add(campaign, work->group->runs[0]->facility, key);
    for (size_t i = 0; i < campaign->n_metrics; i++)
        key_text_word(key, "metric", campaign->metrics[i].quantity);
    for (size_t i = 0; i < campaign->attitudes.n_targets; i++)
        key_text_number(key, "weight", campaign->attitudes.targets[i].weight);
    key_text_word(key, "main attitude", campaign->main_attitude);
    key_text_word(key, "method uncertainty", method_version);
    return status == OK ? key_text_status(key, fault) : status;
}

static struct carried_row *find_row(struct uncertainty_work *work, const char *run,
                                    const char *point)
{
    for (size_t i = 0; run != NULL && point != NULL && i < work->list.n; i++)
        if (strcmp(work->list.points[i].point, point) == 0 &&
            strcmp(work->list.points[i].run->run, run) == 0)
            return &work->rows[i];
    return NULL;
}

static const char carried_sql[] =
    "SELECT t.run, t.point, t.method = 'local fit', t.drag_coefficient_u, t.side_coefficient_u, "
    "t.downforce_coefficient_u, t.downforce_front_coefficient_u, t.downforce_rear_coefficient_u, "
    "t.roll_coefficient_u, t.pitch_coefficient_u, t.yaw_coefficient_u, t.balance_percent_u, "
    "t.fit_degrees_of_freedom FROM target_result AS t JOIN reduction AS d ON d.reduction = "
    "t.reduction WHERE d.is_current = 1 AND d.stage = 'target' AND d.subject = ?1";

static enum status read_carried(struct uncertainty_work *work, struct fault *fault)
{
    struct statement *statement = NULL;
    void *rows = NULL;
    int more = 0;
    enum status status = array_make(&rows, work->list.n, sizeof *work->rows, fault);
    work->rows = rows;
    const char *const texts[] = {work->group->subject};
    if (status == OK)
        status = rows_open(work->night->store, carried_sql, texts, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &more, fault)) == OK && more) {
        struct carried_row *row =
            find_row(work, statement_text(statement, 0), statement_text(statement, 1));
        if (row == NULL)
            continue;
        row->is_carried = statement_integer(statement, 2) != 0;
        for (int i = 0; i < CARRIED_VALUES; i++)
            row->u[i] = statement_real(statement, 3 + i);
        row->freedom = statement_real(statement, 3 + CARRIED_VALUES);
    }
    statement_free(statement);
    return status;
}

static enum status find_fits(struct uncertainty_work *work, const struct target *target,
                             const struct target_fits **fits, struct fault *fault)
{
    const struct attitudes *attitudes = &work->night->campaign->attitudes;
    size_t at = (size_t)(target - attitudes->targets);
    if (work->fits[at] == NULL) {
        void *array = NULL;
        enum status status = array_make(&array, 1, sizeof **work->fits, fault);
        if (status == OK)
            status = target_fits_make(&work->part, attitudes, target, array, fault);
        if (status != OK) {
            free(array);
            return status;
        }
        work->fits[at] = array;
    }
    *fits = work->fits[at];
    return OK;
}

static int is_main_target(const struct campaign *campaign, const struct target *target)
{
    if (target == NULL || campaign->main_attitude == NULL)
        return 0;
    return strcmp(campaign->main_attitude, "weighted") == 0
               ? target->weight > 0
               : strcmp(campaign->main_attitude, target->name) == 0;
}

static enum status make_budget(struct uncertainty_work *work, const struct run_work *run,
                               const struct carried_row *row, const struct tunnel_inputs *inputs,
                               struct fault *fault)
{
    const struct campaign *campaign = work->night->campaign;
    const struct attained_point *attained = row->point;
    struct attitude_match match = attitude_match(&campaign->attitudes, attained->attitude);
    const struct target_fits *fits = NULL;
    struct uncertain_point point;
    struct point_budget budget;
    if (match.target != NULL) {
        enum status status = find_fits(work, match.target, &fits, fault);
        if (status != OK)
            return status;
    }
    if (uncertain_point_make(&run->recipe.tunnel, inputs, attained->attitude, fits, &match,
                             row->is_carried, &point) != OUTCOME_OK)
        return OK; /* the point stage refuses it by name */
    struct budget_request request = {.work = run,
                                     .row = run_data_point(&run->data, attained->point),
                                     .list = &work->sources,
                                     .point = &point,
                                     .step_u = row->is_carried ? row->u : NULL,
                                     .step_freedom = row->freedom};
    if (is_main_target(campaign, match.target))
        memcpy(request.wants_trials, work->wants_trials, sizeof request.wants_trials);
    enum outcome outcome = point_budget_make(&request, &budget);
    if (outcome != OUTCOME_OK)
        return FAIL(fault, outcome == OUTCOME_NO_MEMORY ? NO_MEMORY : NO_RESULT,
                    "uncertainty of run %s point %s: %s", run->run->run, attained->point,
                    outcome_sentence(outcome));
    return budget_write_point(&work->writer, run->run->run, attained->point, &work->sources,
                              &budget, fault);
}

static enum status reduce_points(struct uncertainty_work *work, const struct run_work *run,
                                 struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < work->list.n; i++) {
        const struct attained_point *attained = &work->list.points[i];
        struct tunnel_inputs inputs;
        if (attained->run != run->run)
            continue;
        const struct point_row *row = run_data_point(&run->data, attained->point);
        if (row != NULL && point_inputs_fill(run, row, &inputs))
            status = make_budget(work, run, &work->rows[i], &inputs, fault);
    }
    return status;
}

static enum status reduce_run(struct uncertainty_work *work, const struct run_row *row,
                              struct fault *fault)
{
    struct run_work run;
    struct fault refusal;
    memset(&run, 0, sizeof run);
    run.night = work->night;
    run.run = row;
    enum status status = run_data_read(work->night, row->run, &run.data, fault);
    if (status == OK) {
        status = run_work_complete(&run, &refusal);
        if (status != OK && status != NO_RESULT && fault != NULL)
            *fault = refusal;
    }
    if (status == OK) {
        budget_list_begin(work->night->campaign, row->facility, &work->sources);
        status = budget_list_of_run(&run, &work->sources, fault);
    }
    if (status == OK)
        status = reduce_points(work, &run, fault);
    run_work_end(&run);
    return status == NO_RESULT ? OK : status;
}

static void choose_trials(struct uncertainty_work *work)
{
    const struct campaign *campaign = work->night->campaign;
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        size_t output = uncertain_output(quantity_from_symbol(campaign->metrics[i].quantity));
        if (output < UNCERTAIN_OUTPUTS)
            work->wants_trials[output] = 1;
    }
}

static enum status reduce_group(struct uncertainty_work *work, int64_t reduction,
                                struct fault *fault)
{
    size_t targets = work->night->campaign->attitudes.n_targets;
    void *fits = NULL;
    enum status status = attained_read(work->night, work->group, &work->list, fault);
    if (status == OK)
        status = attained_taking_part(&work->list, BASIS_STANDS, &work->part, fault);
    if (status == OK)
        status = array_make(&fits, targets, sizeof(struct target_fits *), fault);
    work->fits = fits;
    if (status == OK)
        status = read_carried(work, fault);
    for (size_t i = 0; status == OK && i < work->list.n; i++)
        work->rows[i].point = &work->list.points[i];
    if (status == OK)
        status = budget_writer_open(work->night->store, reduction, &work->writer, fault);
    budget_list_begin(work->night->campaign, work->group->runs[0]->facility, &work->sources);
    if (status == OK)
        status = budget_write_sources(&work->writer, &work->sources, fault);
    choose_trials(work);
    for (size_t i = 0; status == OK && i < work->group->n_runs; i++)
        status = reduce_run(work, work->group->runs[i], fault);
    for (size_t i = 0; work->fits != NULL && i < targets; i++)
        free(work->fits[i]);
    free(work->fits);
    free(work->rows);
    free(work->part.points);
    attained_end(&work->list);
    budget_writer_end(&work->writer);
    return status;
}

enum status stage_uncertainty(const struct night *night, const struct run_group *group, int *fresh,
                              struct fault *fault)
{
    struct key_text key;
    struct uncertainty_work work;
    int64_t reduction = 0;
    memset(&work, 0, sizeof work);
    work.night = night;
    work.group = group;
    *fresh = 0;
    enum status status = make_key(&work, &key, fault);
    if (status == OK)
        status = store_reduction(night->store, "uncertainty", group->subject, key.text, &reduction,
                                 fresh, fault);
    key_text_end(&key);
    return status == OK && *fresh ? reduce_group(&work, reduction, fault) : status;
}

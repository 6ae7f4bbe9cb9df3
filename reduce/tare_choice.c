/* tare_choice.c - choosing, reading and looking up the weight tare; see tare_choice.h. */
#include "reduce/tare_choice.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/inputs.h"
#include "reduce/physics/tunnel_loads.h"
#include "reduce/rows.h"
#include "reduce/sensed_heights.h"
#include "reduce/tare_fit.h"

static int is_tare_for(const struct run_row *tare, const struct run_row *run)
{
    return tare != run && tare->usable && strcmp(tare->kind, "weight_tare") == 0 &&
           run_same_entry(tare, run) && strcmp(tare->balance, run->balance) == 0;
}

static const struct run_row *nearest_tare(const struct night *night, const struct run_row *run)
{
    const struct run_row *nearest = NULL;
    for (size_t i = 0; i < night->n_runs; i++) {
        const struct run_row *tare = &night->runs[i];
        if (!is_tare_for(tare, run))
            continue;
        if (nearest == NULL || fabs(tare->start - run->start) < fabs(nearest->start - run->start))
            nearest = tare;
    }
    return nearest;
}

static void set_missing(struct tare_choice *choice, const char *before, const char *name,
                        const char *after)
{
    choice->kind = TARE_KIND_MISSING;
    choice->run = NULL;
    (void)snprintf(choice->missing, sizeof choice->missing, "%s %.80s %s", before, name, after);
}

/* What keeps a named run from being the weight tare of this one; NULL when nothing does. */
static const char *what_is_wrong(const struct run_row *tare, const struct run_row *run)
{
    if (tare == NULL)
        return "is not in the run sheet";
    if (!tare->usable)
        return "is quarantined";
    if (strcmp(tare->kind, "weight_tare") != 0)
        return "is not of kind weight_tare";
    return run_differs(tare, run);
}

static void choose_by_name(const struct night *night, const struct run_row *run,
                           struct tare_choice *choice)
{
    choice->kind = TARE_KIND_LOOKUP;
    choice->run = night_run(night, run->tare);
    const char *wrong = what_is_wrong(choice->run, run);
    if (wrong != NULL)
        set_missing(choice, "the weight tare", run->tare, wrong);
}

void tare_choose(const struct night *night, const struct run_row *run, struct tare_choice *choice)
{
    memset(choice, 0, sizeof *choice);
    const struct facility *facility = campaign_facility(night->campaign, run->facility);
    if (strcmp(run->tare, "none") == 0)
        return;
    if (run->tare[0] != '\0') {
        choose_by_name(night, run, choice);
        return;
    }
    if (facility == NULL || facility->weight_tare == TARE_NONE)
        return;
    choice->kind = TARE_KIND_LOOKUP;
    choice->run = nearest_tare(night, run);
    if (choice->run == NULL)
        set_missing(choice, "there is no usable weight_tare run in entry", run->entry,
                    "of the same facility and balance");
}

/* A cell that the tare run does not log keeps its zero as all that is taken off. */
static void reduce_cells(const struct tunnel_recipe *recipe, const struct tunnel_inputs *inputs,
                         struct tare_table *table, struct tare_point *made)
{
    for (int i = 0; i < WHEEL_CELLS; i++) {
        double drift = inputs->cell_zero_after[i] - inputs->cell_zero_before[i];
        int channel = run_data_channel(&table->data, recipe_cell_role((enum wheel_cell)i));
        made->cell[i] = 0;
        table->lacks_cells |= recipe->cell_added[i] && channel < 0;
        if (recipe->cell_added[i] && channel >= 0)
            made->cell[i] =
                inputs->cell[i] - inputs->cell_zero_before[i] - drift * inputs->zero_fraction;
    }
}

/* Loads of one tare point, balance axes: outputs minus their zero, through the calibration. */
static void reduce_point(const struct night *night, const struct run_recipe *recipe,
                         struct tare_table *table, const struct point_row *point,
                         struct tare_point *made)
{
    struct tunnel_inputs inputs;
    double output[6];
    inputs_fill(recipe, &table->data, point, &table->zeros, &inputs);
    for (int i = 0; i < 6; i++) {
        double drift = inputs.zero_after[i] - inputs.zero_before[i];
        output[i] = inputs.output[i] - inputs.zero_before[i] - drift * inputs.zero_fraction;
        made->load[i] = recipe->tunnel.source == LOADS_READY ? output[i] : (double)NAN;
    }
    if (recipe->tunnel.source == LOADS_FROM_OUTPUTS)
        (void)tunnel_balance_loads(&recipe->tunnel.calibration, &inputs, made->load);
    reduce_cells(&recipe->tunnel, &inputs, table, made);
    made->point = point->point;
    attained_attitude(night->campaign, recipe->facility, &table->data, point, made->attitude);
}

static enum status reduce_points(const struct night *night, const struct run_recipe *recipe,
                                 struct tare_table *table, struct fault *fault)
{
    void *array = NULL;
    enum status status = array_make(&array, table->data.n_points, sizeof *table->points, fault);
    if (status != OK)
        return status;
    table->points = array;
    table->n_points = table->data.n_points;
    for (size_t i = 0; i < table->n_points; i++)
        reduce_point(night, recipe, table, &table->data.points[i], &table->points[i]);
    return OK;
}

enum status tare_points_read(const struct night *night, const struct run_row *off,
                             const struct run_recipe *recipe, struct tare_table *table,
                             struct fault *fault)
{
    memset(table, 0, sizeof *table);
    table->choice.kind = TARE_KIND_LOOKUP;
    table->choice.run = off;
    enum status status = run_data_read(night, off->run, &table->data, fault);
    if (status == OK)
        status = zeros_read(night, off, &table->zeros, fault);
    if (status == OK && table->zeros.choice.kind == ZERO_KIND_MISSING)
        set_missing(&table->choice, "the tare has no zero:", table->zeros.choice.missing, "");
    else if (status == OK)
        status = reduce_points(night, recipe, table, fault);
    if (status != OK)
        tare_table_end(table);
    return status;
}

enum status tare_table_read(const struct night *night, const struct run_row *run,
                            const struct run_recipe *recipe, struct tare_table *table,
                            struct fault *fault)
{
    struct tare_choice choice;
    memset(table, 0, sizeof *table);
    if (!recipe_has_loads(&recipe->tunnel))
        return OK; /* the facility took the weight off before it made coefficients */
    tare_choose(night, run, &choice);
    table->choice = choice;
    if (choice.kind != TARE_KIND_LOOKUP)
        return OK;
    enum status status = tare_points_read(night, choice.run, recipe, table, fault);
    if (status != OK)
        return status;
    if (table->n_points > 0 && recipe->facility->weight_tare == TARE_FIT)
        status = tare_model_make(night, recipe, table, fault);
    if (status == OK && table->model.is_wanted && table->model.n == 0)
        set_missing(&table->choice, "no point of weight tare", choice.run->run,
                    "has loads and the pitch that a fit needs");
    if (status != OK)
        tare_table_end(table);
    return status;
}

void tare_table_end(struct tare_table *table)
{
    run_data_end(&table->data);
    zeros_end(&table->zeros);
    tare_model_end(&table->model);
    free(table->points);
    memset(table, 0, sizeof *table);
}

/* Largest distance over the compared axes in units of its tolerance (infinite when an attitude is
 * not known on one of them), its axis, and the square sum for ranking. */
static double scaled_distance(const double *tolerance, const double *a, const double *b, int *axis,
                              double *square_sum)
{
    double largest = 0;
    *square_sum = 0;
    *axis = -1;
    for (int i = 0; i < ATTITUDE_COUNT; i++) {
        if (!(tolerance[i] > 0))
            continue;
        double distance = fabs(a[i] - b[i]) / tolerance[i];
        if (isnan(distance))
            distance = (double)INFINITY;
        *square_sum += distance * distance;
        if (*axis < 0 || distance > largest) {
            largest = distance;
            *axis = i;
        }
    }
    return largest;
}

const struct tare_point *tare_lookup(const struct tare_table *table, const double *tolerance,
                                     const double attitude[ATTITUDE_COUNT], int *worst_axis,
                                     double *worst)
{
    const struct tare_point *nearest = NULL;
    double nearest_sum = 0;
    double nearest_largest = 0;
    int nearest_axis = -1;
    for (size_t i = 0; i < table->n_points; i++) {
        double sum = 0;
        int axis = -1;
        const struct tare_point *point = &table->points[i];
        double largest = scaled_distance(tolerance, attitude, point->attitude, &axis, &sum);
        if (nearest != NULL && !(sum < nearest_sum))
            continue;
        nearest = point;
        nearest_sum = sum;
        nearest_largest = largest;
        nearest_axis = axis;
    }
    if (worst_axis != NULL)
        *worst_axis = nearest_axis;
    if (worst != NULL && nearest != NULL && nearest_axis >= 0)
        *worst = fabs(attitude[nearest_axis] - nearest->attitude[nearest_axis]);
    return nearest != NULL && nearest_largest <= 1 ? nearest : NULL;
}

/* belt_tare.c - see belt_tare.h. */
#include "reduce/belt_tare.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/finite.h"
#include "reduce/rows.h"

enum { LOADS = 6 };

const struct run_row *belt_tare_choose(const struct night *night, const struct run_row *run)
{
    const struct facility *facility = campaign_facility(night->campaign, run->facility);
    const struct run_row *nearest = NULL;
    if (facility == NULL || facility->belt_tare == BELT_TARE_NONE)
        return NULL;
    for (size_t i = 0; i < night->n_runs; i++) {
        const struct run_row *belt = &night->runs[i];
        if (!belt->usable || strcmp(belt->kind, "belt_tare") != 0 || !run_same_entry(belt, run) ||
            strcmp(belt->balance, run->balance) != 0)
            continue;
        if (nearest == NULL || fabs(belt->start - run->start) < fabs(nearest->start - run->start))
            nearest = belt;
    }
    return nearest;
}

/* Loads of a belt point without the weight; NAN where the weight has no tare at its attitude. */
static void take_weight_off(const struct tare_table *weight, const double *tolerance,
                            const struct tare_point *read, struct belt_point *made)
{
    struct tare_found found;
    memset(&found, 0, sizeof found);
    enum outcome outcome = OUTCOME_OK;
    if (weight->choice.kind == TARE_KIND_LOOKUP)
        outcome = tare_at(weight, tolerance, read->attitude, &found, NULL, NULL);
    for (int i = 0; i < LOADS; i++)
        made->load[i] = outcome == OUTCOME_OK ? read->load[i] - found.load[i] : (double)NAN;
}

static enum status take_points(const struct run_recipe *recipe, const struct tare_table *weight,
                               struct belt_table *table, struct fault *fault)
{
    void *points = NULL;
    enum status status = array_make(&points, table->read.n_points, sizeof *table->points, fault);
    if (status != OK)
        return status;
    table->points = points;
    table->n_points = table->read.n_points;
    for (size_t i = 0; i < table->n_points; i++) {
        const struct tare_point *read = &table->read.points[i];
        struct belt_point *made = &table->points[i];
        made->point = read->point;
        memcpy(made->attitude, read->attitude, sizeof made->attitude);
        made->speed =
            run_data_mean(&table->read.data, &table->read.data.points[i], ROLE_BELT_SPEED);
        take_weight_off(weight, recipe->facility->tare_tolerance, read, made);
    }
    return OK;
}

enum status belt_table_read(const struct night *night, const struct run_row *run,
                            const struct run_recipe *recipe, const struct tare_table *weight,
                            struct belt_table *table, struct fault *fault)
{
    memset(table, 0, sizeof *table);
    if (!recipe_has_loads(&recipe->tunnel) || recipe->facility->belt_tare == BELT_TARE_NONE)
        return OK;
    table->kind = TARE_KIND_MISSING;
    table->run = belt_tare_choose(night, run);
    if (table->run == NULL) {
        (void)snprintf(table->missing, sizeof table->missing,
                       "there is no usable belt_tare run in entry %.60s of the same facility and "
                       "balance",
                       run->entry);
        return OK;
    }
    enum status status = tare_points_read(night, table->run, recipe, &table->read, fault);
    if (status == OK && table->read.choice.kind != TARE_KIND_LOOKUP)
        (void)snprintf(table->missing, sizeof table->missing, "belt tare %.40s: %.160s",
                       table->run->run, table->read.choice.missing);
    else if (status == OK)
        status = take_points(recipe, weight, table, fault);
    if (table->points != NULL)
        table->kind = TARE_KIND_LOOKUP;
    if (status != OK)
        belt_table_end(table);
    return status;
}

void belt_table_end(struct belt_table *table)
{
    tare_table_end(&table->read);
    free(table->points);
    memset(table, 0, sizeof *table);
}

/* Square sum of the distances in tolerances; NAN when one of them is beyond its own. */
static double distance_of(const struct belt_point *point, const struct facility *facility,
                          const double attitude[ATTITUDE_COUNT], double speed)
{
    double far = fabs(point->speed - speed) / facility->belt_tolerance;
    double sum = far * far;
    int is_within = far <= 1;
    for (int i = 0; i < ATTITUDE_COUNT; i++) {
        double tolerance = facility->tare_tolerance[i];
        if (!(tolerance > 0))
            continue;
        far = fabs(point->attitude[i] - attitude[i]) / tolerance;
        sum += far * far;
        is_within = is_within && far <= 1;
    }
    return is_within ? sum : (double)NAN;
}

const struct belt_point *belt_tare_at(const struct belt_table *table,
                                      const struct facility *facility,
                                      const double attitude[ATTITUDE_COUNT], double speed)
{
    const struct belt_point *nearest = NULL;
    double least = (double)INFINITY;
    for (size_t i = 0; i < table->n_points; i++) {
        double distance = distance_of(&table->points[i], facility, attitude, speed);
        if (!all_finite(table->points[i].load, LOADS) || !(distance < least))
            continue;
        least = distance;
        nearest = &table->points[i];
    }
    return nearest;
}

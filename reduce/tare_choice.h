/* tare_choice.h - the weight's part of the loads, looked up or modelled at the attitude of a point.
 *
 * A weight tare is a run with the wind off, one point an attitude. Each of its points is reduced to
 * loads in balance axes with the tare run's own zeros. A point of a wind-on run takes the tare point
 * whose attitude lies within the facility's tare_tolerance on every axis that has one, the nearest in
 * distance scaled by the tolerances: no such point, no coefficient. With weight_tare: fit a rigid weight
 * is fitted to the tare run, and what it leaves is interpolated between its points (tare_fit.h).
 * Common practice.                                                                                  */
#ifndef LAPWING_TARE_CHOICE_H
#define LAPWING_TARE_CHOICE_H

#include "reduce/night.h"
#include "reduce/physics/weight_model.h"
#include "reduce/recipe.h"
#include "reduce/zero_choice.h"

enum tare_kind {
    TARE_KIND_NONE,    /* declared none: zeros */
    TARE_KIND_MISSING, /* there should be a tare run and there is none */
    TARE_KIND_LOOKUP
};

struct tare_choice {
    enum tare_kind kind;
    const struct run_row *run; /* with TARE_KIND_LOOKUP */
    char missing[160];         /* with TARE_KIND_MISSING: what was looked for */
};

/* The run sheet's cell decides when written (RUN, none; RUN must be of kind weight_tare, of the same
 * facility, entry and balance); empty, the facility's rule: the usable
 * weight_tare run of the same facility, entry and balance nearest in time. */
void tare_choose(const struct night *night, const struct run_row *run, struct tare_choice *choice);

struct tare_point {
    const char *point;               /* belongs to the table's data */
    double attitude[ATTITUDE_COUNT]; /* NAN where not logged */
    double load[6];                  /* N, N m, balance axes; NAN when it has no zero */
    double cell[WHEEL_CELLS];        /* N, of the cells that are added; 0 for one it does not log */
};

/* A rigid weight fitted to the points, and what it leaves at each of them; tare_fit.h. */
struct tare_model {
    int is_wanted;             /* the facility says weight_tare: fit */
    enum outcome outcome;      /* of the fit; without a model the points' whole loads are left */
    struct weight_setup setup; /* weights in N, axes parallel to the car's */
    struct weight_fit fit;
    double wheelbase;             /* m: pitch is told by the ride heights over it */
    double sense[6];              /* balance axes to axes parallel to the car's, and back */
    size_t n;                     /* points with an attitude and loads */
    struct tare_point *point;     /* those that serve, copies */
    double (*residual)[6];        /* N, N m, balance axes: load minus model */
    size_t n_axes;                /* axes on which the sweep moves */
    int axis[ATTITUDE_COUNT];     /* which */
    double still[ATTITUDE_COUNT]; /* mean of an axis that is compared and does not move, else NAN */
    double *place;                /* n rows of n_axes coordinates, in tolerances */
    double *weight;               /* n; scratch */
};

struct tare_table {
    struct tare_choice choice;
    struct run_data data;
    struct zeros zeros;
    struct tare_point *points;
    size_t n_points;
    int lacks_cells; /* 1: cells are added, and the tare run does not log all of them */
    struct tare_model model;
};

/* Reads a wind-off run and reduces its points to loads in balance axes with the recipe's balance and the
 * run's own zeros; without zeros choice.kind becomes MISSING. On OK the caller ends *table with
 * tare_table_end(). */
enum status tare_points_read(const struct night *night, const struct run_row *off,
                             const struct run_recipe *recipe, struct tare_table *table,
                             struct fault *fault);

/* Chooses, reads and reduces the tare's points with the recipe's balance. The tare run's own zeros
 * being missing turns the kind to MISSING. On OK the caller ends *table with tare_table_end(). */
enum status tare_table_read(const struct night *night, const struct run_row *run,
                            const struct run_recipe *recipe, struct tare_table *table,
                            struct fault *fault);
void tare_table_end(struct tare_table *table);

/* Nearest tare point within tolerance, or NULL. *worst_axis and *worst (may be NULL) tell the axis
 * on which the nearest of all misses most, -1 when the table is empty. */
const struct tare_point *tare_lookup(const struct tare_table *table, const double *tolerance,
                                     const double attitude[ATTITUDE_COUNT], int *worst_axis,
                                     double *worst);

#endif

/* planned_order.h - the runs of a night with their mountings, and the time that they take.
 *
 * Every repeat is a mounting: a configuration that follows itself is taken off and fitted again, because
 * runs of one mounting prove no more than one. The exception is asked for: a configuration that is hard to
 * change is mounted once, in a bracket of its own, and its runs stand side by side (a whole plot of a split
 * plot; NIST/SEMATECH e-Handbook of Statistical Methods, 5.5.5). */
#ifndef LAPWING_PLANNED_ORDER_H
#define LAPWING_PLANNED_ORDER_H

#include <stddef.h>

#include "reduce/statistics/run_order.h"

struct planned_order {
    size_t n;                            /* runs */
    size_t configuration[RUN_ORDER_MAX]; /* 0 the baseline */
    size_t mounting[RUN_ORDER_MAX];      /* 0, 1 ..; equal where nothing was touched in between */
};

/* Those that are easy to change in the order of run_order.h, drawn by its seed; each that is hard to change
 * in a bracket of its own, the brackets spread evenly over the night. is_hard: request->configurations + 1
 * of them, [0] unused, or NULL. Outcomes as order_make(). */
enum outcome planned_order_make(const struct order_request *request, const int *is_hard,
                                struct planned_order *order);

/* An order that somebody wrote; every run is a mounting, except of what is hard to change.
 * OUTCOME_TOO_FEW: none; OUTCOME_SINGULAR: more than RUN_ORDER_MAX. */
enum outcome planned_order_take(const size_t *configurations, size_t n, const int *is_hard,
                                struct planned_order *order);

/* One entry a mounting, which is what counts as evidence: fills configuration (RUN_ORDER_MAX). */
size_t planned_order_mountings(const struct planned_order *order, size_t *configuration);

/* What a run needs before it. */
int planned_order_changes(const struct planned_order *order, size_t run); /* 1: it is mounted */
/* 1: another weight stands on the balance than before. is_heavy: 1 where a configuration's weight is not the
 * baseline's; NULL: none. The first run needs a sweep always. */
int planned_order_sweeps(const struct planned_order *order, const int *is_heavy, size_t run);

struct plan_times {
    double run;           /* s, one run with its zeros */
    double sweep;         /* s, one weight sweep with its zeros; 0: none are made */
    const double *change; /* s, to mount each configuration, [0] the baseline */
    const int *is_heavy;  /* as planned_order_sweeps() */
};

struct plan_duration {
    double runs, changes, sweeps, whole; /* s */
    size_t n_changes, n_sweeps;
};

/* Every run, a change before each mounting but the first (made before the night), a sweep where one is
 * needed and one at the end. */
struct plan_duration planned_order_duration(const struct planned_order *order,
                                            const struct plan_times *times);

#endif

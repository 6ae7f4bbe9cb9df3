/* budget_sources.h - the elemental sources of error of a run's points: what the campaign declares, and what the
 * program sees itself.
 *
 * Every source has a fixed place, so that budgets of two points can be laid beside each other. Scatter takes
 * as many places as it can have independent parts in CD CY CL CLF CLR; all of them are one source by
 * name. What the program knows: scatter of the means (point), drift between the zeros that is not linear,
 * dz/sqrt(12) (run), residual of the balance's calibration (always), constants of corrections fitted to
 * declared measurements (always), the slope that carries to the target (configuration).
 * The rectangular zero drift: common practice, no source.                                          */
#ifndef LAPWING_BUDGET_SOURCES_H
#define LAPWING_BUDGET_SOURCES_H

#include "reduce/reduced_point.h"
#include "reduce/statistics/budget_sum.h"
#include "schema/uncertain_input.h"

enum budget_place {
    BUDGET_SCATTER,                        /* parts in CD CY CL CLF CLR */
    BUDGET_STEP = BUDGET_SCATTER + 5,      /* to the target */
    BUDGET_ZERO = BUDGET_STEP + 1,         /* six */
    BUDGET_RESIDUAL = BUDGET_ZERO + 6,     /* six */
    BUDGET_CONSTANT = BUDGET_RESIDUAL + 6, /* slotted, vortex drag, flow turn, Reynolds CD CL CLF */
    BUDGET_DECLARED = BUDGET_CONSTANT + 6,
    BUDGET_PLACES = BUDGET_DECLARED + DECLARED_UNCERTAINTIES_MAX
};

struct budget_source {
    const char *name; /* "" for a place that is not used */
    const char *evidence;
    enum uncertain_input input; /* UNCERTAIN_INPUTS: none of them */
    double standard;            /* 0: nothing of it in this run */
    int is_relative;
    double freedom;
    enum error_reach reach;
    enum error_shape shape;
};

struct budget_list {
    struct budget_source source[BUDGET_PLACES];
    struct budget_term term[BUDGET_PLACES];
    double correlation[BUDGET_PLACES * BUDGET_PLACES];
    int has_correlation; /* 1: any of the declared ones */
};

/* What holds for every run of a facility: names, reaches, declared sizes, correlations. */
void budget_list_begin(const struct campaign *campaign, const char *facility,
                       struct budget_list *list);

/* Adds what is a run's own: zero drift, residual, constants of corrections, and declared sizes that the run's
 * balance does not fit are set to 0. */
enum status budget_list_of_run(const struct run_work *work, struct budget_list *list,
                               struct fault *fault);

/* How far a source at a place reaches, in words: "point" .. "always", "configuration" for the step. */
const char *budget_reach_word(size_t place, enum error_reach reach);

/* The correlation for budget_sum.h: NULL when there is none. */
const double *budget_list_correlation(const struct budget_list *list);

#endif

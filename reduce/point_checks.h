/* point_checks.h - what is worth a flag at one point, and at the run as a whole. */
#ifndef LAPWING_POINT_CHECKS_H
#define LAPWING_POINT_CHECKS_H

#include "reduce/flagging.h"
#include "reduce/reduced_point.h"

/* A check fills *note and gives 1 when there is something to say; detail included. */
typedef int point_check(const struct run_work *work, const struct reduced_point *made,
                        struct flag_note *note);

/* The checks of a point that has a number, NULL at the end. Limits that are not the campaign's:
 * samples missing above 1 % of a channel; balance undefined below five standard uncertainties of the
 * downforce; p0 - p and its measured difference apart by more than 1 %; CL and CLF + CLR apart by more
 * than 0.2 % of CL and three standard uncertainties, wheel loads and the balance's downforce alike;
 * height sensors off their plane, and logged heights off the sensed ones, by more than three standard
 * uncertainties beside the campaign's limit (common practice, no source). */
extern point_check *const point_checks[];

/* Checks that stand in files of their own: height_checks.c, cell_checks.c, balance_checks.c,
 * belt_check.c, size_checks.c. */
point_check check_heights_missing, check_height_silent, check_height_residual, check_height_log;
point_check check_wheel_sum, check_belt_speed;
point_check check_load_box, check_calibration_box, check_calibration_temperature;

/* size_checks.c: the main metric's standard uncertainty above half of its smallest delta worth having;
 * one correction above 20 % of the coefficient before all of them (common practice, no source). */
point_check check_standard_error, check_correction_size;

/* The flag of a point without a number: which rule, and the outcome's sentence. */
void point_refusal(const struct run_work *work, const struct reduced_point *made,
                   struct flag_note *note);

/* The flag of a point that a cell without samples refuses, the cell named; 0 when none does. */
int cell_refusal(const struct run_work *work, const struct reduced_point *made,
                 struct flag_note *note);

/* 1 when the downforce is within five of its standard uncertainties of zero, or is zero. */
int point_balance_undefined(const struct reduced_point *made);

/* The largest effect that the whole drift of the zero has on a quantity with a metric, balance and L/D
 * and areas too, as a share of the metric's worthwhile delta. Every point of a run adds itself; the run
 * is flagged once. */
struct drift_watch {
    const struct metric *metric; /* of the largest share; NULL before the first point */
    double share;  /* of the metric's worthwhile delta, 2.33 standard uncertainties added */
    double delta;  /* of that metric's quantity, from the zero before to the zero after */
    double u;      /* standard uncertainty of delta, from the standard errors of both zeros */
    double effect; /* the same on the main metric, in counts; NAN when not known */
};
void drift_watch_add(struct drift_watch *watch, const struct run_work *work,
                     const struct reduced_point *made);
int drift_watch_check(const struct drift_watch *watch, const struct run_work *work,
                      struct flag_note *note);

#endif

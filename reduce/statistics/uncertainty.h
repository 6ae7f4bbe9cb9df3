/* uncertainty.h - from the errors of the channels to the uncertainty of a coefficient and of a delta.
 *
 * An elemental source adds an error to one input of a point; how far one draw of it reaches decides what
 * happens in a difference. What a source does to an output is found through the point's own
 * function, stepping the input by its standard uncertainty to both sides,
 *
 *   c_i = [f(x + u_i) - f(x - u_i)] / 2,      u^2 = sum_ij c_i r_ij c_j
 *
 * In the difference of two points a source that reaches both counts with c_i(B) - c_i(A), so all of it
 * cancels but what differs, as of a scale; one that does not counts in both. The uncertainty of a
 * coefficient and of a delta are different numbers and stand side by side.
 * Where f is bent the steps do not tell: bend says how much, and uncertainty_trials.h then takes over.
 * Sources: GUM (JCGM 100:2008), 5.1.3 note 2 (the steps), equation 13 (correlated inputs), G.2b (degrees of
 * freedom); AIAA S-071A, "Assessment of Experimental Uncertainty with Application to Wind Tunnel
 * Testing" (title only), correlated errors of a difference. */
#ifndef LAPWING_UNCERTAINTY_H
#define LAPWING_UNCERTAINTY_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

enum { UNCERTAINTY_SOURCES_MAX = 64, UNCERTAINTY_INPUTS_MAX = 64, UNCERTAINTY_OUTPUTS_MAX = 16 };

/* How far one draw of an error reaches. */
enum error_reach { REACH_POINT, REACH_RUN, REACH_ENTRY, REACH_ALWAYS };

/* What two points have in common, the most of it. */
enum points_share { SHARE_RUN, SHARE_ENTRY, SHARE_NOTHING };

enum error_shape { SHAPE_NORMAL, SHAPE_RECTANGULAR, SHAPE_TRIANGULAR, SHAPE_ARCSINE };

struct error_source {
    size_t input; /* it adds to */
    double
        standard; /* standard uncertainty > 0, in the input's unit or, relative, over its value */
    int is_relative; /* a scale: the error is standard times the input's value */
    double freedom;  /* of standard; infinite when known */
    enum error_reach reach;
    enum error_shape shape; /* for trials; steps need the standard uncertainty only */
};

struct measured_point {
    /* 1 with all outputs filled, 0 when there is no answer; must not keep anything */
    int (*find)(const double *inputs, double *outputs, const void *context);
    const void *context;
    size_t inputs, outputs;
};

struct error_budget {
    const struct error_source *sources;
    size_t n;
    const double *correlation; /* NULL: none; else n x n of the sources' errors within a point */
};

/* c of every source for every output: contribution[source * outputs + output], and likewise bend,
 * f(x + u) + f(x - u) - 2 f(x) over two, what the steps leave out; bend may be NULL.
 * OUTCOME_SINGULAR: a size beyond its maximum, an input that is not there, correlations between sources
 * of unlike reach or that are no correlations; OUTCOME_NOT_FINITE: a standard uncertainty not above 0
 * or an input not finite; OUTCOME_UNMEASURED: no answer at the point or a step from it. */
enum outcome uncertainty_contributions(const struct measured_point *point, const double *inputs,
                                       const struct error_budget *budget, double *contribution,
                                       double *bend);

struct combined {
    double standard;
    double
        freedom; /* Satterthwaite's; with correlations the least of the sources that count, since his
                       formula is for independent ones */
};

/* Of one output; contributions as above, outputs of them a source. */
struct combined uncertainty_absolute(const struct error_budget *budget, const double *contribution,
                                     size_t outputs, size_t output);

/* Of the difference of one output between two points, and of what is shared alone. */
struct combined uncertainty_delta(const struct error_budget *budget, const double *first,
                                  const double *second, size_t outputs, size_t output,
                                  enum points_share share);

/* Covariance of two outputs of one point. */
double uncertainty_covariance(const struct error_budget *budget, const double *contribution,
                              size_t outputs, size_t one, size_t other);

/* 1 when bend is so large beside the contributions that trials are needed: its root sum of squares over
 * a tenth of the standard uncertainty (common practice, no source). */
int uncertainty_is_bent(const struct error_budget *budget, const double *contribution,
                        const double *bend, size_t outputs, size_t output);

/* 1 when one draw of an error reaches both of two points. */
int uncertainty_is_shared(enum error_reach reach, enum points_share share);

#endif

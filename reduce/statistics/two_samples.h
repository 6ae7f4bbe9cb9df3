/* two_samples.h - the difference of two means, each with its own scatter or with one for both.
 *
 *   pooled   t = (m1 - m2) / (s_p sqrt(1/n1 + 1/n2)),   df = n1 + n2 - 2
 *   Welch    t = (m1 - m2) / sqrt(s1^2/n1 + s2^2/n2),   df by effective_freedom()
 *
 * Sources: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.3; Welch, "The generalization of
 * Student's problem when several different population variances are involved", Biometrika 34 (1947). */
#ifndef LAPWING_TWO_SAMPLES_H
#define LAPWING_TWO_SAMPLES_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

struct sample_summary {
    double mean;
    double sd; /* with n - 1 */
    size_t n;
};

struct two_samples {
    double difference; /* first minus second */
    double pooled_error, pooled_freedom;
    double welch_error, welch_freedom;
};

/* Mean and scatter of n finite values. OUTCOME_TOO_FEW: n < 2; OUTCOME_NOT_FINITE. */
enum outcome sample_summarise(const double *values, size_t n, struct sample_summary *summary);

/* OUTCOME_TOO_FEW: a sample of fewer than two; OUTCOME_NOT_FINITE; OUTCOME_SINGULAR: neither scatters. */
enum outcome two_samples_compare(const struct sample_summary *first,
                                 const struct sample_summary *second, struct two_samples *result);

/* Satterthwaite's degrees of freedom of a sum of n independent variances,
 *
 *   df = (sum v_i)^2 / sum (v_i^2 / df_i)
 *
 * infinite df_i allowed. NAN when a variance is negative or not finite, a df not positive, or all are 0.
 * Source: GUM (JCGM 100:2008), equation G.2b. */
double effective_freedom(const double *variances, const double *freedoms, size_t n);

#endif

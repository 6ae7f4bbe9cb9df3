/* student.h - quantiles of Student's t and of the largest of several correlated t's. */
#ifndef LAPWING_STUDENT_H
#define LAPWING_STUDENT_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

/* Two-sided multiplier: P(|t| <= k) = confidence, degrees of freedom > 0 (need not be whole),
 * 0 < confidence < 1; NAN outside. Source: GSL's t distribution; checked against GUM (JCGM
 * 100:2008) table G.2. */
double student_multiplier(double confidence, double degrees_of_freedom);

/* Two-sided probability P(|T| >= |t|) of Student's t, degrees of freedom > 0, infinite allowed; NAN
 * outside or for a t that is no number. Source: GSL's t distribution; checked against R. */
double student_p(double t, double degrees_of_freedom);

/* Simultaneous multiplier: P(max_i |t_i| <= k) = confidence for n t's that share one estimate of
 * noise and have the given n x n correlation (row-major) of their contrasts: multivariate t, equal
 * to Dunnett's two-sided value in a one-way layout. Deterministic (fixed point set).
 * Accuracy: 2e-8 where one factor makes the correlations (one-way layouts, balanced or not, and any two); else
 * 1e-4 of its value. OUTCOME_SINGULAR when correlation is not one. */
enum outcome simultaneous_multiplier(const double *correlation, size_t n, double confidence,
                                     double degrees_of_freedom, double *multiplier);

#endif

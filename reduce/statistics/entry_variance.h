/* entry_variance.h - what a new entry adds to the scatter of one configuration's value.
 *
 *   mean of a configuration's mountings in an entry = configuration + entry + refit / mountings
 *
 * Configurations are taken out by least squares, weighted by mountings; what entries then explain,
 * R(entry | configuration), has the expectation
 *
 *   E R = K s_entry^2 + df s_refit^2,   K = sum (N_c - sum n_ce^2 / N_c)
 *
 * with df the rank. All configurations of an entry have its error in common, so that more of them give no
 * more degrees of freedom than entries - 1. The entry's own error, s_refit^2, comes from what the
 * nights say of it.
 * Source: Henderson's third method, "Estimation of variance and covariance components", Biometrics 9
 * (1953) (from memory). */
#ifndef LAPWING_ENTRY_VARIANCE_H
#define LAPWING_ENTRY_VARIANCE_H

#include <stddef.h>

#include "reduce/physics/outcome.h"
#include "reduce/statistics/variance_levels.h"

struct entry_cell {
    size_t configuration, entry; /* from 0, below the numbers of each */
    double mountings;            /* >= 1 */
    double mean;
};

/* Variance of one mounting's value about those of its configuration in any entry: what an entry adds,
 * and refitted in full. Freedom 0 when no configuration was in two entries, or when an entry has several
 * mountings and refitted is not known. OUTCOME_NOT_FINITE; OUTCOME_NO_MEMORY. */
enum outcome entry_variance(const struct entry_cell *cells, size_t n, size_t n_configurations,
                            size_t n_entries, struct variance_estimate refitted,
                            struct variance_estimate *single);

#endif

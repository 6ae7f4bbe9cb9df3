/* evidence_estimate.h - from observations to headline deltas; called by evidence_make(). */
#ifndef LAPWING_EVIDENCE_ESTIMATE_H
#define LAPWING_EVIDENCE_ESTIMATE_H

#include "reduce/measure_evidence.h"

/* Given the collected observations, and season as evidence_make() has it; fills outcome, bracket, noise, headlines and correlation. */
enum status evidence_estimate(struct evidence *evidence, size_t n_configurations,
                              const struct variance_estimate *season, struct fault *fault);

#endif

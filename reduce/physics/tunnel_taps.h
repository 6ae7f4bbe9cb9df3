/* tunnel_taps.h - one tap of one tunnel point, from its mean pressure to raw and corrected Cp. */
#ifndef LAPWING_TUNNEL_TAPS_H
#define LAPWING_TUNNEL_TAPS_H

#include "reduce/physics/outcome.h"
#include "reduce/physics/tunnel_point.h"

/* What the column of a tap holds. */
enum tap_measure {
    TAP_ABOVE_STATIC,  /* Pa above the tunnel's static reference */
    TAP_ABSOLUTE,      /* Pa; static pressure is subtracted too */
    TAP_AS_COEFFICIENT /* (p - p_static)/q, made by the facility */
};

struct tap_reading {
    double pressure; /* Pa, or Cp */
    double zero; /* Pa: wind-off reading of a scanner referred to static; 0 when none is taken */
    enum tap_measure measure;
};

struct tap_coefficient {
    double raw;       /* Cp = (p - p_static)/q */
    double corrected; /* stagnation value kept, pressure.h */
};

/* A Cp of the facility is the raw one as it stands: no zero, no freestream. Its blockage correction needs
 * the stagnation value, unless q_ratio is 1.
 * Outcomes: OUTCOME_NOT_FINITE for a NAN reading or freestream (facility coefficients alone give
 * none); OUTCOME_NO_WIND when q is not positive; OUTCOME_BLOCKAGE_RANGE when q_ratio is not positive.
 * *tap is written on OUTCOME_OK only. Steps and sources: pressure.h. */
enum outcome tunnel_tap_reduce(const struct tap_reading *reading,
                               const struct tunnel_freestream *freestream, double q_ratio,
                               struct tap_coefficient *tap);

#endif

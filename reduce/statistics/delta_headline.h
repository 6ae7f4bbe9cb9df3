/* delta_headline.h - which of two estimates of a delta is the headline, and do they agree.
 *
 * The whole night's model (night_model.h) from three returns to the baseline on, when it found an answer;
 * else the local bracket (bracket.h) with tonight's noise, or the season's where tonight's own has too few
 * degrees of freedom (variance_choose()). The bracket's variance has the drift's curvature in it
 * (drift_curvature.h). The other estimate stands beside it, and a difference of more than two combined
 * standard errors is said. Common practice, no source. */
#ifndef LAPWING_DELTA_HEADLINE_H
#define LAPWING_DELTA_HEADLINE_H

#include "reduce/statistics/bracket.h"
#include "reduce/statistics/night_model.h"
#include "reduce/statistics/variance_levels.h"

enum headline_source { HEADLINE_NOBODYS, HEADLINE_NIGHT, HEADLINE_BRACKET };

struct delta_estimate {
    double delta, standard_error, degrees_of_freedom; /* NAN, NAN, 0 without one */
};

struct delta_headline {
    enum headline_source source;
    struct delta_estimate headline, beside;
    enum variance_source noise; /* the bracket's */
    int disagree;
};

/* Given:   night, baseline_mountings  of the model
 *          bracket                    of the same configuration
 *          curvature_variance         >= 0, mean over its mountings, of one observation
 *          tonight, season            noise of one observation; freedom 0: not known
 *          least_freedom              as variance_choose() has it */
struct delta_headline delta_headline_choose(const struct night_delta *night,
                                            size_t baseline_mountings,
                                            const struct bracket_delta *bracket,
                                            double curvature_variance,
                                            struct variance_estimate tonight,
                                            struct variance_estimate season, double least_freedom);

#endif

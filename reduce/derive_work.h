/* derive_work.h - what the parts of the stage `derive` share: one family, one measure at a time. */
#ifndef LAPWING_DERIVE_WORK_H
#define LAPWING_DERIVE_WORK_H

#include "reduce/measured_deltas.h"
#include "reduce/night.h"

struct derive_work {
    const struct night *night;
    struct family family;
    struct season_knowledge season;
    struct measuring measuring; /* of the family, one measure after the other */
    int64_t reduction;
    struct measured_deltas deltas[QUANTITY_COUNT]; /* of the measure; n is 0 until asked for */
    struct statement *ratio, *trimmed, *package;   /* inserts */
};

/* The deltas of a quantity at the measure, made once. */
enum status derive_deltas(struct derive_work *work, enum quantity quantity,
                          const struct measured_deltas **deltas, struct fault *fault);

/* An interval about a value, from its standard uncertainty and degrees of freedom; NAN without them. */
struct derived_interval {
    double standard, freedom, multiplier, half_width, lower, upper;
};
struct derived_interval derive_interval(double value, double standard, double freedom,
                                        double confidence);

/* Binds a row: texts at 2, 3 .. (reduction is 1), then reals; what is not finite is NULL. Runs it. */
enum status derive_write(struct derive_work *work, struct statement *insert,
                         const char *const *texts, int n_texts, const double *reals, int n_reals,
                         struct fault *fault);

/* Every part writes its rows of the measure. */
enum status derive_ratios(struct derive_work *work, struct fault *fault);
enum status derive_trimmed(struct derive_work *work, struct fault *fault);
enum status derive_packages(struct derive_work *work, struct fault *fault);

/* What a package depends on beside the comparison: declared parts, into the key. */
enum status derive_key_parts(const struct night *night, struct key_text *key, struct fault *fault);

#endif

/* derive_night.h - a night of given coefficients on night_fixture.h, for what follows from deltas.
 *
 * Baseline "base"; "wing" and "floor" are parts, "both" is the two together, "flap" is the trimming device
 * that differs from the baseline by two holes. */
#ifndef LAPWING_TESTS_DERIVE_NIGHT_H
#define LAPWING_TESTS_DERIVE_NIGHT_H

#include "tests/night_fixture.h"

struct derive_night {
    struct night_fixture fixture;
    struct trim_device flap;
    int runs;
};

void derive_night_open(struct derive_night *night);
void derive_night_close(struct derive_night *night);

/* One wind-on run with these coefficients, 1000 s after the last one. */
void derive_night_add(struct derive_night *night, const char *configuration, double drag,
                      double downforce, double front);

void derive_night_reduce(struct derive_night *night);

/* A column of view (ratio, equal_balance, package) of one configuration at target "low", CL where the view has
 * quantities; NAN for NULL. */
double derive_number(struct derive_night *night, const char *view, const char *configuration,
                     const char *column);
const char *derive_text(struct derive_night *night, const char *view, const char *configuration,
                        const char *column);

#endif

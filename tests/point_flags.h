/* point_flags.h - the one run r1 of a night_fixture, reduced, and what was flagged in it. */
#ifndef LAPWING_POINT_FLAGS_H
#define LAPWING_POINT_FLAGS_H

#include "schema/point_statistics.h"
#include "tests/night_fixture.h"

void flags_reduce(struct night_fixture *fixture);

/* One number of r1's statistics; field is an offsetof() in struct channel_statistics. */
void set_statistic(struct night_fixture *fixture, int channel, size_t field, double value);

/* "rule state, rule state" of run r1 in the order of the rules. */
const char *flags_of_run(struct night_fixture *fixture);

/* The state of its only point. */
const char *state_of_point(struct night_fixture *fixture);

#endif

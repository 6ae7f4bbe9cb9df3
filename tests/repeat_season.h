/* repeat_season.h - runs and points of which it is known how well they repeat. */
#ifndef LAPWING_TESTS_REPEAT_SEASON_H
#define LAPWING_TESTS_REPEAT_SEASON_H

#include "tests/night_fixture.h"

void repeat_reduce(struct night_fixture *fixture);

/* A wind-on run. */
void repeat_add_run(struct night_fixture *fixture, const char *run, const char *configuration,
                    double start);

/* Attitude 0 is "low", 1 "high", 2 neither; wind 1 is 3000 Pa of p0 - p. */
void repeat_add_point(struct night_fixture *fixture, const char *run, const char *point,
                      double time, int attitude, double downforce, double wind);

#endif

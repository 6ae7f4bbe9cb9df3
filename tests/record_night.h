/* record_night.h - nights whose records are judged: runs of equal points, of which a test spoils some. */
#ifndef LAPWING_TESTS_RECORD_NIGHT_H
#define LAPWING_TESTS_RECORD_NIGHT_H

#include <stddef.h>

#include "reduce/pipeline.h"
#include "schema/point_statistics.h"
#include "tests/night_fixture.h"

/* The fixture's channels. */
enum { DRAG_OUTPUT = 0, LIFT_OUTPUT = 2, RISE = 6, HUMIDITY = 9, FRONT = 10, REAR = 11, TAP = 13 };

#define FIELD(name) offsetof(struct channel_statistics, name)

/* Reduces the night; fails the test when that fails. */
struct reduce_summary record_night_reduce(struct night_fixture *fixture);

/* A run of n points, all at the first target, 1 s apart. */
void record_night_add_run(struct night_fixture *fixture, const char *run, double start, int n);

/* One run, r1, of so many points between two zeros. The caller closes the fixture. */
void record_night_open(struct night_fixture *fixture, int points);

/* Sets a statistic, a FIELD, of a channel at a point of r1. */
void record_night_set(struct night_fixture *fixture, const char *point, int channel, size_t field,
                      double value);

/* "SUBJECT RULE STATE, ..." of all flags; it stands as long as fixture_text() says. */
const char *record_night_flags(struct night_fixture *fixture);

/* q of its points, Pa: p0 - p 3000 Pa at 101325 Pa, isentropic (NACA Report 1135). */
double record_night_dynamic_pressure(void);

#endif

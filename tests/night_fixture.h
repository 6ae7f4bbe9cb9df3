/* night_fixture.h - a small night in memory for tests of reduce: campaign, runs, points, no files.
 *
 * The car has 2 m2 and 2.5 m; the wind is p 101325 Pa and p0 - p 3000 Pa unless a test says other. The
 * balance is at the car's origin with 1000 N or N m per output unit, so outputs are loads / 1000.
 * All values are invented.                                                                         */
#ifndef LAPWING_TEST_NIGHT_FIXTURE_H
#define LAPWING_TEST_NIGHT_FIXTURE_H

#include "reduce/night.h"
#include "schema/campaign.h"
#include "schema/store.h"

enum { FIXTURE_TAPS = 2, FIXTURE_CHANNELS = 13 + FIXTURE_TAPS };

struct night_fixture {
    struct store *store;
    struct campaign campaign;
    struct facility facility;
    struct balance balance;
    struct target targets[2];
    struct metric metrics[3];
    int sequence;
};

/* Opens a store in memory with campaign, calibration, two taps and the configurations "base" and,
 * with base as parent, "wing" and "floor". Asserts through CUnit. */
void fixture_open(struct night_fixture *fixture);
void fixture_close(struct night_fixture *fixture);

struct fixture_run {
    const char *run, *kind, *configuration;
    double start;
    const char *zero, *tare, *mounting; /* NULL for "" */
    int is_quarantined;
};
void fixture_add_run(struct night_fixture *fixture, const struct fixture_run *run);

struct fixture_point {
    double output[6];
    double rise, pressure, temperature, humidity; /* p0 - p, p, T0, RH; 0: the usual wind */
    double front, rear, yaw;                      /* m, m, rad */
    double tap[FIXTURE_TAPS];                     /* Pa above static */
    double tap_is_frozen; /* longest run of the second tap, which is constant; 0: it is alive */
};
void fixture_add_point(struct night_fixture *fixture, const char *run, const char *point,
                       double time, const struct fixture_point *values);

/* Replaces one statistic (offsetof struct channel_statistics) of one channel at all points of a run. */
void fixture_set_statistic(struct night_fixture *fixture, const char *run, int channel,
                           size_t field, double value);
/* The same at one of its points. */
void fixture_set_point_statistic(struct night_fixture *fixture, const char *run, const char *point,
                                 int channel, size_t field, double value);

/* Outputs that give these coefficients without corrections, on top of the zero 0. */
void fixture_outputs(double drag, double downforce, double front, double output[6]);

/* A zero run with one point of all outputs equal to level, and a wind-on run with one point at the
 * first target. */
void fixture_add_zero(struct night_fixture *fixture, const char *run, double start, double level);
void fixture_add_wind(struct night_fixture *fixture, const char *run, const char *configuration,
                      double start, double downforce);

/* Somebody's decision, "exclude" or "restore", on a point or, "", the whole run: J. Moss on 2026-02-12,
 * "seen on video". */
void fixture_decide(struct night_fixture *fixture, const char *run, const char *point,
                    const char *decision);

/* One number or text of the store by SQL; NAN or "" when there is no row. The text is overwritten by
 * the next call. */
double fixture_number(struct night_fixture *fixture, const char *sql);
const char *fixture_text(struct night_fixture *fixture, const char *sql);
void fixture_execute(struct night_fixture *fixture, const char *sql);

#endif

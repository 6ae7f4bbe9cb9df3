/* rig_folder.h - a night with height sensors and cells in a folder: logs of averaged points, no balance.
 *
 * Loads are ready-made, in car axes at the car's origin, so that nothing but the rig is between a log and
 * its coefficients: area 1 m2, wheelbase 2 m, q 1000 Pa. All numbers are invented.                  */
#ifndef LAPWING_TEST_RIG_FOLDER_H
#define LAPWING_TEST_RIG_FOLDER_H

#include "schema/campaign.h"
#include "schema/store.h"
#include "tests/scratch.h"

/* Columns of every log, in this order; which of them are mapped the night says. */
enum rig_column {
    RIG_FX,
    RIG_FY,
    RIG_FZ,
    RIG_MX,
    RIG_MY,
    RIG_MZ,
    RIG_Q,
    RIG_H1, /* mm */
    RIG_H2,
    RIG_H3,
    RIG_H4,
    RIG_H1_SD,
    RIG_HF,
    RIG_HR,
    RIG_ROLL, /* deg */
    RIG_PITCH,
    RIG_D1, /* wheel drags front left, front right, rear left, rear right, N */
    RIG_D2,
    RIG_D3,
    RIG_D4,
    RIG_L1, /* wheel loads, the same order */
    RIG_L2,
    RIG_L3,
    RIG_L4,
    RIG_BELT_DRAG,
    RIG_BELT_LOAD,
    RIG_D1_SD,
    RIG_COLUMNS
};

/* A point: NAN is written as an empty cell, which means missing. A run's log is one point or two. */
struct rig_point {
    double value[RIG_COLUMNS];
};

/* The usual point: drag 400 N, downforce 1200 N evenly, heights 20 and 40 mm by log, cells 0. */
struct rig_point rig_point(void);

struct rig_night {
    const char *car;      /* lines of campaign.yaml below car, facility and columns; "" for none */
    const char *facility; /* contains or balance_contains among them */
    const char *columns;
    const char *balances; /* below balances:, "" for none */
    const char *runs;     /* rows of runs.csv behind the zero Z1 and before nothing else */
};

/* Writes campaign, sheets and the zero Z1 with all readings 0. */
void rig_make(char folder[SCRATCH_PATH], const struct rig_night *night);
void rig_log(const char *folder, const char *run, const struct rig_point *points, size_t n);

/* Ingests and reduces the folder into a new season; close it with end_season(). */
struct store *rig_reduce(const char *folder);

/* What `check` and the campaign's own checks say of the folder; "" when nothing. */
void rig_check(const char *folder, char *lines, size_t size);

/* One number, or NAN; all rows of one text column with ", " between. */
double rig_number(struct store *store, const char *sql);
void check_rig_text(struct store *store, const char *sql, const char *want);

#endif

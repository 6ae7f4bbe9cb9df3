/* fault_tally.h - what was injected against what was flagged, counted and printed. */
#ifndef LAPWING_TESTS_FAULT_TALLY_H
#define LAPWING_TESTS_FAULT_TALLY_H

#include "tests/faults/faults.h"

enum fault_column {
    COLUMN_STUCK, /* stuck, constant, tap-frozen */
    COLUMN_SPIKES,
    COLUMN_CLIPPED,
    COLUMN_LAG, /* slow-response, late-channel */
    COLUMN_DRIFT,
    COLUMN_SWAPPED,
    COLUMN_UNIT,
    COLUMN_NOISE,
    COLUMN_LEVEL, /* level-unusual, run-differs */
    COLUMN_TREND, /* trend, q-trend */
    COLUMN_OTHER, /* any other rule of the program */
    FAULT_COLUMNS
};

enum { FAULT_ROWS = FAULT_CLASSES + 1 };

struct fault_tally {
    /* Injections in which a flag of the column was raised that the clean run has not. */
    unsigned raised[FAULT_ROWS][FAULT_COLUMNS];
    unsigned injected[FAULT_ROWS];
    unsigned right[FAULT_CLASSES]; /* by a flag of the class's own column, about the channel */
    unsigned another[FAULT_CLASSES];
    unsigned missed[FAULT_CLASSES];
    /* Of clean nights: a channel in a run; wind-on runs whose zeros are clean. */
    unsigned clean_records, clean_runs;
    unsigned clean[FAULT_COLUMNS]; /* flagged records, or runs for drift and trend */
    unsigned clean_any;            /* records with a flag of any column */
};

/* Counts the flags of a clean night. */
void tally_clean(struct fault_tally *tally, const struct fault_season *season,
                 const struct raised_list *flags);

/* Counts one injection by the flags of its night and those of the clean night; a missed or misnamed one
 * is told on stderr where `tell` is 1. */
void tally_injection(struct fault_tally *tally, const struct injection *made,
                     const struct raised_list *clean, const struct raised_list *flags, int tell);

void tally_print(const struct fault_tally *tally);

/* 1 when the counts do not contradict a detection of 99 % of each class and false alarms in 0.5 % of
 * records and of runs: a binomial tail below 1e-4 contradicts. */
int tally_is_good(const struct fault_tally *tally);

#endif

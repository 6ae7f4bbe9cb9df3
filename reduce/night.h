/* night.h - the run sheet and the configurations as the stages see them, read once from the store.
 *
 * A stage gets the night and nothing else: the store, the campaign, and the runs in run-sheet order.
 * Look-ups are linear: a season is 5000 runs, and each stage asks a few times a run.               */
#ifndef LAPWING_NIGHT_H
#define LAPWING_NIGHT_H

#include <stddef.h>
#include <stdint.h>

#include "reduce/decisions.h"
#include "schema/campaign.h"
#include "schema/fault.h"
#include "schema/store.h"

/* One row of the run sheet; see the table `run` in schema/schema.sql. */
struct run_row {
    char *run, *facility, *entry, *start_text, *configuration, *kind, *balance;
    char *zero, *tare, *mounting; /* as written in the run sheet, "" for the rule */
    char *ingest_key;             /* changes when a log or its channel map changes */
    double start;                 /* s since 1970-01-01T00:00:00Z */
    double earliest, latest;      /* mean times of its points, same scale; start when it has none */
    double first_point;           /* mean time of the point logged first */
    int usable;                   /* 0: quarantined */
};

struct configuration_row {
    char *configuration;
    char *baseline; /* root of its family, itself for a baseline */
};

struct night {
    struct store *store;
    const struct campaign *campaign;
    struct run_row *runs; /* in run-sheet order */
    size_t n_runs;
    struct configuration_row *configurations; /* in file order */
    size_t n_configurations;
    struct decision_list decisions;
};

/* Reads runs, configurations and decisions. The store and the campaign must outlive the night. On OK the
 * caller ends *night with night_end(); on any other status nothing is held. */
enum status night_read(struct store *store, const struct campaign *campaign, struct night *night,
                       struct fault *fault);
void night_end(struct night *night);

/* By name; NULL when there is none. */
const struct run_row *night_run(const struct night *night, const char *run);

/* Baseline of a configuration; the configuration itself when it is not in the list. */
const char *night_baseline(const struct night *night, const char *configuration);

int run_is_wind_on(const struct run_row *run);

/* In which of facility, entry and balance a run differs from another, as the end of a sentence:
 * "is of another balance"; NULL in none. */
const char *run_differs(const struct run_row *run, const struct run_row *other);

/* 1 when both were made in the same entry of the same facility. */
int run_same_entry(const struct run_row *a, const struct run_row *b);

#endif

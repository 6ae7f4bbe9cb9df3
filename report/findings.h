/* findings.h - what one entry found, as the page needs it: metrics, configurations, deltas.
 *
 * Read once from the store; every panel reads from here, so that a configuration keeps its order,
 * its colour and its marker in every picture, and the numbers of a sentence are those of the table.
 * Nothing is computed but order and looks.                                                         */
#ifndef LAPWING_REPORT_FINDINGS_H
#define LAPWING_REPORT_FINDINGS_H

#include "report/chart_line.h"
#include "report/display.h"
#include "report/query.h"
#include "report/trust.h"
#include "schema/entry.h"

enum { METRICS_MAX = 6 }; /* columns of the delta table; the CSV has all */

struct finding_metric {
    const char *name;     /* "downforce" */
    const char *quantity; /* "CL" */
    const char *better;   /* higher, lower, toward, undeclared */
    double toward, worthwhile;
    struct display display; /* of its deltas */
};

/* A row of page_delta (report/scope.h) at the main attitude; stored units. */
struct finding_delta {
    int is_there; /* 0: the store has no such row */
    double delta, half_width, lower, upper;
    const char *verdict; /* "" for none */
    int real_but_small;
    const char *reason;                /* "" for none */
    const char *method, *noise_source; /* of the interval; "" without one */
    long long mountings, baseline_mountings;
    double beside_delta; /* by the other method; NAN for none */
    int disagrees;       /* 1: the other method is more than two combined standard errors away */
};

/* Wind-on points that were reduced, and how many of them were given no number. */
struct finding_points {
    long long all, refused;
};

struct finding_configuration {
    const char *name, *baseline, *change;
    int is_baseline;
    size_t sequence;
    size_t family; /* 0: the leading one, which the headline is about */
    struct series_look look;
    struct finding_delta deltas[METRICS_MAX]; /* by metric */
    struct finding_points points;
    double baseline_level; /* its baseline's mean in the main measure, stored unit; NAN: none */
    const char
        *stability; /* what variants make of the main verdict; "" where it was not found again */
    long long variants, variants_same;
    int all_in_differs;  /* 1: with nothing left out it reads otherwise */
    const char *refusal; /* what the rule says that refused most of its points; "" for none */
};

struct findings {
    const char *season, *car;                   /* "" when the campaign does not say */
    struct season_entries entries;              /* of the season, the latest first */
    size_t at;                                  /* of them: the one the page is about */
    const char *facility, *entry;               /* the page's; "" while there is none */
    double count;                               /* size of one count; 0: not declared */
    double confidence;                          /* 0.95; NAN: not declared */
    struct finding_metric metrics[METRICS_MAX]; /* the main one first */
    size_t n_metrics;
    const char *target; /* attitude of the main measure, "" when the campaign declares none */
    struct finding_configuration *configurations; /* the leading family first, best first in each */
    size_t n_configurations, capacity;
    double recorded_runs, recorded_points; /* of runs that are recorded only */
    double wind_runs, wind_runs_read;      /* wind-on runs, and those that could be read */
    size_t n_leading; /* configurations of the leading family: that with the most usable wind-on
                       * runs, of those in which something was compared */
    struct trust trust;
    struct text_pool texts;
};

/* Reads all of it, of the latest entry, and sets the store's scope (report/scope.h) to it, which the
 * panels' own queries need. On OK the caller ends it with findings_end(); on any other status nothing is
 * held. */
enum status findings_read(struct store *store, struct findings *findings, struct fault *fault);

/* The same of another entry: entries_read()'s number at, 0 the latest. NO_RESULT beyond the last. */
enum status findings_read_entry(struct store *store, size_t at, struct findings *findings,
                                struct fault *fault);
void findings_end(struct findings *findings);

/* Counts the points of each configuration and what refused them, and says so as the reason of a main
 * delta that is missing because every point was refused; called by findings_read(). */
enum status findings_read_refusals(struct store *store, struct findings *findings,
                                   struct fault *fault);

/* Fills the levels of the baselines; called by findings_read(). */
enum status findings_read_levels(struct store *store, struct findings *findings,
                                 struct fault *fault);

/* Makes the checks on the night; see trust.h. Called by findings_read(). */
enum status findings_read_trust(struct store *store, struct findings *findings,
                                struct fault *fault);

/* Points of all configurations together. */
struct finding_points findings_points(const struct findings *findings);

/* By name; NULL when there is none. */
const struct finding_configuration *findings_configuration(const struct findings *findings,
                                                           const char *name);

/* The baseline of the leading family; NULL when there is none. */
const struct finding_configuration *findings_baseline(const struct findings *findings);

/* What a verdict hangs on: "what was left out" where it reads otherwise with that, "single runs" where
 * fewer than half of the variants read the same; "" for neither, and for none. */
const char *findings_hangs_on(const struct finding_configuration *configuration);

/* Whether anything but baselines was run. */
int findings_has_others(const struct findings *findings);

/* How much better a configuration reads on the main measure, for ordering only: baseline 0, no
 * delta minus infinity. */
double findings_score(const struct findings *findings,
                      const struct finding_configuration *configuration);

/* "weighted mean of attitudes" or the target's name. */
const char *findings_target_words(const struct findings *findings);

#endif

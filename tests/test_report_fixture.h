/* test_report_fixture.h - a night in a database of its own, made by SQL alone, for the report's tests.
 *
 * Invented numbers throughout: one baseline returned to eight times, five configurations of two or
 * three mountings, 24 attitudes, 120 floor taps of which one is dead, flags, and one quarantined run.
 * The same call gives the same rows.                                                               */
#ifndef LAPWING_TEST_REPORT_FIXTURE_H
#define LAPWING_TEST_REPORT_FIXTURE_H

#include "schema/store.h"

/* A store at path (":memory:" for most tests). second is the name of the configuration that wins,
 * "W2" when NULL. On OK the caller ends it with store_close(). */
enum status report_fixture_open(const char *path, const char *second, struct store **store,
                                struct fault *fault);

/* A copy of all of the night's rows as another entry at the same place: runs, reductions and all that
 * hangs on them, under names of their own. */
struct report_fixture_entry {
    const char *entry;  /* "January" */
    const char *prefix; /* of run names, "J" */
    int id;             /* added to the numbers of reductions and flags; a thousand or more */
    double shift;       /* s, of its times against the night's */
    double factor;      /* of its deltas and their intervals */
};
enum status report_fixture_add_entry(struct store *store, const struct report_fixture_entry *entry,
                                     struct fault *fault);

/* Makes W3, W4 and W5 a family with the baseline W3; W4 and W5 keep their deltas. */
enum status report_fixture_split_family(struct store *store, struct fault *fault);

/* n more configurations V01, V02 ... of the family of C0, each with W1's runs and 5 % less of its delta. */
enum status report_fixture_add_configurations(struct store *store, int n, struct fault *fault);

/* A night as large as they come: 60 runs of 40 points with 250 taps at each, of 14 configurations with
 * long names, each back at least once; every rule's flag at several points, points left out by rules and
 * by a person, kept samples, budgets. The quarantined run is a run more. The first fixture's names stay. */
enum { LARGE_RUNS = 60, LARGE_POINTS = 40, LARGE_TAPS = 250, LARGE_CONFIGURATIONS = 14 };
enum status report_fixture_enlarge(struct store *store, struct fault *fault);

/* Everything a page is made from, for tests that write pages. */
struct html;
enum status report_fixture_page(struct store *store, struct html *page, struct fault *fault);

#endif

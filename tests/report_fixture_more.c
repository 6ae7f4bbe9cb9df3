/* report_fixture_more.c - the report's fixture with more configurations; see test_report_fixture.h. */
#include <stdio.h>

#include "tests/report_fixture_parts.h"
#include "tests/test_report_fixture.h"

/* Copies W1's runs, observations and deltas as ?1; the copy's deltas are W1's times ?3, and its verdict is
 * what its interval reads. */
static const struct {
    const char *kinds, *sql;
} copies[] = {
    {"ti",
     "INSERT INTO configuration (configuration, sequence, parent, baseline, change, note) SELECT "
     "?1, ?2, parent, baseline, 'endplate slot of ' || ?2 || ' mm', '' FROM configuration WHERE "
     "configuration = 'W1'"},
    {"ti",
     "INSERT INTO run SELECT ?1 || run, sequence + 100 * ?2, facility, entry, start_text, "
     "start_s + ?2, ?1, kind, balance, zero, tare, mounting, note, state, reason, sheet_line, "
     "ingest_key FROM run WHERE configuration = 'W1'"},
    {"ti", "INSERT INTO observation SELECT reduction, ?1, mounting, quantity, target, ?1 || runs, "
           "time_s + ?2, value, baseline_here, delta FROM observation WHERE configuration = 'W1'"},
    {"tir",
     "INSERT INTO delta_result (reduction, configuration, baseline, quantity, target, is_main, "
     "delta, standard_uncertainty, degrees_of_freedom, half_width, lower, upper, multiplier, "
     "mountings, baseline_mountings, verdict, real_but_small, reason, method, noise_source) SELECT "
     "reduction, ?1, baseline, quantity, target, is_main, delta * ?3, standard_uncertainty, "
     "degrees_of_freedom, half_width, delta * ?3 - half_width, delta * ?3 + half_width, "
     "multiplier, mountings, baseline_mountings, CASE WHEN verdict IS NULL THEN NULL WHEN "
     "abs(delta * ?3) + half_width <= 0.010 THEN 'no change that matters' WHEN delta * ?3 > "
     "half_width THEN 'gain' ELSE 'can''t tell yet' END, 0, '', method, noise_source FROM "
     "delta_result WHERE configuration = 'W1' AND ?2 > 0"},
};

enum status report_fixture_add_configurations(struct store *store, int n, struct fault *fault)
{
    struct fixture fixture = {.store = store, .fault = fault};

    for (int i = 0; i < n; i++) {
        char name[16];
        (void)snprintf(name, sizeof name, "V%02d", i + 1);
        for (size_t k = 0; k < sizeof copies / sizeof copies[0]; k++)
            fixture_put(&fixture, copies[k].sql, copies[k].kinds, name, 6 + i, 0.95 - 0.05 * i);
    }
    return fixture.status;
}

/* report_fixture_more.c - the report's fixture with more in it: more configurations, or a night as large
 * as they come. See test_report_fixture.h. */
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

/* 60 runs of 40 points at 40 targets, and 250 taps on the floor. */
static const char large_sql[] =
    "CREATE TEMP TABLE n60 AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE "
    "i < 60) SELECT i FROM n;"
    "INSERT INTO target SELECT 'L' || i, 100 + i, 0.008 + 0.0005 * i, 0.050, 0, NULL, NULL, NULL, "
    "0 FROM n60 WHERE i <= 40;"
    "INSERT INTO run SELECT 'L' || n.i, 1000 + n.i, r.facility, r.entry, r.start_text, r.start_s + "
    "30000 + 1380 * n.i, CASE n.i % 3 WHEN 0 THEN 'C0' WHEN 1 THEN 'W1' ELSE 'W3' END, 'wind_on', "
    "r.balance, '', '', '', '', 'ok', '', r.sheet_line, 'k' FROM run AS r JOIN n60 AS n WHERE "
    "r.run = 'R101';"
    "INSERT INTO reduction SELECT 5000 + i, 'point', 'L' || i, 'key', 'inputs', 1 FROM n60;"
    "INSERT INTO point SELECT 'L' || n.i, p.i, p.i, start + 1380 * n.i + 30 * p.i, 10, 1000, p.i, "
    "p.i, x'00', NULL FROM n60 AS n JOIN n60 AS p JOIN (SELECT start_s + 30000 AS start FROM run "
    "WHERE run = 'R101') WHERE p.i <= 40;"
    "INSERT INTO point_result (reduction, run, point, front_ride_height_m, rear_ride_height_m, "
    "yaw_rad, static_temperature_k, density_kg_m3, dynamic_pressure_pa, mach, speed_m_s, reynolds, "
    "q_ratio, drag_coefficient, downforce_coefficient, downforce_front_coefficient, "
    "downforce_rear_coefficient, balance_percent, lift_to_drag, drag_coefficient_u, "
    "downforce_coefficient_u, state) SELECT 5000 + substr(run, 2), run, point, 0.008 + 0.0005 * "
    "point, 0.050, 0, 295, 1.19, 1500, 0.147, 50, 4.8e6, 1.012, 1.02, 3.1, 1.4, 1.7, 45, 3.04, "
    "0.0004, 0.0011, 'ok' FROM point WHERE run LIKE 'L%';"
    "INSERT INTO observation SELECT 100, CASE n.i % 3 WHEN 0 THEN 'C0' WHEN 1 THEN 'W1' ELSE 'W3' "
    "END, 1000 + n.i, q.quantity, 'L' || t.i, 'L' || n.i, 1770866700 + 1380 * n.i, 3.0, NULL, NULL "
    "FROM n60 AS n JOIN n60 AS t JOIN metric AS q WHERE t.i <= 40;"
    "INSERT INTO delta_result (reduction, configuration, baseline, quantity, target, is_main, "
    "delta, "
    "half_width, lower, upper, mountings, baseline_mountings, real_but_small, reason) SELECT 100, "
    "c.column1, 'C0', q.quantity, 'L' || t.i, 0, 0.01, 0.005, 0.005, 0.015, 20, 20, 0, '' FROM "
    "(VALUES ('W1'), ('W3')) AS c JOIN n60 AS t JOIN metric AS q WHERE t.i <= 40;"
    "INSERT INTO tap SELECT 'X' || tap, sequence + 1000, 'X' || tap, x_m + 0.05, y_m + 0.04, z_m, "
    "normal_x, normal_y, normal_z, area_m2, surface, NULL FROM tap;"
    "INSERT INTO tap SELECT 'Y' || tap, sequence + 2000, 'Y' || tap, x_m - 0.04, y_m, z_m, "
    "normal_x, "
    "normal_y, normal_z, area_m2, surface, NULL FROM tap WHERE sequence < 10;"
    "INSERT INTO map_tap SELECT m.reduction, m.configuration, m.target, t.tap, m.cp, m.delta_cp, "
    "m.delta_cp_u, m.degrees_of_freedom, m.p_value, m.q_value, m.not_tested, m.runs FROM map_tap "
    "AS "
    "m JOIN tap AS t ON t.tap IN ('X' || m.tap, 'Y' || m.tap);"
    "DROP TABLE n60;";

enum status report_fixture_enlarge(struct store *store, struct fault *fault)
{
    return store_execute(store, large_sql, fault);
}

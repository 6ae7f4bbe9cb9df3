/* report_fixture_large.c - the report's fixture as a night as large as they come; see
 * test_report_fixture.h.
 *
 * All by SQL from the rows of the small one. Scatter is a remainder of whole numbers, so that the same
 * call gives the same rows.                                                                        */
#include "tests/report_fixture_parts.h"
#include "tests/test_report_fixture.h"

enum { COLUMNS = 25, ROWS = 10 }; /* of LARGE_TAPS */

/* Sixteen more attitudes: two long sweeps, of ride height and of yaw; 24 to 39 in the sheet. */
static const char attitudes_sql[] =
    "CREATE TEMP TABLE n60 AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE "
    "i < 60) SELECT i FROM n;"
    "CREATE TEMP TABLE added AS SELECT 23 + i AS sequence, CASE WHEN i <= 8 THEN 'F' || f.value || "
    "' R36' ELSE 'F10 R36 Y' || f.value END AS target, CASE WHEN i <= 8 THEN f.value ELSE 10 END "
    "AS front, CASE WHEN i <= 8 THEN 0 ELSE f.value * 0.017453292519943295 END AS yaw FROM n60 "
    "JOIN json_each('[9, 11, 13, 14, 16, 20, 24, 26, -8, -6, -5, -3, 3, 5, 6, 8]') AS f ON f.key = "
    "i - 1;"
    "INSERT INTO target SELECT target, sequence, front / 1000, 0.036, yaw, NULL, NULL, NULL, 0.04 "
    "FROM added;"
    "CREATE TEMP TABLE effect AS SELECT target, q.column1 AS quantity, q.column2 * ((front - 12) * "
    "(front - 12) - 4) + q.column3 * yaw * yaw AS value FROM added JOIN (VALUES ('CL', -0.003, "
    "-8.0), ('CD', -0.0006, 2.0), ('balance', -0.01, 3.0), ('L/D', -0.002, 0.0)) AS q;";

/* Eight configurations more, and forty runs: every third the baseline, the others in turn. */
static const char runs_sql[] =
    "INSERT INTO configuration (configuration, sequence, parent, baseline, change, note) SELECT "
    "'floor-edge-deflector-outboard-slot-gurney-number-' || i, 5 + i, 'C0', 'C0', 'Slot of the "
    "outboard floor edge ' || i || ' mm wide, with the deflector moved aft, the gurney of the "
    "diffuser''s last strake cut back, and <new> brackets of the \"second\" kind', 'Brackets were "
    "drilled again at ' || i || ' o''clock.' FROM n60 WHERE i <= 8;"
    "CREATE TEMP TABLE night_run AS SELECT 'R' || (121 + i) AS run, i, c.configuration, 400 + i AS "
    "reduction, coalesce((SELECT run FROM run WHERE configuration = c.configuration ORDER BY "
    "sequence LIMIT 1), 'R102') AS source FROM n60 JOIN configuration AS c ON c.sequence = CASE "
    "WHEN i % 3 = 0 THEN 0 ELSE (i - i / 3 - 1) % 13 + 1 END WHERE i <= 40;"
    "INSERT INTO run SELECT n.run, 20 + n.i, r.facility, r.entry, strftime('%Y-%m-%dT%H:%M:%S', "
    "1770836700 + 1380 * (20 + n.i) + 3600, 'unixepoch') || '+01:00', 1770836700 + 1380 * (20 + "
    "n.i), n.configuration, r.kind, r.balance, '', '', '', 'Brackets looked at, nothing loose.', "
    "'ok', '', 22 + n.i, 'k' FROM night_run AS n JOIN run AS r ON r.run = n.source;"
    "INSERT INTO log SELECT n.run, 0, 'logs/' || n.run || '_forces.csv', l.map, l.block, l.sha256, "
    "l.bytes, l.mtime_ns, l.rows, 0 FROM night_run AS n JOIN log AS l ON l.run = n.source;"
    "INSERT INTO reduction SELECT n.reduction, 'point', n.run, d.key, d.inputs, 1 FROM night_run "
    "AS "
    "n JOIN reduction AS d ON d.subject = n.source AND d.stage = 'point';";

/* The sixteen points that the first runs lack, like their point 8, which is at F10 R36. */
static const char first_points_sql[] =
    "INSERT INTO point SELECT p.run, a.sequence + 1, a.sequence, p.time_s + 30 * (a.sequence - 7), "
    "10, 1000, 3 + 1000 * a.sequence, 1002 + 1000 * a.sequence, x'00', NULL FROM point AS p JOIN "
    "added AS a WHERE p.point = '8';"
    "CREATE TEMP TABLE made AS SELECT * FROM point_result WHERE 0;"
    "INSERT INTO made SELECT p.* FROM point_result AS p JOIN added WHERE p.point = '8';"
    "UPDATE made SET point = 25 + (rowid - 1) % 16;"
    "UPDATE made SET front_ride_height_m = a.front / 1000, yaw_rad = a.yaw, downforce_coefficient "
    "= "
    "downforce_coefficient + l.value, drag_coefficient = drag_coefficient + d.value, lift_to_drag "
    "= "
    "(downforce_coefficient + l.value) / (drag_coefficient + d.value) FROM added AS a JOIN effect "
    "AS l ON l.target = a.target AND l.quantity = 'CL' JOIN effect AS d ON d.target = a.target AND "
    "d.quantity = 'CD' WHERE a.sequence + 1 = CAST(made.point AS INTEGER);"
    "INSERT INTO point_result SELECT * FROM made; DROP TABLE made;"
    "INSERT INTO target_result (reduction, run, point, target, method, is_used, drag_coefficient, "
    "downforce_coefficient, balance_percent, lift_to_drag) SELECT p.reduction, p.run, p.point, "
    "a.target, 'at target', 1, p.drag_coefficient, p.downforce_coefficient, p.balance_percent, "
    "p.lift_to_drag FROM point_result AS p JOIN added AS a ON a.sequence + 1 = CAST(p.point AS "
    "INTEGER);"
    "INSERT INTO ledger_row SELECT l.reduction, a.sequence + 1, l.sequence, l.step, l.quantity, "
    "l.unit, l.value + a.front FROM ledger_row AS l JOIN added AS a WHERE l.point = '8';";

/* All points of the forty runs, like those of their source. */
static const char points_sql[] =
    "CREATE TEMP TABLE scatter AS SELECT n.run, p.point, ((n.i * 7919 + p.sequence * 104729) % "
    "2001 "
    "- 1000) / 700000.0 AS value FROM night_run AS n JOIN point AS p ON p.run = n.source;"
    "CREATE INDEX temp.scatter_point ON scatter (run, point);"
    "INSERT INTO point SELECT n.run, p.point, p.sequence, 1770836700 + 1380 * (20 + n.i) + 30 * "
    "p.sequence, 10, 1000, p.first_line, p.last_line, x'00', NULL FROM night_run AS n JOIN point "
    "AS "
    "p ON p.run = n.source;"
    "CREATE TEMP TABLE made AS SELECT p.*, n.run AS new_run, n.reduction AS new_reduction FROM "
    "night_run AS n JOIN point_result AS p ON p.run = n.source;"
    "UPDATE made SET run = new_run, reduction = new_reduction;"
    "ALTER TABLE made DROP COLUMN new_run; ALTER TABLE made DROP COLUMN new_reduction;"
    "UPDATE made SET downforce_coefficient = downforce_coefficient + s.value, drag_coefficient = "
    "drag_coefficient + s.value / 4, static_temperature_k = 296 + s.value * 300 FROM scatter AS s "
    "WHERE s.run = made.run AND s.point = made.point;"
    "INSERT INTO point_result SELECT * FROM made; DROP TABLE made;"
    "INSERT INTO target_result (reduction, run, point, target, method, is_used, drag_coefficient, "
    "downforce_coefficient, balance_percent, lift_to_drag) SELECT n.reduction, n.run, t.point, "
    "t.target, t.method, 1, p.drag_coefficient, p.downforce_coefficient, p.balance_percent, "
    "p.lift_to_drag FROM night_run AS n JOIN target_result AS t ON t.run = n.source JOIN "
    "point_result AS p ON p.reduction = n.reduction AND p.point = t.point;"
    "INSERT INTO ledger_row SELECT n.reduction, l.point, l.sequence, l.step, l.quantity, l.unit, "
    "l.value + n.i / 7.0 FROM night_run AS n JOIN reduction AS d ON d.subject = n.source JOIN "
    "ledger_row AS l ON l.reduction = d.reduction;";

/* The other steps of each point's loads, and its raw coefficients. */
static const char ledger_sql[] =
    "INSERT INTO ledger_row SELECT l.reduction, l.point, s.key + 3, s.value, l.quantity, l.unit, "
    "l.value * (1 + s.key / 1000.0) FROM ledger_row AS l JOIN json_each('[\"weight tare\", \"belt "
    "tare\", \"support tare\", \"transfer\"]') AS s WHERE l.step = 'balance';"
    "INSERT INTO ledger_row SELECT p.reduction, p.point, 8, 'raw', q.column1, '1', CASE q.column1 "
    "WHEN 'CL' THEN 1.01 * downforce_coefficient WHEN 'CD' THEN 1.01 * drag_coefficient ELSE 0.45 "
    "* "
    "downforce_coefficient END FROM point_result AS p JOIN (VALUES ('CL'), ('CD'), ('CLF')) AS q;";

/* Evidence and deltas: all attitudes for all, the new configurations with less and less of W1's. */
static const char deltas_sql[] =
    "INSERT INTO observation SELECT o.reduction, o.configuration, o.mounting, o.quantity, "
    "e.target, o.runs, o.time_s, o.value + e.value, NULL, NULL FROM observation AS o JOIN effect "
    "AS "
    "e ON e.quantity = o.quantity WHERE o.target = 'F10 R36';"
    "INSERT INTO observation SELECT 100, n.configuration, (SELECT count(*) FROM run AS r WHERE "
    "r.configuration = n.configuration AND r.state = 'ok' AND r.sequence <= 20 + n.i), o.quantity, "
    "o.target, n.run, 1770837060 + 1380 * (20 + n.i), o.value + ((n.i * 7919 + "
    "length(o.quantity) * 31) % 2001 - 1000) / 500000.0, NULL, NULL FROM night_run AS n JOIN "
    "observation AS o ON o.runs = n.source;"
    "CREATE TEMP TABLE made AS SELECT x.*, e.target AS new FROM delta_result AS x JOIN effect AS e "
    "ON e.quantity = x.quantity WHERE x.target = 'F10 R36';"
    "UPDATE made SET target = new; ALTER TABLE made DROP COLUMN new;"
    "INSERT INTO delta_result SELECT * FROM made; DROP TABLE made;"
    "CREATE TEMP TABLE made AS SELECT x.*, c.configuration AS new, 0.98 - 0.07 * (c.sequence - 5) "
    "AS factor FROM delta_result AS x JOIN configuration AS c ON c.sequence > 5 WHERE "
    "x.configuration = 'W1';"
    "UPDATE made SET configuration = new, delta = delta * factor, lower = delta * factor - "
    "half_width, upper = delta * factor + half_width, verdict = CASE WHEN verdict IS NULL THEN "
    "NULL "
    "WHEN delta * factor > half_width THEN 'gain' ELSE 'can''t tell yet' END;"
    "ALTER TABLE made DROP COLUMN new; ALTER TABLE made DROP COLUMN factor;"
    "INSERT INTO delta_result SELECT * FROM made; DROP TABLE made;"
    "UPDATE delta_result SET mountings = (SELECT count(*) FROM run AS r WHERE r.state = 'ok' AND "
    "r.configuration = delta_result.configuration), baseline_mountings = (SELECT count(*) FROM run "
    "AS r WHERE r.state = 'ok' AND r.configuration = 'C0');"
    "INSERT INTO delta_ratio SELECT 100, x.configuration, 'C0', x.target, x.delta / 0.004, 1.5, "
    "4.5, "
    "'interval', 0.3, 11, 2.2, '' FROM delta_result AS x WHERE x.quantity = 'CL';"
    "INSERT INTO reduction VALUES (210, 'budget', 'saltmarsh/February/C0', 'f00d', 'inputs', 1);"
    "INSERT INTO delta_uncertainty SELECT 210, configuration, baseline, quantity, target, is_main, "
    "half_width, 30, half_width, half_width / 3, 11, half_width / 4, half_width / 2.6, 40 FROM "
    "delta_result;"
    "INSERT INTO delta_budget SELECT 210, x.configuration, x.quantity, x.target, n.i, s.value, "
    "'run', "
    "x.half_width / n.i, x.half_width / n.i, x.half_width / (3 * n.i), 60.0 / n.i FROM "
    "delta_result "
    "AS x JOIN n60 AS n JOIN json_each('[\"balance\", \"dynamic pressure\", \"ride height\", "
    "\"blockage\", \"drift of the baseline\", \"temperature\", \"steps to the target\", \"scatter "
    "of points\"]') AS s ON s.key = n.i - 1;";

/* A dead tap in each run, each rule at some points, and points that a rule, or a person, leaves out. */
static const char flags_sql[] =
    "INSERT INTO flag_row (reduction, run, point, subject, rule, state, unit, detail) SELECT "
    "d.reduction, d.subject, '', 'T082', 'tap-frozen', 'failed', '', 'The same -212.4 Pa in 200 "
    "samples.' FROM reduction AS d WHERE d.stage = 'point' AND d.reduction > 400;"
    "INSERT INTO flag_row (reduction, run, point, subject, rule, state, value, limit_value, unit, "
    "effect_counts, detail) SELECT p.reduction, p.run, p.point, 'R' || (1 + k.rowid % 6), k.rule, "
    "k.state, 1.5, 1, '1', 0.1 * (p.reduction % 40), 'Seen at ' || p.point || ': 1.5 times the "
    "limit, "
    "which the next sentence says again in full words.' FROM (SELECT rule, state, row_number() "
    "OVER "
    "(ORDER BY rule) AS rowid FROM flag_rule WHERE state IN ('info', 'flagged')) AS k JOIN "
    "point_result AS p WHERE (p.reduction * 40 + CAST(p.point AS INTEGER) + 17 * k.rowid) % 113 = "
    "0 "
    "ORDER BY k.rowid, p.reduction, CAST(p.point AS INTEGER);"
    "UPDATE point_result SET state = 'flagged', rule_state = 'flagged' WHERE EXISTS (SELECT 1 FROM "
    "flag_row AS f WHERE f.run = point_result.run AND f.point = point_result.point);"
    "CREATE TEMP TABLE bad AS SELECT reduction, run, point FROM point_result WHERE (reduction * 40 "
    "+ "
    "CAST(point AS INTEGER)) % 53 = 0;"
    "INSERT INTO flag_row (reduction, run, point, subject, rule, state, value, limit_value, unit, "
    "effect_counts, detail) SELECT reduction, run, point, 'front_ride_height', 'off-target', "
    "'failed', 0.0008, 0.0005, 'm', 1.2, '0.8 mm from target; cap 0.5 mm.' FROM bad ORDER BY "
    "reduction, CAST(point AS INTEGER);"
    "INSERT INTO decision SELECT run, point, 'exclude', 'J. Moss', '2026-02-12', 'The belt was "
    "heard "
    "to slip at this point and the next.', 2 + row_number() OVER (ORDER BY run, point) FROM "
    "point_result WHERE (reduction * 40 + CAST(point AS INTEGER)) % 97 = 0;"
    "UPDATE point_result SET state = 'failed', rule_state = 'failed' WHERE (reduction, point) IN "
    "(SELECT reduction, point FROM bad);"
    "UPDATE point_result SET state = 'excluded' WHERE (run, point) IN (SELECT run, point FROM "
    "decision);"
    "UPDATE target_result SET is_used = 0, reason = 'failed' WHERE (run, point) IN (SELECT run, "
    "point "
    "FROM bad);"
    "UPDATE target_result SET is_used = 0, reason = 'excluded' WHERE (run, point) IN (SELECT run, "
    "point FROM decision);";

/* Samples of a channel with spikes at every point that failed. */
static const char traces_sql[] =
    "INSERT INTO channel (run, position, log_position, column_name, role, unit, written_unit, "
    "sign) "
    "SELECT run, 0, 0, 'R3', 'balance_3', 'mV/V', 'mV/V', 1 FROM run WHERE state = 'ok';"
    "INSERT INTO flag_row (reduction, run, point, subject, rule, state, value, limit_value, unit, "
    "detail) SELECT reduction, run, point, 'R3', 'spikes', 'flagged', 9, 5, '1', '3 of 1000 "
    "samples "
    "stand out.' FROM bad ORDER BY reduction, CAST(point AS INTEGER);"
    "INSERT INTO trace SELECT run, point, 0, 'spikes', 9, 0.01, 1000, 4, 5, 1, 5.01, 3, 9.5, 120, "
    "128, 14, 20, 0.6, 2.1 FROM bad;"
    "INSERT INTO trace_bin SELECT b.run, b.point, 0, 60 * (m.i - 1) + n.i - 1, 4, 4.5 + n.i / "
    "90.0, "
    "5 + n.i / 91.0, 5.5 + n.i / 92.0 FROM bad AS b JOIN n60 AS n JOIN n60 AS m WHERE m.i <= 4;"
    "INSERT INTO trace_mark SELECT run, point, 0, 0, 119, 121 FROM bad;"
    "INSERT INTO spectrum SELECT b.run, b.point, 0, n.i, 0.78125 * n.i, 1.0 / (3 + n.i * n.i) FROM "
    "bad AS b JOIN n60 AS n;"
    "INSERT INTO channel_statistic SELECT p.run, p.point, n.i, 'strut ' || n.i, 'other', 'N', 100 "
    "+ "
    "p.sequence / 7.0, 1, 1000, 0, 90, 110, NULL FROM point AS p JOIN n60 AS n WHERE n.i <= 5;";

static const char floor_sql[] =
    "DELETE FROM tap; DELETE FROM tap_result; DELETE FROM map_tap; DELETE FROM map_triangle; "
    "DELETE FROM reduction WHERE reduction = 200; UPDATE flag_row SET subject = 'T082' WHERE rule "
    "= "
    "'tap-frozen';";

/* Every tap of every point: what the map says, with scatter. */
static const char taps_sql[] =
    "DELETE FROM tap_result;"
    "CREATE TEMP TABLE made AS SELECT t.tap, t.sequence, m.cp FROM tap AS t JOIN map_tap AS m ON "
    "m.tap = t.tap AND m.configuration = 'C0' ORDER BY t.tap;"
    "INSERT INTO tap_result SELECT p.reduction, p.point, t.tap, 1.01 * t.cp, t.cp + ((p.reduction "
    "* "
    "7919 + t.sequence * 104729) % 2001 - 1000) / 70000.0, 0.002 + t.sequence / 3e6, 200, CASE "
    "WHEN "
    "t.cp IS NULL THEN 'failed' ELSE 'ok' END FROM point_result AS p CROSS JOIN made AS t ORDER BY "
    "p.reduction, p.point, t.tap; DROP TABLE made;"
    "INSERT INTO map_triangle SELECT x.reduction, c.configuration, x.target, x.surface, "
    "x.triangle, "
    "x.tap_a, x.tap_b, x.tap_c FROM map_triangle AS x JOIN configuration AS c ON c.sequence > 5 "
    "WHERE x.configuration = 'W1';"
    "INSERT INTO map_tap SELECT m.reduction, c.configuration, m.target, m.tap, m.cp, 0.5 * "
    "m.delta_cp, m.delta_cp_u, 9, m.p_value, m.q_value, m.not_tested, 3 FROM map_tap AS m JOIN "
    "configuration AS c ON c.sequence > 5 WHERE m.configuration = 'W1';"
    "DROP TABLE n60; DROP TABLE added; DROP TABLE effect; DROP TABLE night_run; DROP TABLE "
    "scatter; "
    "DROP TABLE bad;";

enum status report_fixture_enlarge(struct store *store, struct fault *fault)
{
    static const char *const steps[] = {attitudes_sql, runs_sql,   first_points_sql,
                                        points_sql,    ledger_sql, deltas_sql,
                                        flags_sql,     traces_sql, floor_sql};
    struct fixture fixture = {.store = store,
                              .fault = fault,
                              .name = {"C0", "W1", "W2", "W3", "W4", "W5"},
                              .status = store_begin(store, fault)};

    for (size_t i = 0; fixture.status == OK && i < sizeof steps / sizeof steps[0]; i++)
        fixture.status = store_execute(store, steps[i], fault);
    fixture_put_floor(&fixture, COLUMNS, ROWS);
    if (fixture.status == OK)
        fixture.status = store_execute(store, taps_sql, fault);
    return fixture.status == OK ? store_commit(store, fault) : fixture.status;
}

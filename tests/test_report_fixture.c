/* test_report_fixture.c - see test_report_fixture.h. */
#include "tests/test_report_fixture.h"

#include <math.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "report/page_night.h"
#include "schema/flag.h"

enum { CONFIGURATIONS = 6, TARGETS = 24, RUNS = 21, COLUMNS = 15, ROWS = 8, QUANTITIES = 4 };

static const double start = 1770836700; /* 2026-02-11T20:05:00+01:00 */
static const double run_spacing = 1380;

static const char *const names[CONFIGURATIONS] = {"C0", "W1", "W2", "W3", "W4", "W5"};
static const char *const changes[CONFIGURATIONS] = {
    "as raced",         "floor edge 5 mm lower", "turning vane <6 mm slot> & \"lip\"",
    "wing flap +1 deg", "mirror stay moved",     "diffuser strake off"};
static const int order[RUNS] = {0, 1, 2, 0, 3, 4, 0, 5, 1, 0, 2, 3, 0, 4, 5, 0, 1, 2, 0, 3, 0};
static const int quarantined_run = 17;

static const char *const quantities[QUANTITIES] = {"CL", "CD", "balance", "L/D"};
static const double levels[QUANTITIES] = {3.142, 1.021, 44.6, 3.077};

/* Delta and half-width at the weighted mean, by configuration and quantity; invented. */
static const double deltas[CONFIGURATIONS][QUANTITIES][2] = {
    {{0}},
    {{0.0121, 0.0058}, {0.0009, 0.0016}, {0.12, 0.21}, {0.009, 0.008}},
    {{0.0238, 0.0061}, {0.0036, 0.0022}, {-0.19, 0.22}, {0.012, 0.009}},
    {{0.0049, 0.0079}, {-0.0021, 0.0019}, {0.42, 0.19}, {0.011, 0.009}},
    {{-0.0031, 0.0052}, {0.0002, 0.0017}, {-0.03, 0.20}, {-0.004, 0.008}},
    {{-0.0188, 0.0060}, {-0.0097, 0.0018}, {-0.55, 0.21}, {0.011, 0.009}},
};
static const char *const verdicts[CONFIGURATIONS] = {
    NULL, "gain", "gain", "can't tell yet", "no change that matters", "loss"};

/* Values in the range -1 .. 1 that only depend on their number. */
static double scatter(unsigned number)
{
    uint32_t mixed = (number + 1) * 2654435761U;

    mixed ^= mixed >> 15;
    mixed *= 2246822519U;
    mixed ^= mixed >> 13;
    return (double)(mixed % 20001U) / 10000 - 1;
}

struct fixture {
    struct store *store;
    struct fault *fault;
    enum status status;
    const char *name[CONFIGURATIONS];
};

/* One insert: kinds has a letter a value, t text, r real, i int, n NULL. */
static void put(struct fixture *fixture, const char *sql, const char *kinds, ...)
{
    struct statement *statement = NULL;
    va_list values;

    if (fixture->status != OK)
        return;
    fixture->status = statement_prepare(fixture->store, sql, &statement, fixture->fault);
    va_start(values, kinds);
    for (int i = 0; fixture->status == OK && kinds[i] != '\0'; i++) {
        if (kinds[i] == 't')
            fixture->status =
                statement_bind_text(statement, i + 1, va_arg(values, const char *), fixture->fault);
        else if (kinds[i] == 'r')
            fixture->status =
                statement_bind_real(statement, i + 1, va_arg(values, double), fixture->fault);
        else if (kinds[i] == 'i')
            fixture->status =
                statement_bind_integer(statement, i + 1, va_arg(values, int), fixture->fault);
    }
    va_end(values);
    if (fixture->status == OK)
        fixture->status = statement_run(statement, fixture->fault);
    statement_free(statement);
}

static void put_declared(struct fixture *fixture)
{
    static const char *const settings[][4] = {
        {"season", "season", "Saltmarsh winter tests", ""},
        {"season", "count", "0.001", "1"},
        {"season", "point", "one percent of the downforce on the front axle", ""},
        {"limits", "confidence", "0.95", "1"},
        {"limits", "zero_drift", "0.5", "1"},
        {"car", "name", "Curlew C4", ""},
        {"car", "reference_area", "0.4", "m2"},
        {"car", "wheelbase", "1.45", "m"},
        {"facility saltmarsh", "blockage", "image sum", ""},
        {"facility saltmarsh", "buoyancy", "horizontal", ""},
        {"facility saltmarsh", "pressure_gradient", "-0.0012", "1/m"},
        {"facility saltmarsh", "zero", "linear in time", ""},
        {"attitudes", "cap: front_ride_height", "0.0005", "m"},
    };
    static const char *const better[QUANTITIES] = {"higher", "lower", "toward", "higher"};
    static const char *const metrics[QUANTITIES] = {"downforce", "drag", "balance", "efficiency"};
    static const double worthwhile[QUANTITIES] = {0.010, 0.003, 0.3, 0.02};

    for (size_t i = 0; i < sizeof settings / sizeof settings[0]; i++)
        put(fixture, "INSERT INTO setting VALUES (?1, ?2, ?3, ?4)", "tttt", settings[i][0],
            settings[i][1], settings[i][2], settings[i][3]);
    for (int m = 0; m < QUANTITIES; m++)
        put(fixture, "INSERT INTO metric VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)", "tittrri",
            metrics[m], m, quantities[m], better[m], m == 2 ? 45.0 : (double)NAN, worthwhile[m],
            m == 0);
    for (int c = 0; c < CONFIGURATIONS; c++)
        put(fixture, "INSERT INTO configuration VALUES (?1, ?2, ?3, ?4, ?5, '')", "tittt",
            fixture->name[c], c, c == 0 ? NULL : fixture->name[0], fixture->name[0], changes[c]);
    for (int rule = 0; rule < FLAG_RULE_COUNT; rule++) {
        const struct flag_row *row = flag_row((enum flag_rule)rule);
        put(fixture, "INSERT OR REPLACE INTO flag_rule VALUES (?1, ?2, ?3, ?4, ?5)", "ttttt",
            row->code, flag_state_name(row->state), row->sentence, row->consequence, row->action);
    }
}

struct attitude {
    char name[32];
    double front, rear, yaw; /* m, m, rad */
    double weight;
};

/* Six front by three rear heights, then six yaw angles. */
static struct attitude attitude_of(int t)
{
    static const double front[] = {8, 10, 12, 15, 18, 22};
    static const double rear[] = {30, 36, 42};
    static const double yaw[] = {-4, -2, -1, 1, 2, 4};
    struct attitude out = {.front = 0.010, .rear = 0.036, .weight = 0.04};

    if (t < 18) {
        out.front = front[t % 6] / 1000;
        out.rear = rear[t / 6] / 1000;
        (void)snprintf(out.name, sizeof out.name, "F%g R%g", front[t % 6], rear[t / 6]);
    } else {
        out.yaw = yaw[t - 18] * 0.017453292519943295;
        (void)snprintf(out.name, sizeof out.name, "F10 R36 Y%g", yaw[t - 18]);
    }
    return out;
}

/* A made-up car: downforce with a best height, drag following it, balance moving forward. */
static double car(int q, const struct attitude *at, int c)
{
    double front = at->front * 1000 - 12;
    double rear = at->rear * 1000 - 36;
    double yaw = at->yaw;
    double size = deltas[c][q][0] * (1 + 0.04 * front);

    switch (q) {
    case 0:
        return levels[0] - 0.0030 * front * front + 0.006 * rear - 8 * yaw * yaw + size;
    case 1:
        return levels[1] - 0.0006 * front * front + 0.002 * rear + 2 * yaw * yaw + size;
    case 2:
        return levels[2] - 0.22 * front + 0.30 * rear + size;
    default:
        return levels[3] - 0.002 * front * front + size;
    }
}

static void put_targets(struct fixture *fixture)
{
    for (int t = 0; t < TARGETS; t++) {
        struct attitude at = attitude_of(t);
        put(fixture, "INSERT INTO target VALUES (?1, ?2, ?3, ?4, ?5, NULL, NULL, NULL, ?6)",
            "tirrrr", at.name, t, at.front, at.rear, at.yaw, at.weight);
    }
}

static void run_name(int r, char out[16])
{
    (void)snprintf(out, 16, "R%d", 101 + r);
}

static void put_point(struct fixture *fixture, int r, int t, const char *run)
{
    struct attitude at = attitude_of(t);
    int c = order[r];
    double noise = 0.0015 * scatter((unsigned)(r * 100 + t));
    double cl = car(0, &at, c) + noise;
    double cd = car(1, &at, c) + noise / 4;
    double balance = car(2, &at, c);
    char point[16];

    (void)snprintf(point, sizeof point, "%d", t + 1);
    put(fixture, "INSERT INTO point VALUES (?1, ?2, ?3, ?4, 10, 1000, ?5, ?6, x'00', NULL)",
        "ttirii", run, point, t, start + run_spacing * r + 30 * t, 3 + 1000 * t, 1002 + 1000 * t);
    put(fixture,
        "INSERT INTO point_result (reduction, run, point, front_ride_height_m, rear_ride_height_m, "
        "yaw_rad, static_temperature_k, density_kg_m3, dynamic_pressure_pa, mach, speed_m_s, "
        "reynolds, q_ratio, drag_coefficient, downforce_coefficient, downforce_front_coefficient, "
        "downforce_rear_coefficient, balance_percent, lift_to_drag, drag_coefficient_u, "
        "downforce_coefficient_u, state) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, 1.19, ?8, 0.147, 50, "
        "4.8e6, 1.012, ?9, ?10, ?11, ?12, ?13, ?14, 0.0004, 0.0011, ?15)",
        "ittrrrrrrrrrrrt", r + 1, run, point, at.front, at.rear, at.yaw,
        294.6 + 0.08 * r + 0.01 * t, 1500 + 2 * scatter((unsigned)(r * 7 + t)), cd, cl,
        cl * balance / 100, cl * (1 - balance / 100), balance, cl / cd,
        (r + t) % 37 == 0 ? "flagged" : "ok");
    put(fixture,
        "INSERT INTO target_result (reduction, run, point, target, method, is_used, "
        "drag_coefficient, downforce_coefficient, balance_percent, lift_to_drag) VALUES "
        "(?1, ?2, ?3, ?4, 'at target', 1, ?5, ?6, ?7, ?8)",
        "itttrrrr", r + 1, run, point, at.name, cd, cl, balance, cl / cd);
}

static void put_loads(struct fixture *fixture, int r, int t)
{
    static const char *const loads[] = {"Fx", "Fy", "Fz", "Mx", "My", "Mz"};
    char point[16];

    (void)snprintf(point, sizeof point, "%d", t + 1);
    for (int k = 0; k < 6; k++) {
        const char *unit = k < 3 ? "N" : "N m";
        put(fixture, "INSERT INTO ledger_row VALUES (?1, ?2, 2, 'balance', ?3, ?4, ?5)", "itttr",
            r + 1, point, loads[k], unit, 610.0 + 10 * k + t);
    }
}

static void put_run(struct fixture *fixture, int r)
{
    int is_quarantined = r == quarantined_run;
    char run[16], start_text[40], log[64];
    int minutes = 5 + 23 * r;

    run_name(r, run);
    (void)snprintf(start_text, sizeof start_text, "2026-02-%02dT%02d:%02d:00+01:00",
                   11 + (20 + minutes / 60) / 24, (20 + minutes / 60) % 24, minutes % 60);
    put(fixture,
        "INSERT INTO run VALUES (?1, ?2, 'saltmarsh', 'February', ?3, ?4, ?5, 'wind_on', "
        "'underfloor', '', '', '', '', ?6, ?7, ?8, 'k')",
        "titrttti", run, r, start_text, start + run_spacing * r, fixture->name[order[r]],
        is_quarantined ? "quarantined" : "ok",
        is_quarantined ? "logs/R118_forces.csv:412:1: 19 fields, the header has 21; mend the row"
                       : "",
        r + 2);
    (void)snprintf(log, sizeof log, "logs/%s_forces.csv", run);
    put(fixture,
        "INSERT INTO log VALUES (?1, 0, ?2, 'forces', "
        "'9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08', 2400000, 0, 24000)",
        "tt", run, log);
    put(fixture,
        "INSERT INTO reduction VALUES (?1, 'point', ?2, "
        "'60303ae22b998861bce3b28f33eec1be758a213c86c93c076dbe9f558c11c752', 'inputs', 1)",
        "it", r + 1, run);
    for (int t = 0; !is_quarantined && t < TARGETS; t++) {
        put_point(fixture, r, t, run);
        put_loads(fixture, r, t);
    }
}

static void put_observations(struct fixture *fixture)
{
    int mounting[CONFIGURATIONS] = {0};

    put(fixture,
        "INSERT INTO reduction VALUES (100, 'compare', 'saltmarsh/February/' || ?1, 'c0ffee', "
        "'inputs', 1)",
        "t", fixture->name[0]);
    for (int r = 0; r < RUNS; r++) {
        int c = order[r];
        char run[16];
        if (r == quarantined_run)
            continue;
        run_name(r, run);
        mounting[c]++;
        for (int q = 0; q < QUANTITIES; q++) {
            double drift = deltas[5][q][0] * 0.012 * r;
            double noise = deltas[1][q][1] * 0.3 * scatter((unsigned)(r * 11 + q));
            for (int t = -1; t < TARGETS; t++) {
                struct attitude at = attitude_of(t < 0 ? 7 : t);
                put(fixture,
                    "INSERT INTO observation VALUES (100, ?1, ?2, ?3, ?4, ?5, ?6, ?7, NULL, NULL)",
                    "titttrr", fixture->name[c], mounting[c], quantities[q],
                    t < 0 ? "weighted" : at.name, run, start + run_spacing * r + 360,
                    car(q, &at, c) + drift + noise);
            }
        }
    }
}

static void put_delta(struct fixture *fixture, int c, int q, int t)
{
    static const int mountings[CONFIGURATIONS] = {8, 3, 2, 3, 2, 2};
    struct attitude at = attitude_of(t < 0 ? 2 : t);
    int is_main = t < 0 && q == 0;
    double delta = deltas[c][q][0];
    double width = deltas[c][q][1];

    if (t >= 0) {
        delta = car(q, &at, c) - car(q, &at, 0) + 0.25 * width * scatter((unsigned)(c * 31 + t));
        width *= 1.3;
    }
    put(fixture,
        "INSERT INTO delta_result VALUES (100, ?1, ?2, ?3, ?4, ?5, ?6, ?7, 11, ?8, ?9, ?10, ?11, "
        "?12, 8, ?13, 0, '')",
        "ttttirrrrrrit", fixture->name[c], fixture->name[0], quantities[q],
        t < 0 ? "weighted" : at.name, is_main, delta, width / 2.6, width, delta - width,
        delta + width, 2.6, mountings[c], is_main ? verdicts[c] : NULL);
}

static void put_deltas(struct fixture *fixture)
{
    for (int c = 1; c < CONFIGURATIONS; c++)
        for (int q = 0; q < QUANTITIES; q++)
            for (int t = -1; t < TARGETS; t++)
                put_delta(fixture, c, q, t);
}

static const int dead_column = 6, dead_row = 3;

static void tap_name(int i, int j, char out[16])
{
    (void)snprintf(out, 16, "T%03d", 1 + j * COLUMNS + i);
}

static double floor_cp(double x, double y)
{
    double peak = exp(-8 * (x + 0.35) * (x + 0.35)) + 0.6 * exp(-12 * (x - 0.45) * (x - 0.45));

    return -0.25 - 1.5 * peak * (1 - 1.6 * y * y);
}

static double floor_change(double x, double y, int c)
{
    double side = exp(-20 * (fabs(y) - 0.32) * (fabs(y) - 0.32));

    return (c == 2 ? -0.11 : -0.04) * side * exp(-3 * (x - 0.1) * (x - 0.1)) +
           0.03 * exp(-10 * (x + 0.55) * (x + 0.55));
}

static void put_tap(struct fixture *fixture, int i, int j)
{
    int is_dead = i == dead_column && j == dead_row;
    int number = j * COLUMNS + i;
    double x = -0.85 + 1.75 * i / (COLUMNS - 1) + 0.012 * scatter((unsigned)number);
    double y = -0.42 + 0.84 * j / (ROWS - 1) + 0.010 * scatter((unsigned)number + 500);
    char name[16];

    tap_name(i, j, name);
    put(fixture, "INSERT INTO tap VALUES (?1, ?2, ?1, ?3, ?4, 0.02, 0, 0, -1, 0.01, 'floor', NULL)",
        "tirr", name, number, x, y);
    for (int c = 0; c < CONFIGURATIONS; c++) {
        double change =
            c == 0 ? 0 : floor_change(x, y, c) + 0.003 * scatter((unsigned)(number + c));
        put(fixture, "INSERT INTO map_tap VALUES (200, ?1, 'F10 R36', ?2, ?3, ?4, ?5, 3)", "ttrrr",
            fixture->name[c], name, is_dead ? (double)NAN : floor_cp(x, y) + change,
            is_dead || c == 0 ? (double)NAN : change, is_dead || c == 0 ? (double)NAN : 0.004);
    }
    put(fixture, "INSERT INTO tap_result VALUES (1, '8', ?1, ?2, ?3, 0.002, 200, ?4)", "trrt", name,
        is_dead ? (double)NAN : floor_cp(x, y) * 1.01, is_dead ? (double)NAN : floor_cp(x, y),
        is_dead ? "failed" : "ok");
}

static void put_triangle(struct fixture *fixture, int *number, const int corner[6])
{
    char a[16], b[16], c[16];

    tap_name(corner[0], corner[1], a);
    tap_name(corner[2], corner[3], b);
    tap_name(corner[4], corner[5], c);
    for (int k = 0; k < CONFIGURATIONS; k++)
        put(fixture,
            "INSERT INTO map_triangle VALUES (200, ?1, 'F10 R36', 'floor', ?2, ?3, ?4, ?5)",
            "tittt", fixture->name[k], *number, a, b, c);
    (*number)++;
}

/* Two triangles a cell; about the dead tap a diamond of its four neighbours and four corners. */
static void put_triangles(struct fixture *fixture)
{
    int x = dead_column, y = dead_row, number = 0;
    const int about[6][6] = {
        {x, y - 1, x + 1, y, x, y + 1},     {x, y - 1, x, y + 1, x - 1, y},
        {x - 1, y - 1, x, y - 1, x - 1, y}, {x, y - 1, x + 1, y - 1, x + 1, y},
        {x + 1, y, x + 1, y + 1, x, y + 1}, {x, y + 1, x - 1, y + 1, x - 1, y}};

    for (int j = 0; j + 1 < ROWS; j++) {
        for (int i = 0; i + 1 < COLUMNS; i++) {
            const int lower[6] = {i, j, i + 1, j, i + 1, j + 1};
            const int upper[6] = {i, j, i + 1, j + 1, i, j + 1};
            int touches = (i == x || i + 1 == x) && (j == y || j + 1 == y);
            if (touches)
                continue;
            put_triangle(fixture, &number, lower);
            put_triangle(fixture, &number, upper);
        }
    }
    for (int k = 0; k < 6; k++)
        put_triangle(fixture, &number, about[k]);
}

static void put_floor(struct fixture *fixture)
{
    put(fixture,
        "INSERT INTO reduction VALUES (200, 'pressure_map', 'saltmarsh/February/' || ?1, 'beef', "
        "'inputs', 1)",
        "t", fixture->name[0]);
    for (int j = 0; j < ROWS; j++)
        for (int i = 0; i < COLUMNS; i++)
            put_tap(fixture, i, j);
    put_triangles(fixture);
}

static void put_flag(struct fixture *fixture, int r, const char *point, const char *subject,
                     enum flag_rule rule, const char *detail)
{
    const struct flag_row *row = flag_row(rule);
    char run[16];

    run_name(r, run);
    put(fixture,
        "INSERT INTO flag_row (reduction, run, point, subject, rule, state, value, limit_value, "
        "unit, detail) VALUES (?1, ?2, ?3, ?4, ?5, ?6, NULL, NULL, '', ?7)",
        "itttttt", r + 1, run, point, subject, row->code, flag_state_name(row->state), detail);
}

static void put_flags(struct fixture *fixture)
{
    char dead[16];

    tap_name(dead_column, dead_row, dead);
    for (int r = 0; r < RUNS; r++)
        if (r != quarantined_run)
            put_flag(fixture, r, "", dead, FLAG_TAP_FROZEN, "The same -212.4 Pa in 200 samples.");
    put_flag(fixture, quarantined_run, "", "", FLAG_RUN_QUARANTINED,
             "logs/R118_forces.csv:412:1: 19 fields, the header has 21.");
    put_flag(fixture, 8, "", "R3", FLAG_ZERO_DRIFT, "6.2 counts of downforce; limit 5.0.");
    put_flag(fixture, 13, "", "R3", FLAG_ZERO_DRIFT, "5.4 counts of downforce; limit 5.0.");
    put_flag(fixture, 4, "3", "front_ride_height", FLAG_OFF_TARGET,
             "0.8 mm from target; cap 0.5 mm.");
    put_flag(fixture, 4, "4", "front_ride_height", FLAG_OFF_TARGET,
             "0.7 mm from target; cap 0.5 mm.");
    put_flag(fixture, 11, "9", "q", FLAG_Q_UNSTEADY, "sd(q)/q 0.0031; limit 0.0020.");
}

enum status report_fixture_open(const char *path, const char *second, struct store **store,
                                struct fault *fault)
{
    struct fixture fixture = {.fault = fault};

    *store = NULL;
    fixture.status = store_open(path, STORE_CREATE, &fixture.store, fault);
    for (int c = 0; c < CONFIGURATIONS; c++)
        fixture.name[c] = c == 2 && second != NULL ? second : names[c];
    if (fixture.status == OK)
        fixture.status = store_begin(fixture.store, fault);
    put_declared(&fixture);
    put_targets(&fixture);
    for (int r = 0; r < RUNS; r++)
        put_run(&fixture, r);
    put_observations(&fixture);
    put_deltas(&fixture);
    put_floor(&fixture);
    put_flags(&fixture);
    if (fixture.status == OK)
        fixture.status = store_commit(fixture.store, fault);
    if (fixture.status != OK) {
        (void)store_close(fixture.store, NULL);
        return fixture.status;
    }
    *store = fixture.store;
    return OK;
}

/* What is changed in the copy of each table; name, prefix, id, shift and factor are the one row of
 * the table other. Only rows of the first entry are copied. */
static const char *const copies[][2] = {
    {"run",
     "run = prefix || run, sequence = sequence - id, entry = name, start_s = start_s + shift"},
    {"log", "run = prefix || run"},
    {"point", "run = prefix || run, time_s = time_s + shift"},
    {"reduction", "reduction = reduction + id, subject = CASE stage WHEN 'point' THEN prefix || "
                  "subject ELSE replace(subject, '/February/', '/' || name || '/') END"},
    {"point_result", "reduction = reduction + id, run = prefix || run, static_temperature_k = "
                     "static_temperature_k + 5"},
    {"tap_result", "reduction = reduction + id"},
    {"ledger_row", "reduction = reduction + id"},
    {"target_result", "reduction = reduction + id, run = prefix || run"},
    {"observation", "reduction = reduction + id, runs = prefix || runs, time_s = time_s + shift, "
                    "value = value + 0.5"},
    {"delta_result", "reduction = reduction + id, delta = factor * delta, lower = factor * lower, "
                     "upper = factor * upper, half_width = factor * half_width"},
    {"map_tap", "reduction = reduction + id, cp = 2 * cp, delta_cp = 2 * delta_cp"},
    {"map_triangle", "reduction = reduction + id"},
    {"flag_row", "id = flag_row_copy.id + other.id, reduction = reduction + other.id, run = prefix "
                 "|| run, detail = 'Seen in ' || name"}};

/* Which rows of the first entry: by run where there is one, else by the numbers below a thousand. */
static const char *first_rows(const char *table)
{
    int has_run =
        strcmp(table, "run") == 0 || strcmp(table, "log") == 0 || strcmp(table, "point") == 0;

    return has_run ? "run GLOB 'R*'" : "reduction < 1000";
}

static enum status copy_rows(struct store *store, const char *table, const char *values,
                             struct fault *fault)
{
    char sql[1200];

    (void)snprintf(sql, sizeof sql,
                   "CREATE TEMP TABLE %s_copy AS SELECT * FROM %s WHERE %s;"
                   "UPDATE %s_copy SET %s FROM other; INSERT INTO %s SELECT * FROM %s_copy;"
                   "DROP TABLE %s_copy",
                   table, table, first_rows(table), table, values, table, table, table);
    return store_execute(store, sql, fault);
}

enum status report_fixture_add_entry(struct store *store, const struct report_fixture_entry *entry,
                                     struct fault *fault)
{
    char sql[300];

    (void)snprintf(
        sql, sizeof sql,
        "CREATE TEMP TABLE other AS SELECT '%s' AS name, '%s' AS prefix, %d AS id, %.17g "
        "AS shift, %.17g AS factor",
        entry->entry, entry->prefix, entry->id, entry->shift, entry->factor);
    enum status status = store_execute(store, sql, fault);
    for (size_t i = 0; status == OK && i < sizeof copies / sizeof copies[0]; i++)
        status = copy_rows(store, copies[i][0], copies[i][1], fault);
    if (status == OK)
        status = store_execute(store, "DROP TABLE other", fault);
    return status;
}

enum status report_fixture_split_family(struct store *store, struct fault *fault)
{
    return store_execute(
        store,
        "INSERT INTO reduction VALUES (300, 'compare', 'saltmarsh/February/W3', 'cafe', 'inputs', "
        "1);"
        "UPDATE configuration SET baseline = 'W3', parent = 'W3' WHERE configuration IN ('W4', "
        "'W5');"
        "UPDATE configuration SET baseline = 'W3', parent = NULL WHERE configuration = 'W3';"
        "DELETE FROM delta_result WHERE configuration = 'W3';"
        "UPDATE delta_result SET baseline = 'W3', reduction = 300 WHERE configuration IN ('W4', "
        "'W5');"
        "UPDATE observation SET reduction = 300 WHERE configuration IN ('W3', 'W4', 'W5')",
        fault);
}

enum status report_fixture_page(struct store *store, struct html *page, struct fault *fault)
{
    struct findings findings;
    struct headline headline;

    enum status status = findings_read(store, &findings, fault);
    if (status != OK)
        return status;
    headline_make(&findings, &headline);
    struct night_page night = {store, &findings, &headline};
    status = page_night(page, &night, fault);
    headline_end(&headline);
    findings_end(&findings);
    return status;
}

/* test_report_fixture.c - see test_report_fixture.h. */
#include "tests/test_report_fixture.h"

#include <math.h>
#include <stdio.h>

#include "schema/flag.h"
#include "tests/report_fixture_parts.h"

enum { TARGETS = 24, RUNS = 21, QUANTITIES = 4 };

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
        fixture_put(fixture, "INSERT INTO setting VALUES (?1, ?2, ?3, ?4)", "tttt", settings[i][0],
                    settings[i][1], settings[i][2], settings[i][3]);
    for (int m = 0; m < QUANTITIES; m++)
        fixture_put(fixture, "INSERT INTO metric VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)", "tittrri",
                    metrics[m], m, quantities[m], better[m], m == 2 ? 45.0 : (double)NAN,
                    worthwhile[m], m == 0);
    for (int c = 0; c < CONFIGURATIONS; c++)
        fixture_put(fixture,
                    "INSERT INTO configuration (configuration, sequence, parent, baseline, change, "
                    "note) VALUES (?1, ?2, ?3, ?4, ?5, '')",
                    "tittt", fixture->name[c], c, c == 0 ? NULL : fixture->name[0],
                    fixture->name[0], changes[c]);
    for (int rule = 0; rule < FLAG_RULE_COUNT; rule++) {
        const struct flag_row *row = flag_row((enum flag_rule)rule);
        fixture_put(fixture, "INSERT OR REPLACE INTO flag_rule VALUES (?1, ?2, ?3, ?4, ?5)",
                    "ttttt", row->code, flag_state_name(row->state), row->sentence,
                    row->consequence, row->action);
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
        fixture_put(fixture, "INSERT INTO target VALUES (?1, ?2, ?3, ?4, ?5, NULL, NULL, NULL, ?6)",
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
    double noise = 0.0015 * fixture_scatter((unsigned)(r * 100 + t));
    double cl = car(0, &at, c) + noise;
    double cd = car(1, &at, c) + noise / 4;
    double balance = car(2, &at, c);
    char point[16];

    (void)snprintf(point, sizeof point, "%d", t + 1);
    fixture_put(fixture, "INSERT INTO point VALUES (?1, ?2, ?3, ?4, 10, 1000, ?5, ?6, x'00', NULL)",
                "ttirii", run, point, t, start + run_spacing * r + 30 * t, 3 + 1000 * t,
                1002 + 1000 * t);
    fixture_put(
        fixture,
        "INSERT INTO point_result (reduction, run, point, front_ride_height_m, rear_ride_height_m, "
        "yaw_rad, static_temperature_k, density_kg_m3, dynamic_pressure_pa, mach, speed_m_s, "
        "reynolds, q_ratio, drag_coefficient, downforce_coefficient, downforce_front_coefficient, "
        "downforce_rear_coefficient, balance_percent, lift_to_drag, drag_coefficient_u, "
        "downforce_coefficient_u, state) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, 1.19, ?8, 0.147, 50, "
        "4.8e6, 1.012, ?9, ?10, ?11, ?12, ?13, ?14, 0.0004, 0.0011, ?15)",
        "ittrrrrrrrrrrrt", r + 1, run, point, at.front, at.rear, at.yaw,
        294.6 + 0.08 * r + 0.01 * t, 1500 + 2 * fixture_scatter((unsigned)(r * 7 + t)), cd, cl,
        cl * balance / 100, cl * (1 - balance / 100), balance, cl / cd,
        (r + t) % 37 == 0 ? "flagged" : "ok");
    fixture_put(fixture,
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
        fixture_put(fixture, "INSERT INTO ledger_row VALUES (?1, ?2, 2, 'balance', ?3, ?4, ?5)",
                    "itttr", r + 1, point, loads[k], unit, 610.0 + 10 * k + t);
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
    fixture_put(fixture,
                "INSERT INTO run VALUES (?1, ?2, 'saltmarsh', 'February', ?3, ?4, ?5, 'wind_on', "
                "'underfloor', '', '', '', '', ?6, ?7, ?8, 'k')",
                "titrttti", run, r, start_text, start + run_spacing * r, fixture->name[order[r]],
                is_quarantined ? "quarantined" : "ok",
                is_quarantined
                    ? "logs/R118_forces.csv:412:1: 19 fields, the header has 21; mend the row"
                    : "",
                r + 2);
    (void)snprintf(log, sizeof log, "logs/%s_forces.csv", run);
    fixture_put(
        fixture,
        "INSERT INTO log VALUES (?1, 0, ?2, 'forces', '', "
        "'9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08', 2400000, 0, 24000, 0)",
        "tt", run, log);
    fixture_put(fixture,
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

    fixture_put(
        fixture,
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
            double noise = deltas[1][q][1] * 0.3 * fixture_scatter((unsigned)(r * 11 + q));
            for (int t = -1; t < TARGETS; t++) {
                struct attitude at = attitude_of(t < 0 ? 7 : t);
                fixture_put(
                    fixture,
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
        delta = car(q, &at, c) - car(q, &at, 0) +
                0.25 * width * fixture_scatter((unsigned)(c * 31 + t));
        width *= 1.3;
    }
    fixture_put(
        fixture,
        "INSERT INTO delta_result (reduction, configuration, baseline, quantity, target, is_main, "
        "delta, standard_uncertainty, degrees_of_freedom, half_width, lower, upper, multiplier, "
        "mountings, baseline_mountings, verdict, real_but_small, reason, method, noise_source) "
        "VALUES (100, ?1, ?2, ?3, ?4, ?5, ?6, ?7, 11, ?8, ?9, ?10, ?11, ?12, 8, ?13, 0, '', 'whole "
        "night', 'tonight')",
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

static void put_flag(struct fixture *fixture, int r, const char *point, const char *subject,
                     enum flag_rule rule, const char *detail)
{
    const struct flag_row *row = flag_row(rule);
    char run[16];

    run_name(r, run);
    fixture_put(
        fixture,
        "INSERT INTO flag_row (reduction, run, point, subject, rule, state, value, limit_value, "
        "unit, detail) VALUES (?1, ?2, ?3, ?4, ?5, ?6, NULL, NULL, '', ?7)",
        "itttttt", r + 1, run, point, subject, row->code, flag_state_name(row->state), detail);
}

static void put_flags(struct fixture *fixture)
{
    char dead[16];

    fixture_dead_tap(FLOOR_COLUMNS, dead);
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
    fixture_put_floor(&fixture, FLOOR_COLUMNS, FLOOR_ROWS);
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

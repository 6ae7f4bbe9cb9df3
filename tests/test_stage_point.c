/* test_stage_point.c - a point of the night recomputed step by step from the stored inputs alone.
 *
 * Nothing of reduce/physics is called here: the formulas are written out again, in long double where
 * two near-equal numbers are subtracted.                                                            */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/pipeline.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

static const double yaw = 0.06;     /* the balance stays with the tunnel */
static const double fraction = 0.4; /* the point at 140 s, zeros at 100 and 200 s */
static const double output[6] = {2.31, -0.02, -8.7, 0.31, 1.9, -0.11};
static const double zero_before[6] = {0.01, 0.02, -0.03, 0.04, 0.05, 0.06};
static const double zero_after[6] = {0.012, 0.021, -0.033, 0.041, 0.052, 0.063};
static const double tare_output[6] = {0.11, 0.025, -0.35, 0.045, 0.08, 0.07};

/* A full second-order calibration: diagonal 1000, small interactions and products. */
static double linear(int i, int j)
{
    return i == j ? 1000 + 10 * i : 3.0 * (i - j);
}

static double product(int i, int j, int k)
{
    return 0.01 * (i + 1) * (j - k + 1);
}

static void write_calibration(struct night_fixture *fixture)
{
    static const char *const loads[] = {"Fx", "Fy", "Fz", "Mx", "My", "Mz"};
    char sql[256];
    fixture_execute(fixture, "DELETE FROM calibration");
    for (int i = 0; i < 6; i++) {
        for (int j = 0; j < 6; j++) {
            (void)snprintf(sql, sizeof sql,
                           "INSERT INTO calibration VALUES ('under','%s','R%d',%.17g,'N')",
                           loads[i], j + 1, linear(i, j));
            fixture_execute(fixture, sql);
            for (int k = j; k < 6; k++) {
                (void)snprintf(sql, sizeof sql,
                               "INSERT INTO calibration VALUES ('under','%s','R%d*R%d',%.17g,'N')",
                               loads[i], j + 1, k + 1, product(i, j, k));
                fixture_execute(fixture, sql);
            }
        }
    }
}

static void open_night(struct night_fixture *fixture)
{
    struct fixture_point values = {
        .rise = 3000, .front = 0.02, .rear = 0.04, .yaw = yaw, .tap = {-1500, 900}};
    fixture_open(fixture);
    write_calibration(fixture);
    struct facility *facility = &fixture->facility;
    facility->weight_tare = TARE_LOOKUP;
    facility->tare_tolerance[0] = 1e-3;
    facility->blockage = "area ratio";
    facility->buoyancy = BUOYANCY_HORIZONTAL;
    facility->pressure_gradient = -0.0012;
    fixture->campaign.car.volume = 4.5;
    fixture->balance.origin[0] = 0.03;
    fixture->balance.origin[2] = -0.35;
    fixture->balance.axis_sign[2] = -1;
    fixture->balance.moment_sign[1] = -1;
    fixture_add_zero(fixture, "z1", 100, 0);
    fixture_add_zero(fixture, "z2", 200, 0);
    fixture_execute(fixture, "DELETE FROM point");
    struct fixture_point zero = {.front = 0.02, .tap = {10, 20}};
    memcpy(zero.output, zero_before, sizeof zero_before);
    fixture_add_point(fixture, "z1", "Z", 100, &zero);
    memcpy(zero.output, zero_after, sizeof zero_after);
    zero.tap[0] = 30;
    fixture_add_point(fixture, "z2", "Z", 200, &zero);
    fixture_add_run(fixture, &(struct fixture_run){
                                 .run = "t1", .kind = "weight_tare", .start = 90, .zero = "z1"});
    struct fixture_point tare = {.front = 0.0205, .rear = 0.04};
    memcpy(tare.output, tare_output, sizeof tare_output);
    fixture_add_point(fixture, "t1", "T", 90, &tare);
    fixture_add_run(fixture,
                    &(struct fixture_run){
                        .run = "r1", .kind = "wind_on", .configuration = "base", .start = 140});
    memcpy(values.output, output, sizeof output);
    fixture_add_point(fixture, "r1", "P1", 140, &values);
}

static void reduce(struct night_fixture *fixture, struct reduce_summary *summary)
{
    struct fault fault;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, summary, &fault), &fault);
}

static double ledger(struct night_fixture *fixture, const char *step, const char *quantity)
{
    char sql[256];
    (void)snprintf(sql, sizeof sql,
                   "SELECT value FROM ledger WHERE run = 'r1' AND point = 'P1' AND step = '%s' AND "
                   "quantity = '%s'",
                   step, quantity);
    return fixture_number(fixture, sql);
}

static void loads_of(const double r[6], double load[6])
{
    for (int i = 0; i < 6; i++) {
        load[i] = 0;
        for (int j = 0; j < 6; j++) {
            load[i] += linear(i, j) * r[j];
            for (int k = j; k < 6; k++)
                load[i] += product(i, j, k) * r[j] * r[k];
        }
    }
}

/* Loads after each step: balance, tared, transferred; zero_free receives R1..R6. */
struct load_chain {
    double zero_free[6], balance[6], tared[6], transferred[6];
};

static void recompute_loads(struct load_chain *chain)
{
    static const double sign[6] = {1, 1, -1, 1, -1, 1};
    double tare_free[6];
    double tare[6];
    double car[6];
    for (int i = 0; i < 6; i++) {
        chain->zero_free[i] =
            output[i] - (zero_before[i] + fraction * (zero_after[i] - zero_before[i]));
        tare_free[i] = tare_output[i] - zero_before[i];
    }
    loads_of(chain->zero_free, chain->balance);
    loads_of(tare_free, tare);
    for (int i = 0; i < 6; i++) {
        chain->tared[i] = chain->balance[i] - tare[i];
        car[i] = sign[i] * chain->tared[i];
    }
    const double x = 0.03;
    const double z = -0.35;
    memcpy(chain->transferred, car, sizeof car);
    chain->transferred[3] = car[3] - z * car[1];
    chain->transferred[4] = car[4] + z * car[0] - x * car[2];
    chain->transferred[5] = car[5] + x * car[1];
    for (int i = 0; i < 6; i += 3) {
        double along = chain->transferred[i];
        double across = chain->transferred[i + 1];
        chain->transferred[i] = along * cos(yaw) + across * sin(yaw);
        chain->transferred[i + 1] = across * cos(yaw) - along * sin(yaw);
    }
}

static void check_loads(struct night_fixture *fixture, const char *step, const double want[6])
{
    static const char *const loads[] = {"Fx", "Fy", "Fz", "Mx", "My", "Mz"};
    for (int i = 0; i < 6; i++)
        CHECK_NEAR(ledger(fixture, step, loads[i]), want[i], 1e-12 * fabs(want[i]) + 1e-10,
                   "recomputed from the stored inputs");
}

static void every_load_step_can_be_recomputed(void)
{
    static const char *const outputs[] = {"R1", "R2", "R3", "R4", "R5", "R6"};
    struct night_fixture fixture;
    struct reduce_summary summary;
    struct load_chain chain;
    open_night(&fixture);
    reduce(&fixture, &summary);
    CHECK(summary.runs_reduced == 1);
    recompute_loads(&chain);
    for (int i = 0; i < 6; i++)
        CHECK_NEAR(ledger(&fixture, "zero", outputs[i]), chain.zero_free[i], 1e-12,
                   "recomputed from the stored inputs");
    check_loads(&fixture, "balance", chain.balance);
    check_loads(&fixture, "weight tare", chain.tared);
    check_loads(&fixture, "transfer", chain.transferred);
    CHECK_TEXT(fixture_text(&fixture, "SELECT unit FROM ledger WHERE quantity = 'R1'"), "mV/V");
    fixture_close(&fixture);
}

static double dynamic_pressure(void)
{
    return (double)(0.7L * 101325.0L * 5.0L *
                    (powl(1.0L + 3000.0L / 101325.0L, 2.0L / 7.0L) - 1.0L));
}

/* CIPM-2007 with 400 parts per million of CO2 (Picard et al., Metrologia 45, 2008, equations A1). */
static double density(double p, double kelvin, double humidity)
{
    double t = kelvin - 273.15;
    double saturation = exp(1.2378847e-5 * kelvin * kelvin - 1.9121316e-2 * kelvin + 33.93711047 -
                            6.3431645e3 / kelvin);
    double x = humidity * (1.00062 + 3.14e-8 * p + 5.6e-7 * t * t) * saturation / p;
    double z = 1 -
               p / kelvin *
                   (1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t * t +
                    (5.707e-6 - 2.051e-8 * t) * x + (1.9898e-4 - 2.376e-6 * t) * x * x) +
               p * p / (kelvin * kelvin) * (1.83e-11 - 0.765e-8 * x * x);
    return p * 28.96546e-3 / (z * 8.314472 * kelvin) * (1 - x * (1 - 18.01528 / 28.96546));
}

static void the_freestream_can_be_recomputed(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    open_night(&fixture);
    reduce(&fixture, &summary);
    double q = dynamic_pressure();
    double mach = sqrt(q / (0.7 * 101325));
    double kelvin = 295 / (1 + 0.2 * mach * mach);
    double rho = density(101325, kelvin, 0.5);
    CHECK_RELATIVE(ledger(&fixture, "freestream", "q"), q, 1e-12,
                   "recomputed, isentropic relations");
    CHECK_NEAR(ledger(&fixture, "freestream", "q"), 2968.80, 0.005,
               "compressible flow, p 101325 Pa, p0 - p 3000 Pa: 2968.80 Pa by hand");
    CHECK_RELATIVE(ledger(&fixture, "freestream", "M"), mach, 1e-12, "recomputed");
    CHECK_RELATIVE(ledger(&fixture, "freestream", "T"), kelvin, 1e-12, "recomputed");
    CHECK_RELATIVE(ledger(&fixture, "freestream", "rho"), rho, 1e-12, "recomputed, CIPM-2007");
    CHECK_RELATIVE(ledger(&fixture, "freestream", "V"), sqrt(2 * q / rho), 1e-12, "recomputed");
    fixture_close(&fixture);
}

static void check_coefficients(struct night_fixture *fixture, const char *step,
                               const double want[8])
{
    static const char *const names[] = {"CD", "CY", "CL", "CLF", "CLR", "CRM", "CPM", "CYM"};
    for (int i = 0; i < 8; i++)
        CHECK_NEAR(ledger(fixture, step, names[i]), want[i], 1e-12,
                   "recomputed from the stored inputs");
}

/* S/C = 2/20, section 5 m x 4 m. */
static double recompute_q_ratio(void)
{
    return 1 / ((1 - 0.1) * (1 - 0.1));
}

static void recompute_raw(double raw[8])
{
    struct load_chain chain;
    recompute_loads(&chain);
    const double *f = chain.transferred;
    double force = dynamic_pressure() * 2;
    double moment = force * 2.5;
    raw[0] = f[0] / force;
    raw[1] = f[1] / force;
    raw[2] = -f[2] / force;
    raw[5] = f[3] / moment;
    raw[6] = f[4] / moment;
    raw[7] = f[5] / moment;
    raw[3] = raw[2] / 2 - raw[6];
    raw[4] = raw[2] / 2 + raw[6];
}

static void every_coefficient_step_can_be_recomputed(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    double step[8];
    open_night(&fixture);
    reduce(&fixture, &summary);
    recompute_raw(step);
    check_coefficients(&fixture, "raw", step);
    step[0] -= 0.0012 * 4.5 / 2;
    check_coefficients(&fixture, "buoyancy", step);
    for (int i = 0; i < 8; i++)
        step[i] /= recompute_q_ratio();
    check_coefficients(&fixture, "blockage", step);
    check_coefficients(&fixture, "corrected", step);
    CHECK_NEAR(ledger(&fixture, "corrected", "balance"), 100 * step[3] / step[2], 1e-10,
               "identity");
    CHECK_NEAR(ledger(&fixture, "corrected", "L/D"), step[2] / step[0], 1e-12, "identity");
    CHECK_NEAR(ledger(&fixture, "corrected", "CDA"), step[0] * 2, 1e-12, "identity");
    CHECK_NEAR(fixture_number(&fixture, "SELECT downforce_coefficient FROM point_coefficient"),
               step[2], 1e-12, "the result is the ledger's last step");
    CHECK_NEAR(fixture_number(&fixture, "SELECT sum(change) FROM ledger WHERE quantity = 'CD'"),
               ledger(&fixture, "corrected", "CD") - ledger(&fixture, "raw", "CD"), 1e-12,
               "identity: the steps add up");
    fixture_close(&fixture);
}

static void taps_take_their_zero_and_keep_the_stagnation_value(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    open_night(&fixture);
    reduce(&fixture, &summary);
    double q = dynamic_pressure();
    double raw = (-1500 - (10 + fraction * (30 - 10))) / q;
    double stagnation = 3000 / q;
    double corrected = stagnation - (stagnation - raw) / recompute_q_ratio();
    CHECK_NEAR(fixture_number(&fixture, "SELECT cp_raw FROM tap_coefficient WHERE tap = 'T1'"), raw,
               1e-12, "recomputed from the stored inputs");
    CHECK_NEAR(fixture_number(&fixture, "SELECT cp FROM tap_coefficient WHERE tap = 'T1'"),
               corrected, 1e-12, "recomputed from the stored inputs");
    double own = 5 / sqrt(100) / q;
    double shared = raw * 1e-3 / sqrt(100);
    CHECK_NEAR(fixture_number(&fixture, "SELECT cp_u FROM tap_coefficient WHERE tap = 'T1'"),
               sqrt(own * own + shared * shared) / recompute_q_ratio(), 1e-12,
               "identity: tap and wind in quadrature");
    fixture_close(&fixture);
}

static void a_point_without_a_tare_at_its_attitude_is_refused(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    open_night(&fixture);
    fixture.facility.tare_tolerance[0] = 4e-4; /* the tare is 0.5 mm away */
    reduce(&fixture, &summary);
    CHECK_TEXT(fixture_text(&fixture, "SELECT state FROM point_coefficient"), "refused");
    CHECK(isnan(fixture_number(&fixture, "SELECT downforce_coefficient FROM point_coefficient")));
    CHECK_NEAR(fixture_number(&fixture, "SELECT front_ride_height_m FROM point_coefficient"), 0.02,
               0, "the attained attitude stays");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM ledger"), 0, 0, "no guess, no steps");
    CHECK_TEXT(fixture_text(&fixture, "SELECT rule FROM flag WHERE point = 'P1'"),
               "tare-not-at-attitude");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag WHERE point = 'P1'"), 0.0005, 1e-15,
               "identity: 0.0205 - 0.0200");
    fixture_close(&fixture);
}

/* The point is at 140 s: a calibration that ended at 100 s refuses its run, one that lasts does not. */
static void an_expired_calibration_refuses_the_run(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    open_night(&fixture);
    fixture_execute(&fixture, "UPDATE calibration_file SET valid_from_s = 0, valid_until_s = 1e5");
    reduce(&fixture, &summary);
    CHECK(summary.runs_refused == 0);
    fixture_close(&fixture);
    open_night(&fixture);
    fixture_execute(&fixture, "UPDATE calibration_file SET valid_until_s = 100, sha256 = 'late'");
    reduce(&fixture, &summary);
    CHECK(summary.runs_refused == 1);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = "
                                        "'calibration-expired' AND state = 'refused' AND "
                                        "detail LIKE '%is valid until 1970-01-01 00:01:40 UTC%'"),
               1, 0, "one flag a run");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(drag_coefficient) FROM point_coefficient"), 0,
               0, "no number");
    fixture_close(&fixture);
}

static void the_random_uncertainty_is_that_of_the_means(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_wind(&fixture, "r1", "base", 50, 3);
    reduce(&fixture, &summary);
    /* CD = k R1/q(p0 - p): one part in 1000 of sd, 100 effective samples, in R1 and in p0 - p, whose
     * share of q is d ln q/d ln(p0 - p) = 0.990 here; T and RH do not reach CD, p hardly does. */
    double u = fixture_number(&fixture, "SELECT drag_coefficient_u FROM point_coefficient");
    CHECK_RELATIVE(u, 0.9 * 1e-4 * sqrt(1 + 0.99 * 0.99), 0.01,
                   "first-order propagation by hand, 1 %");
    fixture_close(&fixture);
}

CU_TestInfo stage_point_tests[] = {
    {"every load step can be recomputed", every_load_step_can_be_recomputed},
    {"the freestream can be recomputed", the_freestream_can_be_recomputed},
    {"every coefficient step can be recomputed", every_coefficient_step_can_be_recomputed},
    {"taps take their zero and keep the stagnation value",
     taps_take_their_zero_and_keep_the_stagnation_value},
    {"a point without a tare at its attitude is refused",
     a_point_without_a_tare_at_its_attitude_is_refused},
    {"the random uncertainty is that of the means", the_random_uncertainty_is_that_of_the_means},
    {"an expired calibration refuses the run", an_expired_calibration_refuses_the_run},
    CU_TEST_INFO_NULL};

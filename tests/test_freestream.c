/* test_freestream.c - Mach number, q and speed from pressures. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/freestream.h"
#include "tests/check.h"

static const char *const report = "NACA Report 1135, 1953, its equations computed independently";

/* M, p/p0, T/T0, q/p0, Cp0 */
static const double isentropic[][5] = {
    {0.01, 0.999930003149885, 0.999980000399992, 6.99951002204919e-5, 1.00002500025},
    {0.05, 0.998251966946778, 0.999500249875062, 0.00174694094215686, 1.00062515625977},
    {0.10, 0.993031384874252, 0.998003992015968, 0.00695121969411976, 1.00250250062488},
    {0.15, 0.984408162688737, 0.995520159283225, 0.0155044285623476, 1.00563766336594},
    {0.20, 0.972496702955777, 0.992063492063492, 0.0272299076827617, 1.01004003996806},
    {0.25, 0.957452832732048, 0.987654320987654, 0.0418885614320271, 1.01572280864775},
    {0.27, 0.950600329537085, 0.98562952157543, 0.0485091348162774, 1.01835810203605},
    {0.30, 0.939469698494016, 0.982318271119843, 0.059186591005123, 1.02270295480854},
    {0.35, 0.918772801835358, 0.976085895558809, 0.078784767757382, 1.03100130236826},
    {0.38, 0.905156056600905, 0.971930643029313, 0.0914931742012195, 1.03662316043934},
    {0.40, 0.895614383048238, 0.968992248062016, 0.100308810901403, 1.0406425518728},
    {0.45, 0.870267377595414, 0.961076405574243, 0.12336040077415, 1.0516553252944},
    {0.50, 0.843019175422553, 0.952380952380952, 0.147528355698947, 1.06407221739656},
    {0.60, 0.784003950869444, 0.932835820895522, 0.1975689956191, 1.09326895373291},
};

static void isentropic_relations(void)
{
    for (size_t i = 0; i < sizeof isentropic / sizeof *isentropic; i++) {
        const double *row = isentropic[i];
        double mach = row[0], p = row[1];
        CHECK_RELATIVE(p + freestream_pressure_rise(p, mach), 1.0, 1e-14, report);
        CHECK_RELATIVE(freestream_static_temperature(1.0, mach), row[2], 1e-14, report);
        CHECK_RELATIVE(freestream_dynamic_pressure(p, mach), row[3], 1e-13, report);
        CHECK_RELATIVE(freestream_stagnation_cp(mach), row[4], 2e-11, report);
    }
    CHECK_NEAR(1.0 - freestream_pressure_rise(0.9506, 0.27), 0.9506, 5e-5,
               "NACA Report 1135, table of p/p0 at M 0.27, second-hand");
}

/* p, p0 - p, T0, M, q, T, rho, V; rho is p/(287.05307 T) here */
static const double pitot[][8] = {
    {101325.0, 500.0, 293.15, 0.08388720478886, 499.121294960729, 292.737996847286,
     1.20580010306345, 28.7726848722447},
    {101325.0, 1000.0, 293.15, 0.118530533752161, 996.49501980283, 292.328586639225,
     1.20748884269973, 40.6266488947536},
    {101325.0, 1500.0, 293.15, 0.145043024465304, 1492.13578794545, 291.921740506042,
     1.20917169840503, 49.6792675779397},
    {101325.0, 2500.0, 293.15, 0.18692504972246, 2478.27594854534, 291.115627274834,
     1.21251995323426, 63.9359881688928},
    {98000.0, 3000.0, 303.15, 0.207994843696526, 2967.76325329787, 300.549533928314,
     1.1359201873421, 72.2862533433649},
    {101325.0, 5000.0, 293.15, 0.263222434814314, 4914.28632482113, 289.143280826535,
     1.22079097172868, 89.7272942476891},
    {95000.0, 7000.0, 308.15, 0.320318872210815, 6823.17796297815, 301.953658500684,
     1.09602664018313, 111.582937942228},
};

static void pitot_to_speed(void)
{
    for (size_t i = 0; i < sizeof pitot / sizeof *pitot; i++) {
        const double *row = pitot[i];
        double mach = 0.0;
        CHECK(freestream_mach(row[0], row[1], &mach) == OUTCOME_OK);
        CHECK_RELATIVE(mach, row[3], 1e-13, report);
        double q = freestream_dynamic_pressure(row[0], mach);
        CHECK_RELATIVE(q, row[4], 1e-13, report);
        CHECK_RELATIVE(freestream_static_temperature(row[2], mach), row[5], 1e-14, report);
        CHECK_RELATIVE(freestream_speed(q, row[6]), row[7], 1e-13, report);
    }
}

static void three_thousand_pascals(void)
{
    double mach = 0.0;
    CHECK(freestream_mach(101325.0, 3000.0, &mach) == OUTCOME_OK);
    CHECK_NEAR(mach, 0.204590, 5e-7, "common practice, computed independently");
    CHECK_NEAR(freestream_dynamic_pressure(101325.0, mach), 2968.80, 5e-3,
               "common practice, computed independently");
    CHECK_NEAR(freestream_stagnation_cp(mach), 1.010508, 5e-7,
               "common practice, computed independently");
}

/* A gauge that resolves a micropascal: the naive 1 + x - 1 would keep five digits. */
static void small_differences_keep_their_digits(void)
{
    for (int i = 0; i <= 12; i++) {
        double rise = pow(7.0, i) * 1e-6;
        double mach = 0.0;
        CHECK(freestream_mach(101325.0, rise, &mach) == OUTCOME_OK);
        CHECK_RELATIVE(freestream_pressure_rise(101325.0, mach), rise, 1e-14, "identity");
    }
    for (int i = 0; i < 35; i++) {
        double mach = pow(1.37, i) * 1e-5;
        double again = 0.0;
        CHECK(freestream_mach(98000.0, freestream_pressure_rise(98000.0, mach), &again) ==
              OUTCOME_OK);
        CHECK_RELATIVE(again, mach, 1e-13, "identity");
        CHECK(freestream_mach_from_q(98000.0, freestream_dynamic_pressure(98000.0, mach), &again) ==
              OUTCOME_OK);
        CHECK_RELATIVE(again, mach, 1e-14, "identity");
    }
    CHECK_NEAR(freestream_stagnation_cp(0.0), 1.0, 0.0, "limit");
    CHECK_NEAR((freestream_stagnation_cp(1e-4) - 1.0) / 2.5e-9, 1.0, 1e-6, "series, M^2/4");
}

static void contraction_polynomial(void)
{
    const double contraction[DROP_TERMS] = {1.5, 1.02, -3e-6, 2e-10};
    CHECK_RELATIVE(freestream_of_drop(contraction, 1000.0), 1.5 + 1020.0 - 3.0 + 0.2, 1e-15,
                   "identity");
}

static enum outcome mach_of(double p, double rise)
{
    double mach = -1.0;
    enum outcome outcome = freestream_mach(p, rise, &mach);
    CHECK(outcome == OUTCOME_OK || mach == -1.0);
    return outcome;
}

static enum outcome mach_of_q(double p, double q)
{
    double mach = -1.0;
    enum outcome outcome = freestream_mach_from_q(p, q, &mach);
    CHECK(outcome == OUTCOME_OK || mach == -1.0);
    return outcome;
}

/* Against differences of the polynomial itself. */
static void slope_of_the_contraction_polynomial(void)
{
    const double contraction[DROP_TERMS] = {1.5, 1.02, -3e-6, 2e-10};
    for (int step = 0; step < 8; step++) {
        double drop = 500.0 * step;
        CHECK_NEAR(freestream_drop_slope(contraction, drop),
                   (freestream_of_drop(contraction, drop + 1.0) -
                    freestream_of_drop(contraction, drop - 1.0)) /
                       2.0,
                   1e-9, "identity: central difference, error 2e-10");
    }
}

static void refusals(void)
{
    CHECK(mach_of(NAN, 1000.0) == OUTCOME_NOT_FINITE);
    CHECK(mach_of(101325.0, NAN) == OUTCOME_NOT_FINITE);
    CHECK(mach_of(0.0, 1000.0) == OUTCOME_AIR_RANGE);
    CHECK(mach_of(101325.0, 0.0) == OUTCOME_NO_WIND);
    CHECK(mach_of(101325.0, -5.0) == OUTCOME_NO_WIND);
    CHECK(mach_of(101325.0, freestream_pressure_rise(101325.0, 0.6001)) == OUTCOME_TOO_FAST);
    CHECK(mach_of(101325.0, freestream_pressure_rise(101325.0, 0.5999)) == OUTCOME_OK);
    CHECK(mach_of_q(NAN, 1000.0) == OUTCOME_NOT_FINITE);
    CHECK(mach_of_q(101325.0, NAN) == OUTCOME_NOT_FINITE);
    CHECK(mach_of_q(-1.0, 1000.0) == OUTCOME_AIR_RANGE);
    CHECK(mach_of_q(101325.0, 0.0) == OUTCOME_NO_WIND);
    CHECK(mach_of_q(101325.0, 26000.0) == OUTCOME_TOO_FAST);
}

CU_TestInfo freestream_tests[] = {
    {"isentropic relations to M 0.6", isentropic_relations},
    {"total and static pressure to speed", pitot_to_speed},
    {"3000 Pa of total minus static are 2968.80 Pa of q", three_thousand_pascals},
    {"M to p0 - p and back keeps 13 digits down to a micropascal",
     small_differences_keep_their_digits},
    {"a contraction's polynomial", contraction_polynomial},
    {"the slope of a contraction's polynomial", slope_of_the_contraction_polynomial},
    {"no wind, too fast, no air and NAN are refused", refusals},
    CU_TEST_INFO_NULL};

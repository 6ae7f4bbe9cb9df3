/* test_facility_coefficients.c - logs that hold the facility's own coefficients. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"
#include "tests/point_flags.h"

/* Three coefficients of the facility in the channels 0 .. 2, the first of them CD. */
static void open_coefficients(struct night_fixture *fixture, const char *second, const char *third,
                              const double value[3])
{
    char sql[512];
    fixture_open(fixture);
    fixture->targets[0].weight = 0;
    fixture->targets[1].weight = 0;
    fixture_add_run(fixture,
                    &(struct fixture_run){
                        .run = "r1", .kind = "wind_on", .configuration = "base", .start = 50});
    struct fixture_point values = {.rise = 3000, .front = 0.02, .rear = 0.04};
    memcpy(values.output, value, 3 * sizeof *value);
    fixture_add_point(fixture, "r1", "P1", 50, &values);
    fixture_execute(fixture, "DELETE FROM channel WHERE position BETWEEN 3 AND 5");
    fixture_execute(fixture,
                    "INSERT INTO channel (run, position, log_position, column_name, role, unit, "
                    "written_unit, sign) SELECT run, position + 3, log_position, "
                    "column_name || 'b', 'belt_speed', unit, written_unit, sign FROM channel "
                    "WHERE position < 3");
    (void)snprintf(sql, sizeof sql,
                   "UPDATE channel SET role = CASE position WHEN 0 THEN 'drag_coefficient' "
                   "WHEN 1 THEN '%s' ELSE '%s' END WHERE position < 3",
                   second, third);
    fixture_execute(fixture, sql);
}

static void coefficients_of_the_facility_need_no_zero(void)
{
    struct night_fixture fixture;
    open_coefficients(&fixture, "downforce_coefficient", "downforce_front_coefficient",
                      (const double[]){0.9, 3, 1.35});
    flags_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT downforce_rear_coefficient FROM point_coefficient"),
               1.65, 1e-12, "identity: CLR = CL - CLF");
    CHECK_NEAR(fixture_number(&fixture, "SELECT balance_percent FROM point_coefficient"), 45, 1e-12,
               "identity: 100 * 1.35/3");
    CHECK(isnan(fixture_number(&fixture, "SELECT side_coefficient FROM point_coefficient")));
    CHECK_NEAR(fixture_number(&fixture, "SELECT downforce_rear_coefficient_u FROM "
                                        "point_coefficient"),
               hypot(3, 1.35) * 1e-4, 1e-15, "identity: CL and CLF in quadrature");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = 'zero-missing'"), 0,
               0, "coefficients have no zero");
    fixture_close(&fixture);
}

/* CL is not in the log: it is the sum, and so is its uncertainty. */
static void a_filled_coefficient_has_its_uncertainty(void)
{
    static const struct {
        const char *second, *third;
        double value[3], downforce, u, balance_u;
    } cases[] = {
        {"downforce_front_coefficient",
         "downforce_rear_coefficient",
         {1, 1.2, 1.8},
         3,
         2.163330765e-4,  /* hypot(1.2e-4, 1.8e-4) */
         3.394112550e-3}, /* 100 1.2 1.8/9 hypot(1e-4, 1e-4) */
        {"downforce_front_coefficient",
         "pitch_coefficient",
         {1, 1.4, -0.1},
         2.6,
         2.807133771e-4, /* 2 hypot(1.4e-4, 1e-5) */
         4.707e-3},
    };
    for (size_t i = 0; i < 2; i++) {
        struct night_fixture fixture;
        open_coefficients(&fixture, cases[i].second, cases[i].third, cases[i].value);
        flags_reduce(&fixture);
        CHECK_TEXT(state_of_point(&fixture), "ok");
        CHECK_NEAR(fixture_number(&fixture, "SELECT downforce_coefficient FROM point_coefficient"),
                   cases[i].downforce, 1e-15, "identity: CLF + CLR, 2 (CLF + CPM)");
        CHECK_NEAR(
            fixture_number(&fixture, "SELECT downforce_coefficient_u FROM point_coefficient"),
            cases[i].u, 1e-12, "first-order propagation by hand");
        if (i == 0)
            CHECK_RELATIVE(
                fixture_number(&fixture, "SELECT balance_percent_u FROM point_coefficient"),
                cases[i].balance_u, 1e-6, "first-order propagation by hand");
        fixture_close(&fixture);
    }
}

/* CLR joins as a fourth coefficient: the channel of the belt speed. */
static void axles_that_do_not_add_up_are_flagged(void)
{
    static const struct {
        double rear, sd;
        const char *flags;
    } cases[] = {{1.65, 0.001, ""},
                 {1.6545, 0.001, ""},              /* 4.5 counts, 0.2 % are 6 */
                 {1.6, 0.001, "axle-sum flagged"}, /* 50 counts */
                 {1.6, 0.3, ""}};                  /* within three of 0.03 */
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct night_fixture fixture;
        open_coefficients(&fixture, "downforce_coefficient", "downforce_front_coefficient",
                          (const double[]){0.9, 3, 1.35});
        fixture_execute(&fixture, "UPDATE channel SET role = 'downforce_rear_coefficient' WHERE "
                                  "position = 3");
        set_statistic(&fixture, 3, offsetof(struct channel_statistics, mean), cases[i].rear);
        set_statistic(&fixture, 3, offsetof(struct channel_statistics, sd), cases[i].sd);
        flags_reduce(&fixture);
        CHECK_TEXT(flags_of_run(&fixture), cases[i].flags);
        fixture_close(&fixture);
    }
}

static void air_that_no_coefficient_needs_is_flagged(void)
{
    struct night_fixture fixture;
    open_coefficients(&fixture, "downforce_coefficient", "downforce_front_coefficient",
                      (const double[]){0.9, 3, 1.35});
    set_statistic(&fixture, 9, offsetof(struct channel_statistics, mean), 1.05);
    flags_reduce(&fixture);
    CHECK_TEXT(state_of_point(&fixture), "flagged");
    CHECK_TEXT(flags_of_run(&fixture), "air-out-of-range flagged");
    CHECK_NEAR(fixture_number(&fixture, "SELECT drag_coefficient FROM point_coefficient"), 0.9,
               1e-15, "the facility's own");
    CHECK(isnan(fixture_number(&fixture, "SELECT density_kg_m3 FROM point_coefficient")));
    fixture_close(&fixture);
}

CU_TestInfo facility_coefficients_tests[] = {
    {"coefficients of the facility need no zero", coefficients_of_the_facility_need_no_zero},
    {"a filled coefficient has its uncertainty", a_filled_coefficient_has_its_uncertainty},
    {"axles that do not add up are flagged", axles_that_do_not_add_up_are_flagged},
    {"air that no coefficient needs is flagged", air_that_no_coefficient_needs_is_flagged},
    CU_TEST_INFO_NULL};

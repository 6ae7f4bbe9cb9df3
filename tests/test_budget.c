/* test_budget.c - one declared source at a time through a whole reduction, against closed forms.
 *
 * The fixture's car has 2 m2 and 2.5 m, its balance at the car's origin, no blockage; scatter within the points
 * is made as good as nothing, so that what is left is the source's alone. Sources are invented. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "reduce/explain.h"
#include "reduce/pipeline.h"
#include "schema/point_statistics.h"
#include "tests/check.h"
#include "tests/night_fixture.h"
#include "tests/target_map.h"

extern CU_TestInfo budget_tests[];

enum { SOURCES = 3 };

/* A night with declared sources; the lists outlive the fixture's campaign. */
struct declared_night {
    struct night_fixture fixture;
    struct declared_uncertainty items[SOURCES];
    struct facility_uncertainties list;
};

static void declare(struct declared_night *night, char *source, enum uncertain_input of,
                    double standard, int is_relative, enum declared_reach reach)
{
    night->items[night->list.n] = (struct declared_uncertainty){.source = source,
                                                                .of = of,
                                                                .standard = standard,
                                                                .is_relative = is_relative,
                                                                .freedom = (double)INFINITY,
                                                                .reach = reach,
                                                                .evidence = "invented"};
    night->list.items = night->items;
    night->list.n++;
    night->list.facility = "tunnel";
    night->fixture.campaign.uncertainties = &night->list;
    night->fixture.campaign.n_uncertainties = 1;
}

static void quieten(struct night_fixture *fixture, const char *run)
{
    for (int channel = 0; channel < 10; channel++)
        fixture_set_statistic(fixture, run, channel, offsetof(struct channel_statistics, sd),
                              1e-13);
}

/* Baseline, wing, baseline, wing, baseline; CL 3 and 3.1, CD 0.9, 45 % in front. */
static void open_night(struct declared_night *night)
{
    static const char *const runs[] = {"a1", "b1", "a2", "b2", "a3"};
    memset(night, 0, sizeof *night);
    fixture_open(&night->fixture);
    fixture_add_zero(&night->fixture, "z1", 0, 0);
    for (int i = 0; i < 5; i++) {
        fixture_add_wind(&night->fixture, runs[i], i % 2 == 0 ? "base" : "wing", 1000 * (i + 1),
                         i % 2 == 0 ? 3.0 : 3.1);
        quieten(&night->fixture, runs[i]);
    }
}

static void reduce(struct declared_night *night)
{
    struct reduce_summary summary;
    struct fault fault;
    CHECK_OK(reduce_night(night->fixture.store, &night->fixture.campaign, &summary, &fault),
             &fault);
}

/* A column of the view budget for the wing at the target low; NAN when there is no row. */
static double in_budget(struct declared_night *night, const char *quantity, const char *source,
                        const char *column)
{
    char sql[300];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM budget WHERE configuration = 'wing' AND target = 'low' AND "
                   "quantity = '%s' AND source = '%s'",
                   column, quantity, source);
    return fixture_number(&night->fixture, sql);
}

static double of_point(struct declared_night *night, const char *run, const char *quantity,
                       const char *column)
{
    char sql[300];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM point_uncertainty JOIN reduction USING (reduction) WHERE "
                   "is_current = 1 AND run = '%s' AND point = 'P1' AND quantity = '%s'",
                   column, run, quantity);
    return fixture_number(&night->fixture, sql);
}

static void a_scale_of_q_is_one_of_the_delta(void)
{
    struct declared_night night;
    open_night(&night);
    declare(&night, "q scale", UNCERTAIN_DYNAMIC_PRESSURE, 0.01, 1, DECLARED_ALWAYS);
    reduce(&night);
    /* [1/(1 - u) - 1/(1 + u)]/2 = u/(1 - u^2) */
    double share = 0.01 / (1 - 1e-4);
    CHECK_RELATIVE(in_budget(&night, "CL", "q scale", "u_configuration"), 3.1 * share, 1e-9,
                   "identity: C goes with 1/q");
    CHECK_RELATIVE(in_budget(&night, "CL", "q scale", "u_baseline"), 3.0 * share, 1e-9, "identity");
    CHECK_RELATIVE(in_budget(&night, "CL", "q scale", "u_delta"), 0.1 * share, 1e-9,
                   "identity: 1 % of q is 1 % of the delta, not of CL");
    CHECK_NEAR(in_budget(&night, "CL", "q scale", "share_percent"), 100, 1e-6, "it is alone");
    CHECK_RELATIVE(of_point(&night, "b1", "CL", "standard"), 3.1 * share, 1e-9, "identity");
    CHECK_NEAR(of_point(&night, "b1", "balance", "standard"), 0, 1e-9,
               "identity: a ratio of two that go with 1/q");
    CHECK_NEAR(of_point(&night, "b1", "CL", "repeatability"), 0, 1e-12, "nothing is drawn anew");
    CHECK_TEXT(fixture_text(&night.fixture, "SELECT DISTINCT reach FROM budget WHERE source = 'q "
                                            "scale'"),
               "always");
    fixture_close(&night.fixture);
}

static void what_reaches_a_run_averages_and_does_not_cancel(void)
{
    struct declared_night night;
    open_night(&night);
    declare(&night, "refit", UNCERTAIN_CD, 0.002, 0, DECLARED_RUN);
    reduce(&night);
    CHECK_RELATIVE(in_budget(&night, "CD", "refit", "u_configuration"), 0.002 / sqrt(2), 1e-9,
                   "identity: mean of two runs");
    CHECK_RELATIVE(in_budget(&night, "CD", "refit", "u_baseline"), 0.002 / sqrt(3), 1e-9,
                   "identity: mean of three runs");
    CHECK_RELATIVE(in_budget(&night, "CD", "refit", "u_delta"), 0.002 * sqrt(1.0 / 2 + 1.0 / 3),
                   1e-9, "identity: nothing cancels");
    CHECK_RELATIVE(in_budget(&night, "CD", "refit", "predicted_scatter"), 0.002, 1e-9, "identity");
    CHECK_RELATIVE(of_point(&night, "b1", "CD", "repeatability"), 0.002, 1e-9, "identity");
    CHECK(isnan(in_budget(&night, "CL", "refit", "u_delta")));
    fixture_close(&night.fixture);
}

static void the_balances_angle_turns_downforce_into_drag(void)
{
    struct declared_night night;
    open_night(&night);
    double angle = 0.05 * 3.14159265358979323846 / 180;
    declare(&night, "alignment", UNCERTAIN_TURN_Y, angle, 0, DECLARED_ENTRY);
    reduce(&night);
    CHECK_RELATIVE(of_point(&night, "a1", "CD", "standard"), 3 * angle, 1e-9,
                   "dCD = CL d_alpha: 2.6 counts at CL 3 and 0.05 deg");
    CHECK_NEAR(1000 * of_point(&night, "a1", "CD", "standard"), 2.6, 0.05, "the same in counts");
    CHECK_RELATIVE(of_point(&night, "a1", "CL", "standard"), 0.9 * angle, 1e-9,
                   "and drag into downforce");
    CHECK_RELATIVE(in_budget(&night, "CD", "alignment", "u_delta"), 0.1 * angle, 1e-7,
                   "the delta's own downforce times the angle");
    fixture_close(&night.fixture);
}

static void an_area_is_in_all_coefficients_alike(void)
{
    static const char *const symbols[] = {"CD", "CL", "CLF", "CLR"};
    static const double values[] = {0.9, 3, 1.35, 1.65};
    struct declared_night night;
    open_night(&night);
    declare(&night, "area", UNCERTAIN_AREA, 0.005, 1, DECLARED_ALWAYS);
    reduce(&night);
    for (size_t i = 0; i < 4; i++)
        CHECK_RELATIVE(of_point(&night, "a1", symbols[i], "standard") / values[i],
                       0.005 / (1 - 25e-6), 1e-9, "identity: C goes with 1/A");
    CHECK_NEAR(of_point(&night, "a1", "balance", "standard"), 0, 1e-9, "identity: a ratio");
    CHECK_NEAR(of_point(&night, "a1", "L/D", "standard"), 0, 1e-9, "identity: a ratio");
    CHECK_NEAR(of_point(&night, "a1", "CLA", "standard"), 0, 1e-9, "identity: load over q");
    fixture_close(&night.fixture);
}

static void a_lever_moves_the_balance(void)
{
    struct declared_night night;
    open_night(&night);
    declare(&night, "lever", UNCERTAIN_ORIGIN_Z, 0.001, 0, DECLARED_ALWAYS);
    reduce(&night);
    CHECK_RELATIVE(of_point(&night, "a1", "CLF", "standard"), 0.9 * 0.001 / 2.5, 1e-9,
                   "by hand: CD z/W");
    CHECK_NEAR(of_point(&night, "a1", "CL", "standard"), 0, 1e-12, "identity: a moment only");
    fixture_close(&night.fixture);
}

static void a_height_is_felt_by_the_slope(void)
{
    struct declared_night night;
    memset(&night, 0, sizeof night);
    target_map_open(&night.fixture, 1e-5, 0); /* within the tolerance: nothing is carried */
    quieten(&night.fixture, "r1");
    declare(&night, "height", UNCERTAIN_ATTITUDE_1, 1e-4, 0, DECLARED_POINT);
    declare(&night, "steer", UNCERTAIN_ATTITUDE_1 + ATTITUDE_STEER, 1e-3, 0, DECLARED_POINT);
    reduce(&night);
    CHECK_NEAR(of_point(&night, "r1", "CL", "standard"), 40 * 1e-4, 1e-8,
               "the fixture's plane: 40 per m");
    CHECK_NEAR(of_point(&night, "r1", "CD", "standard"), 0, 1e-8, "no slope of drag in front");
    CHECK_TEXT(fixture_text(&night.fixture,
                            "SELECT untold FROM point_budget JOIN reduction USING (reduction) "
                            "WHERE is_current = 1 AND point = 'P1'"),
               "steer");
    fixture_close(&night.fixture);
}

static void correlation_is_not_ignored(void)
{
    struct declared_night night;
    open_night(&night);
    declare(&night, "probe", UNCERTAIN_DYNAMIC_PRESSURE, 0.001, 1, DECLARED_ALWAYS);
    declare(&night, "gauge", UNCERTAIN_DYNAMIC_PRESSURE, 0.002, 1, DECLARED_ALWAYS);
    night.items[1].correlated_with = "probe";
    night.items[1].correlation = 1;
    night.items[1].freedom = 6;
    reduce(&night);
    CHECK_RELATIVE(of_point(&night, "a1", "CL", "standard"), 3 * 0.003, 1e-5,
                   "identity: wholly correlated errors add up");
    CHECK_RELATIVE(in_budget(&night, "CL", "gauge", "standard_delta"), 0.1 * 0.003, 1e-5,
                   "identity");
    CHECK_NEAR(in_budget(&night, "CL", "gauge", "share_percent"), 200.0 / 3, 1e-3,
               "identity: 2 of 3");
    CHECK_NEAR(of_point(&night, "a1", "CL", "degrees_of_freedom"), 6, 1e-6,
               "the least of a correlated group");
    night.items[1].correlation = 0;
    night.items[1].correlated_with = NULL;
    reduce(&night);
    CHECK_RELATIVE(of_point(&night, "a1", "CL", "standard"), 3 * sqrt(5e-6), 1e-5,
                   "identity: independent errors");
    CHECK_NEAR(of_point(&night, "a1", "CL", "degrees_of_freedom"), 6 * 25.0 / 16, 1e-4,
               "Satterthwaite by hand");
    fixture_close(&night.fixture);
}

static void the_parts_add_up(void)
{
    struct declared_night night;
    open_night(&night);
    fixture_add_zero(&night.fixture, "z2", 9000, 0.01);
    declare(&night, "q scale", UNCERTAIN_DYNAMIC_PRESSURE, 0.002, 1, DECLARED_ALWAYS);
    declare(&night, "Fz of the balance", UNCERTAIN_LOAD_1 + 2, 4, 0, DECLARED_RUN);
    declare(&night, "alignment", UNCERTAIN_TURN_Y, 5e-4, 0, DECLARED_ENTRY);
    reduce(&night);
    CHECK_NEAR(fixture_number(&night.fixture, "SELECT max(abs(s - 100)) FROM (SELECT "
                                              "sum(share_percent) AS s FROM budget GROUP BY "
                                              "configuration, quantity, target)"),
               0, 1e-9, "identity");
    CHECK_NEAR(fixture_number(&night.fixture,
                              "SELECT max(abs(sum / t - 1)) FROM (SELECT sum(u_delta * u_delta) AS "
                              "sum, max(standard_delta) * max(standard_delta) AS t FROM budget "
                              "GROUP BY configuration, quantity, target)"),
               0, 1e-9, "identity: independent sources");
    /* 0.01 output units between the zeros are 10 N, over q A */
    double q = 0.7 * 101325 * 5 * (pow(1 + 3000.0 / 101325, 2.0 / 7) - 1);
    CHECK_RELATIVE(in_budget(&night, "CD", "zero drift", "u_configuration"),
                   10 / sqrt(12) / (2 * q) / sqrt(2), 1e-9, "dz/sqrt(12), mean of two runs");
    CHECK_RELATIVE(in_budget(&night, "CL", "Fz of the balance", "u_baseline"),
                   4 / (2 * q) / sqrt(3), 1e-9, "identity: load over q A");
    fixture_close(&night.fixture);
}

/* Of a - b/(c + e), e rectangular of half-width h: E[1/(c + e)] is a logarithm, E[1/(c + e)^2] is 1/(c^2 - h^2). */
static void near_no_downforce_trials_take_over(void)
{
    struct declared_night night;
    double c = 0.3, h = 0.24;
    memset(&night, 0, sizeof night);
    fixture_open(&night.fixture);
    fixture_add_zero(&night.fixture, "z1", 0, 0);
    fixture_add_wind(&night.fixture, "a1", "base", 1000, c);
    quieten(&night.fixture, "a1");
    double q = 0.7 * 101325 * 5 * (pow(1 + 3000.0 / 101325, 2.0 / 7) - 1);
    declare(&night, "Fz", UNCERTAIN_LOAD_1 + 2, h / sqrt(3) * 2 * q, 0, DECLARED_RUN);
    night.items[0].shape = DECLARED_RECTANGULAR;
    reduce(&night);
    double mean = log((c + h) / (c - h)) / (2 * h);
    double exact = 5 * c * sqrt(1 / (c * c - h * h) - mean * mean);
    double u = h / sqrt(3), steps = 5 * c * u / (c * c - u * u);
    CHECK_TEXT(fixture_text(&night.fixture,
                            "SELECT method FROM point_uncertainty WHERE quantity = 'balance'"),
               "trials");
    CHECK_RELATIVE(of_point(&night, "a1", "balance", "standard"), exact, 0.03,
                   "exact integral; the error of 10 000 trials");
    CHECK(fabs(exact - steps) > 0.1 * exact);
    CHECK(fabs(of_point(&night, "a1", "balance", "standard") - steps) > 0.07 * exact);
    CHECK_NEAR(of_point(&night, "a1", "balance", "seed"), 1, 0, "kept");
    CHECK_TEXT(
        fixture_text(&night.fixture, "SELECT method FROM point_uncertainty WHERE quantity = 'CL'"),
        "steps");
    double first = of_point(&night, "a1", "balance", "standard");
    fixture_execute(&night.fixture, "DELETE FROM reduction");
    reduce(&night);
    CHECK_NEAR(of_point(&night, "a1", "balance", "standard"), first, 0, "same seed, same bytes");
    fixture_close(&night.fixture);
}

/* Mountings of the baseline scatter by the levels put in. */
static void open_scattered(struct declared_night *night, double level)
{
    static const double scatter[] = {0, 1, -1, 0.5, -0.5, 1, -1, 0, 0.5};
    memset(night, 0, sizeof *night);
    fixture_open(&night->fixture);
    fixture_add_zero(&night->fixture, "z1", 0, 0);
    for (int i = 0; i < 9; i++) {
        char name[16];
        (void)snprintf(name, sizeof name, "r%d", i);
        fixture_add_wind(&night->fixture, name, i % 2 == 0 ? "base" : "wing", 1000 * (i + 1),
                         3 + (i % 2 == 0 ? 0 : 0.05) + level * scatter[i]);
        quieten(&night->fixture, name);
    }
}

static double flags(struct declared_night *night)
{
    return fixture_number(&night->fixture,
                          "SELECT count(*) FROM flag WHERE rule = 'budget-unlike-scatter'");
}

static void a_budget_unlike_the_scatter_is_told(void)
{
    static const struct {
        double declared;
        const char *words;
    } cases[] = {{0.001, "is not in it: find it, or declare it"}, {0.2, "too large"}, {0.01, NULL}};
    struct declared_night night;
    open_scattered(&night, 0.012);
    reduce(&night);
    CHECK_NEAR(flags(&night), 0, 0, "nothing is declared, so nothing is known to be lacking");
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        night.list.n = 0;
        declare(&night, "refit", UNCERTAIN_CL, cases[i].declared, 0, DECLARED_RUN);
        reduce(&night);
        CHECK_NEAR(flags(&night), cases[i].words != NULL, 0, "factor of two");
        if (cases[i].words != NULL)
            CHECK_CONTAINS(fixture_text(&night.fixture, "SELECT detail FROM flag WHERE rule = "
                                                        "'budget-unlike-scatter'"),
                           cases[i].words);
    }
    fixture_close(&night.fixture);
}

static void explain_has_the_budget(void)
{
    struct declared_night night;
    struct key_text text;
    struct fault fault;
    const struct explain_request request = {"a1", "P1", "CL", 0};
    open_night(&night);
    declare(&night, "q scale", UNCERTAIN_DYNAMIC_PRESSURE, 0.01, 1, DECLARED_ALWAYS);
    reduce(&night);
    CHECK_OK(explain_number(night.fixture.store, &night.fixture.campaign, &request, &text, &fault),
             &fault);
    CHECK_CONTAINS(text.text, "Uncertainty by the budget of sources");
    CHECK_CONTAINS(text.text, "q scale");
    CHECK_CONTAINS(text.text, "(30 counts), share 100.0 %");
    key_text_end(&text);
    fixture_close(&night.fixture);
}

CU_TestInfo budget_tests[] = {
    {"a scale of q is one of the delta", a_scale_of_q_is_one_of_the_delta},
    {"what reaches a run averages and does not cancel",
     what_reaches_a_run_averages_and_does_not_cancel},
    {"the balance's angle turns downforce into drag", the_balances_angle_turns_downforce_into_drag},
    {"an area is in all coefficients alike", an_area_is_in_all_coefficients_alike},
    {"a lever moves the balance", a_lever_moves_the_balance},
    {"a height is felt by the slope", a_height_is_felt_by_the_slope},
    {"correlation is not ignored", correlation_is_not_ignored},
    {"the parts add up", the_parts_add_up},
    {"near no downforce trials take over", near_no_downforce_trials_take_over},
    {"a budget unlike the scatter is told", a_budget_unlike_the_scatter_is_told},
    {"explain has the budget", explain_has_the_budget},
    CU_TEST_INFO_NULL,
};

/* test_glance_fill.c - what a glance takes from the season: halves, earlier runs, drift; and leaves in it.
 *
 * The night is the fixture's: the balance is linear and at the car's origin, so a coefficient is as its
 * load is. All values are invented.                                                                */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>
#include <string.h>

#include "reduce/glance.h"
#include "schema/point_statistics.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

enum { OUTPUT_Z = 2 };

static void look(struct night_fixture *fixture, const char *run, struct glance *glance)
{
    struct fault fault;
    CHECK_OK(glance_in_season(fixture->store, &fixture->campaign, run, glance, &fault), &fault);
}

static void add_night(struct night_fixture *fixture)
{
    fixture_open(fixture);
    fixture_add_zero(fixture, "z1", 0, 0);
    fixture_add_wind(fixture, "r1", "base", 100, 2.0);
}

static void the_halves_are_the_points_of_their_samples(void)
{
    struct night_fixture fixture;
    struct glance glance;
    double output[6];
    add_night(&fixture);
    fixture_outputs(0.9, 2.0, 0.9, output);
    fixture_set_statistic(&fixture, "r1", OUTPUT_Z,
                          offsetof(struct channel_statistics, mean_first_half), 0.99 * output[2]);
    fixture_set_statistic(&fixture, "r1", OUTPUT_Z,
                          offsetof(struct channel_statistics, mean_second_half), 1.01 * output[2]);
    look(&fixture, "r1", &glance);
    CHECK(glance.n_points == 1);
    if (glance.n_points == 1) {
        CHECK_NEAR(glance.points[0].values[0].value, 2.0, 1e-9, "identity");
        CHECK_NEAR(glance.points[0].half[0], 1.98, 1e-9, "identity: 0.99 of the load");
        CHECK_NEAR(glance.points[0].half[1], 2.02, 1e-9, "identity: 1.01 of the load");
    }
    glance_end(&glance);
    fixture_set_statistic(&fixture, "r1", OUTPUT_Z,
                          offsetof(struct channel_statistics, mean_second_half), NAN);
    look(&fixture, "r1", &glance);
    CHECK(glance.n_points == 1 && isnan(glance.points[0].half[1]));
    CHECK(glance.n_points == 1 && isfinite(glance.points[0].half[0]));
    glance_end(&glance);
    fixture_close(&fixture);
}

/* Samples 42 to 44 of the point stand out, a hundred a second. */
static void the_first_sample_of_a_reason_has_its_place(void)
{
    struct night_fixture fixture;
    struct glance glance;
    int seen = 0;
    add_night(&fixture);
    fixture_execute(
        &fixture,
        "INSERT INTO trace (run, point, position, reason, severity, step_s, rows, rows_a_bin, "
        "mean, sd, mean_without, marked_rows, peak, peak_row) SELECT c.run, p.point, c.position, "
        "'spikes', 9, 0.01, 100, 1, 1, 0.1, 1, 3, 2, 43 FROM channel AS c JOIN point AS p ON p.run "
        "= c.run WHERE c.run = 'r1' AND c.role = 'balance_output_3';"
        "INSERT INTO trace_mark SELECT run, point, position, 0, 42, 44 FROM trace;"
        "INSERT INTO flag_row (run, point, subject, rule, state, unit, detail) SELECT t.run, "
        "t.point, c.column_name, 'spikes', 'flagged', '', '3 of 100 samples stand out' FROM trace "
        "AS t JOIN channel AS c ON c.run = t.run AND c.position = t.position");
    look(&fixture, "r1", &glance);
    for (size_t i = 0; i < glance.n_reasons; i++)
        seen += strstr(glance.reasons[i].text, "3 of 100 samples stand out; first 0.42 s into "
                                               "point ") != NULL;
    CHECK(seen == 1);
    glance_end(&glance);
    fixture_execute(&fixture, "UPDATE trace SET step_s = NULL"); /* no time, no place */
    look(&fixture, "r1", &glance);
    for (size_t i = 0; i < glance.n_reasons; i++)
        CHECK(strstr(glance.reasons[i].text, "into point") == NULL);
    glance_end(&glance);
    fixture_close(&fixture);
}

static void earlier_runs_of_the_configuration_are_set_beside(void)
{
    struct night_fixture fixture;
    struct glance glance;
    add_night(&fixture);
    fixture_add_wind(&fixture, "r2", "wing", 200, 5.0); /* another configuration */
    fixture_add_wind(&fixture, "r3", "base", 300, 2.1);
    fixture_add_wind(&fixture, "r4", "base", 400, 2.2);
    fixture_add_wind(&fixture, "r5", "base", 500, 7.0); /* later */
    look(&fixture, "r4", &glance);
    CHECK(glance.n_earlier == 2 && glance.n_points == 1);
    if (glance.n_points == 1) {
        const struct glance_earlier *earlier = &glance.points[0].earlier;
        CHECK(earlier->n == 2);
        CHECK_NEAR(earlier->low, 2.0, 1e-9, "identity");
        CHECK_NEAR(earlier->high, 2.1, 1e-9, "identity");
        CHECK_NEAR(earlier->mean, 2.05, 1e-9, "identity");
        CHECK_NEAR(glance.earlier_shift, 0.15, 1e-9, "identity");
    }
    glance_end(&glance);
    look(&fixture, "r1", &glance);
    CHECK(glance.n_earlier == 0 && isnan(glance.earlier_shift));
    glance_end(&glance);
    fixture_close(&fixture);
}

static void nothing_made_on_trial_stays(void)
{
    struct night_fixture fixture;
    struct glance glance;
    add_night(&fixture);
    look(&fixture, "r1", &glance);
    glance_end(&glance);
    CHECK(fixture_number(&fixture, "SELECT count(*) FROM reduction") == 0);
    CHECK(fixture_number(&fixture, "SELECT count(*) FROM point_result") == 0);
    CHECK(fixture_number(&fixture, "SELECT count(*) FROM flag_row") == 0);
    fixture_close(&fixture);
}

static void the_drift_is_that_of_the_metric_it_moves_most(void)
{
    struct night_fixture fixture;
    struct glance glance;
    add_night(&fixture);
    look(&fixture, "r1", &glance);
    CHECK(glance.zero.is_one_sided == 1);
    CHECK_TEXT(glance.zero.before, "z1");
    CHECK_TEXT(glance.zero.after, "");
    CHECK_TEXT(glance.zero.quantity, "");
    glance_end(&glance);
    fixture_add_zero(&fixture, "z2", 200, 0.001);
    look(&fixture, "r1", &glance);
    CHECK(glance.zero.is_one_sided == 0);
    CHECK_TEXT(glance.zero.after, "z2");
    CHECK(glance.zero.drift != 0 && glance.zero.limit > 0);
    glance_end(&glance);
    fixture_close(&fixture);
}

static void the_targets_of_the_main_measure_are_needed(void)
{
    struct night_fixture fixture;
    struct glance glance;
    add_night(&fixture);
    look(&fixture, "r1", &glance);
    CHECK(glance.n_targets == 2 && glance.targets[0].is_needed && !glance.targets[1].is_needed);
    CHECK(glance.targets[0].is_covered && !glance.targets[1].is_tried);
    glance_end(&glance);
    fixture.campaign.main_attitude = "weighted";
    look(&fixture, "r1", &glance);
    CHECK(glance.targets[0].is_needed && glance.targets[1].is_needed);
    CHECK(glance.verdict == GLANCE_REPEAT); /* the second one was not measured */
    glance_end(&glance);
    fixture_close(&fixture);
}

static void a_run_that_is_not_there_is_not_found(void)
{
    struct night_fixture fixture;
    struct glance glance;
    struct fault fault;
    add_night(&fixture);
    CHECK(glance_in_season(fixture.store, &fixture.campaign, "r9", &glance, &fault) == NOT_FOUND);
    CHECK_CONTAINS(fault.text, "r9");
    glance_end(&glance);
    CHECK(glance_in_season(fixture.store, &fixture.campaign, "z1", &glance, &fault) == BAD_INPUT);
    glance_end(&glance);
    fixture_close(&fixture);
}

extern CU_TestInfo glance_fill_tests[];
CU_TestInfo glance_fill_tests[] = {
    {"the halves are the points of their samples", the_halves_are_the_points_of_their_samples},
    {"the first sample of a reason has its place", the_first_sample_of_a_reason_has_its_place},
    {"earlier runs of the configuration are set beside",
     earlier_runs_of_the_configuration_are_set_beside},
    {"nothing made on trial stays", nothing_made_on_trial_stays},
    {"the drift is that of the metric it moves most",
     the_drift_is_that_of_the_metric_it_moves_most},
    {"the targets of the main measure are needed", the_targets_of_the_main_measure_are_needed},
    {"a run that is not there is not found", a_run_that_is_not_there_is_not_found},
    CU_TEST_INFO_NULL};

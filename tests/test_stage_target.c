/* test_stage_target.c - points to their targets: matching, carrying, refusing. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/attitude_match.h"
#include "reduce/pipeline.h"
#include "tests/check.h"
#include "tests/target_map.h"

static void the_nearest_target_within_capture_wins(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    double at[ATTITUDE_COUNT] = {0.0201, 0.0403, 0};
    struct attitude_match match = attitude_match(&fixture.campaign.attitudes, at);
    CHECK(match.target == &fixture.targets[0]);
    CHECK(!match.within_tolerance && match.within_cap);
    CHECK(match.worst_axis == ATTITUDE_REAR_RIDE_HEIGHT);
    CHECK_NEAR(match.offset[1], 0.0003, 1e-15, "identity: attained minus target");
    at[1] = 0.0406; /* 0.6 mm: beyond the cap of 0.5, within the capture of 1.5 */
    match = attitude_match(&fixture.campaign.attitudes, at);
    CHECK(match.target == &fixture.targets[0] && !match.within_cap);
    at[1] = 0.0416;
    CHECK(attitude_match(&fixture.campaign.attitudes, at).target == NULL);
    at[0] = 0.02001;
    at[1] = 0.04001;
    CHECK(attitude_match(&fixture.campaign.attitudes, at).within_tolerance);
    fixture_close(&fixture);
}

static void a_coordinate_not_logged_is_taken_as_set_only_where_targets_agree(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    double at[ATTITUDE_COUNT] = {0.02, 0.04, (double)NAN};
    struct attitude_match match = attitude_match(&fixture.campaign.attitudes, at);
    CHECK(match.target == &fixture.targets[0] && match.within_tolerance);
    CHECK(match.unlogged_axis == ATTITUDE_YAW);
    fixture.targets[1].coordinate[ATTITUDE_YAW] = 0.1;
    CHECK(attitude_match(&fixture.campaign.attitudes, at).target == NULL);
    fixture_close(&fixture);
}

static void a_point_within_the_cap_is_carried_to_its_target(void)
{
    struct night_fixture fixture;
    target_map_open(&fixture, 0.0003, -0.0002);
    target_map_reduce(&fixture);
    CHECK_TEXT(target_map_method(&fixture), "local fit");
    CHECK_NEAR(target_map_value(&fixture, "is_used"), 1, 0, "within the cap");
    CHECK_NEAR(target_map_value(&fixture, "downforce_coefficient"), 3, 1e-9,
               "the fixture's plane at the target");
    CHECK_NEAR(target_map_value(&fixture, "drag_coefficient"), 0.9, 1e-9,
               "the fixture's plane at the target");
    double sum = target_map_value(&fixture, "downforce_front_coefficient") +
                 target_map_value(&fixture, "downforce_rear_coefficient");
    CHECK_NEAR(sum - target_map_value(&fixture, "downforce_coefficient"), 0, 1e-14,
               "identity: CLF + CLR = CL");
    CHECK_NEAR(target_map_value(&fixture, "balance_percent"), 45, 1e-6,
               "identity: 0.45 of CL in front");
    CHECK(target_map_value(&fixture, "downforce_coefficient_u") >= 0);
    fixture_close(&fixture);
}

static void a_point_at_target_is_left_alone(void)
{
    struct night_fixture fixture;
    target_map_open(&fixture, 1e-5, 0);
    target_map_reduce(&fixture);
    CHECK_TEXT(target_map_method(&fixture), "at target");
    CHECK_NEAR(target_map_value(&fixture, "downforce_coefficient"),
               target_map_downforce(0.02001, 0.04), 1e-9, "the attained value itself");
    CHECK_NEAR(target_map_value(&fixture, "downforce_coefficient_u"), 0, 0, "nothing is added");
    fixture_close(&fixture);
}

static void a_point_beyond_the_cap_is_left_at_attained_and_flagged(void)
{
    struct night_fixture fixture;
    target_map_open(&fixture, 0.0008, 0);
    target_map_reduce(&fixture);
    CHECK_TEXT(target_map_method(&fixture), "left at attained");
    CHECK_NEAR(target_map_value(&fixture, "is_used"), 0, 0, "beyond the cap");
    CHECK_NEAR(target_map_value(&fixture, "downforce_coefficient"),
               target_map_downforce(0.0208, 0.04), 1e-9, "the attained value itself");
    CHECK_NEAR(fixture_number(&fixture,
                              "SELECT value FROM flag WHERE rule = 'off-target' AND point "
                              "= 'P1'"),
               0.0008, 1e-12, "the offset");
    CHECK_NEAR(fixture_number(&fixture,
                              "SELECT limit_value FROM flag WHERE rule = 'off-target' AND "
                              "point = 'P1'"),
               0.0005, 1e-12, "the cap");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = 'no-target'"), 10,
               0, "the ten points of the grid are at no target");
    fixture_close(&fixture);
}

static void without_points_about_it_the_target_is_refused(void)
{
    struct night_fixture fixture;
    struct fixture_point values = {.rise = 3000, .front = 0.0203, .rear = 0.04};
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_outputs(0.9, 3, 1.35, values.output);
    fixture_add_run(&fixture,
                    &(struct fixture_run){
                        .run = "r1", .kind = "wind_on", .configuration = "base", .start = 50});
    fixture_add_point(&fixture, "r1", "P1", 50, &values);
    target_map_reduce(&fixture);
    CHECK_TEXT(target_map_method(&fixture), "left at attained");
    CHECK_NEAR(target_map_value(&fixture, "is_used"), 0, 0, "no slope, no value at the target");
    CHECK_TEXT(fixture_text(&fixture, "SELECT point FROM flag WHERE rule = 'target-refused'"),
               "P1");
    fixture_close(&fixture);
}

static void to_target_none_uses_only_what_is_within_tolerance(void)
{
    struct night_fixture fixture;
    target_map_open(&fixture, 0.0003, 0);
    fixture.facility.to_target = TARGET_NONE;
    target_map_reduce(&fixture);
    CHECK_TEXT(target_map_method(&fixture), "left at attained");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'off-target'"),
                   "to_target is none");
    fixture_close(&fixture);
}

/* All points of the fit stand above the target: the value there would be extrapolated. */
static void a_target_outside_the_points_is_refused(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_run(&fixture,
                    &(struct fixture_run){
                        .run = "r1", .kind = "wind_on", .configuration = "base", .start = 50});
    int number = 2;
    for (int i = 1; i <= 3; i++)
        for (int k = -1; k <= 1; k++)
            target_map_add(&fixture, number++, 0.02 + 0.0005 + 0.0004 * i, 0.04 + 0.004 * k, 0);
    target_map_add(&fixture, 1, 0.0204, 0.04, 0);
    target_map_reduce(&fixture);
    CHECK_TEXT(target_map_method(&fixture), "left at attained");
    CHECK_NEAR(target_map_value(&fixture, "is_used"), 0, 0, "not compared");
    CHECK_NEAR(target_map_value(&fixture, "downforce_coefficient"),
               target_map_downforce(0.0204, 0.04), 1e-9, "the attained value itself");
    CHECK_TEXT(fixture_text(&fixture, "SELECT point || ' ' || state FROM flag WHERE rule = "
                                      "'target-refused'"),
               "P1 refused");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'target-refused'"),
                   "lies outside the points that its fit rests on, in front ride height");
    fixture_close(&fixture);
}

static void an_unlogged_coordinate_is_compared_and_flagged(void)
{
    struct night_fixture fixture;
    target_map_open(&fixture, 0.0003, 0);
    fixture_execute(&fixture, "UPDATE channel SET role = 'steer' WHERE role = 'yaw'");
    target_map_reduce(&fixture);
    CHECK_NEAR(target_map_value(&fixture, "is_used"), 1, 0, "compared");
    CHECK_TEXT(fixture_text(&fixture, "SELECT state || ' ' || subject FROM flag WHERE rule = "
                                      "'attitude-not-measured' AND run = 'r1'"),
               "flagged yaw");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = "
                                          "'attitude-not-measured' AND run = 'r1'"),
                   "the attitude is taken as set");
    fixture_close(&fixture);
}

CU_TestInfo stage_target_tests[] = {
    {"the nearest target within capture wins", the_nearest_target_within_capture_wins},
    {"a coordinate not logged is taken as set only where targets agree",
     a_coordinate_not_logged_is_taken_as_set_only_where_targets_agree},
    {"a point within the cap is carried to its target",
     a_point_within_the_cap_is_carried_to_its_target},
    {"a point at target is left alone", a_point_at_target_is_left_alone},
    {"a point beyond the cap is left at attained and flagged",
     a_point_beyond_the_cap_is_left_at_attained_and_flagged},
    {"without points about it the target is refused",
     without_points_about_it_the_target_is_refused},
    {"to_target none uses only what is within tolerance",
     to_target_none_uses_only_what_is_within_tolerance},
    {"a target outside the points is refused", a_target_outside_the_points_is_refused},
    {"an unlogged coordinate is compared and flagged",
     an_unlogged_coordinate_is_compared_and_flagged},
    CU_TEST_INFO_NULL};

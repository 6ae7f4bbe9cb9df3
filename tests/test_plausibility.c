/* test_plausibility.c - wide gates that ask about units, signs and scale. Ranges: common practice, no
 * source; the values here are invented. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/plausibility.h"
#include "tests/check.h"

static struct campaign campaign;
static struct night night;
static struct run_row run;
static struct run_work work;
static char run_name[] = "R1";

/* A half-scale car in ordinary air: nothing to ask about. */
static struct reduced_point ordinary(void)
{
    struct reduced_point made;
    memset(&made, 0, sizeof made);
    memset(&campaign, 0, sizeof campaign);
    memset(&night, 0, sizeof night);
    memset(&run, 0, sizeof run);
    memset(&work, 0, sizeof work);
    campaign.car.model_scale = 0.5;
    night.campaign = &campaign;
    run.run = run_name;
    work.night = &night;
    work.run = &run;
    made.result.freestream.static_pressure = 101000;
    made.result.freestream.static_temperature = 293;
    made.result.freestream.density = 1.2;
    made.result.corrected[COEFFICIENT_CD] = 0.9;
    made.result.corrected[COEFFICIENT_CL] = 3;
    made.result.derived = (struct derived_quantities){45, 3.3, 0.36, 1.2};
    made.attitude[ATTITUDE_FRONT_RIDE_HEIGHT] = 0.010;
    made.attitude[ATTITUDE_REAR_RIDE_HEIGHT] = 0.030;
    return made;
}

/* Flags of points of one run; the last note is left in *note. */
static int flags(const struct reduced_point *points, size_t n, struct flag_note *note)
{
    struct plausibility_watch watch;
    int found = 0;
    memset(&watch, 0, sizeof watch);
    for (size_t i = 0; i < n; i++)
        plausibility_add(&watch, &work, &points[i]);
    for (size_t i = 0; i < PLAUSIBILITY_GATES; i++) {
        struct flag_note made;
        if (!plausibility_check(&watch, i, &work, &made))
            continue;
        *note = made;
        found++;
    }
    return found;
}

static void an_ordinary_point_is_not_asked_about(void)
{
    struct reduced_point made = ordinary();
    struct flag_note note = {0};
    CHECK(flags(&made, 1, &note) == 0);
}

static void a_gauge_pressure_is_asked_about(void)
{
    struct reduced_point made = ordinary();
    struct flag_note note = {0};
    made.result.freestream.static_pressure = -320;
    CHECK(flags(&made, 1, &note) == 1);
    CHECK_TEXT(note.subject, "static pressure");
    CHECK_NEAR(note.value, -320, 0, "identity");
    CHECK_NEAR(note.limit, 80e3, 0, "common practice, no source");
    CHECK_CONTAINS(note.detail, "gauge");
}

/* One point of lift is a stalled floor; lift at every point is a sign. */
static void lift_at_every_point_is_a_question_of_sign(void)
{
    struct reduced_point points[2] = {ordinary(), ordinary()};
    struct flag_note note = {0};
    points[0].result.corrected[COEFFICIENT_CL] = -0.2;
    CHECK(flags(points, 2, &note) == 0);
    points[1].result.corrected[COEFFICIENT_CL] = -3;
    CHECK(flags(points, 2, &note) == 1);
    CHECK_NEAR(note.value, -3, 0, "identity: the worst of both");
    CHECK_CONTAINS(note.detail, "sign: -1");
}

static void areas_and_heights_are_asked_at_full_size(void)
{
    struct reduced_point made = ordinary();
    struct flag_note note = {0};
    made.result.derived.downforce_area = 3; /* 12 m2 at full size */
    CHECK(flags(&made, 1, &note) == 1);
    CHECK_NEAR(note.value, 12, 1e-12, "identity: 3/0.5^2");
    made = ordinary();
    made.attitude[ATTITUDE_REAR_RIDE_HEIGHT] = 0.2; /* 0.4 m */
    CHECK(flags(&made, 1, &note) == 1);
    CHECK_TEXT(note.subject, "rear ride height at full size");
    made.attitude[ATTITUDE_REAR_RIDE_HEIGHT] = -0.01;
    CHECK(flags(&made, 1, &note) == 1);
}

static void what_was_not_measured_or_means_nothing_is_not_asked_about(void)
{
    struct reduced_point made = ordinary();
    struct flag_note note = {0};
    made.attitude[ATTITUDE_FRONT_RIDE_HEIGHT] = (double)NAN;
    made.result.freestream.density = (double)NAN;
    made.result.derived.balance = 400;
    made.balance_undefined = 1;
    CHECK(flags(&made, 1, &note) == 0);
    made.balance_undefined = 0;
    CHECK(flags(&made, 1, &note) == 1);
    made = ordinary();
    made.result.corrected[COEFFICIENT_CY] = 0.2;
    CHECK(flags(&made, 1, &note) == 1);
    made.attitude[ATTITUDE_YAW] = 0.05; /* a yawed car has side force */
    CHECK(flags(&made, 1, &note) == 0);
    made = ordinary();
    made.result.freestream.density = 1000;
    CHECK(flags(&made, 1, &note) == 1);
    work.recipe.tunnel.density = 1000; /* water, as the campaign says */
    CHECK(flags(&made, 1, &note) == 0);
}

CU_TestInfo plausibility_tests[] = {
    {"an ordinary point is not asked about", an_ordinary_point_is_not_asked_about},
    {"a gauge pressure is asked about", a_gauge_pressure_is_asked_about},
    {"lift at every point is a question of sign", lift_at_every_point_is_a_question_of_sign},
    {"areas and heights are asked at full size", areas_and_heights_are_asked_at_full_size},
    {"what was not measured or means nothing is not asked about",
     what_was_not_measured_or_means_nothing_is_not_asked_about},
    CU_TEST_INFO_NULL};

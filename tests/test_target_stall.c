/* test_target_stall.c - no carry across a stall. All downforce maps here are synthetic: lines, parabolas
 * and a cliff, chosen so that the answer is known. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/statistics/local_bend.h"
#include "reduce/statistics/student.h"
#include "reduce/target_pass.h"
#include "tests/check.h"
#include "tests/noise.h"
#include "tests/program.h"
#include "tests/target_map.h"

extern CU_TestInfo target_stall_tests[];

enum { HEIGHTS = 17, MIDDLE = 8, POINTS = HEIGHTS + 1, ATTAINED = HEIGHTS };

static const double TARGET_HEIGHT = 0.010, MATTERS = 0.010, NOISE = 0.0005;

/* CL over the front ride height x, m from the target: a line, a curve, and a cliff below a place. */
struct map {
    double slope, curvature, cliff, place;
};

static double map_value(const struct map *map, double x)
{
    return 3 + map->slope * x + 0.5 * map->curvature * x * x + (x < map->place ? map->cliff : 0);
}

struct scene {
    struct target target;
    struct attitudes attitudes;
    struct run_row run;
    struct attained_point points[POINTS];
    struct attained_list list;
    struct target_pass pass;
};

static void put_point(struct scene *scene, int i, const struct map *map, double x, double noise)
{
    struct attained_point *point = &scene->points[i];
    point->run = &scene->run;
    point->point = "P";
    for (int k = 0; k < ATTITUDE_COUNT; k++)
        point->attitude[k] = k == 0 ? TARGET_HEIGHT + x : (double)NAN;
    for (int k = 0; k < CARRIED_VALUES; k++)
        point->value[k] = (double)NAN;
    double downforce = map_value(map, x) + noise;
    point->value[COEFFICIENT_CD] = 1;
    point->value[COEFFICIENT_CL] = downforce;
    point->value[COEFFICIENT_CLF] = 0.45 * downforce;
    point->value[COEFFICIENT_CLR] = 0.55 * downforce;
    point->value[COEFFICIENT_CPM] = 0.05 * downforce;
}

/* A sweep of 17 heights 0.25 mm apart about the target, and a point at the offset; brought to the target. */
static const struct target_row *bring(struct scene *scene, const struct map *map, double offset,
                                      enum decision decision)
{
    uint64_t noise = 7;
    struct fault fault;
    memset(scene, 0, sizeof *scene);
    scene->target = (struct target){.name = "A", .coordinate = {TARGET_HEIGHT}, .given = {1}};
    scene->attitudes = (struct attitudes){.tolerance = {5e-5},
                                          .cap = {1e-3},
                                          .capture = {1.5e-3},
                                          .targets = &scene->target,
                                          .n_targets = 1};
    scene->list = (struct attained_list){scene->points, POINTS};
    for (int i = 0; i < HEIGHTS; i++)
        put_point(scene, i, map, 0.00025 * (i - MIDDLE), NOISE * noise_normal(&noise));
    put_point(scene, ATTAINED, map, offset, 0);
    scene->points[ATTAINED].decision = decision;
    struct target_rules rules = {&scene->attitudes, 1, MATTERS};
    CHECK_OK(target_pass_make(&scene->list, &rules, BASIS_STANDS, &scene->pass, &fault), &fault);
    return &scene->pass.rows[ATTAINED];
}

static const struct map SMOOTH = {-40, -3000, 0, 0}, CLIFF = {-40, -3000, -0.3, -0.00035},
                        FAR_CLIFF = {-40, -3000, -0.3, -0.0006}, RIDGE = {-10, -2e5, 0, 0};

static void a_smooth_map_refuses_nothing(void)
{
    static const double offsets[] = {-0.0009, -0.0004, 0.0003, 0.0008};
    struct scene scene;
    for (size_t i = 0; i < sizeof offsets / sizeof offsets[0]; i++) {
        const struct target_row *row = bring(&scene, &SMOOTH, offsets[i], DECISION_NONE);
        CHECK(row->stall.kind == STALL_NONE && row->is_used);
        CHECK_NEAR(row->value.coefficient[COEFFICIENT_CL], 3, 5 * NOISE,
                   "the map at the target, five times one point's noise");
        for (int k = 0; k < HEIGHTS; k++)
            CHECK(scene.pass.rows[k].stall.kind == STALL_NONE);
        target_pass_end(&scene.pass);
    }
}

/* On either side of it: the fit's slope is that of the cliff. */
static void no_point_is_carried_past_a_cliff(void)
{
    static const double offsets[] = {-0.0009, -0.0004, 0.0004};
    struct scene scene;
    for (size_t i = 0; i < sizeof offsets / sizeof offsets[0]; i++) {
        const struct target_row *row = bring(&scene, &CLIFF, offsets[i], DECISION_NONE);
        CHECK(row->stall.kind == STALL_BROKEN && row->stall.value == COEFFICIENT_CL);
        CHECK(row->stall.axis == ATTITUDE_FRONT_RIDE_HEIGHT && !row->is_used);
        CHECK_TEXT(row->reason, "near-stall");
        CHECK_TEXT(row->method, "left at attained");
        CHECK_NEAR(row->stall.place, -0.00035, 0.00015, "the map's cliff, within half a step");
        CHECK_NEAR(row->stall.linear, -0.3, 0.02, "the map's cliff");
        CHECK_NEAR(row->value.coefficient[COEFFICIENT_CL], map_value(&CLIFF, offsets[i]), 0,
                   "the attained value itself");
        target_pass_end(&scene.pass);
    }
}

/* The fit about the target does not reach it; the point that stands beyond does. */
static void a_cliff_that_is_not_in_the_way_refuses_nothing(void)
{
    struct scene scene;
    const struct target_row *row = bring(&scene, &FAR_CLIFF, 0.0004, DECISION_NONE);
    CHECK(row->stall.kind == STALL_NONE && row->is_used);
    CHECK_NEAR(row->value.coefficient[COEFFICIENT_CL], 3, 5 * NOISE, "the map at the target");
    target_pass_end(&scene.pass);
    row = bring(&scene, &FAR_CLIFF, -0.0009, DECISION_NONE);
    CHECK(row->stall.kind == STALL_BROKEN && !row->is_used);
    target_pass_end(&scene.pass);
}

static void a_ridge_refuses_long_steps_only(void)
{
    struct scene scene;
    const struct target_row *row = bring(&scene, &RIDGE, -0.0008, DECISION_NONE);
    CHECK(row->stall.kind == STALL_TURNED && !row->is_used);
    CHECK_NEAR(row->stall.change, -0.064, 0.005, "identity: -2e5 x 0.0008^2 / 2");
    target_pass_end(&scene.pass);
    row = bring(&scene, &RIDGE, 0.0008, DECISION_NONE);
    CHECK(row->stall.kind == STALL_CURVED && !row->is_used);
    target_pass_end(&scene.pass);
    row = bring(&scene, &RIDGE, 0.00015, DECISION_NONE);
    CHECK(row->stall.kind == STALL_NONE && row->is_used); /* 0.002: a fifth of what matters */
    target_pass_end(&scene.pass);
}

static void a_restored_point_is_carried_all_the_same(void)
{
    struct scene scene;
    const struct target_row *row = bring(&scene, &CLIFF, -0.0004, DECISION_RESTORE);
    CHECK(row->stall.kind == STALL_BROKEN && row->is_used && target_row_is_held(row));
    CHECK_TEXT(row->reason, "restored");
    CHECK_TEXT(row->method, "local fit");
    CHECK(row->value.uncertainty[COEFFICIENT_CL] > MATTERS); /* the cliff is in the residuals */
    target_pass_end(&scene.pass);
}

/* b = 10 per m, c: by hand over a step of 1 mm. */
static void a_carry_bends_where_three_limits_are_passed(void)
{
    static const struct {
        double slope, curvature, error, matters;
        int bends, is_turned;
    } cases[] = {
        {30, 22000, 0, 0.010, 1, 0}, /* 0.011 against 0.010 of the slope and 0.005 */
        {30, 18000, 0, 0.010, 0, 0}, /* 0.009: less than a third */
        {30, 22000, 0, 0.024, 0, 0}, /* less than half of 0.024 */
        {1, 9000, 0, 0.010, 0, 0},   /* 0.0045: less than half of 0.010 */
        {1, 11000, 0, 0.010, 1, 0},
        {-1, 11000, 0, 0.010, 1, 1},    /* the slope at the far end is +10 */
        {-1, 11000, 5000, 0.010, 0, 1}, /* 2.9 times 5000 is more than the curvature */
        {-1, 11000, 3000, 0.010, 1, 1},
        {-1, 0, 0, 0.010, 0, 0},
        {(double)NAN, 11000, 0, 0.010, 0, 0},
    };
    CHECK_NEAR(student_multiplier(0.99, 14), 2.977, 5e-4, "Student's table, from memory");
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct local_gradient gradient = {.slope = {0, cases[i].slope},
                                          .curvature = {0, cases[i].curvature},
                                          .degrees_of_freedom = 14,
                                          .varies = {1, 1}};
        struct local_bend bend;
        gradient.covariance[3 * 4 + 3] = cases[i].error * cases[i].error;
        int bends = local_gradient_bends(&gradient, 2, 1, 0.001, cases[i].matters, &bend);
        CHECK(bends == cases[i].bends);
        CHECK(!bends || bend.is_turned == cases[i].is_turned);
    }
}

static void no_axis_is_left_for_a_break_is_said(void)
{
    struct local_points points = {.axes = LOCAL_AXES_MAX};
    struct local_gradient gradient = {.residual_sd = 0};
    struct local_break found;
    CHECK(local_break_find(&points, &gradient, 0, &found) == OUTCOME_SINGULAR);
    CHECK(!found.is_found);
}

/* One fit in a thousand steps by chance: of 2000 noisy parabolas some two, and not ten (1 - Poisson(2)
 * below 10 is 5e-5). */
static void chance_makes_few_breaks(void)
{
    uint64_t noise = 11;
    double coordinate[HEIGHTS], value[HEIGHTS], scale = 0.0015;
    int group[HEIGHTS] = {0}, breaks = 0;
    for (int trial = 0; trial < 2000; trial++) {
        struct local_points points = {coordinate, value, group, HEIGHTS, 1, &scale};
        struct local_gradient gradient;
        struct local_break found;
        for (int i = 0; i < HEIGHTS; i++) {
            coordinate[i] = 0.00025 * (i - MIDDLE);
            value[i] = map_value(&SMOOTH, coordinate[i]) + noise_normal(&noise);
        }
        CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_OK);
        CHECK(local_break_find(&points, &gradient, 0, &found) == OUTCOME_OK);
        breaks += found.is_found;
    }
    CHECK(breaks < 10);
}

/* Through the stage: rows of the night's plane, of which those below 19.6 mm lost 0.3 of CL. */
static void open_cliff_night(struct night_fixture *fixture)
{
    fixture_open(fixture);
    fixture_add_zero(fixture, "z1", 0, 0);
    fixture_add_run(fixture,
                    &(struct fixture_run){
                        .run = "r1", .kind = "wind_on", .configuration = "base", .start = 50});
    int number = 2;
    for (int i = -4; i <= 4; i++)
        for (int k = -1; k <= 1; k += 2)
            target_map_add(fixture, number++, 0.02 + 0.001 * i, 0.04 + 0.001 * k, i < 0 ? -0.3 : 0);
    target_map_add(fixture, 1, 0.0196, 0.04, 0);
}

static void the_stage_flags_it_and_a_decision_lifts_it(void)
{
    struct night_fixture fixture;
    open_cliff_night(&fixture);
    target_map_reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture,
                            "SELECT point || ' ' || state || ' ' || subject FROM flag WHERE "
                            "rule = 'near-stall'"),
               "P1 failed low");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'near-stall'"),
                   "CL steps by -0.3 beyond front ride height");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT action FROM flag WHERE rule = 'near-stall'"),
                   "do not carry across a stall");
    CHECK_NEAR(fixture_number(&fixture,
                              "SELECT value > limit_value AND limit_value = 0.005 FROM flag "
                              "WHERE rule = 'near-stall'"),
               1, 0, "half of the fixture's worthwhile 0.010");
    CHECK_NEAR(target_map_value(&fixture, "is_used"), 0, 0, "not compared");
    CHECK_TEXT(fixture_text(&fixture, "SELECT place || ' ' || state || ' ' || rules FROM left_out"),
               "r1/P1 near-stall near-stall");
    fixture_decide(&fixture, "r1", "P1", "restore");
    target_map_reduce(&fixture);
    CHECK_NEAR(target_map_value(&fixture, "is_used"), 1, 0, "somebody decided so");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'point-restored'"),
                   "although a stall lies on its way");
    CHECK_TEXT(fixture_text(&fixture, "SELECT state || ' ' || rules FROM left_out"),
               "restored near-stall");
    fixture_close(&fixture);
}

/* The map of the demo night is smooth, its steps to target are real ones. */
static void the_demo_night_is_not_near_a_stall(void)
{
    char out[PROGRAM_OUTPUT], night[64];
    CHECK(program_demo_night(night, 5));
    CHECK(program_shell(out, "%s -C %s -q batch", program_lapwing(), night) == 0);
    CHECK(program_shell(
              out,
              "sqlite3 %s/season.sqlite \"SELECT count(*) > 300, (SELECT count(*) FROM flag "
              "WHERE rule = 'near-stall') FROM target_result WHERE method = 'local fit'\"",
              night) == 0);
    CHECK_TEXT(out, "1|0\n");
    program_remove(night);
}

CU_TestInfo target_stall_tests[] = {
    {"a smooth map refuses nothing", a_smooth_map_refuses_nothing},
    {"no point is carried past a cliff", no_point_is_carried_past_a_cliff},
    {"a cliff that is not in the way refuses nothing",
     a_cliff_that_is_not_in_the_way_refuses_nothing},
    {"a ridge refuses long steps only", a_ridge_refuses_long_steps_only},
    {"a restored point is carried all the same", a_restored_point_is_carried_all_the_same},
    {"a carry bends where three limits are passed", a_carry_bends_where_three_limits_are_passed},
    {"no axis is left for a break is said", no_axis_is_left_for_a_break_is_said},
    {"chance makes few breaks", chance_makes_few_breaks},
    {"the stage flags it and a decision lifts it", the_stage_flags_it_and_a_decision_lifts_it},
    {"the demo night is not near a stall", the_demo_night_is_not_near_a_stall},
    CU_TEST_INFO_NULL};

/* test_zero_choice.c - which zeros and which tare belong to a run. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/pipeline.h"
#include "reduce/tare_choice.h"
#include "reduce/zero_choice.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

/* Zeros z1 at 0 s and z2 at 100 s, one each of another entry, facility and balance at 45 .. 47 s, a
 * quarantined one at 48 s; the wind-on run w at 50 s. */
static void open_night(struct night_fixture *fixture, struct night *night, const char *cell)
{
    struct fault fault;
    fixture_open(fixture);
    fixture_add_zero(fixture, "z1", 0, 0.10);
    fixture_add_zero(fixture, "z2", 100, 0.30);
    fixture_add_zero(fixture, "other", 45, 9);
    fixture_execute(fixture, "UPDATE run SET entry = 'e0' WHERE run = 'other'");
    fixture_add_zero(fixture, "far", 46, 9);
    fixture_execute(fixture, "UPDATE run SET facility = 'road' WHERE run = 'far'");
    fixture_add_zero(fixture, "beside", 47, 9);
    fixture_execute(fixture, "UPDATE run SET balance = 'over' WHERE run = 'beside'");
    fixture_add_zero(fixture, "bad", 48, 9);
    fixture_execute(fixture, "UPDATE run SET state = 'quarantined' WHERE run = 'bad'");
    fixture_add_run(
        fixture,
        &(struct fixture_run){
            .run = "w", .kind = "wind_on", .configuration = "base", .start = 50, .zero = cell});
    CHECK_OK(night_read(fixture->store, &fixture->campaign, night, &fault), &fault);
}

static void close_night(struct night_fixture *fixture, struct night *night)
{
    night_end(night);
    fixture_close(fixture);
}

static void takes_the_nearest_before_and_after_by_rule(void)
{
    struct night_fixture fixture;
    struct night night;
    struct zeros zeros;
    struct fault fault;
    open_night(&fixture, &night, "");
    CHECK_OK(zeros_read(&night, night_run(&night, "w"), &zeros, &fault), &fault);
    CHECK(zeros.choice.kind == ZERO_KIND_LINEAR);
    CHECK_TEXT(zeros.choice.before.run->run, "z1");
    CHECK_TEXT(zeros.choice.after.run->run, "z2");
    CHECK(!zeros.choice.after_missing);
    CHECK_NEAR(zeros_fraction(&zeros, 25), 0.25, 1e-15, "identity: (25 - 0)/(100 - 0)");
    CHECK_NEAR(zeros_fraction(&zeros, 0), 0, 0, "identity");
    CHECK_NEAR(run_data_mean(&zeros.after.data, zeros.after.point, ROLE_BALANCE_OUTPUT_3), 0.30, 0,
               "the fixture's own level");
    zeros_end(&zeros);
    close_night(&fixture, &night);
}

static void holds_one_side_and_says_so(void)
{
    struct night_fixture fixture;
    struct night night;
    struct zero_choice choice;
    struct fault fault;
    open_night(&fixture, &night, "");
    struct run_row *last = (struct run_row *)night_run(&night, "w");
    last->earliest = 500;
    last->latest = 500;
    CHECK_OK(zero_choose(&night, last, &choice, &fault), &fault);
    CHECK(choice.kind == ZERO_KIND_CONSTANT);
    CHECK(choice.after_missing);
    CHECK_TEXT(choice.before.run->run, "z2");
    zero_choice_end(&choice);
    close_night(&fixture, &night);
}

static void obeys_the_cell_of_the_run_sheet(void)
{
    static const struct {
        const char *cell;
        enum zero_kind kind;
        const char *before, *point, *after;
    } cases[] = {
        {"none", ZERO_KIND_NONE, NULL, NULL, NULL},
        {"z2", ZERO_KIND_CONSTANT, "z2", NULL, NULL},
        {"z2/Z", ZERO_KIND_CONSTANT, "z2", "Z", NULL},
        {"z1+z2", ZERO_KIND_LINEAR, "z1", NULL, "z2"},
        {"z1/Z+z2", ZERO_KIND_LINEAR, "z1", "Z", "z2"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct night_fixture fixture;
        struct night night;
        struct zero_choice choice;
        struct fault fault;
        open_night(&fixture, &night, cases[i].cell);
        CHECK_OK(zero_choose(&night, night_run(&night, "w"), &choice, &fault), &fault);
        CHECK(choice.kind == cases[i].kind);
        CHECK(!choice.after_missing);
        if (cases[i].before != NULL)
            CHECK_TEXT(choice.before.run->run, cases[i].before);
        if (cases[i].point != NULL)
            CHECK_TEXT(choice.before.point, cases[i].point);
        if (cases[i].after != NULL)
            CHECK_TEXT(choice.after.run->run, cases[i].after);
        zero_choice_end(&choice);
        close_night(&fixture, &night);
    }
}

static void refuses_what_is_not_there(void)
{
    static const char *const cells[][2] = {{"z9", "not in the run sheet"},
                                           {"z1+z9", "not in the run sheet"},
                                           {"bad", "quarantined"},
                                           {"z1/Q", "no such point"},
                                           {"z1/Q/2", "no such point"},
                                           {"w", "not of kind zero"},
                                           {"z1+w", "not of kind zero"},
                                           {"other", "of another entry"},
                                           {"far+z2", "of another facility"},
                                           {"beside", "of another balance"}};
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        struct night_fixture fixture;
        struct night night;
        struct zeros zeros;
        struct fault fault;
        open_night(&fixture, &night, cells[i][0]);
        CHECK_OK(zeros_read(&night, night_run(&night, "w"), &zeros, &fault), &fault);
        CHECK(zeros.choice.kind == ZERO_KIND_MISSING);
        CHECK_CONTAINS(zeros.choice.missing, cells[i][1]);
        zeros_end(&zeros);
        close_night(&fixture, &night);
    }
}

/* The run's points decide, not its start: z2 at 100 s is between them, z3 at 200 s after them. */
static void zeros_enclose_the_points_of_the_run(void)
{
    static const struct {
        double first, last;
        enum zero_kind kind;
        const char *before, *after;
    } cases[] = {
        {60, 150, ZERO_KIND_LINEAR, "z1", "z3"},    {120, 150, ZERO_KIND_LINEAR, "z2", "z3"},
        {100, 100, ZERO_KIND_LINEAR, "z2", "z3"},   {50, 100, ZERO_KIND_LINEAR, "z1", "z2"},
        {60, 250, ZERO_KIND_CONSTANT, "z1", NULL},  {-20, 150, ZERO_KIND_CONSTANT, "z3", NULL},
        {-20, 250, ZERO_KIND_CONSTANT, "z2", NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct night_fixture fixture;
        struct night night;
        struct zero_choice choice;
        struct fault fault;
        open_night(&fixture, &night, "");
        night_end(&night);
        fixture_add_zero(&fixture, "z3", 200, 0.5);
        struct fixture_point values = {.rise = 3000};
        fixture_add_point(&fixture, "w", "A", cases[i].first, &values);
        fixture_add_point(&fixture, "w", "B", cases[i].last, &values);
        CHECK_OK(night_read(fixture.store, &fixture.campaign, &night, &fault), &fault);
        CHECK_OK(zero_choose(&night, night_run(&night, "w"), &choice, &fault), &fault);
        CHECK(choice.kind == cases[i].kind);
        CHECK_TEXT(choice.before.run->run, cases[i].before);
        if (cases[i].after != NULL)
            CHECK_TEXT(choice.after.run->run, cases[i].after);
        CHECK(choice.after_missing == (cases[i].after == NULL));
        zero_choice_end(&choice);
        close_night(&fixture, &night);
    }
}

static void tells_how_far_points_lie_outside(void)
{
    struct night_fixture fixture;
    struct night night;
    struct zeros zeros;
    struct fault fault;
    open_night(&fixture, &night, "z1+z2");
    CHECK_OK(zeros_read(&night, night_run(&night, "w"), &zeros, &fault), &fault);
    struct point_row points[3] = {{.time = 50}, {.time = 130}, {.time = -20}};
    struct run_data data = {.points = points, .n_points = 1};
    CHECK_NEAR(zeros_worst_fraction(&zeros, &data), 0, 0, "none is outside");
    data.n_points = 3;
    CHECK_NEAR(zeros_worst_fraction(&zeros, &data), 1.3, 1e-15, "identity: 130 of 0 .. 100");
    struct point_row earlier[2] = {{.time = 110}, {.time = -20}};
    data = (struct run_data){.points = earlier, .n_points = 2};
    CHECK_NEAR(zeros_worst_fraction(&zeros, &data), -0.2, 1e-15, "identity: -20 of 0 .. 100");
    zeros_end(&zeros);
    close_night(&fixture, &night);
}

static void reduce_and_read(struct night_fixture *fixture, const char *rule, char *out, size_t size)
{
    struct fault fault;
    struct reduce_summary summary;
    char sql[256];
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
    (void)snprintf(sql, sizeof sql,
                   "SELECT count(*) || ' ' || max(state) || ' ' || max(detail) FROM flag WHERE "
                   "run = 'r1' AND rule = '%s'",
                   rule);
    (void)snprintf(out, size, "%s", fixture_text(fixture, sql));
}

static void a_point_outside_its_zeros_is_flagged_once_a_run(void)
{
    static const double last[] = {104, 106, 200};
    static const char *const want[] = {"", "1 flagged the worst point is at 1.06",
                                       "1 flagged the worst point is at 2.00"};
    for (size_t i = 0; i < 3; i++) {
        struct night_fixture fixture;
        char text[512];
        fixture_open(&fixture);
        fixture_add_zero(&fixture, "z1", 0, 0);
        fixture_add_zero(&fixture, "z2", 100, 0);
        fixture_add_wind(&fixture, "r1", "base", 105.5,
                         3); /* outside by more, but less than last */
        fixture_execute(&fixture, "UPDATE run SET zero = 'z1+z2' WHERE run = 'r1'");
        struct fixture_point values = {.rise = 3000, .front = 0.02, .rear = 0.04};
        if (i == 0)
            fixture_execute(&fixture, "UPDATE point SET time_s = 104 WHERE run = 'r1'");
        else
            fixture_add_point(&fixture, "r1", "P2", last[i], &values);
        reduce_and_read(&fixture, "zero-extrapolated", text, sizeof text);
        CHECK(strncmp(text, want[i], strlen(want[i])) == 0);
        CHECK((text[0] == '\0') == (i == 0));
        fixture_close(&fixture);
    }
}

static void the_first_of_several_zero_points_is_told(void)
{
    static const char *const cells[] = {"", "z1/Y+z2"};
    for (int i = 0; i < 2; i++) {
        struct night_fixture fixture;
        char text[512];
        fixture_open(&fixture);
        fixture_add_zero(&fixture, "z1", 0, 0);
        struct fixture_point values = {.front = 0.02, .rear = 0.04};
        fixture_add_point(&fixture, "z1", "Y", 5, &values);
        fixture_add_zero(&fixture, "z2", 100, 0);
        fixture_add_wind(&fixture, "r1", "base", 50, 3);
        char sql[128];
        (void)snprintf(sql, sizeof sql, "UPDATE run SET zero = '%s' WHERE run = 'r1'", cells[i]);
        fixture_execute(&fixture, sql);
        reduce_and_read(&fixture, "zero-first-point", text, sizeof text);
        CHECK_TEXT(text, i == 0 ? "1 info zero z1 holds 2 points and its first, Z, is taken" : "");
        CHECK_TEXT(fixture_text(&fixture, "SELECT state FROM point_coefficient"), "ok");
        fixture_close(&fixture);
    }
}

static void a_named_rule_wants_a_name_and_none_wants_nothing(void)
{
    struct night_fixture fixture;
    struct night night;
    struct zero_choice choice;
    struct fault fault;
    open_night(&fixture, &night, "");
    static const enum zero_rule rules[] = {ZERO_NAMED, ZERO_NONE};
    static const enum zero_kind kinds[] = {ZERO_KIND_MISSING, ZERO_KIND_NONE};
    for (int i = 0; i < 2; i++) {
        fixture.facility.zero = rules[i];
        CHECK_OK(zero_choose(&night, night_run(&night, "w"), &choice, &fault), &fault);
        CHECK(choice.kind == kinds[i]);
        zero_choice_end(&choice);
    }
    close_night(&fixture, &night);
}

static void looks_the_tare_up_and_never_guesses(void)
{
    const double tolerance[ATTITUDE_COUNT] = {1e-3, 1e-3, 0, 0, 0, 0};
    struct tare_point points[] = {{.point = "a", .attitude = {0.020, 0.040}, .load = {1}},
                                  {.point = "b", .attitude = {0.0206, 0.040}, .load = {2}}};
    struct tare_table table = {.points = points, .n_points = 2};
    double worst = 0;
    int axis = -1;
    double at[ATTITUDE_COUNT] = {0.0205, 0.0402, 5};
    const struct tare_point *found = tare_lookup(&table, tolerance, at, &axis, &worst);
    CHECK(found == &points[1]); /* nearest; the yaw has no tolerance and does not count */
    at[1] = 0.0411;
    CHECK(tare_lookup(&table, tolerance, at, &axis, &worst) == NULL);
    CHECK(axis == ATTITUDE_REAR_RIDE_HEIGHT);
    CHECK_NEAR(worst, 0.0011, 1e-15, "identity: 0.0411 - 0.040");
    at[1] = (double)NAN; /* an attitude that is not known is at no tare point */
    CHECK(tare_lookup(&table, tolerance, at, &axis, &worst) == NULL);
    table.n_points = 0;
    CHECK(tare_lookup(&table, tolerance, at, &axis, &worst) == NULL);
    CHECK(axis == -1);
}

static void chooses_the_tare_nearest_in_time(void)
{
    struct night_fixture fixture;
    struct night night;
    struct tare_choice choice;
    open_night(&fixture, &night, "");
    const struct run_row *wind = night_run(&night, "w");
    tare_choose(&night, wind, &choice);
    CHECK(choice.kind == TARE_KIND_NONE);
    fixture.facility.weight_tare = TARE_LOOKUP;
    tare_choose(&night, wind, &choice);
    CHECK(choice.kind == TARE_KIND_MISSING);
    night_end(&night);
    struct fault fault;
    fixture_add_run(&fixture,
                    &(struct fixture_run){.run = "t1", .kind = "weight_tare", .start = 5});
    fixture_add_run(&fixture,
                    &(struct fixture_run){.run = "t2", .kind = "weight_tare", .start = 90});
    CHECK_OK(night_read(fixture.store, &fixture.campaign, &night, &fault), &fault);
    tare_choose(&night, night_run(&night, "w"), &choice);
    CHECK(choice.kind == TARE_KIND_LOOKUP);
    CHECK_TEXT(choice.run->run, "t2");
    static const char *const cells[][3] = {
        {"t1", "", ""},
        {"z1", "", "not of kind weight_tare"},
        {"t9", "", "not in the run sheet"},
        {"t1", "UPDATE run SET entry = 'e9' WHERE run = 't1'", "of another entry"},
        {"t2", "UPDATE run SET balance = 'o' WHERE run = 't2'", "of another balance"}};
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        char sql[96];
        (void)snprintf(sql, sizeof sql, "UPDATE run SET tare = '%s' WHERE run = 'w'", cells[i][0]);
        fixture_execute(&fixture, sql);
        fixture_execute(&fixture, cells[i][1]);
        night_end(&night);
        CHECK_OK(night_read(fixture.store, &fixture.campaign, &night, &fault), &fault);
        tare_choose(&night, night_run(&night, "w"), &choice);
        CHECK(choice.kind == (i == 0 ? TARE_KIND_LOOKUP : TARE_KIND_MISSING));
        CHECK_CONTAINS(choice.missing, cells[i][2]);
    }
    close_night(&fixture, &night);
}

CU_TestInfo zero_choice_tests[] = {
    {"takes the nearest zero before and after by rule", takes_the_nearest_before_and_after_by_rule},
    {"holds one side and says so", holds_one_side_and_says_so},
    {"obeys the cell of the run sheet", obeys_the_cell_of_the_run_sheet},
    {"refuses what is not there", refuses_what_is_not_there},
    {"zeros enclose the points of the run", zeros_enclose_the_points_of_the_run},
    {"tells how far points lie outside", tells_how_far_points_lie_outside},
    {"a point outside its zeros is flagged once a run",
     a_point_outside_its_zeros_is_flagged_once_a_run},
    {"the first of several zero points is told", the_first_of_several_zero_points_is_told},
    {"a named rule wants a name and none wants nothing",
     a_named_rule_wants_a_name_and_none_wants_nothing},
    {"looks the tare up and never guesses", looks_the_tare_up_and_never_guesses},
    {"chooses the tare nearest in time", chooses_the_tare_nearest_in_time},
    CU_TEST_INFO_NULL};

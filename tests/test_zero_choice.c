/* test_zero_choice.c - which zeros and which tare belong to a run. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/tare_choice.h"
#include "reduce/zero_choice.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

/* Zeros z1 at 0 s and z2 at 100 s, one of another entry at 45 s, a quarantined one at 48 s; the
 * wind-on run w at 50 s. */
static void open_night(struct night_fixture *fixture, struct night *night, const char *cell)
{
    struct fault fault;
    fixture_open(fixture);
    fixture_add_zero(fixture, "z1", 0, 0.10);
    fixture_add_zero(fixture, "z2", 100, 0.30);
    fixture_add_zero(fixture, "other", 45, 9);
    fixture_execute(fixture, "UPDATE run SET entry = 'e0' WHERE run = 'other'");
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
    last->start = 500;
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
                                           {"z1/Q", "no such point"}};
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
    struct tare_point points[] = {{"a", {0.020, 0.040}, {1}}, {"b", {0.0206, 0.040}, {2}}};
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
    close_night(&fixture, &night);
}

CU_TestInfo zero_choice_tests[] = {
    {"takes the nearest zero before and after by rule", takes_the_nearest_before_and_after_by_rule},
    {"holds one side and says so", holds_one_side_and_says_so},
    {"obeys the cell of the run sheet", obeys_the_cell_of_the_run_sheet},
    {"refuses what is not there", refuses_what_is_not_there},
    {"a named rule wants a name and none wants nothing",
     a_named_rule_wants_a_name_and_none_wants_nothing},
    {"looks the tare up and never guesses", looks_the_tare_up_and_never_guesses},
    {"chooses the tare nearest in time", chooses_the_tare_nearest_in_time},
    CU_TEST_INFO_NULL};

/* test_point_checks.c - the flags of a point, and the kinds of loads a log can hold. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>

#include "reduce/point_spread.h"
#include "tests/check.h"
#include "tests/point_flags.h"

/* One run r1 with one point, a zero on both sides, no weighted targets to miss. */
static void open_night(struct night_fixture *fixture, double downforce)
{
    fixture_open(fixture);
    fixture->targets[0].weight = 0;
    fixture->targets[1].weight = 0;
    fixture_add_zero(fixture, "z1", 0, 0);
    fixture_add_wind(fixture, "r1", "base", 50, downforce);
    fixture_add_zero(fixture, "z2", 100, 0);
}

static void a_clean_point_has_no_flags(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "");
    CHECK_TEXT(state_of_point(&fixture), "ok");
    fixture_close(&fixture);
}

static void a_balance_of_hardly_any_downforce_is_not_given(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 1e-12);
    set_statistic(&fixture, 2, offsetof(struct channel_statistics, sd), 0.01);
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "balance-undefined flagged");
    CHECK_TEXT(state_of_point(&fixture), "flagged");
    CHECK(isnan(fixture_number(&fixture, "SELECT balance_percent FROM point_coefficient")));
    CHECK_NEAR(fixture_number(&fixture, "SELECT drag_coefficient FROM point_coefficient"), 0.9,
               1e-12, "the fixture's own drag: the point has its numbers");
    fixture_close(&fixture);
}

static void loads_beyond_the_rating_are_flagged_with_their_size(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    fixture.balance.rated[2] = 10000;
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "load-box flagged");
    CHECK_TEXT(fixture_text(&fixture, "SELECT subject FROM flag WHERE rule = 'load-box'"), "Fz");
    CHECK_NEAR(fixture_number(&fixture, "SELECT limit_value FROM flag WHERE rule = 'load-box'"),
               10000, 0, "the rating");
    fixture_close(&fixture);
}

/* Half of 0.010, the fixture's smallest delta worth having. The load is 1000 N per unit of its output. */
static void an_uncertain_point_is_flagged_beyond_half_of_what_matters(void)
{
    static const double shares[] = {0.98, 1.02};
    const char *const count = "SELECT count(*) FROM flag WHERE rule = 'standard-error'";
    const char *const u = "SELECT downforce_coefficient_u FROM point_coefficient";
    struct night_fixture fixture;
    open_night(&fixture, 3);
    set_statistic(&fixture, 2, offsetof(struct channel_statistics, n_effective), 100);
    set_statistic(&fixture, 2, offsetof(struct channel_statistics, sd), 1);
    flags_reduce(&fixture);
    double at_one = fixture_number(&fixture, u);
    fixture_close(&fixture);
    CHECK(at_one > 0);
    for (int i = 0; i < 2; i++) {
        double sd = shares[i] * 0.005 / at_one;
        open_night(&fixture, 3);
        set_statistic(&fixture, 2, offsetof(struct channel_statistics, n_effective), 100);
        set_statistic(&fixture, 2, offsetof(struct channel_statistics, sd), sd);
        flags_reduce(&fixture);
        CHECK_NEAR(fixture_number(&fixture, u), shares[i] * 0.005, 1e-4, "linear in the scatter");
        CHECK_NEAR(fixture_number(&fixture, count), i, 0, "limit 0.005");
        if (i == 1)
            CHECK_NEAR(fixture_number(&fixture, "SELECT effect_counts - 1000 * value FROM flag "
                                                "WHERE rule = 'standard-error'"),
                       0, 1e-9, "identity: counts of 0.001");
        fixture_close(&fixture);
    }
}

static void an_unsteady_wind_is_flagged(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    set_statistic(&fixture, 6, offsetof(struct channel_statistics, sd), 9);
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "q-unsteady flagged");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag WHERE rule = 'q-unsteady'"), 0.003,
               1e-12, "identity: 9/3000");
    fixture_close(&fixture);
}

static void missing_samples_are_flagged_above_one_percent(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    set_statistic(&fixture, 8, offsetof(struct channel_statistics, n_missing), 10);
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), ""); /* 10 of 1010 */
    set_statistic(&fixture, 8, offsetof(struct channel_statistics, n_missing), 11);
    fixture_execute(&fixture, "UPDATE run SET ingest_key = 'again' WHERE run = 'r1'");
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "samples-missing flagged");
    fixture_close(&fixture);
}

static void a_slow_record_is_flagged_and_worth_one_sample(void)
{
    struct channel_statistics channel = {.n = 400, .sd = 2, .n_effective = (double)NAN};
    int guess = 0;
    CHECK_NEAR(point_standard_error(&channel, &guess), 2, 0, "identity: the sd itself");
    CHECK(guess);
    guess = 0;
    channel.n_effective = 100;
    CHECK_NEAR(point_standard_error(&channel, &guess), 0.2, 1e-15,
               "identity: sd/sqrt(n_effective)");
    CHECK(!guess);
    channel.sd = (double)NAN;
    CHECK(isnan(point_standard_error(&channel, &guess)));
    struct night_fixture fixture;
    open_night(&fixture, 3);
    set_statistic(&fixture, 0, offsetof(struct channel_statistics, sd), (double)NAN);
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "not-estimable flagged");
    CHECK(isnan(fixture_number(&fixture, "SELECT drag_coefficient_u FROM point_coefficient")));
    fixture_close(&fixture);
}

static void a_load_without_samples_refuses_the_point(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    set_statistic(&fixture, 3, offsetof(struct channel_statistics, mean), (double)NAN);
    flags_reduce(&fixture);
    CHECK_TEXT(state_of_point(&fixture), "refused");
    CHECK_TEXT(flags_of_run(&fixture), "samples-missing refused");
    fixture_close(&fixture);
}

static void no_wind_and_impossible_air_refuse_the_point(void)
{
    static const struct {
        int channel;
        double mean;
        const char *flags;
    } cases[] = {
        {6, -5, "no-freestream refused"},
        {8, 22, "air-out-of-range refused"},  /* degrees where kelvin belong */
        {9, 50, "air-out-of-range refused"},  /* percent where a fraction belongs */
        {8, 285, "air-out-of-range flagged"}, /* outside CIPM-2007's own range, still used */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct night_fixture fixture;
        open_night(&fixture, 3);
        set_statistic(&fixture, cases[i].channel, offsetof(struct channel_statistics, mean),
                      cases[i].mean);
        flags_reduce(&fixture);
        CHECK_TEXT(flags_of_run(&fixture), cases[i].flags);
        fixture_close(&fixture);
    }
}

/* Three points of the fixture's wind and one of still air: 1 % of the median is the limit, and of a run
 * of one point there is no other to tell. */
static void a_point_of_still_air_within_a_run_is_refused(void)
{
    static const struct {
        double rise;
        const char *state;
    } cases[] = {{0.02, "refused"}, {29, "refused"}, {31, "ok"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct night_fixture fixture;
        struct fixture_point values = {.rise = 3000, .front = 0.02, .rear = 0.04};
        open_night(&fixture, 3);
        fixture_outputs(0.9, 3, 1.35, values.output);
        fixture_add_point(&fixture, "r1", "B", 51, &values);
        fixture_add_point(&fixture, "r1", "C", 52, &values);
        values.rise = cases[i].rise;
        fixture_add_point(&fixture, "r1", "still", 53, &values);
        flags_reduce(&fixture);
        CHECK_TEXT(fixture_text(&fixture, "SELECT iif(state = 'refused', state, 'ok') FROM "
                                          "point_coefficient WHERE point = 'still'"),
                   cases[i].state);
        CHECK(isnan(fixture_number(&fixture, "SELECT downforce_coefficient FROM point_coefficient "
                                             "WHERE point = 'still'")) == (cases[i].rise < 30));
        if (i == 0)
            CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = "
                                                  "'no-freestream' AND point = 'still'"),
                           "q is 0.02 Pa, the run's median");
        fixture_close(&fixture);
    }
}

static void a_blockage_beyond_its_evidence_is_flagged_then_refused(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    fixture.facility.blockage = "area ratio";
    fixture.facility.height = 3; /* 2 m2 in 15 m2 */
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "blockage-evidence flagged, correction-large flagged");
    /* 1 - (1 - 2/15)^2 = 0.2489 of CL 3, in counts of 0.001 */
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag WHERE rule = 'correction-large'"),
               56.0 / 225, 1e-12, "identity: area ratio, (1 - S/C)^2");
    CHECK_NEAR(
        fixture_number(&fixture, "SELECT effect_counts FROM flag WHERE rule = 'correction-large'"),
        -3000 * 56.0 / 225, 1e-8, "identity");
    fixture.facility.height = 1; /* 2 m2 in 5 m2 */
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "blockage-refused refused");
    CHECK_CONTAINS(
        fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'blockage-refused'"),
        "reference area is 40.0 % of the section, limit 35 %");
    CHECK(isnan(fixture_number(&fixture, "SELECT drag_coefficient FROM point_coefficient")));
    CHECK_NEAR(fixture_number(&fixture,
                              "SELECT value FROM ledger WHERE step = 'raw' AND quantity = "
                              "'CD'"),
               0.9, 1e-12, "the steps that were done stay in the ledger");
    fixture_close(&fixture);
}

static void corrections_are_never_applied_twice(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    fixture.facility.blockage = "area ratio";
    fixture.facility.corrected = CORRECTED_YES;
    flags_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT drag_coefficient FROM point_coefficient"), 0.9,
               1e-12, "the log's numbers hold the correction already");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM ledger WHERE step = 'blockage'"), 0,
               0, "no step");
    fixture.facility.corrected = CORRECTED_UNKNOWN;
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "corrections-unknown flagged");
    fixture_close(&fixture);
}

static void ready_made_loads_skip_the_balance(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    for (int i = 0; i < 6; i++) {
        static const char *const roles[] = {"force_x",  "force_y",  "force_z",
                                            "moment_x", "moment_y", "moment_z"};
        char sql[128];
        (void)snprintf(sql, sizeof sql, "UPDATE channel SET role = '%s' WHERE position = %d",
                       roles[i], i);
        fixture_execute(&fixture, sql);
    }
    flags_reduce(&fixture);
    CHECK_NEAR(1000 * fixture_number(&fixture, "SELECT drag_coefficient FROM point_coefficient"),
               0.9, 1e-12, "the fixture's outputs are loads/1000");
    CHECK_TEXT(fixture_text(&fixture,
                            "SELECT group_concat(DISTINCT step) FROM (SELECT * FROM ledger "
                            "ORDER BY sequence)"),
               "zero,transfer,freestream,raw,corrected");
    fixture_close(&fixture);
}

static void pressures_that_disagree_are_flagged(void)
{
    static const double total[] = {101325 + 3020, 101325 + 3040, 101325 + 2000};
    static const char *const want[] = {"", "pressures-disagree flagged",
                                       "pressures-disagree flagged"};
    for (size_t i = 0; i < 3; i++) {
        struct night_fixture fixture;
        open_night(&fixture, 3);
        fixture_execute(&fixture, "UPDATE channel SET role = 'total_pressure', tap = NULL WHERE "
                                  "position = 14");
        set_statistic(&fixture, 14, offsetof(struct channel_statistics, mean), total[i]);
        flags_reduce(&fixture);
        CHECK_TEXT(flags_of_run(&fixture), want[i]);
        fixture_close(&fixture);
    }
}

/* q = c dp^2: q moves twice as much as the drop. */
static void the_contraction_counts_by_its_share_in_q(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    fixture.facility.freestream = FREESTREAM_CONTRACTION;
    fixture.facility.drop_polynomial[2] = 3e-4;
    fixture.facility.n_drop_polynomial = 3;
    fixture_execute(&fixture, "UPDATE channel SET role = 'contraction_drop' WHERE position = 6");
    set_statistic(&fixture, 6, offsetof(struct channel_statistics, sd), 4.5);
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "q-unsteady flagged");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag WHERE rule = 'q-unsteady'"), 0.003,
               1e-12, "identity: 2 * 4.5/3000");
    fixture_close(&fixture);
}

/* The balance stays with the tunnel: without a yaw its loads cannot be turned. */
static void loads_to_be_turned_need_a_yaw(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    set_statistic(&fixture, 12, offsetof(struct channel_statistics, mean), (double)NAN);
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "samples-missing refused");
    CHECK_TEXT(fixture_text(&fixture, "SELECT subject FROM flag"), "yaw");
    fixture_close(&fixture);
    static const double yaw[] = {0, 0.05};
    char follows[2][16] = {"nothing", "pitch, yaw"};
    for (int i = 0; i < 4; i++) {
        open_night(&fixture, 3);
        fixture.facility.balance_follows = follows[i / 2];
        fixture.targets[1].coordinate[ATTITUDE_YAW] = yaw[i % 2];
        fixture_execute(&fixture, "UPDATE channel SET role = 'roll' WHERE position = 12");
        flags_reduce(&fixture);
        CHECK_TEXT(fixture_text(&fixture, "SELECT state FROM flag WHERE run = 'r1' AND rule = "
                                          "'run-quarantined'"),
                   i == 1 ? "refused" : "");
        fixture_close(&fixture);
    }
}

CU_TestInfo point_checks_tests[] = {
    {"a clean point has no flags", a_clean_point_has_no_flags},
    {"a balance of hardly any downforce is not given",
     a_balance_of_hardly_any_downforce_is_not_given},
    {"loads beyond the rating are flagged with their size",
     loads_beyond_the_rating_are_flagged_with_their_size},
    {"an uncertain point is flagged beyond half of what matters",
     an_uncertain_point_is_flagged_beyond_half_of_what_matters},
    {"an unsteady wind is flagged", an_unsteady_wind_is_flagged},
    {"missing samples are flagged above one percent",
     missing_samples_are_flagged_above_one_percent},
    {"a slow record is flagged and worth one sample",
     a_slow_record_is_flagged_and_worth_one_sample},
    {"a load without samples refuses the point", a_load_without_samples_refuses_the_point},
    {"no wind and impossible air refuse the point", no_wind_and_impossible_air_refuse_the_point},
    {"a point of still air within a run is refused", a_point_of_still_air_within_a_run_is_refused},
    {"a blockage beyond its evidence is flagged, then refused",
     a_blockage_beyond_its_evidence_is_flagged_then_refused},
    {"corrections are never applied twice", corrections_are_never_applied_twice},
    {"ready-made loads skip the balance", ready_made_loads_skip_the_balance},
    {"pressures that disagree are flagged", pressures_that_disagree_are_flagged},
    {"the contraction counts by its share in q", the_contraction_counts_by_its_share_in_q},
    {"loads to be turned need a yaw", loads_to_be_turned_need_a_yaw},
    CU_TEST_INFO_NULL};

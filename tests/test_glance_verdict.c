/* test_glance_verdict.c - which findings ask for a repeat, which for a look, and in which order.
 *
 * The limits are those that reduce/glance_verdict.h states (common practice, no source); all values are
 * invented. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/glance_verdict.h"
#include "report/glance_words.h"
#include "tests/check.h"
#include "tests/glance_made.h"

static void judge(struct glance *glance)
{
    struct fault fault;
    CHECK_OK(glance_judge(glance, &fault), &fault);
}

/* Judges, compares, and ends. what: of the first reason, NULL for none. */
static void check_verdict(struct glance *glance, enum glance_verdict wanted, const char *what)
{
    judge(glance);
    CHECK(glance->verdict == wanted);
    if (what == NULL)
        CHECK(glance->n_reasons == 0);
    else if (glance->n_reasons > 0)
        CHECK_TEXT(glance->reasons[0].what, what);
    else
        CHECK_TEXT("no reason", what);
    glance_end(glance);
}

static void a_run_without_a_fault_is_usable(void)
{
    struct glance glance;
    glance_made(&glance);
    judge(&glance);
    CHECK(glance.n_notes == 2);
    CHECK_TEXT(glance.notes[0], "zero: from Z07A to Z07B CL moves by +1 counts, limit 5");
    CHECK_CONTAINS(glance.notes[1], "2 of base in this entry");
    check_verdict(&glance, GLANCE_USABLE, NULL);
}

static void a_flag_is_looked_at_with_its_place_and_size(void)
{
    struct glance glance;
    glance_made(&glance);
    (void)glance_made_flag(&glance, FLAG_SAMPLES_MISSING, 1, "R3", 0.02, 0.01);
    (void)glance_made_flag(&glance, FLAG_SAMPLES_MISSING, 6, "R3", 0.03, 0.01);
    (void)glance_made_flag(&glance, FLAG_SAMPLES_MISSING, 6, "R5", 0.015, 0.01);
    judge(&glance);
    CHECK(glance.n_reasons == 2);
    CHECK_TEXT(glance.reasons[0].text, "samples-missing of R3, points 2 (F8 R30), 7 (F12 R24): at "
                                       "worst seen (3.0 times the limit)");
    CHECK_TEXT(glance.reasons[0].action, flag_row(FLAG_SAMPLES_MISSING)->action);
    CHECK_NEAR(glance.reasons[0].effect, 3, 1e-12, "identity: 0.03 / 0.01");
    CHECK_TEXT(glance.reasons[1].what, "samples-missing of R5 at F12 R24");
    check_verdict(&glance, GLANCE_LOOK, "samples-missing of R3 at F8 R30 and F12 R24");
}

static void information_is_no_reason(void)
{
    struct glance glance;
    glance_made(&glance);
    (void)glance_made_flag(&glance, FLAG_TIME_GAPS, GLANCE_WHOLE_RUN, "a.csv", NAN, NAN);
    check_verdict(&glance, GLANCE_USABLE, NULL);
}

/* A failed point matters where the main measure has nothing else. */
static void a_lost_point_asks_for_a_repeat_where_the_main_measure_needs_it(void)
{
    struct glance glance;
    glance_made(&glance);
    (void)glance_made_flag(&glance, FLAG_OFF_TARGET, 4, "F10 R30", 0.0008, 0.0005);
    glance.targets[4].is_covered = 0;
    check_verdict(&glance, GLANCE_REPEAT, "off-target at F10 R30");

    glance_made(&glance); /* another point stands there */
    (void)glance_made_flag(&glance, FLAG_OFF_TARGET, 4, "F10 R30", 0.0008, 0.0005);
    check_verdict(&glance, GLANCE_LOOK, "off-target at F10 R30");

    glance_made(&glance); /* outside the main measure */
    (void)glance_made_flag(&glance, FLAG_OFF_TARGET, 6, "F12 R24", 0.0008, 0.0005);
    glance.targets[6].is_covered = 0;
    check_verdict(&glance, GLANCE_LOOK, "off-target at F12 R24");
}

static void a_slope_to_come_is_no_reason_to_repeat(void)
{
    struct glance glance;
    glance_made(&glance);
    (void)glance_made_flag(&glance, FLAG_TARGET_REFUSED, 4, "F10 R30", NAN, NAN);
    glance.targets[4].is_covered = 0;
    check_verdict(&glance, GLANCE_LOOK, "target-refused at F10 R30");
}

static void a_run_without_numbers_is_repeated(void)
{
    static const enum flag_rule rules[] = {FLAG_RUN_QUARANTINED, FLAG_ZERO_MISSING};
    for (size_t i = 0; i < 2; i++) {
        struct glance glance;
        glance_made(&glance);
        (void)glance_made_flag(&glance, rules[i], GLANCE_WHOLE_RUN, "", NAN, NAN);
        judge(&glance);
        CHECK(isinf(glance.reasons[0].effect));
        check_verdict(&glance, GLANCE_REPEAT, flag_row(rules[i])->code);
    }
}

/* Frozen through the whole run, and alive in others. */
static void a_channel_that_fails_the_whole_run_asks_for_a_repeat(void)
{
    struct glance glance;
    glance_made(&glance);
    glance_made_flag(&glance, FLAG_CONSTANT, GLANCE_WHOLE_RUN, "R3", 0, 0)->state = FLAG_FAILED;
    check_verdict(&glance, GLANCE_REPEAT, "constant of R3");
}

static void a_run_beside_the_main_measure_says_so_first(void)
{
    struct glance glance;
    glance_made(&glance);
    for (size_t i = 0; i < glance.n_targets; i++)
        if (glance.targets[i].is_needed)
            glance.targets[i].is_tried = glance.targets[i].is_covered = 0;
    glance.verdict = GLANCE_LOOK;
    for (int tried = 0; tried < 2; tried++) {
        struct buffer line = {0};
        glance_verdict_line(&glance, &line);
        CHECK((strncmp(buffer_string(&line),
                       "no target of the main measure was measured; else "
                       "usable, look at",
                       40) == 0) == !tried);
        buffer_free(&line);
        glance.targets[0].is_tried = 1;
    }
    glance_end(&glance);
}

static void an_unsteady_wind_asks_for_a_repeat_in_most_points(void)
{
    for (int n = 4; n <= 5; n++) {
        struct glance glance;
        glance_made(&glance);
        for (int i = 0; i < n; i++)
            (void)glance_made_flag(&glance, FLAG_Q_UNSTEADY, i, "q", 0.004, 0.002);
        check_verdict(&glance, n == 4 ? GLANCE_LOOK : GLANCE_REPEAT,
                      n == 4 ? "q-unsteady of q at 4 points" : "q-unsteady of q at 5 points");
    }
}

static void a_load_beyond_its_rating_asks_for_a_repeat(void)
{
    struct glance glance;
    glance_made(&glance);
    (void)glance_made_flag(&glance, FLAG_LOAD_BOX, 7, "Fz", 4400, 4000);
    check_verdict(&glance, GLANCE_REPEAT, "load-box of Fz at F12 R30");
}

/* Half of 0.010 is the limit. */
static void an_uncertain_point_asks_for_a_repeat_where_it_is_needed(void)
{
    struct glance glance;
    glance_made(&glance);
    glance.points[2].values[0].uncertainty = 0.0075;
    judge(&glance);
    CHECK_CONTAINS(glance.reasons[0].text, "CL is 7.5 counts, limit 5.0 counts");
    CHECK_NEAR(glance.reasons[0].effect, 1.5, 1e-12, "identity: 7.5 / 5");
    check_verdict(&glance, GLANCE_REPEAT, "standard-error at F8 R36");

    glance_made(&glance);
    glance.points[5].values[0].uncertainty = 0.0075;
    check_verdict(&glance, GLANCE_LOOK, "standard-error at F10 R36");

    glance_made(&glance); /* at the limit, and not known */
    glance.points[2].values[0].uncertainty = 0.005;
    glance.points[3].values[0].uncertainty = NAN;
    glance.points[4].values[0].uncertainty = 0.050;
    glance.points[4].is_guess = 1;
    check_verdict(&glance, GLANCE_USABLE, NULL);
}

static void a_trend_counts_when_it_matters_and_is_real(void)
{
    struct glance glance;
    glance_made(&glance);
    glance.points[1].half[0] = 3.1;
    glance.points[1].half[1] = 3.085;
    judge(&glance);
    CHECK_CONTAINS(glance.reasons[0].text, "CL goes -15.0 counts from the first half");
    check_verdict(&glance, GLANCE_REPEAT, "trend at F8 R30");

    glance_made(&glance); /* no more than seven uncertainties explain */
    glance.points[1].half[0] = 3.1;
    glance.points[1].half[1] = 3.085;
    glance.points[1].values[0].uncertainty = 0.0025;
    check_verdict(&glance, GLANCE_USABLE, NULL);

    glance_made(&glance);
    glance.points[1].half[1] = NAN;
    check_verdict(&glance, GLANCE_USABLE, NULL);
}

static void a_target_nobody_tried_is_missed_in_a_run_made_for_it(void)
{
    struct glance glance;
    glance_made(&glance);
    glance.targets[1].is_tried = glance.targets[1].is_covered = 0;
    glance.targets[3].is_tried = glance.targets[3].is_covered = 0;
    glance.targets[6].is_tried = glance.targets[6].is_covered = 0; /* not needed */
    check_verdict(&glance, GLANCE_REPEAT, "not-measured: F8 R30, F10 R24");

    glance_made(&glance); /* a run made for something else */
    for (int i = 0; i < MADE_NEEDED; i++)
        glance.targets[i].is_tried = glance.targets[i].is_covered = 0;
    check_verdict(&glance, GLANCE_LOOK, "not-measured: 5 targets of the main measure");
}

static void a_zero_to_come_is_a_note_and_a_zero_forgotten_is_not(void)
{
    struct glance glance;
    glance_made(&glance);
    glance.zero = (struct glance_zero){
        .before = "Z07A", .after = "", .is_one_sided = 1, .quantity = "", .unit = ""};
    (void)glance_made_flag(&glance, FLAG_ZERO_AFTER_MISSING, GLANCE_WHOLE_RUN, "Z07A", NAN, NAN);
    judge(&glance);
    CHECK_CONTAINS(glance.notes[0], "Z07A before, none after yet");
    check_verdict(&glance, GLANCE_USABLE, NULL);

    glance_made(&glance);
    glance.zero = (struct glance_zero){
        .before = "", .after = "Z07B", .is_one_sided = 1, .quantity = "", .unit = ""};
    (void)glance_made_flag(&glance, FLAG_ZERO_AFTER_MISSING, GLANCE_WHOLE_RUN, "Z07B", NAN, NAN);
    check_verdict(&glance, GLANCE_LOOK, "zero-after-missing of Z07B");
}

static void what_earlier_runs_had_too_is_a_note_for_taps_only(void)
{
    struct glance glance;
    glance_made(&glance);
    glance_made_flag(&glance, FLAG_TAP_FROZEN, GLANCE_WHOLE_RUN, "T1", NAN, NAN)->is_known = 1;
    (void)glance_made_flag(&glance, FLAG_CORRECTIONS_UNKNOWN, GLANCE_WHOLE_RUN, "", NAN, NAN);
    judge(&glance);
    CHECK_TEXT(glance.notes[0], "tap-frozen of T1, as in earlier runs");
    CHECK_TEXT(glance.notes[1], "corrections-unknown, which holds for every run");
    check_verdict(&glance, GLANCE_USABLE, NULL);

    glance_made(&glance);
    (void)glance_made_flag(&glance, FLAG_TAP_FROZEN, GLANCE_WHOLE_RUN, "T1", NAN, NAN);
    (void)glance_made_flag(&glance, FLAG_TAP_FROZEN, GLANCE_WHOLE_RUN, "T2", NAN, NAN);
    check_verdict(&glance, GLANCE_LOOK, "tap-frozen of 2 taps");

    glance_made(&glance);
    glance_made_flag(&glance, FLAG_SPIKES, 2, "T1", 0.05, 0.001)->is_of_taps = 1;
    glance_made_flag(&glance, FLAG_SPIKES, 4, "T2", 0.02, 0.001)->is_of_taps = 1;
    glance_made_flag(&glance, FLAG_SPIKES, 4, "T1", 0.02, 0.001)->is_of_taps = 1;
    (void)glance_made_flag(&glance, FLAG_SAMPLES_MISSING, 2, "R3", 0.012, 0.01);
    judge(&glance);
    CHECK(glance.n_reasons == 2);
    CHECK_TEXT(glance.reasons[1].what, "spikes of 2 taps at F8 R36 and F10 R30");
    check_verdict(&glance, GLANCE_LOOK, "samples-missing of R3 at F8 R36");

    glance_made(&glance);
    glance_made_flag(&glance, FLAG_SAMPLES_MISSING, 2, "R3", 0.02, 0.01)->is_known = 1;
    check_verdict(&glance, GLANCE_LOOK, "samples-missing of R3 at F8 R36");
}

static void a_point_apart_from_earlier_runs_stands_out_and_a_shift_does_not(void)
{
    struct glance glance;
    glance_made(&glance);
    glance.points[5].values[0].value += 0.030;
    judge(&glance);
    CHECK_CONTAINS(glance.reasons[0].text, "CL is +31.0 counts from 2 earlier runs beyond");
    check_verdict(&glance, GLANCE_LOOK, "apart at F10 R36");

    glance_made(&glance);
    for (int i = 0; i < MADE_POINTS; i++)
        glance.points[i].values[0].value += 0.030;
    glance.earlier_shift = 0.030;
    check_verdict(&glance, GLANCE_USABLE, NULL);

    glance_made(&glance); /* four points tell no scatter */
    for (int i = 4; i < MADE_POINTS; i++)
        glance.points[i].earlier.n = 0;
    glance.points[3].values[0].value += 0.030;
    check_verdict(&glance, GLANCE_USABLE, NULL);
}

static void the_worst_comes_first(void)
{
    struct glance glance;
    glance_made(&glance);
    (void)glance_made_flag(&glance, FLAG_SAMPLES_MISSING, 1, "R1", 0.02, 0.01);
    (void)glance_made_flag(&glance, FLAG_SAMPLES_MISSING, 1, "R2", 0.09, 0.01);
    (void)glance_made_flag(&glance, FLAG_LOG_UNTERMINATED, GLANCE_WHOLE_RUN, "a.csv", NAN, NAN);
    (void)glance_made_flag(&glance, FLAG_LOAD_BOX, 1, "Fz", 4400, 4000);
    glance.targets[2].is_tried = glance.targets[2].is_covered = 0;
    judge(&glance);
    static const char *const wanted[] = {"not-measured", "load-box", "samples-missing of R2",
                                         "samples-missing of R1", "log-unterminated"};
    CHECK(glance.n_reasons == 5);
    for (size_t i = 0; i < 5 && i < glance.n_reasons; i++)
        CHECK_CONTAINS(glance.reasons[i].what, wanted[i]);
    glance_end(&glance);
}

static void a_ratio_is_never_below_one_and_never_guessed(void)
{
    CHECK_NEAR(glance_ratio(-0.1, -0.05), 2, 1e-15, "identity");
    CHECK_NEAR(glance_ratio(2, 5), 2.5, 1e-15, "identity: a lower limit");
    CHECK(isnan(glance_ratio(NAN, 1)) && isnan(glance_ratio(1, NAN)) && isnan(glance_ratio(0, 0)));
    CHECK(isinf(glance_ratio(1, 0)) && isinf(glance_ratio(0, 1)));
}

static void nothing_to_judge_by_is_no_fault(void)
{
    struct glance glance;
    memset(&glance, 0, sizeof glance);
    glance.zero = (struct glance_zero){.before = "", .after = "", .quantity = "", .unit = ""};
    glance.refused = glance.quarantined = "";
    check_verdict(&glance, GLANCE_USABLE, NULL);
}

extern CU_TestInfo glance_verdict_tests[];
CU_TestInfo glance_verdict_tests[] = {
    {"a run without a fault is usable", a_run_without_a_fault_is_usable},
    {"a flag is looked at with its place and size", a_flag_is_looked_at_with_its_place_and_size},
    {"information is no reason", information_is_no_reason},
    {"a lost point asks for a repeat where the main measure needs it",
     a_lost_point_asks_for_a_repeat_where_the_main_measure_needs_it},
    {"a slope to come is no reason to repeat", a_slope_to_come_is_no_reason_to_repeat},
    {"a run without numbers is repeated", a_run_without_numbers_is_repeated},
    {"a channel that fails the whole run asks for a repeat",
     a_channel_that_fails_the_whole_run_asks_for_a_repeat},
    {"a run beside the main measure says so first", a_run_beside_the_main_measure_says_so_first},
    {"an unsteady wind asks for a repeat in most points",
     an_unsteady_wind_asks_for_a_repeat_in_most_points},
    {"a load beyond its rating asks for a repeat", a_load_beyond_its_rating_asks_for_a_repeat},
    {"an uncertain point asks for a repeat where it is needed",
     an_uncertain_point_asks_for_a_repeat_where_it_is_needed},
    {"a trend counts when it matters and is real", a_trend_counts_when_it_matters_and_is_real},
    {"a target nobody tried is missed in a run made for it",
     a_target_nobody_tried_is_missed_in_a_run_made_for_it},
    {"a zero to come is a note and a zero forgotten is not",
     a_zero_to_come_is_a_note_and_a_zero_forgotten_is_not},
    {"what earlier runs had too is a note for taps only",
     what_earlier_runs_had_too_is_a_note_for_taps_only},
    {"a point apart from earlier runs stands out and a shift does not",
     a_point_apart_from_earlier_runs_stands_out_and_a_shift_does_not},
    {"the worst comes first", the_worst_comes_first},
    {"a ratio is never below one and never guessed", a_ratio_is_never_below_one_and_never_guessed},
    {"nothing to judge by is no fault", nothing_to_judge_by_is_no_fault},
    CU_TEST_INFO_NULL};

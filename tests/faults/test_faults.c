/* test_faults.c - faults put into clean logs are found and named, and clean logs raise no alarm.
 *
 * Limits: 99 % of each class found by its own flag, false alarms in 0.5 % of clean records at the most.
 * `make bench-faults` does the same with 500 injections of a class; FAULTS_EACH and FAULTS_SEED in the
 * environment say how many here, and the first night's seed. Everything about the nights is invented.  */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>

#include "tests/check.h"
#include "tests/faults/fault_draw.h"
#include "tests/faults/fault_tally.h"
#include "tests/faults/injectors.h"

enum { PASSES = 8, FAULTS_A_PASS = FAULT_CLASSES, EACH = 20 };

/* The whole count. */
struct course {
    unsigned each;
    unsigned long seed;
    int tell; /* 1: of each that was not found */
    unsigned made;
    uint64_t state;
    struct fault_tally tally;
};

static unsigned long from_environment(const char *name, unsigned long otherwise)
{
    const char *text = getenv(name);
    return text != NULL && text[0] != '\0' ? strtoul(text, NULL, 10) : otherwise;
}

static int is_done(const struct course *course)
{
    return course->made >= course->each * FAULT_CLASSES;
}

/* Runs in a new order. */
static void shuffle(int runs[FAULT_RUNS], uint64_t *state)
{
    for (int i = 0; i < FAULT_RUNS; i++)
        runs[i] = i;
    for (int i = FAULT_RUNS - 1; i > 0; i--) {
        int k = draw_index(i + 1, state);
        int moved = runs[i];
        runs[i] = runs[k];
        runs[k] = moved;
    }
}

/* Some runs of the night are spoilt at once, each in channels of its own: the others are their history. */
static int inject_some(struct course *course, const struct fault_season *season, int with_gusts,
                       struct injection *made, int *n)
{
    enum { DRIFTING_RUN = 8 };
    int runs[FAULT_RUNS];
    int good = 1;
    *n = 0;
    shuffle(runs, &course->state);
    for (int i = 0; good && i < FAULT_RUNS && *n < FAULTS_A_PASS && !is_done(course); i++) {
        enum fault_class fault = (enum fault_class)(course->made % FAULT_CLASSES);
        if (fault == FAULT_DRIFT && runs[i] == DRIFTING_RUN)
            continue;
        good = fault_inject(season, fault, runs[i], made, *n, &course->state, &made[*n]);
        if (!good)
            (void)fprintf(stderr, "faults: no %s in run %d, %s %s\n", fault_name(fault), runs[i],
                          made[*n].channels[0], made[*n].about);
        (*n)++;
        course->made++;
    }
    if (!good || !with_gusts)
        return good;
    good = fault_inject(season, FAULT_GUSTS, runs[FAULT_RUNS - 1], made, *n, &course->state,
                        &made[*n]);
    (*n)++;
    return good;
}

static int do_pass(struct course *course, struct fault_season *season,
                   const struct raised_list *clean, int with_gusts)
{
    struct injection made[FAULTS_A_PASS + 1];
    struct raised_list flags = {NULL, 0};
    int n = 0;
    int good = fault_season_renew(season) && inject_some(course, season, with_gusts, made, &n) &&
               fault_season_judge(season, &flags);
    for (int i = 0; good && i < n; i++)
        tally_injection(&course->tally, &made[i], clean, &flags, course->tell);
    for (int i = 0; i < n; i++)
        good = fault_undo(&made[i]) && good;
    free(flags.flags);
    return good;
}

static int do_night(struct course *course, unsigned long seed)
{
    struct fault_season season;
    struct raised_list clean = {NULL, 0};
    int good = fault_season_open(&season, seed) && fault_season_judge(&season, &clean);
    if (good)
        tally_clean(&course->tally, &season, &clean);
    good = good && fault_season_remember(&season);
    for (int pass = 0; good && pass < PASSES && !is_done(course); pass++)
        good = do_pass(course, &season, &clean, pass == 0);
    free(clean.flags);
    fault_season_close(&season);
    return good;
}

static void faults_are_found_and_clean_records_are_left_alone(void)
{
    struct course course = {.each = (unsigned)from_environment("FAULTS_EACH", EACH),
                            .seed = from_environment("FAULTS_SEED", 1)};
    int good = 1;
    course.state = course.seed;
    course.tell = course.each != EACH;
    for (unsigned long k = 0; good && !is_done(&course); k++)
        good = do_night(&course, 1000 * course.seed + k);
    CHECK(good);
    tally_print(&course.tally);
    CHECK(tally_is_good(&course.tally));
}

CU_TestInfo faults_tests[] = {
    {"faults are found and clean records are left alone",
     faults_are_found_and_clean_records_are_left_alone},
    CU_TEST_INFO_NULL,
};

/* test_repeats.c - uncertainties that a log states, and points measured again, from file to flag. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/store.h"
#include "tests/check.h"
#include "tests/noise.h"
#include "tests/program.h"
#include "tests/scratch.h"
#include "tests/season_look.h"

extern CU_TestInfo repeats_tests[];

static const char bench[] =
    "season: Bench\ncount: 0.001\npoint: a step\n"
    "facilities: {bench: {test_section: bench}}\n"
    "channel_maps:\n"
    "  table: {rows: points, columns: {pt: {role: point},\n"
    "    x: {role: other, unit: mm},\n"
    "    cd: {role: drag_coefficient, unit: 1},\n"
    "    u_cd: {role: drag_coefficient, statistic: expanded uncertainty, unit: 1},\n"
    "    f: {role: other, unit: lbf},\n"
    "    u_f: {role: other, of: f, statistic: standard uncertainty, unit: N}}}\n"
    "repeats: {match: {x: 0.1 mm}}\n";

static const char sheet[] =
    "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,note\n"
    "a,bench,1,2026-01-20T09:00:00Z,base,record_only,,table=a.csv,,,,\n"
    "b,bench,1,2026-01-21T09:00:00Z,base,record_only,,table=b.csv,,,,\n";

static const char names[] = "configuration,parent,change,note\nbase,,,as is\nwing,base,a wing,\n";

static int make_bench(char folder[SCRATCH_PATH], const char *a, const char *b)
{
    return scratch_make(folder) && scratch_write(folder, "campaign.yaml", bench) &&
           scratch_write(folder, "runs.csv", sheet) &&
           scratch_write(folder, "configurations.csv", names) &&
           scratch_write(folder, "a.csv", a) && scratch_write(folder, "b.csv", b);
}

static struct store *batch(const char *folder, char out[PROGRAM_OUTPUT])
{
    struct store *store = NULL;
    struct fault fault = {.status = OK};
    char file[SCRATCH_PATH + 20];
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
    (void)snprintf(file, sizeof file, "%s/season.sqlite", folder);
    CHECK_OK(store_open(file, STORE_READ_ONLY, &store, &fault), &fault);
    return store;
}

static void close_season(struct store *store)
{
    struct fault fault = {.status = OK};
    CHECK_OK(store_close(store, &fault), &fault);
}

static const char head[] = "pt,x,cd,u_cd,f,u_f\n";

/* 0.1 mm apart is a repeat, 0.2 mm is none; the nearest is taken; a missing uncertainty makes no pair. */
static void points_are_paired_by_what_they_share(void)
{
    static char out[PROGRAM_OUTPUT];
    char folder[SCRATCH_PATH], a[300], b[300];
    (void)snprintf(a, sizeof a, "%s1,10,0.500,0.003,1,2\n2,20,0.600,0.003,1,2\n3,30,0.7,0.003,,2\n",
                   head);
    (void)snprintf(b, sizeof b,
                   "%s1,20.1,0.607,0.004,2,0\n2,20.0,0.605,0.004,1,0\n3,30.2,0.7,0.004"
                   ",1,1\n4,9.9,0.5,,1,1\n",
                   head);
    CU_ASSERT_FATAL(make_bench(folder, a, b));
    scratch_edit(folder, "campaign.yaml", "{rows: points,", "{rows: points, missing: [\"\"],");
    struct store *store = batch(folder, out);
    if (store != NULL) {
        check_season(
            store,
            "SELECT quantity, unit, earlier_run || earlier_point, later_run || later_point, "
            "printf('%.6g', difference), printf('%.6g', stated_uncertainty), is_inside "
            "FROM repeat_pair ORDER BY quantity, earlier_point",
            7,
            "drag_coefficient|1|a2|b1|0.007|0.005|0\n" /* hypot(3, 4) */
            /* 1 lbf is 4.4482216 N, NIST SP 811; 1.959964 2 N and 1 N */
            "f|N|a1|b4|0|4.38261|1\n"
            "f|N|a2|b1|4.44822|3.91993|0\n");
        check_season(store,
                     "SELECT column_name, CASE WHEN stated_uncertainty IS NULL THEN 'none' ELSE "
                     "printf('%.6g', stated_uncertainty) END FROM channel_statistic "
                     "WHERE run = 'a' AND point = '1' ORDER BY position",
                     2, "x|none\ncd|0.003\nf|3.91993\n");
        close_season(store);
    }
    scratch_remove(folder);
}

/* A third series has no second partner, and another configuration, or none, is no repeat. */
static void each_point_is_in_one_pair(void)
{
    static char out[PROGRAM_OUTPUT];
    static const char row[] = "pt,x,cd,u_cd,f,u_f\n1,10,0.5,0.003,1,2\n";
    char folder[SCRATCH_PATH], runs[900];
    CU_ASSERT_FATAL(make_bench(folder, row, row));
    (void)snprintf(runs, sizeof runs,
                   "%sc,bench,1,2026-01-22T09:00:00Z,base,record_only,,table=a.csv,,,,\n"
                   "d,bench,1,2026-01-19T09:00:00Z,wing,record_only,,table=a.csv,,,,\n"
                   "e,bench,1,2026-01-18T09:00:00Z,,record_only,,table=a.csv,,,,\n"
                   "g,bench,1,2026-01-18T10:00:00Z,,record_only,,table=a.csv,,,,\n"
                   "h,bench,2,2026-01-23T09:00:00Z,base,record_only,,table=a.csv,,,,\n",
                   sheet);
    CHECK(scratch_write(folder, "runs.csv", runs));
    struct store *store = batch(folder, out);
    if (store != NULL) {
        check_season(store,
                     "SELECT quantity, earlier_run, later_run FROM repeat_pair ORDER BY quantity",
                     3, "drag_coefficient|a|b\nf|a|b\n");
        check_season(store, "SELECT count(*) FROM repeat_agreement WHERE earlier_run = ''", 1,
                     "2\n");
        close_season(store);
    }
    scratch_remove(folder);
}

/* Invented: cd scatters by 0.002; u is what is stated of it. The force repeats exactly. */
static void write_series(char *text, size_t size, double u, double shift, uint64_t *state)
{
    size_t used = (size_t)snprintf(text, size, "%s", head);
    for (int i = 0; i < 100 && used < size; i++)
        used += (size_t)snprintf(text + used, size - used, "%d,%d,%.6f,%.6f,10,1\n", i + 1, 10 * i,
                                 0.5 + shift + 0.002 * noise_normal(state), u);
}

static void what_is_stated_is_judged(void)
{
    static const struct {
        double u, shift;
        const char *flags, *said;
    } cases[] = {
        /* 1.96 0.002: right. The force's are too large in all: 100 of 100, expected 95 */
        {0.00392, 0, "stated-uncertainty-too-large f\n",
         "f: 100 of 100 pairs of repeats lie inside"},
        {0.0013, 0,
         "stated-uncertainty-too-large f\nstated-uncertainty-too-small drag_coefficient\n",
         "95 expected: the stated uncertainty is too small by a factor of about "},
        {0.0118, 0,
         "stated-uncertainty-too-large drag_coefficient\nstated-uncertainty-too-large f\n",
         "95 expected: the stated uncertainty is too large by a factor of about "},
        {0.00392, 0.0012, "series-shift drag_coefficient\nstated-uncertainty-too-large f\n", ""}};
    static char out[PROGRAM_OUTPUT], a[8192], b[8192];
    uint64_t state = 77;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char folder[SCRATCH_PATH];
        write_series(a, sizeof a, cases[i].u, 0, &state);
        write_series(b, sizeof b, cases[i].u, cases[i].shift, &state);
        CU_ASSERT_FATAL(make_bench(folder, a, b));
        struct store *store = batch(folder, out);
        CHECK_CONTAINS(out, cases[i].said);
        if (store != NULL) {
            check_season(store,
                         "SELECT rule || ' ' || subject FROM flag WHERE rule LIKE 'stated-%' OR "
                         "rule = 'series-shift' ORDER BY rule, subject",
                         1, cases[i].flags);
            close_season(store);
        }
        CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
        CHECK_CONTAINS(out, cases[i].said); /* also when nothing is reduced */
        scratch_remove(folder);
    }
}

static void without_the_section_nothing_is_paired(void)
{
    static char out[PROGRAM_OUTPUT];
    static const char row[] = "pt,x,cd,u_cd,f,u_f\n1,10,0.5,0.003,1,2\n";
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(make_bench(folder, row, row));
    struct store *store = batch(folder, out);
    if (store != NULL) {
        check_season(store, "SELECT count(*) FROM repeat_pair", 1, "2\n");
        close_season(store);
    }
    scratch_edit(folder, "campaign.yaml", "repeats: {match: {x: 0.1 mm}}\n", "");
    store = batch(folder, out);
    if (store != NULL) {
        check_season(store, "SELECT count(*) FROM repeat_pair", 1, "0\n");
        close_season(store);
    }
    scratch_remove(folder);
}

static void what_is_wrong_is_told_with_its_place(void)
{
    static const struct {
        const char *file, *from, *to, *said;
        int status; /* 1: the campaign stands, the run is lost */
    } spoils[] = {
        {"a.csv", "0.003,1", "-0.003,1", "a.csv:2:10: ", 1},
        {"a.csv", "0.003,1", "x,1", "a.csv:2:10: ", 1},
        {"campaign.yaml", "    cd: {role: drag_coefficient, unit: 1},\n", "",
         "column 'u_cd' is the uncertainty of drag_coefficient, but no column holds its value", 1},
        {"campaign.yaml", "of: f, ", "",
         "column 'u_f' is the standard uncertainty of a column with the role other; name it", 2},
        {"campaign.yaml", "of: f, ", "of: g, ",
         "column 'u_f' is the uncertainty of g, but no column holds its value", 1},
        {"campaign.yaml", "statistic: expanded uncertainty, unit: 1",
         "statistic: expanded uncertainty, unit: 1, sign: -1", "an uncertainty has no sign", 2},
        {"campaign.yaml", "standard uncertainty, unit: N", "standard uncertainty, unit: Pa",
         "column 'u_f' is the uncertainty of 'f', but one is in Pa and the other in N", 1},
        {"campaign.yaml", "{rows: points,", "{rows: samples, rate: 1 Hz,",
         "a column states an uncertainty, which averaged rows have and samples have not", 2},
        {"campaign.yaml", "    x: {",
         "    y: {role: drag_coefficient, statistic: standard "
         "uncertainty, unit: 1},\n    x: {",
         "column 'u_cd' states the uncertainty that 'y' in line 7 states already", 2},
        {"campaign.yaml", "u_cd: {role: drag_coefficient", "u_cd: {role: sample_count",
         "is to be the uncertainty of sample_count, which is not measured", 2},
        {"campaign.yaml", "{x: 0.1 mm}", "{z: 0.1 mm}", "'z' is no role with a unit of its own", 2},
        {"campaign.yaml", "{x: 0.1 mm}", "{cd: 0.1}", "write the role, which other logs have too",
         2},
        {"campaign.yaml", "{x: 0.1 mm}", "{x: 0.1 N}", "unit 'N' is of another kind", 2},
        {"campaign.yaml", "{x: 0.1 mm}", "{x: -0.1 mm}", "it must be 0 or more", 2},
        {"campaign.yaml", "{match: {x: 0.1 mm}}", "{match: {}}", "match names no channel", 2},
        {"campaign.yaml", "{match: {x: 0.1 mm}}", "{mach: 1}", "repeats has no key 'mach'", 2},
        {"campaign.yaml", "x: {role: other, unit: mm}", "x: {role: other}",
         "gives no unit of column 'x'", 2},
    };
    static char out[PROGRAM_OUTPUT];
    static const char row[] = "pt,x,cd,u_cd,f,u_f\n1,10,0.5,0.003,1,2\n";
    for (size_t i = 0; i < sizeof spoils / sizeof spoils[0]; i++) {
        char folder[SCRATCH_PATH];
        CU_ASSERT_FATAL(make_bench(folder, row, row));
        CHECK(scratch_edit(folder, spoils[i].file, spoils[i].from, spoils[i].to));
        CHECK(program_shell(out, "%s -C %s check 2>&1", program_lapwing(), folder) ==
              spoils[i].status);
        CHECK_CONTAINS(out, spoils[i].said);
        scratch_remove(folder);
    }
}

static const char hall[] =
    "season: Standards\ncount: 0.001\npoint: not used\n"
    "car: {name: standard, model_scale: 1, reference_area: 1 m2, reference_area_source: invented, "
    "wheelbase: 2 m}\n"
    "facilities: {hall: {test_section: track, already_corrected: yes, contains: body, "
    "yaw_positive: air from right, humidity: absent, freestream: speed, density: 1.2 kg/m3, "
    "viscosity: 1.8e-5 Pa s, corrections: {zero: none, weight_tare: none, balance_follows: "
    "nothing, buoyancy: none, blockage: none, to_target: none}}}\n"
    "channel_maps: {sheet: {delimiter: comma, name_rows: 1, rows: points, columns: {"
    "pt: {role: point}, V: {role: air_speed, unit: m/s}, pitch: {role: pitch, unit: deg}, "
    "CD: {role: drag_coefficient, unit: 1}, "
    "U: {role: drag_coefficient, statistic: expanded uncertainty, unit: 1}}}}\n"
    "attitudes: {tolerance: {pitch: 0.1 deg}, cap: {pitch: 0.2 deg}, capture: {pitch: 0.3 deg}, "
    "targets: [{name: level, pitch: 0 deg}]}\n"
    "metrics: {drag: {quantity: CD, better: lower, worthwhile: 0.001}}\n"
    "main_measure: {metric: drag, attitude: level}\n"
    "repeats: {match: {air_speed: 0.5 m/s}}\n";

/* A check standard in a tunnel: attitudes by the campaign's tolerances, excluded points left out. */
static void a_check_standard_is_compared_at_its_attitudes(void)
{
    static char out[PROGRAM_OUTPUT];
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(
        scratch_make(folder) && scratch_write(folder, "campaign.yaml", hall) &&
        scratch_write(folder, "configurations.csv", names) &&
        scratch_write(folder, "runs.csv",
                      "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,"
                      "note\n"
                      "s1,hall,1,2026-01-20T09:00:00Z,base,wind_on,,sheet=a.csv,none,none,,\n"
                      "s2,hall,1,2026-01-20T12:00:00Z,base,wind_on,,sheet=b.csv,none,none,,\n") &&
        scratch_write(folder, "a.csv",
                      "pt,V,pitch,CD,U\n1,50,0,0.500,0.002\n2,50,1,0.510,0.002\n"
                      "3,50,2,0.520,0.002\n4,40,0,0.501,0.002\n") &&
        scratch_write(folder, "b.csv",
                      "pt,V,pitch,CD,U\n1,40.2,0.05,0.503,0.002\n2,50,1.05,0.511,0.002\n"
                      "3,50,2.2,0.520,0.002\n4,50.1,0,0.505,0.002\n") &&
        scratch_write(folder, "decisions.csv",
                      "run,point,decision,who,when,why\n"
                      "s2,2,exclude,J. Moss,2026-01-21,the door stood open\n"));
    struct store *store = batch(folder, out);
    if (store != NULL) {
        check_season(
            store,
            "SELECT earlier_point, later_point, printf('%.3f', difference), is_inside FROM "
            "repeat_pair ORDER BY earlier_point",
            4, "1|4|0.005|0\n4|1|0.002|1\n");
        check_season(store, "SELECT count(*) FROM channel_statistic WHERE run = 's1'", 1, "12\n");
        close_season(store);
    }
    CHECK(scratch_write(folder, "decisions.csv", "run,point,decision,who,when,why\n"));
    store = batch(folder, out);
    if (store != NULL) {
        check_season(store, "SELECT count(*) FROM repeat_pair", 1, "3\n");
        close_season(store);
    }
    scratch_remove(folder);
}

CU_TestInfo repeats_tests[] = {
    {"points are paired by what they share", points_are_paired_by_what_they_share},
    {"each point is in one pair", each_point_is_in_one_pair},
    {"what is stated is judged", what_is_stated_is_judged},
    {"without the section nothing is paired", without_the_section_nothing_is_paired},
    {"what is wrong is told with its place", what_is_wrong_is_told_with_its_place},
    {"a check standard is compared at its attitudes",
     a_check_standard_is_compared_at_its_attitudes},
    CU_TEST_INFO_NULL};

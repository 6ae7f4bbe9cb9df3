/* test_what_if.c - `lapwing compare --without STEP`, from outside.
 *
 * What a delta is without a step can be had in another way: from a campaign that never declared it. The
 * two must agree to the last digit. All numbers are invented.                                      */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/program.h"
#include "tests/refusal_folder.h"

/* Configuration, quantity, target, delta, half width and verdict: as compare has them, and the other
 * side of --without. */
#define STANDS "awk -F, 'NR > 2 {print $1, $5, $7, $9, $10, $18}'"
#define OTHER "awk -F, 'NR > 2 {print $1, $5, $7, $13, $14, $15}'"

static int in_folder(const char *folder, char *out, const char *command)
{
    return program_shell(out, "cd %s && %s", folder, command);
}

static int compare(const char *folder, char *out, const char *arguments)
{
    return program_shell(out, "%s -C %s compare %s", program_lapwing(), folder, arguments);
}

/* Bytes of the season, and what else lies beside it. */
static void look(const char *folder, char *out)
{
    CHECK(in_folder(folder, out, "sha256sum season.sqlite && ls") == 0);
}

/* The deltas of `plain` and those of `with` without the steps, number by number. */
static void check_same(const char *plain, const char *with, const char *steps)
{
    char out[PROGRAM_OUTPUT];
    int status = program_shell(
        out,
        "%s -C %s compare --attitude all --format csv > %s/a && "
        "{ %s -C %s compare --attitude all --format csv %s > %s/b || [ $? = 1 ]; } && "
        "[ $(wc -l < %s/a) -gt 10 ] && " STANDS " %s/a > %s/c && " OTHER " %s/b | diff %s/c -",
        program_lapwing(), plain, plain, program_lapwing(), with, steps, plain, plain, plain, plain,
        plain, plain);
    if (status != 0)
        (void)fprintf(stderr, "%s:\n%.2000s\n", steps, out);
    CHECK(status == 0);
}

static void batch(const char *folder, const char *edit)
{
    char out[PROGRAM_OUTPUT];
    CHECK(edit == NULL || in_folder(folder, out, edit) == 0);
    CHECK(program_shell(out, "%s -C %s -q batch", program_lapwing(), folder) < 2);
}

static void the_demo_without_its_steps_is_the_demo_that_never_had_them(void)
{
    static const struct {
        const char *steps, *edit;
    } cases[] = {
        {"--without blockage --without buoyancy",
         "sed -i 's/buoyancy: horizontal/buoyancy: none/;s/blockage: image sum/blockage: none/' "
         "campaign.yaml"},
        /* nothing is carried where the tolerance is as wide as the cap */
        {"--without all",
         "sed -i 's/weight_tare: lookup/weight_tare: none/;s/to_target: local fit/to_target: none/;"
         "s/tolerance: {front_ride_height: 0.02 mm, rear_ride_height: 0.02 mm, yaw: 0.01 deg}/"
         "tolerance: {front_ride_height: 0.5 mm, rear_ride_height: 0.5 mm, yaw: 0.1 deg}/' "
         "campaign.yaml"},
    };
    char folder[64], edited[64], *out = malloc(PROGRAM_OUTPUT), *before = malloc(PROGRAM_OUTPUT);
    CU_ASSERT_FATAL(out != NULL && before != NULL && program_demo_night(folder, 1));
    CU_ASSERT_FATAL(program_demo_night(edited, 1));
    batch(folder, NULL);
    look(folder, before);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        batch(edited, cases[i].edit);
        check_same(edited, folder, cases[i].steps);
    }
    look(folder, out);
    CHECK_TEXT(out, before);
    CHECK(compare(folder, out, "--without all floor-edge --metric CL") == 0);
    CHECK_CONTAINS(out, "entry 2026-02: delta = configuration - baseline base, as it stands and "
                        "without weight tare, buoyancy, blockage, to target\n");
    CHECK_CONTAINS(out, " counts  main: gain; without: gain\n");
    CHECK_CONTAINS(out, "to target: no verdict flips (1 looked at)\n");
    CHECK(strstr(out, "front-flap") == NULL);
    program_remove(folder);
    program_remove(edited);
    free(before);
    free(out);
}

/* A tare and two tables tell configurations apart only where these differ in more than their loads:
 * the wing runs in warmer air, 0.05 mm higher, and once on a faster belt. */
static const char rig[] =
    "sed -i "
    "'s/,100000,20,20,50,0/,100000,25,20.05,50,0/;s/,100000,20,30,60,0/,100000,25,30.05,60,0/' "
    "w1.csv w2.csv && sed -i '1s/$/,vb/;2s/$/,m\\/s/;3,$s/$/,50/' [bwz]?.csv && "
    "sed -i '3,$s/,50$/,60/' w1.csv && "
    "sed -i 's/^      yaw: {role: yaw}/&\\n      vb: {role: belt_speed}/;"
    "s/^      weight_tare: none/&\\n      tare_tolerance: {front_ride_height: 1 mm}/' "
    "campaign.yaml && "
    "head -2 z1.csv > t1.csv && cp t1.csv l1.csv && "
    "printf '%s\\n' 1,10,3,0,-100,0,2,0,0,100000,20,20,50,0,0 "
    "2,20,3,0,-90,0,2,0,0,100000,20,30,60,0,0 "
    ">> t1.csv && printf '%s\\n' 1,10,3,0,-5,0,2,0,0,100000,20,20,50,0,50 "
    "2,20,4,0,-6,0,2,0,0,100000,20,30,60,0,50 3,30,7,0,-15,0,2,0,0,100000,20,20,50,0,60 "
    "4,40,8,0,-16,0,2,0,0,100000,20,30,60,0,60 >> l1.csv && "
    "printf '%s\\n' T1,hall,E1,2026-03-01T08:10:00Z,,weight_tare,floor,points=t1.csv,,,, "
    "L1,hall,E1,2026-03-01T08:20:00Z,,belt_tare,floor,points=l1.csv,,,, >> runs.csv";

#define DECLARE(text) "sed -i 's/^      to_target: local fit/" text "\\n&/' campaign.yaml"
#define TABLE \
    " && printf 'front_ride_height,CL,CD\\nmm,1,1\\n10,0.1,0.05\\n40,1.3,0.2\\n' > table.csv"

static const struct {
    const char *step, *edit;
} steps[] = {
    {"weight-tare", "sed -i '/,wing,/s/,,,,$/,,T1,,/' runs.csv"},
    {"belt_tare", DECLARE("      belt_tare: lookup\\n      belt_tolerance: 0.5 m\\/s")},
    {"support_tare", DECLARE("      support_tare: {table: table.csv}") TABLE},
    {"interference", DECLARE("      interference: {table: table.csv}") TABLE},
    {"'flow angularity'",
     DECLARE("      flow_angularity: {yaw: [-1 deg, 0 deg, 1 deg], CY: [-0.04, 0.01, 0.06], "
             "mirrored_CY: [-0.04, 0.01, 0.06]}")},
    {"reynolds", DECLARE("      reynolds: {to: 1e7, Re: [5e6, 1e7, 2e7], "
                         "CD: [0.4, 0.35, 0.33]}")},
};

static void a_step_left_out_is_one_never_declared(void)
{
    char plain[64], with[64], words[128], out[PROGRAM_OUTPUT];
    CU_ASSERT_FATAL(refusal_folder_make(plain));
    batch(plain, rig);
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        CU_ASSERT_FATAL(refusal_folder_make(with));
        batch(with, rig);
        batch(with, steps[i].edit);
        (void)snprintf(words, sizeof words, "--without %s", steps[i].step);
        check_same(plain, with, words);
        /* and it was there before: some delta is another one without it */
        CHECK(program_shell(out,
                            "%s -C %s compare --attitude all --format csv %s | "
                            "awk -F, 'NR > 2 && $10 != $13 {n++} END {exit n == 0}'",
                            program_lapwing(), with, words) == 0);
        CHECK(compare(plain, out, words) == 2);
        CHECK_CONTAINS(out, "this step is not applied in the entry");
        program_remove(with);
    }
    program_remove(plain);
}

/* The quarter rule takes (1 + S/4C)^2 = 1.0125^2 off every delta and interval. A worthwhile delta
 * between the two upper ends is reached only by what is not corrected. */
static void a_verdict_that_rests_on_a_step_flips(void)
{
    char folder[64], before[PROGRAM_OUTPUT], out[PROGRAM_OUTPUT];
    CU_ASSERT_FATAL(refusal_folder_make(folder));
    batch(folder, NULL);
    CHECK(compare(folder, out, "--without blockage") == 0);
    CHECK_CONTAINS(out, "\nwithout blockage: no verdict flips (1 looked at)\n");
    CHECK(program_shell(out,
                        "cd %s && w=$(sqlite3 season.sqlite \"SELECT printf('%%.9f', upper * "
                        "1.0125) FROM delta WHERE is_main\") && "
                        "sed -i \"s/worthwhile: 0.010/worthwhile: $w/\" campaign.yaml",
                        folder) == 0);
    CHECK(compare(folder, out, "--without blockage") == 2);
    CHECK_CONTAINS(out, "season.sqlite is not up to date");
    CHECK_CONTAINS(out, "lapwing batch");
    batch(folder, NULL);
    look(folder, before);
    CHECK(compare(folder, out, "--without blockage") == 1);
    CHECK_CONTAINS(
        out, "main: no change that matters (only 1.8 degrees of freedom); without: gain (only "
             "1.8 degrees of freedom); FLIPS\n");
    CHECK_CONTAINS(out, "\nwithout blockage: 1 of 1 verdict flips\n  wing, CL at weighted (hall, "
                        "E1): no change that matters as it stands, gain without\n");
    CHECK(compare(folder, out, "--without blockage --metric CD") == 0);
    CHECK_CONTAINS(out, ": no delta of this table has a verdict that could flip\n");
    CHECK(compare(folder, out, "--without blockage --format csv --metric CL") == 1);
    CHECK_CONTAINS(out, ",\"gain\",");
    look(folder, out);
    CHECK_TEXT(out, before);
    CHECK(program_shell(out,
                        "%s -C %s compare --without blockage --metric CL --format csv | awk -F, "
                        "'NR > 2 {printf \"%%.9f %%.9f %%.6f\", $13 / $10, $14 / $11, $17 / ($13 - "
                        "$10)}'",
                        program_lapwing(), folder) == 0);
    CHECK_TEXT(out, "1.025156250 1.025156250 1000.000000"); /* 1.0125^2; a count is 0.001 */
    program_remove(folder);
}

static void what_can_not_be_left_out_is_refused_by_name(void)
{
    static const struct {
        const char *arguments, *says;
    } cases[] = {
        {"--without zero", "'zero': this step can't be left out: without a zero"},
        {"--without Balance", "'balance': this step can't be left out"},
        {"--without weight_model", "leave out weight tare"},
        {"--without full-size", "deltas are of the car as tested"},
        {"--without blockages", "no such step; those that can be left out are weight tare, belt"},
        {"--without ''", "no such step"},
        {"--without", "--without needs a value"},
        {"--without buoyancy", "'buoyancy': this step is not applied in the entry"},
        {"--without blockage wings", "no configuration 'wings'"},
        {"--without blockage --entry E9", "no entry 'E9'"},
        {"--without blockage --attitude lowest", "no attitude 'lowest'"},
    };
    char folder[64], out[PROGRAM_OUTPUT];
    CU_ASSERT_FATAL(refusal_folder_make(folder));
    CHECK(compare(folder, out, "--without blockage") == 2);
    batch(folder, NULL);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        CHECK(compare(folder, out, cases[i].arguments) == 2);
        CHECK_CONTAINS(out, cases[i].says);
    }
    program_remove(folder);
}

/* Twice neither in nor out: what the facility corrected can't be corrected again, nor taken back. */
static void what_the_facility_corrected_stays_in(void)
{
    static const char *const words[] = {"yes", "unknown"};
    char folder[64], edit[256], out[PROGRAM_OUTPUT];
    for (size_t i = 0; i < 2; i++) {
        CU_ASSERT_FATAL(refusal_folder_make(folder));
        (void)snprintf(edit, sizeof edit,
                       "sed -i 's/already_corrected: no/already_corrected: %s/' campaign.yaml",
                       words[i]);
        CHECK(in_folder(folder, out, edit) == 0);
        CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 2);
        CHECK_CONTAINS(out, "cannot be corrected twice: set blockage and buoyancy to none");
        CHECK(in_folder(folder, out,
                        "sed -i 's/quarter rule/none/;s/buoyancy: none/buoyancy: horizontal/;"
                        "s/^    freestream: given/&\\n    pressure_gradient: 0.001 1\\/m/' "
                        "campaign.yaml") == 0);
        CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 2);
        CHECK_CONTAINS(out, "cannot be corrected twice: set blockage and buoyancy to none");
        batch(folder, "sed -i 's/buoyancy: horizontal/buoyancy: none/' campaign.yaml");
        CHECK(compare(folder, out, "--without blockage") == 2);
        CHECK_CONTAINS(out, "'blockage'");
        CHECK_CONTAINS(out, "inside the numbers of facility 'hall' (already_corrected: ");
        CHECK_CONTAINS(out, words[i]);
        CHECK(compare(folder, out, "--without buoyancy --without to_target") == 2);
        CHECK_CONTAINS(out, "inside the numbers of facility 'hall'");
        CHECK(compare(folder, out, "--without all") == 0);
        CHECK_CONTAINS(out,
                       "own numbers, if at all, and so on both sides: buoyancy, blockage, flow");
        CHECK_CONTAINS(out, "\nwithout to target: no verdict flips");
        program_remove(folder);
    }
}

CU_TestInfo what_if_tests[] = {
    {"the demo without its steps is the demo that never had them",
     the_demo_without_its_steps_is_the_demo_that_never_had_them},
    {"a step left out is one never declared", a_step_left_out_is_one_never_declared},
    {"a verdict that rests on a step flips", a_verdict_that_rests_on_a_step_flips},
    {"what can not be left out is refused by name", what_can_not_be_left_out_is_refused_by_name},
    {"what the facility corrected stays in", what_the_facility_corrected_stays_in},
    CU_TEST_INFO_NULL};

/* test_plan.c - `lapwing plan` from the outside: what is planned, what is refused, and that the program
 * reads its own run sheet. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/number.h"
#include "tests/check.h"
#include "tests/plan_folder.h"
#include "tests/program.h"

extern CU_TestInfo plan_tests[];

static char folder[SCRATCH_PATH];
static char out[PROGRAM_OUTPUT];

static int plan(const char *arguments)
{
    return plan_folder_run(folder, arguments, out);
}

static void begin(void)
{
    CU_ASSERT_FATAL(plan_folder_make(folder));
}

/* The number after "name": in JSON, from `from` on. */
static double json_number(const char *from, const char *name)
{
    char key[80];
    double value = -1;
    (void)snprintf(key, sizeof key, "\"%s\": ", name);
    const char *at = from != NULL ? strstr(from, key) : NULL;
    if (at == NULL)
        return -1;
    at += strlen(key);
    (void)number_parse(at, strspn(at, "0123456789.e+-"), '.', &value, NULL);
    return value;
}

/* One configuration mounted twice: base A base A base. By hand: 5 runs of 20 min, 4 changes of 6 min, 2
 * sweeps of 20 min are 164 min. */
static void hours_add_up(void)
{
    begin();
    CHECK(plan("--configurations floor-edge --repeats 2 --format json") == 0);
    CHECK_NEAR(json_number(out, "wind_on"), 5 * 16 * 60, 0, "by hand");
    CHECK_NEAR(json_number(out, "zeros"), 5 * 4 * 60, 0, "by hand");
    CHECK_NEAR(json_number(out, "changes"), 4 * 6 * 60, 0, "by hand");
    CHECK_NEAR(json_number(out, "weight_sweeps"), 2 * 20 * 60, 0, "by hand");
    CHECK_NEAR(json_number(out, "whole"), 164 * 60, 0, "by hand");
    /* 1.09375 is the factor of A B A B A with a bent drift; 20 degrees from before are more than 1 */
    CHECK_NEAR(json_number(out, "variance_factor"), 1.09375, 1e-9,
               "dense matrices inverted in R, tests/oracles/run_orders.R");
    CHECK_NEAR(json_number(out, "least_delta"),
               (2.085963447 + 0.8599644410) * 0.003 * 1.04582503317, 1e-8, "R, qt, by hand");
    CHECK_CONTAINS(out, "\"noise_source\": \"the season's\"");
    /* its own time to mount stands in the sheet of configurations: 4 changes, 2 of 15 min, 2 of 6 */
    CHECK(scratch_write(folder, "configurations.csv",
                        "configuration,parent,change,change_minutes\n"
                        "base,,,\nfloor-edge,base,lip,15\nmirror-stay,base,stay,\n"
                        "front-flap,floor-edge,flap,0\n"));
    CHECK(plan("--configurations floor-edge --repeats 2 --format json") == 0);
    CHECK_NEAR(json_number(out, "changes"), (2 * 15 + 2 * 6) * 60, 0, "by hand");
    CHECK(plan("--configurations front-flap --repeats 2") == 0);
    CHECK_CONTAINS(out,
                   "front-flap was made from floor-edge, and is bracketed by and compared with "
                   "the family's baseline base");
    scratch_remove(folder);
}

/* Multiples of the noise: the table that a test engineer plans by. */
static void pairs_have_their_multiples(void)
{
    static const struct {
        int pairs;
        double before, own, tolerance;
    } rows[] = {{2, 2.95, 14.1, 0.05},
                {3, 2.41, 4.38, 0.006},
                {4, 2.08, 2.94, 0.006},
                {6, 1.70, 2.02, 0.006}};
    begin();
    CHECK(plan("--configurations floor-edge --repeats 2 --format json") == 0);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char key[32];
        (void)snprintf(key, sizeof key, "\"pairs\": %d,", rows[i].pairs);
        const char *at = strstr(out, key);
        CHECK_NEAR(json_number(at, "noise_from_before"), rows[i].before, 0.006,
                   "2.95 sqrt(2 / n): R, qt, 20 degrees of freedom");
        CHECK_NEAR(json_number(at, "noise_from_pairs"), rows[i].own, rows[i].tolerance, "R, qt");
    }
    CHECK_NEAR(json_number(strstr(out, "\"pairs\": 1,"), "noise_from_before"), 4.17, 0.006,
               "R, qt");
    CHECK_CONTAINS(out, "\"noise_from_pairs\": null");
    scratch_remove(folder);
}

static void a_night_that_fits_is_planned(void)
{
    begin();
    CHECK(plan("") == 0);
    CHECK_CONTAINS(out, "facility saltmarsh, entry 2026-03: ");
    CHECK_CONTAINS(out, "mounted before the night (baseline due)");
    CHECK_CONTAINS(out, "sealed floor edge with 8 mm lip");
    CHECK_CONTAINS(out, "main, for all at once");
    CHECK_CONTAINS(out, "m x alpha = 9 x 0.05");
    CHECK_CONTAINS(out, "nobody in the working section before the wind");
    CHECK_CONTAINS(out, "what campaign.yaml declares");
    CHECK_CONTAINS(out, "not known"); /* of balance and L/D nothing is declared */
    scratch_remove(folder);
}

static void what_cannot_tell_is_refused(void)
{
    begin();
    CHECK(plan("--hours 3.5") == 2);
    CHECK_CONTAINS(out, "what is worthwhile in downforce is 0.0100 CL");
    CHECK_CONTAINS(out, "1 of each fit into 3.5 h and find 0.0");
    CHECK_CONTAINS(out, "would; give --hours ");
    CHECK(plan("--hours 3.5 --anyway --format csv") == 0);
    CHECK_CONTAINS(out, "PLANNED ANYWAY: it finds 0.0");
    CHECK(plan("--hours 1") == 2);
    CHECK_CONTAINS(out, "not even one mounting of each fits into 1.0 h");
    CHECK(plan("--repeats 9") == 2);
    CHECK_CONTAINS(out, "and there are 8.0 h");
    /* where the hours would do, what was asked for is in the way */
    CHECK(plan("--repeats 1") == 2);
    CHECK_CONTAINS(out, "h would; give --repeats ");
    CHECK(strstr(out, "give --hours") == NULL);
    CHECK(plan("--configurations floor-edge --order base,floor-edge,base") == 2);
    CHECK_CONTAINS(out, "h would; leave the order out, or --anyway");
    /* the hours that are named suffice, and a tenth less does not */
    CHECK(plan("--hours 3.5") == 2);
    const char *named = strstr(out, "give --hours ");
    CHECK(named != NULL);
    double hours = 0;
    if (named != NULL)
        (void)number_parse(named + 13, strspn(named + 13, "0123456789."), '.', &hours, NULL);
    char arguments[64];
    (void)snprintf(arguments, sizeof arguments, "--hours %.1f", hours);
    CHECK(plan(arguments) == 0);
    (void)snprintf(arguments, sizeof arguments, "--hours %.1f", hours - 0.1);
    CHECK(plan(arguments) == 2);
    scratch_remove(folder);
}

static void orders_are_judged(void)
{
    begin();
    CHECK(plan("--order base,floor-edge") == 2);
    CHECK_CONTAINS(out, "is not bracketed");
    CHECK_CONTAINS(out, "2.00 (df 0) without drift, impossible with a straight one");
    CHECK(plan("--order base,base,floor-edge,floor-edge") == 2);
    CHECK_CONTAINS(out, "runs in blocks");
    CHECK_CONTAINS(out,
                   "1.00 without drift, 5.00 with a straight one, 5.00 (df 0) with a bent one");
    CHECK(plan("--order base,base,floor-edge,floor-edge --anyway --format csv") == 0);
    CHECK_CONTAINS(out, "PLANNED ANYWAY: order in blocks, drift passes for a difference");
    CHECK(plan("--order base,floor-edge,floor-edge,base --format csv") == 0);
    CHECK_CONTAINS(out, ",R03,taken off and fitted again\n");
    CHECK(plan("--order base,floor-edge,base,mirror-stay --anyway --format json") == 0);
    CHECK_CONTAINS(out, "\"scheme\": \"given\"");
    CHECK(plan("--order base,base") == 2);
    CHECK_CONTAINS(out, "the order runs nothing but the baseline 'base'");
    CHECK(plan("--order base,floor-edge,base --scheme abba") == 2);
    scratch_remove(folder);
}

static void names_are_checked(void)
{
    begin();
    CHECK(plan("--configurations floor-edge,none-such") == 2);
    CHECK_CONTAINS(out, "configuration 'none-such' is not in configurations.csv");
    CHECK(plan("--configurations base") == 2);
    CHECK_CONTAINS(out, "'base' has no parent, so it is a baseline");
    CHECK(plan("--configurations floor-edge,floor-edge") == 2);
    CHECK(plan("--facility nowhere") == 2);
    CHECK_CONTAINS(out, "--facility 'nowhere' is not in campaign.yaml");
    CHECK(plan("--start 2026-03-11T19:00") == 2);
    CHECK_CONTAINS(out, "--start: start '2026-03-11T19:00': the zone is missing");
    CHECK(plan("--seed -1") == 2 && plan("--hours zero") == 2 && plan("--format html") == 2);
    CHECK(plan("--scheme given") == 2 && plan("--repeats") == 2 && plan("--what") == 2);
    CHECK(scratch_write(folder, "configurations.csv",
                        "configuration,parent,change,change_minutes\nbase,,,\nA,base,a,\n"
                        "other,,,\nB,other,b,\nC,base,c,1441\n"));
    CHECK(plan("") == 2);
    CHECK_CONTAINS(out,
                   "configurations.csv:6:10: change_minutes of 'C' is '1441'; limit: 0 to 1440");
    CHECK(scratch_write(folder, "configurations.csv",
                        "configuration,parent,change\nbase,,\nA,base,a\nother,,\nB,other,b\n"));
    CHECK(plan("") == 2);
    CHECK_CONTAINS(out, "limit: one baseline a plan");
    CHECK(scratch_write(folder, "configurations.csv", "configuration,parent,change\nbase,,\n"));
    CHECK(plan("") == 2);
    CHECK_CONTAINS(out, "has no configuration with a parent");
    scratch_remove(folder);
}

/* 11 runs of 20 min, 10 changes of 6 min, two sweeps of 20 min: 320 min. */
static void without_history_no_plan(void)
{
    begin();
    CHECK(scratch_edit_all(folder, "campaign.yaml", "quantity: CL, attitude",
                           "quantity: CY, attitude"));
    CHECK(plan("") == 2);
    CHECK_CONTAINS(out, "nothing is known of how well downforce (CL) repeats at saltmarsh");
    CHECK_CONTAINS(out, "declare repeatability: in campaign.yaml");
    CHECK_CONTAINS(out, "11 runs of base, each refitted, 5.4 h");
    CHECK(plan("--anyway") == 2); /* there is nothing to mark it with */
    scratch_remove(folder);
}

static void cheap_changes_suggest_abba(void)
{
    begin();
    CHECK(scratch_edit(folder, "campaign.yaml", "change: 6 min", "change: 0 s"));
    CHECK(plan("--configurations floor-edge") == 0);
    CHECK_CONTAINS(out, "Changes cost next to nothing here: --scheme abba");
    CHECK(plan("--configurations floor-edge --scheme abba") == 0);
    CHECK_CONTAINS(out, "A B B A, each configuration mounted");
    scratch_remove(folder);
}

/* Past midnight, in the zone as written, also where the clocks of the place go forward that night
 * (2026-03-29, 02:00 in central Europe). By hand: the first run begins 22 min after the start. */
static void the_clock_goes_past_midnight(void)
{
    begin();
    CHECK(plan("--start 2026-03-28T23:30:00+01:00 --configurations floor-edge --repeats 2 "
               "--format csv") == 0);
    CHECK_CONTAINS(out, "Z01A,saltmarsh,2026-03,2026-03-28T23:50:00+01:00,");
    CHECK_CONTAINS(out, "R01,saltmarsh,2026-03,2026-03-28T23:52:00+01:00,base,wind_on,underfloor,"
                        "forces=logs/R01_forces.csv;pressures=logs/R01_taps.csv,");
    CHECK_CONTAINS(out, "R02,saltmarsh,2026-03,2026-03-29T00:18:00+01:00,floor-edge,");
    CHECK_CONTAINS(out, "R05,saltmarsh,2026-03,2026-03-29T01:36:00+01:00,base,");
    CHECK_CONTAINS(out, "ZT02B,saltmarsh,2026-03,2026-03-29T02:12:00+01:00,");
    CHECK(plan("--start 2028-02-28T20:00:00-03:30 --configurations floor-edge --repeats 4 "
               "--format csv") == 0);
    CHECK_CONTAINS(out, ",2028-02-28T20:22:00-03:30,");
    CHECK_CONTAINS(out, ",2028-02-29T00:");
    CHECK(
        plan("--start 2026-12-31T23:50:00Z --configurations floor-edge --repeats 2 --format csv") ==
        0);
    CHECK_CONTAINS(out, "R01,saltmarsh,2026-03,2027-01-01T00:12:00+00:00,");
    scratch_remove(folder);
}

static void weights_and_whole_plots(void)
{
    begin();
    CHECK(scratch_edit(folder, "campaign.yaml", "  change: 6 min\n",
                       "  change: 6 min\n  hard_to_change: [mirror-stay]\n"
                       "  mass_changes: [mirror-stay]\n"));
    CHECK(plan("--repeats 3 --hours 12 --anyway") == 0);
    CHECK_CONTAINS(out, "Whole plot: mirror-stay is hard to change and is mounted once");
    CHECK_CONTAINS(out, "not touched");
    CHECK(plan("--repeats 3 --hours 12 --anyway --format csv") == 0);
    CHECK_CONTAINS(out, "\"wind-off sweep of all attitudes, after a mass change\"");
    CHECK_CONTAINS(out, "mirror-stay,wind_on,underfloor,");
    CHECK_CONTAINS(out, ",,T02,"); /* the sweep with its weight is named */
    scratch_remove(folder);
}

static void attitudes_have_an_order(void)
{
    begin();
    CHECK(plan("--configurations floor-edge --repeats 2") == 0);
    CHECK_CONTAINS(out, "attitudes of every run: F10 R30, F20 R36, F20 R30, F20 R24, F18 R36,");
    CHECK_CONTAINS(out, "F8 R24, F10 R30\n");
    CHECK(scratch_edit(folder, "campaign.yaml", "  run: 16 min\n",
                       "  run: 16 min\n  attitudes: [F8 R24, F12 R30, F14 R30]\n"
                       "  reference: F12 R30\n  approach: from below\n"));
    CHECK(plan("--configurations floor-edge --repeats 2") == 0);
    CHECK_CONTAINS(out, "attitudes of every run: F12 R30, F8 R24, F14 R30, F12 R30\n");
    CHECK_CONTAINS(out, "Approach every ride height from below: go below it first");
    CHECK(scratch_edit(folder, "campaign.yaml", "approach: from below\n",
                       "attitude_order: random\n"));
    CHECK(plan("--configurations floor-edge --repeats 2") == 0);
    CHECK_CONTAINS(out, "attitudes, drawn for every run:\nR01: F12 R30, ");
    scratch_remove(folder);
}

static void the_same_seed_gives_the_same_bytes(void)
{
    static char first[PROGRAM_OUTPUT];
    begin();
    CHECK(plan("--seed 5 --format csv") == 0);
    memcpy(first, out, sizeof first);
    CHECK(plan("--seed 5 --output -") == 0);
    CHECK_TEXT(out, first);
    CHECK(plan("--seed 6 --format csv") == 0);
    CHECK(strcmp(first, out) != 0);
    /* a sum that another machine must find too */
    CHECK(program_shell(out, "%s -C %s plan --seed 5 --format csv | cksum", program_lapwing(),
                        folder) == 0);
    CHECK_TEXT(out, "3424829329 6131\n");
    scratch_remove(folder);
}

static void nothing_is_overwritten(void)
{
    char arguments[128];
    begin();
    (void)snprintf(arguments, sizeof arguments, "--output %s/runs.csv", folder);
    CHECK(plan(arguments) == 0);
    CHECK_CONTAINS(out, "what takes the hours");
    CHECK(plan(arguments) == 2);
    CHECK_CONTAINS(out, "exists already and stays as it is; give --force");
    (void)snprintf(arguments, sizeof arguments, "--output %s/runs.csv --force --format json",
                   folder);
    CHECK(plan(arguments) == 0);
    char *sheet = scratch_read(folder, "runs.csv");
    CHECK(sheet != NULL && strstr(sheet, "R99") == NULL);
    CHECK_CONTAINS(sheet != NULL ? sheet : "", "run,facility,entry,start,configuration,kind,");
    free(sheet);
    /* the names go on after those that are taken */
    CHECK(plan("--format csv") == 0);
    CHECK(strstr(out, "\nR01,") == NULL);
    scratch_remove(folder);
}

/* Logs of the demo's runs of the same configuration, under the names that the sheet asks for. */
static const char deliver[] =
    "cd %s && awk -F, 'function next_of(c) { n[c] = n[c] %% split(of[c], r, \" \") + 1; "
    "return r[n[c]] } "
    "BEGIN { of[\"base\"] = \"01 03 05 07 10 12 14\"; of[\"floor-edge\"] = \"02 11\"; "
    "of[\"front-flap\"] = \"06 13\" } "
    "$6 == \"wind_on\" { k = next_of($5); "
    "print \"cp logs/r\" k \"_forces.csv logs/\" $1 \"_forces.csv; "
    "cp logs/r\" k \"_taps.csv logs/\" $1 \"_taps.csv\" } "
    "$6 == \"zero\" { print \"cp logs/r01_zero_before.csv logs/\" $1 \".csv\" } "
    "$6 == \"weight_tare\" { print \"cp logs/t00_tare.csv logs/\" $1 \".csv\" }' "
    "runs.csv > deliver.sh && sh deliver.sh";

static void the_program_reads_its_own_sheet(void)
{
    char arguments[192];
    begin();
    CHECK(program_shell(out, "%s --rows 20 --tap-rows 4 --out %s", program_make_night(), folder) ==
          0);
    (void)snprintf(
        arguments, sizeof arguments,
        "--quiet --anyway --configurations floor-edge,front-flap --repeats 2 --output %s/runs.csv",
        folder);
    CHECK(plan(arguments) == 0);
    CHECK_TEXT(out, "");
    CHECK(program_shell(out, deliver, folder) == 0);
    CHECK_TEXT(out, "");
    CHECK(program_shell(out, "%s -C %s check", program_lapwing(), folder) == 0);
    CHECK_CONTAINS(out, "no problem; ");
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
    CHECK(program_shell(out, "%s -C %s compare floor-edge", program_lapwing(), folder) == 0);
    CHECK_CONTAINS(out, "entry 2026-03");
    CHECK_CONTAINS(out, " 2/3 "); /* mounted twice, the baseline three times: as planned */
    CHECK_CONTAINS(out, "main: ");
    scratch_remove(folder);
}

CU_TestInfo plan_tests[] = {
    {"hours add up", hours_add_up},
    {"pairs have their multiples", pairs_have_their_multiples},
    {"a night that fits is planned", a_night_that_fits_is_planned},
    {"what cannot tell is refused", what_cannot_tell_is_refused},
    {"orders are judged", orders_are_judged},
    {"names are checked", names_are_checked},
    {"without history no plan", without_history_no_plan},
    {"cheap changes suggest A B B A", cheap_changes_suggest_abba},
    {"the clock goes past midnight", the_clock_goes_past_midnight},
    {"weights and whole plots", weights_and_whole_plots},
    {"attitudes have an order", attitudes_have_an_order},
    {"the same seed gives the same bytes", the_same_seed_gives_the_same_bytes},
    {"nothing is overwritten", nothing_is_overwritten},
    {"the program reads its own sheet", the_program_reads_its_own_sheet},
    CU_TEST_INFO_NULL,
};

/* test_faulty_night.c - the demo night with one fault of each rule put in by hand, read, reduced, reported and
 * looked at by the program itself: the flag, its size in counts where that is known, the state of its
 * point, the exit status and what to do next, in the season, on the page, in the tables and at a glance.
 *
 * Faults and limits are common practice, no source. The night is invented; everything that is not
 * named here is as the generator made it. Wheel loads against the balance are in test_named_refusals.c.  */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/flag.h"
#include "schema/store.h"
#include "tests/check.h"
#include "tests/program.h"
#include "tests/season_look.h"

/* Columns of a forces log, with those that the night gets for this test:
 * 1 Time, 2 Pt, 3-8 R1-R6, 9 p0-p, 10 pst, 11 T0, 12 RH, 13 hF, 14 hR, 15 yaw, 16 Vbelt,
 * 17 and 18 temperatures of the balance's ends, 19 and 20 height sensors over the axles.
 * n counts the 200 rows of point 8, F12 R30, which the main measure rests on. */
static const struct fault_by_hand {
    const char *run, *file; /* below logs */
    const char *edit;       /* awk, one statement for every row behind the head */
    const char *rule;
    const char *point, *subject;
    const char *kept; /* state of the point by itself, whose number stands; NULL: not asked */
    enum flag_state state;
    int has_effect; /* 1: the flag tells its size in counts of CL */
} faults[] = {
    {"R01", "r01_forces.csv", "if (n == 50) v = $5; if (n >= 50 && n < 90) $5 = v", "stuck", "8",
     "R3", "failed", FLAG_FAILED, 0},
    {"R02", "r02_forces.csv", "if (n > 0 && $5 < low) $5 = low", "clipped", "8", "R3", "failed",
     FLAG_FAILED, 0},
    {"R03", "r03_forces.csv", "if (n % 40 == 20) $5 += 0.05", "spikes", "8", "R3", "flagged",
     FLAG_FLAGGED, 1},
    {"R04", "r04_forces.csv", "", "off-target", "24", "F20 R36", "ok", FLAG_FAILED, 0},
    {"R05", "r05_forces.csv", "if (n % 8 == 1) $5 = \"\"", "samples-missing", "8", "R3", "flagged",
     FLAG_FLAGGED, 0},
    {"R06", "r06_forces.csv", "if (n > 0) {$13 += 0.8; $19 += 0.8}", "off-target", "8", "F12 R30",
     "ok", FLAG_FAILED, 0},
    {"R07", "r07_forces.csv", "if (n > 0) $9 *= 1 + 0.005 * sin(n / 3)", "q-unsteady", "8", "q",
     "flagged", FLAG_FLAGGED, 0},
    {"R08", "r08_forces.csv", "if (n > 0) $5 += 0.0001 * n", "trend", "8", "CL", "flagged",
     FLAG_FLAGGED, 1},
    {"R09", "r09_forces.csv", "", "zero-drift", "", "CL", NULL, FLAG_FLAGGED, 1},
    {"R10", "r10_forces.csv", "$18 += 4", "balance-temperature", "", "Tr", NULL, FLAG_FLAGGED, 0},
    {"R11", "r11_forces.csv", "if (n > 0) $19 += 1", "heights-disagree", "8", "front_ride_height",
     "flagged", FLAG_FLAGGED, 0},
    {"R12", "r12_forces.csv", "v = $3; $3 = $4; $4 = v", "channels-swapped", "", "R1 and R2", NULL,
     FLAG_FLAGGED, 1},
    {"R14", "r14_taps.csv", "$12 = 9000 + FNR % 7", "tap-impossible", "", "T010", NULL, FLAG_FAILED,
     0},
};

enum { FAULTS = sizeof faults / sizeof faults[0] };

/* Two temperatures and two height sensors in every forces log, that agree with all else. */
static const char more_columns[] =
    "cd %s && sed -i 's/^      Vbelt: .*/&\\n      Tf: {role: balance_temperature, unit: degC}\\n  "
    "    "
    "Tr: {role: balance_temperature_rear, unit: degC}\\n      h1: {role: height_sensor_1, unit: "
    "mm}\\n  "
    "    h2: {role: height_sensor_2, unit: mm}/;s/^    humidity: .*/&\\n    ride_height: from "
    "log\\n    "
    "roll: zero\\n    height_sensors:\\n      - {sensor: height_sensor_1, x: -0.725 m, y: 0 m, "
    "offset: 0 "
    "mm}\\n      - {sensor: height_sensor_2, x: 0.725 m, y: 0 m, offset: 0 mm}/' campaign.yaml && "
    "for f in logs/*_forces.csv logs/*_zero_*.csv logs/*_tare.csv; do awk -F, -v OFS=, '{print $0, "
    "(NR == 1 ? \"Tf,Tr,h1,h2\" : NR == 2 ? \",,,\" : 24.1 + NR %% 7 / 100 \",\" 24.4 + NR %% 5 / "
    "100 "
    "\",\" $13 \",\" $14)}' $f > x && mv x $f; done";

/* low: where the clipped channel is cut, 0.8 standard deviations below its mean at the point. */
static const char put_in[] =
    "cd %s/logs && awk -F'%c' -v OFS='%c' 'NR == FNR {if ($2 == 8) {m++; s += $5; q += $5 * $5} "
    "next} "
    "FNR == 1 {s /= m > 0 ? m : 1; low = sprintf(\"%%.6f\", s - 0.8 * sqrt(q / m - s * s)) + 0} "
    "FNR > 2 {n = $2 == 8 ? n + 1 : 0; %s} {print}' %s %s > x && mv x %s";

static int make_night(char folder[64], char *out)
{
    if (!program_scratch(folder) ||
        program_shell(out, "%s --copy --seed 1 --tap-rows 20 --out %s", program_make_night(),
                      folder) != 0 ||
        program_shell(out, more_columns, folder) != 0)
        return 0;
    for (size_t i = 0; i < FAULTS; i++) {
        char mark = strstr(faults[i].file, "taps") != NULL ? ';' : ',';
        const char *file = faults[i].file;
        if (program_shell(out, put_in, folder, mark, mark, faults[i].edit, file, file, file) != 0)
            return 0;
    }
    return 1;
}

static void check_flag(struct store *store, const struct fault_by_hand *fault)
{
    char sql[600];
    (void)snprintf(sql, sizeof sql,
                   "SELECT DISTINCT state, effect_counts IS NOT NULL FROM flag WHERE run = '%s' "
                   "AND rule = '%s' "
                   "AND point = '%s' AND subject = '%s' AND detail <> ''",
                   fault->run, fault->rule, fault->point, fault->subject);
    char want[32];
    (void)snprintf(want, sizeof want, "%s|%d\n", flag_state_name(fault->state), fault->has_effect);
    check_season(store, sql, 2, want);
    if (fault->kept == NULL)
        return;
    (void)snprintf(
        sql, sizeof sql,
        "SELECT state, downforce_coefficient IS NOT NULL FROM point_coefficient WHERE run = "
        "'%s' AND point = '%s'",
        fault->run, fault->point);
    (void)snprintf(want, sizeof want, "%s|1\n", fault->kept);
    check_season(store, sql, 2, want);
}

/* On the page: what was seen, what it means, what to do, the rule. In the table: the point's state. */
static void check_report(const char *folder, const struct fault_by_hand *fault, char *out)
{
    const struct flag_row *row = flag_row(flag_rule_from_code(fault->rule));
    const char *const words[] = {row->sentence, row->consequence, row->action};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        int status = program_shell(
            out, "sed \"s/&#39;/'/g\" %s/report/night.html | grep -cF \"%s\"", folder, words[i]);
        if (status != 0)
            CHECK_TEXT("not on the page", words[i]);
    }
    CHECK(program_shell(out, "grep -c '<code>%s</code>' %s/report/night.html", fault->rule,
                        folder) == 0);
    if (fault->kept == NULL)
        return;
    CHECK(program_shell(out, "grep '^\"*%s\"*,\"*%s\"*,' %s/report/points.csv", fault->run,
                        fault->point, folder) == 0);
    char end[32];
    (void)snprintf(end, sizeof end, ",\"%s\"\n", fault->kept);
    CHECK_CONTAINS(out, end);
    CHECK(program_shell(out,
                        "cd %s && sqlite3 season.sqlite \"SELECT target_is_used FROM "
                        "point_coefficient WHERE run = '%s' AND point = '%s'\"",
                        folder, fault->run, fault->point) == 0);
    CHECK_TEXT(out, fault->state == FLAG_FAILED ? "0\n" : "1\n");
}

static void check_glance(const char *folder, const struct fault_by_hand *fault, char *out)
{
    CHECK(program_shell(out, "%s -C %s glance %s", program_lapwing(), folder, fault->run) == 1);
    CHECK_CONTAINS(out, fault->rule);
    CHECK_CONTAINS(out, flag_row(flag_rule_from_code(fault->rule))->action);
    CHECK(program_shell(out, "grep -c '%s' %s/report/glance_%s.html", fault->rule, folder,
                        fault->run) == 0);
}

static void each_fault_is_told_from_log_to_page(void)
{
    char folder[64];
    char path[96];
    struct store *store = NULL;
    struct fault fault = {.status = OK};
    char *out = malloc(PROGRAM_OUTPUT);
    CU_ASSERT_FATAL(out != NULL && make_night(folder, out));
    int status = program_shell(out, "%s -C %s batch", program_lapwing(), folder);
    if (status != 0)
        (void)fprintf(stderr, "%s", out);
    CHECK(status == 0); /* flags are no failure of the batch */
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    CHECK_OK(store_open(path, STORE_READ_ONLY, &store, &fault), &fault);
    CU_ASSERT_FATAL(store != NULL);
    for (size_t i = 0; i < FAULTS; i++) {
        unsigned failures = CU_get_number_of_failures();
        check_flag(store, &faults[i]);
        check_report(folder, &faults[i], out);
        check_glance(folder, &faults[i], out);
        if (CU_get_number_of_failures() > failures)
            CHECK_TEXT("the fault that failed", faults[i].rule);
    }
    CHECK_OK(store_close(store, &fault), &fault);
    program_remove(folder);
    free(out);
}

CU_TestInfo faulty_night_tests[] = {
    {"each fault is told from log to page", each_fault_is_told_from_log_to_page},
    CU_TEST_INFO_NULL};

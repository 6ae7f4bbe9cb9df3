/* test_named_refusals.c - one row for each refusal and warning that a person meets: what provokes it, what
 * is said, what it does to the numbers, the exit status.
 *
 * The list of refusals and warnings is common practice, no source. The night is invented. What it has and
 * this table has not: rules that need samples, from a clipped channel to exchanged ones, in
 * test_faulty_night.c, dead and impossible taps there too; a map value outside what was measured, an
 * uncertainty borrowed from history, a control chart, a part whose interaction was not tested, a step of
 * zero or weight between configurations, and all that a track gives (one direction only, wind, rolling
 * resistance) belong to what is not built yet. Two areas can't meet: a season has one car.          */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/store.h"
#include "tests/check.h"
#include "tests/program.h"
#include "tests/refusal_folder.h"
#include "tests/season_look.h"

/* In the folder, before the batch. EDIT of a file is sed's. */
#define EDIT(file, how) "sed -i '" how "' " file

/* Standard deviations of all loads and of q, and 100 samples behind every row. */
#define WITH_SPREAD(wind)                                                                          \
    EDIT(                                                                                          \
        "campaign.yaml",                                                                           \
        "s/^      yaw: .*/&\\n      sx: {role: force_x, statistic: sd}\\n      sy: {role: "        \
        "force_y, "                                                                                \
        "statistic: sd}\\n      sz: {role: force_z, statistic: sd}\\n      mx: {role: moment_x, "  \
        "statistic: sd}\\n      my: {role: moment_y, statistic: sd}\\n      mz: {role: moment_z, " \
        "statistic: sd}\\n      sq: {role: dynamic_pressure, statistic: sd}\\n      n: {role: "    \
        "sample_count}/")                                                                          \
    " && for f in [zbw][0-9].csv; do awk '{print $0 (NR == 1 ? \",sx,sy,sz,mx,my,mz,sq,n\" : "     \
    "NR == 2 ? \",N,N,N,N m,N m,N m,Pa,\" : \",1,1,1,1,1,1," wind                                  \
    ",100\")}' $f > x && mv x $f; done"

/* The total pressure in place of q: 101510 Pa with the wind on, as given in the zeros. */
#define WITH_TOTAL_PRESSURE(zero)                                                              \
    EDIT("campaign.yaml", "s/freestream: given/freestream: total and static/;s/q: {role: "     \
                          "dynamic_pressure}/q: {role: total_pressure}/")                      \
    " && sed -i 's/,1500,/,101510,/' [bw][0-9].csv && sed -i 's/,0,100000/," zero ",100000/' " \
    "z[12].csv"

/* Cells under the wheels that agree with the balance, and two height sensors that agree with the log. */
#define WITH_CELLS                                                                                 \
    EDIT("campaign.yaml",                                                                          \
         "s/^      yaw: .*/&\\n      h1: {role: height_sensor_1, unit: mm}\\n      h2: {role: "    \
         "height_sensor_2, unit: mm}\\n      w1: {role: wheel_load_front_left, unit: N}\\n      "  \
         "w2: {role: wheel_load_front_right, unit: N}\\n      w3: {role: wheel_load_rear_left, "   \
         "unit: N}\\n      w4: {role: wheel_load_rear_right, unit: N}/;s/^    humidity: "          \
         "absent/&\\n "                                                                            \
         "   car_stands_on: wheels\\n    ride_height: from log\\n    roll: zero\\n    "            \
         "height_sensors:"                                                                         \
         "\\n      - {sensor: height_sensor_1, x: -1.5 m, y: 0 m, offset: 0 mm}\\n      - "        \
         "{sensor: "                                                                               \
         "height_sensor_2, x: 1.5 m, y: 0 m, offset: 0 mm}/")                                      \
    " && for f in [zbw][0-9].csv; do awk -F, '{f = (-$5 / 2 - $7 / 3) / 2; r = (-$5 / 2 + $7 / "   \
    "3) / 2; print $0 (NR == 1 ? \",h1,h2,w1,w2,w3,w4\" : NR == 2 ? \",,,,,,\" : \",\" $12 \",\" " \
    "$13 "                                                                                         \
    "\",\" f \",\" f \",\" r \",\" r)}' $f > x && mv x $f; done"

/* A second balance that carries the body without its wheels. */
#define WITH_BARE_BALANCE                                                                          \
    EDIT("campaign.yaml",                                                                          \
         "s/^channel_maps:/  bare:\\n    file: floor.csv\\n    outputs: mV\\/V\\n    contains: "   \
         "body\\n   "                                                                              \
         " origin: {x: 0 m, y: 0 m, z: 0 m}\\n    axes: {x: aft, y: right, z: up}\\n    moments: " \
         "right-handed\\n&/")                                                                      \
    " && sed -i 's/^Z\\(.*\\),floor,\\(.*\\)/&\\nY\\1,bare,\\2/;s/^\\(W.*\\),floor,/\\1,bare,/' "  \
    "runs.csv"

static const struct refusal {
    const char *name;
    const char *edit;  /* shell commands; NULL: none */
    int status;        /* exit status of batch */
    const char *words; /* that batch prints; NULL: not asked */
    const char *code;  /* of the flag it leaves; NULL: none */
    const char *state; /* of that flag */
    const char *where; /* "run|point|subject" of the first such flag, any part of it */
    const char *count; /* SQL that must give 1: what it does to the numbers; NULL: not asked */
} refusals[] = {
    {"nothing is wrong", NULL, 0, NULL, NULL, NULL, NULL,
     "SELECT count(*) = 10 FROM point_coefficient WHERE state = 'ok' OR state = 'flagged'"},
    /* refused: no number */
    {"unit undeclared", EDIT("w1.csv", "2s/Pa,Pa/,Pa/"), 1, "w1.csv:1:24", "run-quarantined",
     "refused", "W1", "SELECT count(*) = 0 FROM point_coefficient WHERE run = 'W1'"},
    {"units contradict",
     EDIT("campaign.yaml", "s/q: {role: dynamic_pressure}/q: {role: "
                           "dynamic_pressure, unit: psf}/"),
     1, "w1.csv:2", "run-quarantined", "refused", "B1", NULL},
    {"sense of the balance undeclared", EDIT("campaign.yaml", "/axes:/d"), 2, "axes", NULL, NULL,
     NULL, NULL},
    {"sense of yaw undeclared", EDIT("campaign.yaml", "/yaw_positive/d"), 2, "yaw_positive", NULL,
     NULL, NULL, NULL},
    {"corrections status undeclared", EDIT("campaign.yaml", "/already_corrected/d"), 2,
     "already_corrected", NULL, NULL, NULL, NULL},
    {"corrections status unknown",
     EDIT("campaign.yaml",
          "s/already_corrected: no/already_corrected: unknown/;s/quarter rule/none/"),
     0, NULL, "corrections-unknown", "flagged", "B1",
     "SELECT count(*) = 0 FROM ledger WHERE step = 'blockage' AND abs(change) > 0"},
    {"already corrected, and to be corrected again",
     EDIT("campaign.yaml", "s/already_corrected: no/already_corrected: yes/"), 2, "already", NULL,
     NULL, NULL, NULL},
    {"no zero", EDIT("runs.csv", "/^Z/d"), 1, NULL, "zero-missing", "refused", "B1",
     "SELECT count(drag_coefficient) = 0 FROM point_coefficient"},
    {"a zero that is no zero", EDIT("runs.csv", "s/points=w1.csv,,/points=w1.csv,B1,/"), 2,
     "runs.csv:4:66", NULL, NULL, NULL, NULL},
    {"calibration of another balance",
     "sed -i 's/unit,/unit,balance,/;s/^\\(F.\\),N,/\\1,N,roof,/;s/^\\(M.\\),N m,/\\1,N m,roof,/' "
     "floor.csv",
     2, "floor.csv:2:6", NULL, NULL, NULL, NULL},
    {"calibration that gives five loads", EDIT("floor.csv", "s/^Mz.*/Mz,N m,0,0,0,0,50,0/"), 2,
     "singular", NULL, NULL, NULL, NULL},
    {"parent never measured", EDIT("runs.csv", "s/,base,wind_on/,wing,wind_on/"), 0, NULL, NULL,
     NULL, NULL, "SELECT count(*) = 0 FROM delta WHERE delta IS NOT NULL"},
    {"no baseline after the configuration", EDIT("runs.csv", "/^B[23]/d"), 0, NULL, "unbracketed",
     "flagged", "wing",
     "SELECT count(*) = 0 FROM delta WHERE is_main AND (half_width IS NOT NULL OR verdict IS NOT "
     "NULL)"},
    {"no baseline after the configuration, and two before", EDIT("runs.csv", "/^B3/d"), 0, NULL,
     "unbracketed", "flagged", "wing", NULL},
    {"a weighted target is not measured", EDIT("w1.csv", "4d"), 0, NULL, "attitude-not-measured",
     "flagged", "W1", NULL},
    {"an attitude is not logged", EDIT("campaign.yaml", "/role: front_ride_height}$/d"), 0, NULL,
     "attitude-not-measured", "flagged", "B1",
     "SELECT count(*) = 0 FROM delta WHERE is_main AND delta IS NOT NULL"},
    {"weights that do not make one",
     EDIT("campaign.yaml", "0,/weight: 0.5/s/weight: 0.5/weight: 0.4/"), 2, "weight", NULL, NULL,
     NULL, NULL},
    {"a log that no longer matches its map", EDIT("w1.csv", "1s/Fx/FX/"), 1, "w1.csv:1",
     "run-quarantined", "refused", "W1",
     "SELECT count(*) = 0 FROM point_coefficient WHERE run = 'W1'"},
    {"time goes back", EDIT("w1.csv", "s/^2,20,/2,5,/"), 1, "w1.csv:4:3", "run-quarantined",
     "refused", "W1", NULL},
    {"one run twice", "sed -i '3p' runs.csv", 2, "runs.csv:4:1", NULL, NULL, NULL, NULL},
    {"no wind", EDIT("w1.csv", "s/,1500,/,0,/"), 1, NULL, "no-freestream", "refused", "W1",
     "SELECT count(drag_coefficient) = 0 FROM point_coefficient WHERE run = 'W1'"},
    {"correction without its geometry",
     EDIT("campaign.yaml", "s/, volume: 4 m3//;s/quarter rule/image "
                           "sum/"),
     2, "volume", NULL, NULL, NULL, NULL},
    /* warned: a number with a flag */
    {"the zero drifts", EDIT("z2.csv", "s/0.110,0,0.110/0.110,0,60.0/"), 0, NULL, "zero-drift",
     "flagged", "B1", NULL},
    {"zero on one side only", EDIT("runs.csv", "/^Z2/d"), 0, NULL, "zero-after-missing", "flagged",
     "B1", NULL},
    {"a zero with the wind on", EDIT("z1.csv", "s/,0,100000/,8,100000/"), 0, NULL, "zero-with-wind",
     "flagged", "B1||Z1",
     "SELECT count(*) = 5 AND min(value) = 8 AND abs(max(limit_value) - 7.5) < 1e-9 "
     "FROM flag WHERE rule = 'zero-with-wind'"},
    {"a zero in still air", EDIT("z1.csv", "s/,0,100000/,7,100000/"), 0, NULL, NULL, NULL, NULL,
     "SELECT count(*) = 0 FROM flag WHERE rule = 'zero-with-wind'"},
    {"a zero with the wind on, by two absolute pressures", WITH_TOTAL_PRESSURE("100060"), 0, NULL,
     "zero-with-wind", "flagged", "B1||Z1", NULL},
    {"a zero in still air, by two absolute pressures that are not alike",
     WITH_TOTAL_PRESSURE("100040"), 0, NULL, NULL, NULL, NULL,
     "SELECT count(*) = 0 FROM flag WHERE rule = 'zero-with-wind'"},
    {"load beyond the rating", EDIT("campaign.yaml", "s/Fz: 9000 N/Fz: 4000 N/"), 0, NULL,
     "load-box", "flagged", "B1|1|Fz", NULL},
    {"attitude off target", EDIT("w1.csv", "s/,20,50,0$/,23,50,0/"), 0, NULL, "off-target",
     "failed", "W1|1", NULL},
    {"far from every target", EDIT("w1.csv", "s/,20,50,0$/,40,50,0/"), 0, NULL, "no-target", "info",
     "W1|1", NULL},
    {"blockage beyond the evidence", EDIT("campaign.yaml", "s/width: 6 m/width: 2.8 m/"), 0, NULL,
     "blockage-evidence", "flagged", "B1", NULL},
    {"blockage beyond all sense", EDIT("campaign.yaml", "s/width: 6 m/width: 0.8 m/"), 1, NULL,
     "blockage-refused", "refused", "B1", NULL},
    {"mounted once", EDIT("runs.csv", "/^W2/d"), 0, NULL, "not-refitted", "flagged", "wing",
     "SELECT count(*) = 0 FROM delta WHERE is_main AND verdict IS NOT NULL"},
    {"the same bytes under two names", "cp w1.csv w2.csv", 0, NULL, "duplicate-log", "flagged", "W",
     NULL},
    {"a time in milliseconds that says seconds", EDIT("w1.csv", "3,$s/0,/0000,/"), 0, NULL,
     "runs-overlap", "flagged", "W1",
     "SELECT detail LIKE '%12:46:40 to 2026-03-01 15:33:20 UTC; in that time 2 other runs begin, "
     "first B3' FROM flag WHERE rule = 'runs-overlap'"},
    {"sign of the load",
     EDIT("campaign.yaml", "s/Fz: {role: force_z}/Fz: {role: force_z, sign: -1}/"), 0, NULL,
     "implausible", "flagged", "B1", NULL},
    {"no time", EDIT("campaign.yaml", "/role: time/d"), 0, NULL, "time-missing", "flagged", "B1",
     NULL},
    {"calibration out of its time",
     "sed -i 's/unit,/unit,valid_from,valid_until,/;s/^\\(F.\\),N,/\\1,N,2025-01-01T00:00Z,"
     "2026-02-01T00:00Z,/;s/^\\(M.\\),N m,/\\1,N m,2025-01-01T00:00Z,2026-02-01T00:00Z,/' "
     "floor.csv",
     1, NULL, "calibration-expired", "refused", "B1",
     "SELECT count(drag_coefficient) = 0 FROM point_coefficient"},
    {"wheels in one run and not in the other", WITH_BARE_BALANCE, 0, NULL, "contents-differ",
     "refused", "W1", "SELECT count(delta) = 0 FROM delta"},
    {"a wind that is not steady", WITH_SPREAD("6"), 0, NULL, "q-unsteady", "flagged", "B1|1|q",
     NULL},
    {"a correction larger than a fifth", /* 0.04/m 4 m3 / 1.5 m2 of a CD of 0.4: 27 % */
     EDIT("campaign.yaml", "s/buoyancy: none/buoyancy: horizontal/;s/^    corrections:/    "
                           "pressure_gradient: -0.04 1\\/m\\n&/"),
     0, NULL, "correction-large", "flagged", "B1|1|CD",
     "SELECT count(*) = 10 FROM flag WHERE rule = 'correction-large' AND abs(value - limit_value) "
     "> "
     "0.05"},
    {"a baseline that drifts between its returns", /* 60 N of 1500 Pa 1.5 m2, and 2 N: 27.6 counts */
     "sed -i 's/-4501.10/-4562.10/;s/-4050.99/-4110.99/' b2.csv && sed -i "
     "'s/-4499.40/-4622.40/;s/-4049.46/-4169.46/' b3.csv && sed -i "
     "'s/-4560.20/-4590.20/;s/-4104.18/-4134.18/' w1.csv && sed -i "
     "'s/-4561.90/-4651.90/;s/-4105.71/-4195.71/' w2.csv",
     0, NULL, "bracket-wide", "flagged", "wing",
     "SELECT abs(delta - 0.026) < 0.002 FROM delta WHERE is_main"},
    {"few degrees of freedom", NULL, 0, NULL, "few-degrees", "flagged", "wing",
     "SELECT degrees_of_freedom < 3 FROM delta WHERE is_main"},
    {"cells and sensors that agree", WITH_CELLS, 0, NULL, NULL, NULL, NULL,
     "SELECT count(*) = 0 FROM flag WHERE rule IN ('axle-sum', 'heights-disagree')"},
    {"wheels that are not the balance's load",
     WITH_CELLS " && awk -F, -v OFS=, 'NR > 2 {$17 *= 1.02} {print}' w1.csv > x && mv x w1.csv", 0,
     NULL, "axle-sum", "flagged", "W1|1|wheel_load", NULL},
    {"a height sensor that is not where the log is",
     WITH_CELLS " && awk -F, -v OFS=, 'NR > 2 {$15 += 1} {print}' w1.csv > x && mv x w1.csv", 0,
     NULL, "heights-disagree", "flagged", "W1|1|front_ride_height", NULL},
    {"a point left out",
     "printf 'run,point,decision,who,when,why\\nW1,1,exclude,A. B.,2026-03-02,the door\\n' > "
     "decisions.csv",
     0, NULL, "point-excluded", "info", "W1|1",
     "SELECT count(*) > 0 FROM exclusion WHERE basis = 'all in'"},
    {"a decision on nothing",
     "printf 'run,point,decision,who,when,why\\nW1,1,restore,A. B.,2026-03-02,the door\\n' > "
     "decisions.csv",
     0, NULL, "decision-without-effect", "flagged", "W1|1", NULL},
    {"an averaged point without its scatter", NULL, 0, NULL, "not-estimable", "flagged", "B1|1",
     NULL},
};

static void check_flag(const struct refusal *refusal, struct store *store)
{
    char sql[512];
    (void)snprintf(sql, sizeof sql,
                   "SELECT run || '|' || point || '|' || subject, state, detail, sentence, "
                   "consequence, action FROM flag WHERE rule = '%s' AND state = '%s' ORDER BY 1",
                   refusal->code, refusal->state);
    char *text = season_query(store, sql, 6);
    CHECK(text != NULL && text[0] != '\0');
    if (text != NULL && refusal->where != NULL)
        CHECK_CONTAINS(text, refusal->where);
    free(text);
    (void)snprintf(
        sql, sizeof sql,
        "SELECT count(*) FROM flag WHERE rule = '%s' AND (sentence = '' OR consequence = "
        "'' OR action = '' OR detail = '')",
        refusal->code);
    check_season(store, sql, 1, "0\n");
}

/* What the batch flagged of a run is told at a glance at it too, with the rule's name. */
static void check_glance(const struct refusal *refusal, const char *folder, char *out)
{
    char run[8];
    if (refusal->where == NULL || strcmp(refusal->state, "info") == 0 ||
        sscanf(refusal->where, "%2[BW123]", run) != 1 || strlen(run) != 2)
        return;
    int status = program_shell(out, "%s -C %s glance %s --text", program_lapwing(), folder, run);
    const char *words =
        strcmp(refusal->code, "zero-after-missing") == 0 ? "none after yet" : refusal->code;
    if (strstr(out, words) == NULL)
        (void)fprintf(stderr, "%s: glance %s exit %d\n%s", refusal->name, run, status, out);
    CHECK(status == 0 || status == 1);
    CHECK_CONTAINS(out, words);
}

static void check_refusal(const struct refusal *refusal)
{
    char folder[64];
    char *out = malloc(PROGRAM_OUTPUT);
    CU_ASSERT_FATAL(out != NULL && refusal_folder_make(folder));
    int edited =
        refusal->edit == NULL ? 0 : program_shell(out, "cd %s && %s", folder, refusal->edit);
    CHECK(edited == 0);
    int status = program_shell(out, "%s -C %s batch", program_lapwing(), folder);
    if (status != refusal->status)
        (void)fprintf(stderr, "%s: exit %d, not %d\n%s", refusal->name, status, refusal->status,
                      out);
    CHECK(status == refusal->status);
    if (refusal->words != NULL)
        CHECK_CONTAINS(out, refusal->words);
    if (refusal->status != 2 && (refusal->code != NULL || refusal->count != NULL)) {
        char path[96];
        struct store *store = NULL;
        struct fault fault;
        (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
        CHECK_OK(store_open(path, STORE_READ_ONLY, &store, &fault), &fault);
        if (store != NULL && refusal->code != NULL)
            check_flag(refusal, store);
        if (store != NULL && refusal->count != NULL)
            check_season(store, refusal->count, 1, "1\n");
        CHECK_OK(store_close(store, &fault), &fault);
        check_glance(refusal, folder, out);
    }
    program_remove(folder);
    free(out);
}

static void every_refusal_is_said_and_counted(void)
{
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++)
        check_refusal(&refusals[i]);
}

CU_TestInfo named_refusals_tests[] = {
    {"every refusal is said and counted", every_refusal_is_said_and_counted}, CU_TEST_INFO_NULL};

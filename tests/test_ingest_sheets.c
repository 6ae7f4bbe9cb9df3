/* test_ingest_sheets.c - the hand-kept files: configurations, runs, taps, calibration. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/calibration_file.h"
#include "ingest/configuration_sheet.h"
#include "ingest/run_sheet.h"
#include "ingest/tap_sheet.h"
#include "tests/check.h"
#include "tests/scratch.h"

static void gather(void *context, const struct fault *problem)
{
    char *lines = context;
    size_t used = strlen(lines);
    fault_line(problem, lines + used, 7900 - used);
    used = strlen(lines);
    (void)snprintf(lines + used, 2, "\n");
}

/* Each sheet's reader behind one shape; what it read is checked by its own test. */
/* As campaign.yaml declares it. */
static const struct balance floor_balance = {
    .name = (char[]){"floor"}, .output_unit = (char[]){"mV/V"}, .rated = {1500, 0, 0, 0, 0, 0}};

enum sheet_kind { CONFIGURATIONS, RUNS, TAPS, CALIBRATION };

static enum status read_kind(enum sheet_kind kind, const char *path, struct units *units,
                             struct problems *problems, struct fault *fault)
{
    struct configuration_sheet *configurations = NULL;
    struct run_sheet *runs = NULL;
    struct tap_sheet *taps = NULL;
    struct calibration calibration;
    enum status status = OK;
    if (kind == CONFIGURATIONS)
        status = configuration_sheet_read(path, problems, &configurations, fault);
    else if (kind == RUNS)
        status = run_sheet_read(path, problems, &runs, fault);
    else if (kind == TAPS)
        status = tap_sheet_read(path, units, problems, &taps, fault);
    else
        status = calibration_file_read(path, "floor.csv", &floor_balance, units, problems,
                                       &calibration, fault);
    configuration_sheet_free(configurations);
    run_sheet_free(runs);
    tap_sheet_free(taps);
    return status;
}

/* The problems of a text read as a sheet of this kind, as lines. */
static void problems_of(enum sheet_kind kind, const char *text, char lines[8192])
{
    char folder[SCRATCH_PATH];
    char path[128];
    struct units *units = NULL;
    struct fault fault = {.status = OK};
    struct problems problems = problems_to(gather, lines);
    lines[0] = '\0';
    CU_ASSERT_FATAL(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/sheet.csv", folder);
    CHECK(scratch_write(folder, "sheet.csv", text));
    CHECK_OK(units_open(&units, &fault), &fault);
    CHECK_OK(read_kind(kind, path, units, &problems, &fault), &fault);
    units_close(units);
    scratch_remove(folder);
}

#define RUN_HEAD \
    "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,note\n"
#define PARTS_HEAD "configuration,parent,change,parts\no,,,\na,o,x,\nb,o,y,\n"
#define TAP_HEAD                                                             \
    "tap,column,x,y,z,normal_x,normal_y,normal_z,area,surface,tube_length\n" \
    ",,mm,mm,mm,1,1,1,mm2,,m\n"
#define LOADS_BUT_FX                                                               \
    "Fy,N,0,1,0,0,0,0\nFz,N,0,0,1,0,0,0\nMx,N m,0,0,0,1,0,0\nMy,N m,0,0,0,0,1,0\n" \
    "Mz,N m,0,0,0,0,0,1\n"

#define CARD_HEAD "load,unit,balance,valid_from,valid_until,R1,R2,R3,R4,R5,R6\n"
#define OF_FLOOR ",floor,2026-01-01T00:00Z,,"
#define CARD_BUT_FX                                                             \
    "Fy,N" OF_FLOOR "0,1,0,0,0,0\nFz,N" OF_FLOOR "0,0,1,0,0,0\nMx,N m" OF_FLOOR \
    "0,0,0,1,0,0\nMy,N m" OF_FLOOR "0,0,0,0,1,0\nMz,N m" OF_FLOOR "0,0,0,0,0,1\n"

static const struct {
    enum sheet_kind kind;
    const char *text;
    const char *line; /* "" when nothing is wrong */
} sheets[] = {
    {CONFIGURATIONS, "configuration,parent,change,note\na,,x,\nb,a,y,\nc,b,z,\n", ""},
    {CONFIGURATIONS, "", "configurations.csv:1: the file is empty"},
    {CONFIGURATIONS, "configuration,change\na,x\n",
     "configurations.csv:1: the header has no column 'parent'"},
    {CONFIGURATIONS, "configuration,parent,change,weight\na,,x,1\n",
     "configurations.csv:1:29: the header names an unknown column 'weight'"},
    {CONFIGURATIONS, "configuration,parent,change,change\na,,x,1\n",
     "configurations.csv:1:29: the header names a second column 'change'"},
    {CONFIGURATIONS, "configuration,parent,change\na,,x\na,,y\n",
     "configurations.csv:3:1: configuration 'a' is on line 2 already"},
    {CONFIGURATIONS, "configuration,parent,change\na,,x\n,a,y\n",
     "configurations.csv:3:1: the configuration has no name"},
    {CONFIGURATIONS, "configuration,parent,change\na,b,x\nb,a,y\n",
     "configurations.csv:2:3: the parents of 'a' form a circle"},
    {CONFIGURATIONS, "configuration,parent,change\na,a,x\n",
     "configurations.csv:2:3: the parents of 'a' form a circle"},
    {CONFIGURATIONS, "configuration,parent,change\na,,x\nb,c,y\n",
     "configurations.csv:3:3: parent 'c' of 'b' is no configuration"},
    {CONFIGURATIONS, "configuration,parent,change\na,,x\nb/c,a,y\n",
     "configurations.csv:3:1: configuration 'b/c' holds a '/'"},
    {CONFIGURATIONS, PARTS_HEAD "ab,o,both,a; b\n", ""},
    {CONFIGURATIONS, PARTS_HEAD "ab,o,both,a;d\n",
     "configurations.csv:5:11: part 'd' of 'ab' is no configuration"},
    {CONFIGURATIONS, PARTS_HEAD "ab,o,both,a;b;\n",
     "configurations.csv:5:11: part '' of 'ab' is no configuration"},
    {CONFIGURATIONS, PARTS_HEAD "ab,o,both,a;b;a\n",
     "configurations.csv:5:11: part 'a' of 'ab' is named twice"},
    {CONFIGURATIONS, PARTS_HEAD "ab,o,both,a;ab\n",
     "configurations.csv:5:11: part 'ab' of 'ab' is the package itself"},
    {CONFIGURATIONS, PARTS_HEAD "ab,o,both,a;o\n",
     "configurations.csv:5:11: part 'o' of 'ab' is the baseline"},
    {CONFIGURATIONS, PARTS_HEAD "ab,o,both,a\n",
     "configurations.csv:5:11: 'ab' has one part; limit: two at least"},
    {CONFIGURATIONS, PARTS_HEAD "q,,other,\nr,q,x,\nab,o,both,a;r\n",
     "configurations.csv:7:11: part 'r' of 'ab' is of another family"},
    {CONFIGURATIONS, PARTS_HEAD "ab,o,both,a;cd\ncd,o,both,b;ab\n",
     "configurations.csv:5:11: the parts of 'ab' hold 'ab' itself"},
    {RUNS, RUN_HEAD "r,f,e,2026-02-11T20:05:00Z,c,wind_on,b,m=l,,,,\n", ""},
    {RUNS, RUN_HEAD "r,f,e/2,2026-02-11T20:05:00Z,c,wind_on,b,m=l,,,,\n",
     "runs.csv:2:5: entry 'e/2' holds a '/'"},
    {RUNS, RUN_HEAD "r,f,e,2026-02-11T20:05:00,c,wind_on,b,m=l,,,,\n",
     "runs.csv:2:7: start '2026-02-11T20:05:00': the zone is missing"},
    {RUNS, RUN_HEAD "r,f,e,2026-02-11T20:05:00Z,c,wind,b,m=l,,,,\n",
     "runs.csv:2:30: kind 'wind' is unknown"},
    {RUNS, RUN_HEAD "r,f,e,2026-02-11T20:05:00Z,,wind_on,b,m=l,,,,\n",
     "runs.csv:2:28: wind-on run 'r' has no configuration"},
    {RUNS, RUN_HEAD "r,f,e,2026-02-11T20:05:00Z,c,zero,b,,,,,\n",
     "runs.csv:2:37: run 'r' names no log"},
    {RUNS, RUN_HEAD "r,f,e,2026-02-11T20:05:00Z,c,zero,b,l.csv,,,,\n",
     "runs.csv:2:37: log 'l.csv' of run 'r' is not written map=file"},
    {RUNS, RUN_HEAD "r,f,e,2026-02-11T20:05:00Z,c,zero,b,m=l;,,,,\n",
     "runs.csv:2:37: log '' of run 'r' is not written map=file"},
    {RUNS, RUN_HEAD "r,f,e,2026-02-11T20:05:00Z,c,zero,b,m=l;k=l,,,,\n",
     "runs.csv:2:37: run 'r' names the log 'l' twice"},
    {RUNS, RUN_HEAD "r/1,f,e,2026-02-11T20:05:00Z,c,zero,b,m=l,,,,\n",
     "runs.csv:2:1: 'r/1' cannot name a run"},
    {RUNS,
     RUN_HEAD
     "r,f,e,2026-02-11T20:05:00Z,c,zero,b,m=l,,,,\nr,f,e,2026-02-11T20:06:00Z,c,zero,b,m=l,,,,\n",
     "runs.csv:3:1: run 'r' is on line 2 already"},
    {RUNS, RUN_HEAD "r,f,e\n", "runs.csv:2:5: 3 cells"},
    {RUNS, RUN_HEAD, "runs.csv:1: the sheet has a header and no run"},
    {RUNS, RUN_HEAD "r\033[2J,f,e,2026-02-11T20:05:00Z,c,zero,b,m=l,,,,\n",
     "runs.csv:2:1: run 'r\\x1b[2J' holds the control character U+001B"},
    {RUNS, RUN_HEAD "r,f,e\tx,2026-02-11T20:05:00Z,c,zero,b,m=l,,,,\n",
     "runs.csv:2:5: entry 'e\\x09x' holds the control character U+0009"},
    {RUNS, RUN_HEAD "r,f\xC2\x85,e,2026-02-11T20:05:00Z,c\xE2\x81\xA9,zero,b,m=l,,,,\n",
     "runs.csv:2:3: facility 'f\\x85' holds the control character U+0085"},
    {CONFIGURATIONS, "configuration,parent,change\na\xE2\x80\xAE,,x\n",
     "configurations.csv:2:1: configuration 'a\\u202e' holds the control character U+202E"},
    {TAPS, TAP_HEAD "T\x7F,c1,1,2,3,0,0,-1,5,floor,1\n",
     "taps.csv:3:1: tap 'T\\x7f' holds the control character U+007F"},
    {TAPS, TAP_HEAD "T1,c1,1e999,2,3,0,0,-1,5,floor,1\n", "taps.csv:3:7: '1e999' is out of range"},
    {TAPS, TAP_HEAD "T1,c1,1,2,3,0,0,-1,5,floor,1\nT2,c2,1,2,3,0,0,1,,floor,\n", ""},
    {TAPS, TAP_HEAD "T1,c1,1,2,3,0,0,-1,5,floor,1\nT1,c2,1,2,3,0,0,1,,floor,\n",
     "taps.csv:4:1: tap 'T1' is on line 3 already"},
    {TAPS, TAP_HEAD "T1,c1,1,2,3,0,0,-1,5,floor,1\nT2,c1,1,2,3,0,0,1,,floor,\n",
     "taps.csv:4:4: column 'c1' is on line 3 already"},
    {TAPS, TAP_HEAD "T1,c1,1,2,3,0,0,0,5,floor,1\n",
     "taps.csv:3:13: the normal of tap 'T1' has the length 0"},
    {TAPS, TAP_HEAD "T1,c1,1,x,3,0,0,1,5,floor,1\n", "taps.csv:3:9: 'x' is not a number"},
    {TAPS, TAP_HEAD "T1,c1,1,2,3,0,0,1,-5,floor,1\n", "taps.csv:3:19: 'area' of tap 'T1' is -5"},
    {TAPS, TAP_HEAD ",c1,1,2,3,0,0,1,5,floor,1\n", "taps.csv:3:1: the tap has no name"},
    {TAPS,
     "tap,column,x,y,z,normal_x,normal_y,normal_z,surface\n,,mm,,mm,1,1,kg,\nT1,c1,1,2,3,0,0,1,"
     "floor\n",
     "taps.csv:2:6: column 'y' has no usable unit"},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6\nFx,N,1,0,0,0,0,0\n" LOADS_BUT_FX, ""},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6\nFx,kN,1e-9,0,0,0,0,0\n" LOADS_BUT_FX, ""},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6\nFx,N,1,2,3,4,5,6.1\n" LOADS_BUT_FX, ""},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6\nFx,N,0,0,0,0,0,0\n" LOADS_BUT_FX,
     "floor.csv:2:1: Fx has no linear term but 0"},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6\nFx,N,0,2,0,0,0,0\n" LOADS_BUT_FX,
     "floor.csv:1: the linear terms do not tell six loads apart"},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6\nFx,N,0,0.1,-0.3,1e7,0,0.7\n" LOADS_BUT_FX,
     "floor.csv:1: the linear terms do not tell six loads apart"},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6\n" LOADS_BUT_FX,
     "floor.csv:1: there is no row for Fx"},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6\nFX,N,1,0,0,0,0,0\n" LOADS_BUT_FX,
     "floor.csv:2:1: 'FX' is no load"},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6\nFx,N m,1,0,0,0,0,0\n" LOADS_BUT_FX,
     "floor.csv:2:4: unit 'N m' is of another kind"},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6\nFx,N,1,0,0,0,0,-\n" LOADS_BUT_FX,
     "floor.csv:2:16: '-' is not a number"},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5\nFx,N,1,0,0,0,0\n",
     "floor.csv:1: the header has no column 'R6'"},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6,R1*R1\nFx,N,1,0,0,0,0,0,0\n",
     "floor.csv:1: 1 of 21 products"},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6,R2*R1\nFx,N,1,0,0,0,0,0,0\n",
     "floor.csv:1:29: the header names an unknown column 'R2*R1'"},
    {CALIBRATION, "load,unit,R1,R2,R3,R4,R5,R6\nFx,N,1,0,0,0,0,0\nFx,N,1,0,0,0,0,0\n" LOADS_BUT_FX,
     "floor.csv:3:1: Fx is on line 2 already"},
    {CALIBRATION, CARD_HEAD "Fx,N,floor,2026-01-01T00:00Z,,1,0,0,0,0,0\n" CARD_BUT_FX, ""},
    {CALIBRATION, CARD_HEAD "Fx,N,roof,2026-01-01T00:00Z,,1,0,0,0,0,0\n" CARD_BUT_FX,
     "floor.csv:2:6: the calibration is of balance 'roof', and campaign.yaml gives it to 'floor'"},
    {CALIBRATION, CARD_HEAD "Fx,N,floor,2026-01-01,,1,0,0,0,0,0\n" CARD_BUT_FX,
     "floor.csv:2:12: '2026-01-01'"},
    {CALIBRATION, CARD_HEAD "Fx,N,floor,2025-01-01T00:00Z,,1,0,0,0,0,0\n" CARD_BUT_FX,
     "floor.csv:3:12: '2026-01-01T00:00Z' here, '2025-01-01T00:00Z' on line 2"},
    {CALIBRATION,
     CARD_HEAD "Fx,N,floor,2026-01-01T00:00Z,2025-01-01T00:00Z,1,0,0,0,0,0\n" CARD_BUT_FX,
     "ends before it begins"},
};

static void sheets_are_refused_with_their_place(void)
{
    for (size_t i = 0; i < sizeof sheets / sizeof sheets[0]; i++) {
        char lines[8192];
        problems_of(sheets[i].kind, sheets[i].text, lines);
        if (sheets[i].line[0] == '\0')
            CHECK_TEXT(lines, "");
        else
            CHECK_CONTAINS(lines, sheets[i].line);
    }
}

static void a_missing_sheet_is_a_problem(void)
{
    char lines[8192] = "";
    struct problems problems = problems_to(gather, lines);
    struct configuration_sheet *sheet = NULL;
    struct fault fault = {.status = OK};
    CHECK_OK(configuration_sheet_read("/no/such/file.csv", &problems, &sheet, &fault), &fault);
    CHECK(sheet != NULL && sheet->n == 0);
    CHECK_CONTAINS(lines, "there is no file 'configurations.csv'");
    configuration_sheet_free(sheet);
}

static void the_tree_has_its_baselines(void)
{
    char folder[SCRATCH_PATH];
    char path[128];
    struct problems problems = problems_to(NULL, NULL);
    struct configuration_sheet *sheet = NULL;
    struct fault fault = {.status = OK};
    CU_ASSERT_FATAL(scratch_make(folder));
    CHECK(scratch_write(folder, "c.csv",
                        "configuration;parent;change;note\n"
                        "grandchild;child;z;\n\"child\";root;\"y; both\";\n"
                        "root;;;baseline\nother;;;\n"));
    (void)snprintf(path, sizeof path, "%s/c.csv", folder);
    CHECK_OK(configuration_sheet_read(path, &problems, &sheet, &fault), &fault);
    CU_ASSERT_FATAL(problems.n == 0 && sheet != NULL && sheet->n == 4);
    CHECK(sheet->items[0].baseline_index == 2 && sheet->items[1].baseline_index == 2);
    CHECK(sheet->items[2].baseline_index == 2 && sheet->items[3].baseline_index == 3);
    CHECK_TEXT(sheet->items[1].change, "y; both");
    CHECK(configuration_find(sheet, "other") == &sheet->items[3]);
    CHECK(configuration_find(sheet, "nobody") == NULL);
    configuration_sheet_free(sheet);
    scratch_remove(folder);
}

static void a_calibration_comes_in_si(void)
{
    char folder[SCRATCH_PATH];
    char path[128];
    char text[8192] = "load,unit,R6,R5,R4,R3,R2,R1";
    struct problems problems = problems_to(NULL, NULL);
    struct calibration calibration;
    struct units *units = NULL;
    struct fault fault = {.status = OK};
    size_t used = strlen(text);
    for (size_t term = CALIBRATION_TERMS; term-- > LOAD_COUNT;)
        used +=
            (size_t)snprintf(text + used, sizeof text - used, ",%s", calibration_term_name(term));
    for (size_t load = 0; load < LOAD_COUNT; load++) {
        used += (size_t)snprintf(text + used, sizeof text - used, "\n%s,%s",
                                 calibration_load_name(load),
                                 load == 2 ? "lbf" : calibration_load_unit(load));
        for (size_t i = 0; i < CALIBRATION_TERMS; i++) /* 5000 here and there: not singular */
            used += (size_t)snprintf(text + used, sizeof text - used, ",%zu",
                                     100 * load + i + (i == (load + 1) % LOAD_COUNT ? 5000 : 0));
    }
    (void)snprintf(text + used, sizeof text - used, "\n");
    CU_ASSERT_FATAL(scratch_make(folder));
    CHECK(scratch_write(folder, "floor.csv", text));
    (void)snprintf(path, sizeof path, "%s/floor.csv", folder);
    CHECK_OK(units_open(&units, &fault), &fault);
    CHECK_OK(calibration_file_read(path, "floor.csv", &floor_balance, units, &problems,
                                   &calibration, &fault),
             &fault);
    CHECK_TEXT(problems.n > 0 ? problems.first.text : "", "");
    CHECK(calibration.second_order);
    CHECK_NEAR(calibration.linear[0][5], 0, 0, "identity: R6 stands first");
    CHECK_NEAR(calibration.linear[3][0], 305, 0, "identity: R1 stands sixth");
    CHECK_NEAR(calibration.product[1][0], 126, 0, "identity: R1*R1 stands last");
    CHECK_RELATIVE(calibration.product[2][20], 206 * 4.4482216152605, 1e-12,
                   "NIST SP 811 (2008), appendix B: 1 lbf = 4.448 221 615 260 5 N");
    CHECK(strlen(calibration.sha256) == 64);
    units_close(units);
    scratch_remove(folder);
}

static void logs_of_a_run_are_taken_apart(void)
{
    char folder[SCRATCH_PATH];
    char path[128];
    struct problems problems = problems_to(NULL, NULL);
    struct run_sheet *sheet = NULL;
    struct fault fault = {.status = OK};
    CU_ASSERT_FATAL(scratch_make(folder));
    CHECK(scratch_write(folder, "r.csv",
                        "start,run,facility,configuration,kind,logs\n"
                        "2026-02-11T20:05:00+01:00,R1,f,c,wind_on, a = x/1.csv ; b=x=2.csv\n"));
    (void)snprintf(path, sizeof path, "%s/r.csv", folder);
    CHECK_OK(run_sheet_read(path, &problems, &sheet, &fault), &fault);
    CU_ASSERT_FATAL(problems.n == 0 && sheet != NULL && sheet->n == 1);
    const struct run_entry *run = run_find(sheet, "R1/P2", 2);
    CU_ASSERT_FATAL(run != NULL && run->n_logs == 2);
    CHECK_TEXT(run->logs[0].map, "a");
    CHECK_TEXT(run->logs[0].file, "x/1.csv");
    CHECK_TEXT(run->logs[1].file, "x=2.csv");
    CHECK_TEXT(run->note, "");
    CHECK_NEAR(run->start.seconds, 1770836700, 0, "identity");
    run_sheet_free(sheet);
    scratch_remove(folder);
}

CU_TestInfo ingest_sheets_tests[] = {
    {"sheets are refused with their place", sheets_are_refused_with_their_place},
    {"a missing sheet is a problem", a_missing_sheet_is_a_problem},
    {"the tree has its baselines", the_tree_has_its_baselines},
    {"a calibration comes in SI", a_calibration_comes_in_si},
    {"logs of a run are taken apart", logs_of_a_run_are_taken_apart},
    CU_TEST_INFO_NULL};

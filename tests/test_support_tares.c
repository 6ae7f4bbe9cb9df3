/* test_support_tares.c - belt tares and tables of supports and interference, through ingest and reduce.
 *
 * The rig has 1 m2 and q 1000 Pa, so that 10 N are 0.01 of a coefficient. All numbers are invented.  */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/point_tares.h"
#include "schema/contents.h"
#include "tests/check.h"
#include "tests/rig_folder.h"
#include "tests/season_look.h"

static const char wind_row[] =
    "R1,saltmarsh,E1,2026-02-11T20:00:00Z,base,wind_on,,forces=logs/R1.csv,,,,\n";
static const char belt_row[] =
    "B1,saltmarsh,E1,2026-02-11T19:55:00Z,,belt_tare,,forces=logs/B1.csv,,,,\n";
static const char by_height[] = "tare_tolerance: {front_ride_height: 1 mm}";

/* Replaces the first `from` of campaign.yaml. */
static void edit(const char *folder, const char *from, const char *to)
{
    CHECK(scratch_replace(folder, "campaign.yaml", from, to));
}

static void make(char folder[SCRATCH_PATH], const char *contains, const char *rows,
                 const char *corrections)
{
    char with[400];
    rig_make(folder, &(struct rig_night){"", contains,
                                         "      hF: {role: front_ride_height, unit: mm}\n"
                                         "      D1: {role: belt_speed, unit: m/s}\n",
                                         "", rows});
    (void)snprintf(with, sizeof with, "weight_tare: none, %s, %s", by_height, corrections);
    edit(folder, "weight_tare: none", with);
}

static struct rig_point point_of(double drag, double belt, double front)
{
    struct rig_point point = rig_point();
    point.value[RIG_FX] = drag;
    point.value[RIG_D1] = belt;
    point.value[RIG_HF] = front;
    return point;
}

static double ledger(struct store *store, const char *point, const char *step, const char *quantity)
{
    char sql[256];
    (void)snprintf(sql, sizeof sql,
                   "SELECT value FROM ledger WHERE run = 'R1' AND point = '%s' AND step = '%s' AND "
                   "quantity = '%s'",
                   point, step, quantity);
    return rig_number(store, sql);
}

static void the_belt_comes_off_at_its_speed_and_attitude(void)
{
    char folder[SCRATCH_PATH], rows[256], lines[4096];
    const struct rig_point belt[] = {point_of(30, 40.5, 20), point_of(50, 60, 20),
                                     point_of(44, 40.5, 30)};
    const struct rig_point wind[] = {point_of(430, 40.8, 20.2), point_of(430, 45, 20),
                                     point_of(430, 0, 20), point_of(430, 40.8, 30)};
    (void)snprintf(rows, sizeof rows, "%s%s", belt_row, wind_row);
    make(folder, "    contains: body\n", rows, "belt_tare: lookup, belt_tolerance: 0.5 m/s");
    rig_log(folder, "B1", belt, 3);
    rig_log(folder, "R1", wind, 4);
    rig_check(folder, lines, sizeof lines);
    CHECK_TEXT(lines, "");
    struct store *store = rig_reduce(folder);
    CHECK_NEAR(ledger(store, "P1", "belt tare", "Fx"), 400, 1e-9, "by hand: 430 - 30 N");
    CHECK_NEAR(ledger(store, "P1", "belt tare", "Fz"), 0, 1e-9, "by hand: both hold -1200 N");
    CHECK_NEAR(ledger(store, "P1", "raw", "CD"), 0.4, 1e-12, "by hand: 400 N over 1000 N");
    CHECK_NEAR(ledger(store, "P4", "belt tare", "Fx"), 386, 1e-9, "by hand: 430 - 44 N");
    CHECK_NEAR(ledger(store, "P3", "belt tare", "Fx"), 430, 1e-9,
               "a belt that stands does nothing");
    check_rig_text(store, "SELECT state FROM point_coefficient WHERE point = 'P2'", "refused");
    check_rig_text(store, "SELECT point || ' ' || rule FROM flag WHERE state = 'refused'",
                   "P2 belt-tare-missing");
    check_rig_text(store, "SELECT state FROM flag WHERE rule = 'belt-wheel-load'", "info");
    end_season(store);
    scratch_remove(folder);
}

static void a_belt_tare_that_is_not_there_refuses_the_run(void)
{
    char folder[SCRATCH_PATH], lines[4096];
    const struct rig_point wind = point_of(430, 40.8, 20);
    make(folder, "    contains: body\n", wind_row, "belt_tare: lookup, belt_tolerance: 0.5 m/s");
    rig_log(folder, "R1", &wind, 1);
    rig_check(folder, lines, sizeof lines);
    CHECK_CONTAINS(lines, "the run can have no belt tare: there is no belt_tare run");
    struct store *store = rig_reduce(folder);
    check_rig_text(store, "SELECT rule FROM flag WHERE state = 'refused'", "belt-tare-missing");
    CHECK(isnan(rig_number(store, "SELECT drag_coefficient FROM point_coefficient")));
    end_season(store);
    edit(folder, ", belt_tolerance: 0.5 m/s", "");
    rig_check(folder, lines, sizeof lines);
    CHECK_CONTAINS(lines, "lack 'belt_tolerance' or 'tare_tolerance'");
    scratch_remove(folder);
}

/* Halves of points are reduced before the run is refused, so that the point has to say why by itself. */
static void a_point_without_a_belt_run_says_so(void)
{
    struct facility facility = {.belt_tare = BELT_TARE_LOOKUP, .belt_tolerance = 0.5};
    struct campaign campaign = {.facilities = &facility, .n_facilities = 1};
    struct night night = {.campaign = &campaign};
    struct run_row run = {.run = (char[]){"R1"}};
    struct channel_row channel = {.role = ROLE_BELT_SPEED};
    struct channel_statistics belt = {.mean = 40.8};
    struct point_row point = {.point = (char[]){"P1"}, .channels = &belt};
    struct run_work *work = calloc(1, sizeof *work);
    struct tunnel_inputs inputs = {0};
    const double attitude[ATTITUDE_COUNT] = {0};
    struct flag_note note;
    CHECK(work != NULL);
    if (work == NULL)
        return;
    work->night = &night;
    work->run = &run;
    work->recipe.facility = &facility;
    work->data.channels = &channel;
    work->data.n_channels = 1;
    work->belt.kind = TARE_KIND_MISSING;
    (void)snprintf(work->belt.missing, sizeof work->belt.missing, "there is no belt_tare run");
    CHECK(point_tares(work, &point, attitude, &inputs, NULL, &note) == 0);
    CHECK_TEXT(note.detail, "there is no belt_tare run");
    CHECK(point_tares(work, &point, attitude, &inputs, NULL, NULL) == 0);
    free(work);
}

/* Struts by the front height, 0.02 to 0.04 of CD; a neighbour's 5 N at 500 Pa, 0.01, everywhere. */
static void tables_come_off_between_their_rows(void)
{
    char folder[SCRATCH_PATH], lines[4096];
    const struct rig_point wind[] = {point_of(400, 40.8, 20), point_of(400, 40.8, 30.5),
                                     point_of(400, 40.8, 31.5)};
    make(folder, "    contains: body, struts\n", wind_row,
         "support_tare: {table: struts.csv, contains: struts}, interference: {table: near.csv}");
    CHECK(scratch_write(
        folder, "struts.csv",
        "front_ride_height,CD,CL,CPM\nmm,1,1,1\n10,0.02,0.01,0\n30,0.04,0.03,0.02\n"));
    CHECK(scratch_write(folder, "near.csv", "Fx,dynamic_pressure\nN,Pa\n5,500\n"));
    rig_log(folder, "R1", wind, 3);
    rig_check(folder, lines, sizeof lines);
    CHECK_TEXT(lines, "");
    struct store *store = rig_reduce(folder);
    CHECK_NEAR(ledger(store, "P1", "raw", "CD"), 0.4, 1e-12, "by hand");
    CHECK_NEAR(ledger(store, "P1", "support tare", "CD"), 0.4 - 0.03, 1e-12,
               "by hand: half way between the rows");
    CHECK_NEAR(ledger(store, "P1", "support tare", "CL"), 1.2 - 0.02, 1e-12, "by hand");
    CHECK_NEAR(ledger(store, "P1", "support tare", "CLF"), 0.6 - (0.01 - 0.01), 1e-12,
               "by hand: CLF is CL/2 - CPM of the table");
    CHECK_NEAR(ledger(store, "P1", "interference", "CD"), 0.4 - 0.03 - 0.01, 1e-12,
               "by hand: 5 N over 500 N");
    CHECK_NEAR(ledger(store, "P1", "corrected", "CD"), 0.36, 1e-12, "by hand");
    CHECK_NEAR(ledger(store, "P2", "support tare", "CD"), 0.4 - 0.04, 1e-12,
               "the last row, within tolerance");
    check_rig_text(store,
                   "SELECT point || ' ' || rule || ' ' || subject FROM flag WHERE state = "
                   "'refused'",
                   "P3 outside-table support tare");
    check_rig_text(store, "SELECT DISTINCT drag_contains FROM point_coefficient", "body");
    end_season(store);
    CHECK(scratch_write(folder, "near.csv", "Fx,dynamic_pressure\nN,Pa\n10,500\n"));
    store = rig_reduce(folder);
    CHECK_NEAR(ledger(store, "P1", "corrected", "CD"), 0.35, 1e-12, "by hand: the table is new");
    end_season(store);
    scratch_remove(folder);
}

static void a_table_that_can_not_be_one_is_told_with_its_place(void)
{
    static const struct {
        const char *text, *says;
    } tables[] = {
        {"yaw,CD,Fx\ndeg,1,N\n0,0.1,3\n", "coefficients and loads"},
        {"yaw,roll\ndeg,deg\n0,0\n", "neither coefficients nor loads"},
        {"yaw,Fx\ndeg,N\n0,3\n", "add the dynamic pressure of the loads"},
        {"CD,CL\n1,1\n0.1,0\n0.2,0\n", "names no axis of the attitude and has 2 rows"},
        {"yaw,CD\nmm,1\n0,0.1\n", "column 'yaw' has no usable unit"},
        {"yaw,CD\ndeg,1\n0,much\n", "'much' is not a number"},
        {"Fx,dynamic_pressure\nN,Pa\n3,0\n", "limit: above 0"},
        {"angle,CD\ndeg,1\n0,0.1\n", "angle"},
    };
    char folder[SCRATCH_PATH], lines[4096];
    const struct rig_point wind = point_of(400, 40.8, 20);
    make(folder, "    contains: body\n", wind_row, "support_tare: {table: struts.csv}");
    rig_log(folder, "R1", &wind, 1);
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        CHECK(scratch_write(folder, "struts.csv", tables[i].text));
        rig_check(folder, lines, sizeof lines);
        CHECK_CONTAINS(lines, "struts.csv:");
        CHECK_CONTAINS(lines, tables[i].says);
    }
    edit(folder, "{table: struts.csv}", "{table: struts.csv, contains: struts}");
    rig_check(folder, lines, sizeof lines);
    CHECK_CONTAINS(lines, "takes off 'struts', which the loads do not contain");
    scratch_remove(folder);
}

static void a_part_is_taken_out_of_the_contents(void)
{
    struct load_contents contents = {"body, struts,wheels", "struts"};
    contents_take_out(&contents, "struts");
    CHECK_TEXT(contents.drag, "body, wheels");
    CHECK_TEXT(contents.downforce, "");
    contents_take_out(&contents, "belt");
    CHECK_TEXT(contents.drag, "body, wheels");
}

CU_TestInfo support_tares_tests[] = {
    {"the belt comes off at its speed and attitude", the_belt_comes_off_at_its_speed_and_attitude},
    {"a belt tare that is not there refuses the run",
     a_belt_tare_that_is_not_there_refuses_the_run},
    {"a point without a belt run says so", a_point_without_a_belt_run_says_so},
    {"tables come off between their rows", tables_come_off_between_their_rows},
    {"a table that can not be one is told with its place",
     a_table_that_can_not_be_one_is_told_with_its_place},
    {"a part is taken out of the contents", a_part_is_taken_out_of_the_contents},
    CU_TEST_INFO_NULL};

/* test_sniff_roles.c - what the columns and rows of unknown logs are taken for. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/sniff.h"
#include "ingest/sniff_print.h"
#include "tests/check.h"
#include "tests/program.h"
#include "tests/sniff_look.h"

static void the_forces_log_of_the_demo_gets_every_role_its_campaign_declares(void)
{
    char folder[64];
    struct campaign *campaign = NULL;
    struct fault fault = {.status = OK};
    CHECK(program_demo_night(folder, 3));
    struct sniff *sniff = look_in_file(folder, "logs/r01_forces.csv");
    CHECK_OK(campaign_read("sample_runs/night", &campaign, NULL, NULL, &fault), &fault);
    if (sniff == NULL || campaign == NULL)
        return;
    const struct channel_map *map = campaign_map(campaign, "forces");
    CHECK(map->n_columns == 16);
    for (size_t i = 0; i < map->n_columns; i++)
        CHECK_TEXT(role_of(sniff, map->columns[i].column), role_name(map->columns[i].role));
    CHECK(sniff->shape.delimiter == ',' && sniff->shape.decimal_mark == '.');
    CHECK(sniff->shape.name_rows == 1 && sniff->shape.unit_row && sniff->shape.first_name == 0);
    CHECK(sniff->rows.kind == ROWS_SAMPLES && sniff->rows.last_complete);
    CHECK_NEAR(sniff->rows.rate, 50, 0.5, "sample_runs/README.md: the forces log at 50 Hz");
    CHECK_TEXT(sniff->columns[12].unit, "mm");
    campaign_free(campaign);
    campaign = paste(sniff, "logs/r01_forces.csv");
    if (campaign != NULL) {
        map = campaign_map(campaign, "r01_forces");
        CHECK(map != NULL && map->n_columns == 16 && map->unit_row == 1);
    }
    campaign_free(campaign);
    sniff_free(sniff);
    program_remove(folder);
}

static void the_tap_log_of_the_demo_gets_its_taps_by_family(void)
{
    char folder[64];
    CHECK(program_demo_night(folder, 3));
    struct sniff *sniff = look_in_file(folder, "logs/r01_taps.csv");
    if (sniff == NULL)
        return;
    CHECK(sniff->shape.delimiter == ';' && sniff->shape.decimal_mark == '.');
    CHECK(!sniff->shape.unit_row && sniff->n_taps == 120 && sniff->taps_measured == TAPS_RELATIVE);
    CHECK_TEXT(role_of(sniff, "Time [s]"), "time");
    CHECK_TEXT(role_of(sniff, "Point"), "point");
    CHECK_TEXT(role_of(sniff, "T001 [Pa]"), "tap");
    CHECK_NEAR(sniff->rows.rate, 10, 0.1, "sample_runs/README.md: the tap log at 10 Hz");
    struct campaign *campaign = paste(sniff, "taps.csv");
    if (campaign != NULL)
        CHECK(campaign_map(campaign, "taps")->has_taps == 1);
    campaign_free(campaign);
    sniff_free(sniff);
    program_remove(folder);
}

static void the_published_points_are_read_as_points(void)
{
    struct sniff *sniff =
        look_in_file("tests/published/tunnel_six_component", "logs/raw_rudder0.txt");
    if (sniff == NULL)
        return;
    static const char *const wanted[][2] = {
        {"Run_nr", "point"},
        {"Time", "clock"},
        {"Alpha", "pitch"},
        {"Beta", "yaw"},
        {"P_bar", "static_pressure"},
        {"Delta_Pb", "contraction_drop"},
        {"T", "static_temperature"},
        {"B1", "balance_output_1"},
        {"B6", "balance_output_6"},
        {"Q", "dynamic_pressure"},
        {"rpm", "none"},
        {"Extra12", "no column"},
        {"Extra1", "none"},
    };
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++)
        CHECK_TEXT(role_of(sniff, wanted[i][0]), wanted[i][1]);
    CHECK(sniff->shape.delimiter == '\t' && sniff->shape.unit_row && sniff->n_taps == 0);
    CHECK(sniff->rows.kind == ROWS_POINTS && !sniff->rows.point_by_row && sniff->rows.n == 46);
    CHECK_TEXT(sniff->columns[3].unit, "degrees");
    struct campaign *campaign = paste(sniff, "raw_rudder0.txt");
    CHECK(campaign != NULL);
    campaign_free(campaign);
    sniff_free(sniff);
}

static void the_published_zeros_have_no_label_and_are_numbered(void)
{
    struct sniff *sniff =
        look_in_file("tests/published/tunnel_six_component", "logs/zer_20210303-154703.txt");
    if (sniff == NULL)
        return;
    CHECK(sniff->rows.kind == ROWS_POINTS && sniff->rows.point_by_row);
    CHECK_TEXT(role_of(sniff, "Run_nr"), "none");
    struct campaign *campaign = paste(sniff, "zer.txt");
    if (campaign != NULL)
        CHECK(campaign_map(campaign, "zer")->point_by_row == 1);
    campaign_free(campaign);
    sniff_free(sniff);
}

static void averages_bring_their_scatter_and_count(void)
{
    struct sniff *sniff = look("Pt\tFx\tsd_Fx\tCL\tCL_sd\tN\tMin Fx\n"
                               "\tlbf\tlbf\t-\t-\t\tlbf\n"
                               "1\t100.5\t0.5\t-2.5\t0.01\t500\t98.5\n"
                               "2\t110.5\t0.6\t-2.6\t0.01\t500\t99.5\n");
    if (sniff == NULL)
        return;
    CHECK(sniff->rows.kind == ROWS_POINTS && sniff->rows.confidence == CONFIDENCE_SURE);
    CHECK_TEXT(role_of(sniff, "Pt"), "point");
    CHECK_TEXT(role_of(sniff, "sd_Fx"), "force_x sd");
    CHECK_TEXT(role_of(sniff, "CL_sd"), "downforce_coefficient sd");
    CHECK_TEXT(role_of(sniff, "N"), "sample_count");
    CHECK_TEXT(role_of(sniff, "Min Fx"), "none");
    char *map = map_of(sniff, "a.txt");
    CHECK_CONTAINS(map, "loads come in two ways");
    free(map);
    struct campaign *campaign = paste(sniff, "a.txt");
    CHECK(campaign != NULL);
    campaign_free(campaign);
    sniff_free(sniff);
}

static void the_unit_and_the_values_overrule_the_name(void)
{
    struct sniff *sniff = look("t,Pt,hF,p0,T,pt2,Roll,yaw,q,q2\n"
                               "s,Pa,Pa,kPa,C,,N m,deg,Pa,\n"
                               "0.0,101325,12.5,1.5,20.5,7,3.5,0.5,900.5,1\n"
                               "0.5,101326,12.5,1.6,20.5,7,3.5,0.5,900.5,1\n");
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "Pt"), "total_pressure");
    CHECK_TEXT(role_of(sniff, "hF"), "none"); /* in Pa */
    CHECK_TEXT(role_of(sniff, "p0"), "none"); /* 1.5 kPa is less likely to be the total one */
    CHECK_TEXT(role_of(sniff, "Roll"), "moment_x");
    CHECK_TEXT(role_of(sniff, "T"), "static_temperature");
    CHECK(sniff->columns[4].confidence == CONFIDENCE_GUESS);
    CHECK_CONTAINS(sniff->columns[4].why, "'C' is not understood");
    sniff_free(sniff);
}

static void time_and_point_are_found_by_their_course(void)
{
    struct sniff *sniff = look("a,b,CD\n0.00,1,0.5\n0.25,1,0.5\n0.50,1,0.5\n0.75,7,0.5\n"
                               "1.00,7,0.5\n1.25,7,0.4\n0,25,1,0.5\n");
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "a"), "time in s");
    CHECK_TEXT(role_of(sniff, "b"), "point");
    CHECK(sniff->columns[0].confidence == CONFIDENCE_GUESS);
    CHECK_NEAR(sniff->rows.rate, 4, 1e-9, "identity: 1 / 0.25 s");
    CHECK(sniff->rows.n_wrong == 1 && sniff->rows.first_wrong == 8);
    CHECK(!sniff->rows.last_complete);
    sniff_free(sniff);
}

/* Rows of t, a flag as fmt writes it, yaw in deg and drag. */
static char *flagged(const char *head, const char *const *flags, size_t n)
{
    static char text[4096];
    size_t used = (size_t)snprintf(text, sizeof text, "%s\n", head);
    for (size_t i = 0; i < n; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "%.1f,%s,%zu.0,0.3%zu\n",
                                 0.1 * (double)i, flags[i], i / 3, i % 7);
    return text;
}

static void a_recording_flag_is_told_by_name_and_cells(void)
{
    static const char *const bits[] = {"0", "1", "1", "0", "0", "1", "1", "1", "0"};
    static const char *const words[] = {"off", "on", "on", "off", "off", "On", "on", "on", "off"};
    static const char *const others[] = {"0", "1", "1", "0", "0.5", "1", "1", "1", "0"};
    struct sniff *sniff = look(flagged("t [s],Rec,yaw [deg],CD", bits, 9));
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "Rec"), "recording");
    CHECK(sniff->rows.kind == ROWS_SAMPLES);
    struct campaign *campaign = paste(sniff, "r.csv");
    CHECK(campaign != NULL);
    campaign_free(campaign);
    sniff_free(sniff);
    sniff = look(flagged("t [s],Recording,yaw [deg],CD", words, 9));
    CHECK_TEXT(sniff != NULL ? role_of(sniff, "Recording") : "", "recording");
    sniff_free(sniff);
    sniff = look(flagged("t [s],Recording,yaw [deg],CD", others, 9));
    CHECK_TEXT(sniff != NULL ? role_of(sniff, "Recording") : "", "none");
    sniff_free(sniff);
    sniff = look(flagged("t [s],Lamp,yaw [deg],CD", bits, 9));
    CHECK_TEXT(sniff != NULL ? role_of(sniff, "Lamp") : "",
               "none"); /* nor labels: they come back */
    char *map = sniff != NULL ? map_of(sniff, "r.csv") : NULL;
    CHECK_CONTAINS(
        map != NULL ? map : "",
        "# Lamp: {role: other, unit: ?}   # on and off by turns: if it says which rows are");
    free(map);
    sniff_free(sniff);
}

static void labels_and_a_flag_are_not_both_proposed(void)
{
    struct sniff *sniff = look("t [s],Point,Rec,CD\n0,A,0,0.3\n0.1,A,1,0.3\n0.2,A,1,0.31\n"
                               "0.3,B,0,0.3\n0.4,B,1,0.3\n0.5,B,1,0.32\n");
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "Point"), "point");
    CHECK_TEXT(role_of(sniff, "Rec"), "none");
    CHECK_CONTAINS(sniff->columns[2].why, "the labels are in 'Point'");
    struct campaign *campaign = paste(sniff, "r.csv");
    CHECK(campaign != NULL);
    campaign_free(campaign);
    sniff_free(sniff);
    sniff = look("t [s],Step,Recording,CD\n0,A,0,0.3\n0.1,A,1,0.3\n0.2,B,1,0.31\n");
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "Recording"), "recording");
    CHECK_TEXT(role_of(sniff, "Step"), "none"); /* a guess */
    sniff_free(sniff);
    sniff = look("Rec,CD,sd_CD\n0,0.3,0.01\n1,0.3,0.01\n1,0.31,0.01\n");
    if (sniff == NULL)
        return;
    CHECK(sniff->rows.kind == ROWS_POINTS);
    CHECK_TEXT(role_of(sniff, "Rec"), "none");
    sniff_free(sniff);
}

/* Every fourth row of the pressure, or one that has lost some. */
static void regular_blanks_are_a_hold(void)
{
    static const char *const slow[] = {"95000", "",      "",      "", "95010", "",      "",
                                       "",      "95020", "",      "", "",      "95030", "",
                                       "",      "",      "95040", "", "",      ""};
    static const char *const lost[] = {"95000", "95001", "", "95003", "95004", "95005", "95006",
                                       "95007", "",      "", "95010", "95011", "95012", "95013",
                                       "95014", "95015", "", "95017", "95018", "95019"};
    struct sniff *sniff = look(flagged("t [s],p [Pa],yaw [deg],CD", slow, 20));
    if (sniff == NULL)
        return;
    char *map = map_of(sniff, "s.csv");
    CHECK_CONTAINS(map, "\"p [Pa]\": {role: static_pressure, hold: blank}");
    CHECK_CONTAINS(map, "written in every 4 rows");
    CHECK_CONTAINS(map, "# missing: "); /* the blanks are explained */
    CHECK_CONTAINS(map, "hold: blank: written in some rows only; or is a blank a value");
    free(map);
    sniff_free(sniff);
    sniff = look(flagged("t [s],p [Pa],yaw [deg],CD", lost, 20));
    if (sniff == NULL)
        return;
    map = map_of(sniff, "s.csv");
    CHECK(strstr(map, "hold") == NULL);
    CHECK_CONTAINS(map, "    missing: [\"\"]\n");
    free(map);
    sniff_free(sniff);
}

/* Of the attitude that moves most, counted in windows. */
static void a_log_without_points_gets_a_sweep_to_fill_in(void)
{
    static const char *const heights[] = {"30.0", "30.0", "30.1", "30.1", "30.2", "30.2",
                                          "30.3", "30.3", "30.4", "30.4", "30.5", "30.5"};
    struct sniff *sniff = look(flagged("t [s],hF [mm],yaw [deg],CD", heights, 12));
    if (sniff == NULL)
        return;
    char *map = map_of(sniff, "s.csv");
    CHECK_CONTAINS(map, "# sweep: {of: yaw, window: 0.1 deg, settle: 0.5 s, least_rows: 20}");
    CHECK_CONTAINS(map, "point: NOT COMPLETE: no column says which rows are a point");
    CHECK_CONTAINS(map, "which is meant? labels (role point), a flag");
    CHECK(!sniff_map_is_complete(sniff));
    free(map);
    sniff_free(sniff);
    sniff = look("t [s],hF [mm],Mark,CD\n0,30.0,a,0.31\n0.1,30.6,b,0.3\n0.2,31.2,c,0.3\n");
    if (sniff == NULL)
        return;
    map = map_of(sniff, "s.csv");
    CHECK_CONTAINS(map, "# sweep: {of: front_ride_height, window: 0.5 mm,");
    free(map);
    sniff_free(sniff);
}

CU_TestInfo sniff_roles_tests[] = {
    {"the demo's forces log gets every role that its campaign declares",
     the_forces_log_of_the_demo_gets_every_role_its_campaign_declares},
    {"the demo's tap log gets its taps by family", the_tap_log_of_the_demo_gets_its_taps_by_family},
    {"the published points are read as points", the_published_points_are_read_as_points},
    {"the published zeros have no label and are numbered",
     the_published_zeros_have_no_label_and_are_numbered},
    {"averages bring their scatter and count", averages_bring_their_scatter_and_count},
    {"the unit and the values overrule the name", the_unit_and_the_values_overrule_the_name},
    {"time and point are found by their course", time_and_point_are_found_by_their_course},
    {"a recording flag is told by name and cells", a_recording_flag_is_told_by_name_and_cells},
    {"labels and a flag are not both proposed", labels_and_a_flag_are_not_both_proposed},
    {"regular blanks are a hold", regular_blanks_are_a_hold},
    {"a log without points gets a sweep to fill in", a_log_without_points_gets_a_sweep_to_fill_in},
    CU_TEST_INFO_NULL};

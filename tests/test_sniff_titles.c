/* test_sniff_titles.c - unknown logs of blocks, with comments, or without a row of names. */
#include <CUnit/CUnit.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/sniff.h"
#include "tests/check.h"
#include "tests/sniff_look.h"

/* The form of a published file of section data; numbers of Ladson, NASA TM 4074 (1988). */
static const char zones[] = "# Data from Ladson\n"
                            "variables=\"alpha, deg\",\"cl\",\"cd\"\n"
                            "zone, t=\"80 grit\"\n"
                            "-4.04  -.4417  .00871\n"
                            "-2.14  -.2385  .00800\n"
                            "zone, t=\"180 grit\"\n"
                            "-4.01  -.4466  .00843\n";

static void blocks_and_a_list_of_names_are_found(void)
{
    struct sniff *sniff = look(zones);
    if (sniff == NULL)
        return;
    CHECK(sniff->titles.n_blocks == 2 && sniff->titles.n_comments == 1);
    CHECK_TEXT(sniff->titles.title, "80 grit");
    CHECK(sniff->rows.n == 2 && sniff->rows.n_wrong == 0 && sniff->rows.first_line == 4);
    CHECK_TEXT(role_of(sniff, "alpha [deg]"), "pitch");
    CHECK_TEXT(role_of(sniff, "cl"), "downforce_coefficient in 1");
    CHECK_TEXT(role_of(sniff, "cd"), "drag_coefficient in 1");
    char *map = map_of(sniff, "polar.dat");
    CHECK_CONTAINS(map, "    preamble_rows: 2\n    names: [\"alpha [deg]\", cl, cd]");
    CHECK_CONTAINS(map, "    comment: \"#\"");
    CHECK_CONTAINS(map, "    blocks: zone");
    CHECK_CONTAINS(map, "runs.csv names it: map=file#title");
    free(map);
    struct campaign *campaign = paste(sniff, "polar.dat"); /* the reader takes the proposal */
    CHECK(campaign != NULL);
    campaign_free(campaign);
    sniff_free(sniff);
}

static void names_may_stand_in_a_comment(void)
{
    struct sniff *sniff = look("# loads of a night\n# Pt Fx Fz\nA 1 2\nB 3 4\n# pause\nC 5 6\n");
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "Fx"), "force_x");
    CHECK(sniff->rows.n == 3 && sniff->rows.n_wrong == 0);
    char *map = map_of(sniff, "a.txt");
    CHECK_CONTAINS(map, "    names: [Pt, Fx, Fz]   # likely: the last comment");
    free(map);
    struct campaign *campaign = paste(sniff, "a.txt");
    CHECK(campaign != NULL);
    campaign_free(campaign);
    sniff_free(sniff);
}

static void columns_that_nothing_names_are_numbered(void)
{
    struct sniff *sniff = look("2021-03-03_17-42\t-25.1\t266.6\n2021-03-03_17-43\t-25.3\t266.9\n");
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "c1"), "point");
    CHECK_TEXT(role_of(sniff, "c2"), "none");
    char *map = map_of(sniff, "a.cal");
    CHECK_CONTAINS(map, "    names: [c1, c2, c3]   # guess: nothing names them");
    CHECK_CONTAINS(map, "give them names that its maker would know");
    CHECK_CONTAINS(map, "{role: other, unit: ...} keeps the statistics of any column");
    free(map);
    sniff_free(sniff);
}

/* A mark in a plain head is no comment, and a word in a plain column no title. */
static void plain_tables_stay_what_they_are(void)
{
    struct sniff *sniff = look("#Pt,Fx,Fz\n,N,N\n1,2,3\n2,3,4\n");
    if (sniff != NULL)
        CHECK(sniff->shape.name_rows == 1 && sniff->shape.unit_row &&
              sniff->titles.n_comments == 0);
    sniff_free(sniff);
    sniff = look("zone,Fx\nN,N\n1,2\n2,3\n");
    if (sniff != NULL)
        CHECK(sniff->titles.n_blocks == 0 && sniff->shape.unit_row);
    sniff_free(sniff);
    sniff = look("# a preamble\nPt,Fx\n1,2\n2,3\n");
    if (sniff != NULL)
        CHECK(sniff->shape.first_name == 1 && sniff->titles.n_comments == 0);
    sniff_free(sniff);
}

static void set_values_are_no_time_and_components_no_speed(void)
{
    struct sniff *sniff = look("nominal,volts\n0.0,0.1\n55.5,0.2\n111.1,0.3\n166.6,0.4\n");
    if (sniff != NULL)
        CHECK(sniff->rows.time_column == SIZE_MAX);
    sniff_free(sniff);
    sniff =
        look("run,tow_speed,mean_u,mean_v,mean_w,cd\n0,1.0,0.7,0.1,0.2,0.8\n1,1.1,0.6,0.2,0.1,0."
             "9\n");
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "tow_speed"), "air_speed in m/s");
    CHECK_TEXT(role_of(sniff, "mean_u"), "none");
    CHECK_TEXT(role_of(sniff, "mean_v"), "none");
    sniff_free(sniff);
}

static void small_numbers_without_unit_are_coefficients(void)
{
    struct sniff *sniff = look("alpha,P1,P2,P3,P4,P5,P6,P7,P8\n-2,0.2,0.1,-0.5,-1.0,0.9,0.3,0,0.1\n"
                               "0,0.2,0.1,-0.2,-0.4,1.01,0.2,0,0.1\n");
    if (sniff == NULL)
        return;
    CHECK(sniff->n_taps == 8 && sniff->taps_measured == TAPS_AS_COEFFICIENT);
    char *map = map_of(sniff, "a.csv");
    CHECK_CONTAINS(map, "    taps: {unit: 1, measured: as coefficient}");
    free(map);
    sniff_free(sniff);
}

CU_TestInfo sniff_titles_tests[] = {
    {"blocks and a list of names are found", blocks_and_a_list_of_names_are_found},
    {"names may stand in a comment", names_may_stand_in_a_comment},
    {"columns that nothing names are numbered", columns_that_nothing_names_are_numbered},
    {"plain tables stay what they are", plain_tables_stay_what_they_are},
    {"set values are no time, components no speed", set_values_are_no_time_and_components_no_speed},
    {"small numbers without unit are coefficients", small_numbers_without_unit_are_coefficients},
    CU_TEST_INFO_NULL};

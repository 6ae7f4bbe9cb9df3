/* test_sniff_others.c - units that only a name or a neighbour tells, and columns that mean nothing known. */
#include <CUnit/CUnit.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/sniff.h"
#include "ingest/sniff_print.h"
#include "ingest/sniff_units.h"
#include "tests/check.h"
#include "tests/sniff_look.h"

/* Spellings are common practice, no source; the first three are of a published calibration
 * (UNH-CORE/turbine-test-bed, 2015). */
static void words_at_the_end_of_a_name_are_a_unit(void)
{
    static const struct {
        const char *name, *unit;
        size_t bare;
    } names[] = {
        {"mean_force_newtons", "N", 10},
        {"mean_force_lbf", "lbf", 10},
        {"mean_volts_per_volt", "V/V", 19}, /* mean alone would be no name */
        {"yaw_DEG", "deg", 3},
        {"q_hPa", "hPa", 1},
        {"fan speed rpm", "rpm", 9},
        {"hF_mm", "mm", 2},
        {"p_n", NULL, 3},
        {"alarm", NULL, 5},
        {"_mm", NULL, 3},
        {"mm", NULL, 2},
        {"", NULL, 0},
    };
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        size_t bare = strlen(names[i].name);
        const char *unit = sniff_unit_words(names[i].name, bare, &bare);
        CHECK_TEXT(unit != NULL ? unit : "none", names[i].unit != NULL ? names[i].unit : "none");
        CHECK(bare == names[i].bare);
    }
}

static void a_role_is_told_by_the_name_before_its_unit(void)
{
    struct sniff *sniff = look("point,yaw_deg,q_pa,drag_newtons,lift_deg,hF_mm [m]\n"
                               "1,0.5,900.5,100.5,3.5,0.012\n2,3.5,901.5,101.5,3.5,0.012\n");
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "yaw_deg"), "yaw in deg");
    CHECK_TEXT(role_of(sniff, "q_pa"), "dynamic_pressure in Pa");
    CHECK_TEXT(role_of(sniff, "drag_newtons"), "force_x in N");
    CHECK_TEXT(role_of(sniff, "lift_deg"), "none");  /* an angle is no lift */
    CHECK_TEXT(role_of(sniff, "hF_mm [m]"), "none"); /* brackets are believed, not words */
    CHECK(sniff_map_is_complete(sniff));
    struct campaign *campaign = paste(sniff, "a.csv");
    CHECK(campaign != NULL);
    campaign_free(campaign);
    sniff_free(sniff);
}

static void a_scatter_has_the_unit_of_its_value(void)
{
    struct sniff *sniff = look("run,V,std_V,cd,std_cd\n0,1.0,0.01,0.8,0.05\n1,1.1,0.01,0.9,0.05\n");
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "std_V"), "air_speed sd in m/s");
    CHECK_TEXT(role_of(sniff, "std_cd"), "drag_coefficient sd in 1");
    CHECK(sniff_map_is_complete(sniff));
    sniff_free(sniff);
}

static void a_unit_that_nothing_tells_leaves_the_map_incomplete(void)
{
    size_t n = 0;
    struct sniff *sniff = look("point,Fx,Fz,yaw\n1,100.5,200.5,0.5\n2,101.5,200.5,0.5\n");
    if (sniff == NULL)
        return;
    CHECK(sniff_lacks_unit(sniff, &n) == 1 && n == 2);
    CHECK(!sniff_map_is_complete(sniff));
    char *map = map_of(sniff, "a.csv");
    CHECK_CONTAINS(map, "units: NOT COMPLETE: nothing tells the unit of 'Fx', and of 1 more");
    free(map);
    sniff_free(sniff);
    sniff = look("point,Fx,Fz,yaw\n,N,N,deg\n1,100.5,200.5,0.5\n2,101.5,200.5,0.5\n");
    if (sniff == NULL)
        return;
    CHECK(sniff_lacks_unit(sniff, &n) == SIZE_MAX && n == 0 && sniff_map_is_complete(sniff));
    sniff_free(sniff);
    sniff = look("point,Fx [smoots],R1 [foo]\n1,100.5,0.5\n2,101.5,0.5\n");
    if (sniff == NULL)
        return;
    CHECK(sniff_lacks_unit(sniff, &n) == 1 && n == 1); /* foo may be the balance's */
    map = map_of(sniff, "a.csv");
    CHECK_CONTAINS(map, "nothing tells the unit of 'Fx [smoots]' but 'smoots', which is not "
                        "understood: correct it in the log; the map is refused until then\n");
    free(map);
    sniff_free(sniff);
}

/* A log that measures nothing known is kept where its units are known. */
static void a_bench_gets_its_statistics_at_once(void)
{
    struct sniff *sniff = look("nominal,mean_volts_per_volt,std_volts_per_volt,std_load_lbf,word\n"
                               "0.0,1e-6,1.5e-6,0.25,a b\n55.5,3e-4,1.5e-6,0.25,a c\n");
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "nominal"), "none");
    CHECK_TEXT(role_of(sniff, "mean_volts_per_volt"), "other in V/V");
    CHECK_TEXT(role_of(sniff, "std_volts_per_volt"), "other sd in V/V");
    CHECK_TEXT(role_of(sniff, "std_load_lbf"), "other in lbf"); /* of nothing: a number itself */
    CHECK(sniff_map_is_complete(sniff) && sniff->rows.kind == ROWS_POINTS);
    char *map = map_of(sniff, "a.csv");
    CHECK_CONTAINS(map, "      std_volts_per_volt: {role: other, of: mean_volts_per_volt, "
                        "statistic: sd, unit: V/V}");
    CHECK_CONTAINS(map, "      # nominal: {role: other, unit: ?}   # the name is not known");
    free(map);
    struct campaign *campaign = paste(sniff, "a.csv");
    CHECK(campaign != NULL);
    campaign_free(campaign);
    sniff_free(sniff);
}

/* Beside loads the others are offered, and not taken. */
static void other_columns_are_offered_as_comments(void)
{
    struct sniff *sniff = look("point,Fx,rpm,I1,state\n,N,1/min,A,\n"
                               "1,100.5,242.5,0.25,ok\n2,101.5,243.5,0.25,warm\n");
    if (sniff == NULL)
        return;
    CHECK_TEXT(role_of(sniff, "rpm"), "none");
    char *map = map_of(sniff, "a.csv");
    CHECK_CONTAINS(map, "\n      # rpm: {role: other}   # the name is not known\n");
    CHECK_CONTAINS(map, "\n      # I1: {role: other}   # the name is not known\n");
    CHECK_CONTAINS(map, "\n      # state: the name is not known\n");
    free(map);
    sniff_free(sniff);
}

/* Set values that rise beside averages and their scatter: the head and form of a published file
 * (UNH-CORE/RM2-tow-tank, 2016); t1 has plateaus like a label. */
static void a_set_value_beside_averages_is_no_time(void)
{
    struct sniff *sniff = look("tsr_nom,t1,mean_cd,std_cd\n1.1,15,0.3,0.06\n1.2,15,0.3,0.06\n"
                               "1.4,15,0.3,0.06\n1.5,20,0.4,0.06\n1.6,20,0.4,0.06\n"
                               "1.7,20,0.4,0.06\n1.8,20,0.4,0.06\n");
    if (sniff == NULL)
        return;
    CHECK(sniff->rows.time_column == SIZE_MAX);
    CHECK_TEXT(role_of(sniff, "tsr_nom"), "none");
    CHECK(sniff->rows.kind == ROWS_POINTS);
    sniff_free(sniff);
}

CU_TestInfo sniff_others_tests[] = {
    {"words at the end of a name are a unit", words_at_the_end_of_a_name_are_a_unit},
    {"a role is told by the name before its unit", a_role_is_told_by_the_name_before_its_unit},
    {"a scatter has the unit of its value", a_scatter_has_the_unit_of_its_value},
    {"a unit that nothing tells leaves the map incomplete",
     a_unit_that_nothing_tells_leaves_the_map_incomplete},
    {"a bench gets its statistics at once", a_bench_gets_its_statistics_at_once},
    {"other columns are offered as comments", other_columns_are_offered_as_comments},
    {"a set value beside averages is no time", a_set_value_beside_averages_is_no_time},
    CU_TEST_INFO_NULL};

/* test_campaign_points.c - what a channel map says of which rows are a point, and of slow channels. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/campaign.h"
#include "schema/campaign_store.h"
#include "schema/store.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"

#define SAMPLES "    rows: samples\n"
#define POINTS "    rows: points\n"
#define COLUMNS "    columns:\n      yaw: {role: yaw, unit: deg}\n"
#define TIME "      t: {role: time, unit: s}\n"
#define POINT "      pt: {role: point}\n"
#define FLAG "      rec: {role: recording}\n"
#define BY_ROW "    point_by_row: yes\n"
#define SWEEP "    sweep: {of: yaw, window: 0.5 deg, settle: 0.5 s, least_rows: 20}\n"
#define SWEEP_OF(of, window, settle, rows) \
    "    sweep: {of: " of ", window: " window ", settle: " settle ", least_rows: " rows "}\n"

/* The good campaign with another map; the caller frees. */
static char *with_map(const char *map)
{
    const char *good = good_campaign();
    const char *from = strstr(good, "  forces:\n");
    const char *to = strstr(good, "attitudes:\n");
    char *text = malloc(strlen(good) + strlen(map) + 1);
    CU_ASSERT_FATAL(from != NULL && to != NULL && text != NULL);
    from += strlen("  forces:\n");
    (void)sprintf(text, "%.*s%s%s", (int)(from - good), good, map, to);
    return text;
}

static const struct {
    const char *map;
    const char *mark; /* text at which the problem is told; NULL: there is none */
    const char *says;
} maps[] = {
    /* one way each */
    {SAMPLES COLUMNS POINT, NULL, NULL},
    {SAMPLES COLUMNS FLAG, NULL, NULL},
    {POINTS BY_ROW COLUMNS, NULL, NULL},
    {SAMPLES SWEEP COLUMNS TIME, NULL, NULL},
    {SAMPLES SWEEP COLUMNS "      t: {role: clock}\n", NULL, NULL},
    {SAMPLES SWEEP "    rate: 10 Hz\n" COLUMNS, NULL, NULL},
    /* none, and two */
    {SAMPLES COLUMNS, "forces:\n",
     "no column has the role point; give it to one, or the role "
     "recording to a flag, or write sweep:"},
    {SAMPLES COLUMNS POINT FLAG, "recording}",
     "a column with the role point and a column with the role recording both say which rows are a "
     "point; keep one of them"},
    {POINTS BY_ROW COLUMNS POINT, "yes\n    columns",
     "a column with the role point and point_by_row: yes both say which rows"},
    {SAMPLES SWEEP COLUMNS TIME POINT, "{of: yaw",
     "a column with the role point and sweep both say which rows"},
    {POINTS BY_ROW COLUMNS FLAG, "yes\n    columns",
     "a column with the role recording and point_by_row: yes both say which rows"},
    {SAMPLES SWEEP COLUMNS TIME FLAG, "{of: yaw",
     "a column with the role recording and sweep both say which rows"},
    {POINTS SWEEP BY_ROW COLUMNS TIME, "{of: yaw", "point_by_row: yes and sweep both say"},
    /* samples or averages */
    {POINTS COLUMNS FLAG, "recording}",
     "the role recording gathers samples into points; it goes with rows: samples only"},
    {POINTS SWEEP COLUMNS TIME, "{of: yaw",
     "sweep gathers samples into points; it goes with rows: samples only"},
    {SAMPLES BY_ROW COLUMNS, "yes\n    columns",
     "point_by_row numbers averaged rows; it goes with rows: points only"},
    /* the sweep */
    {SAMPLES SWEEP COLUMNS, "{of: yaw",
     "sweep needs the rows' times, by which settle is counted; give a column the role time"},
    {SAMPLES SWEEP_OF("roll", "1 deg", "1 s", "2") COLUMNS TIME, "roll, window",
     "sweep is of roll, but no column has this role; map it"},
    {SAMPLES SWEEP_OF("speed", "1 deg", "1 s", "2") COLUMNS TIME, "speed, window",
     "sweep: of is 'speed'; it must be a coordinate of the attitude: front_ride_height"},
    {SAMPLES SWEEP_OF("yaw", "1 mm", "1 s", "2") COLUMNS TIME, "1 mm, settle",
     "sweep: window: unit 'mm'"},
    {SAMPLES SWEEP_OF("yaw", "1", "1 s", "2") COLUMNS TIME, "1, settle", "has no unit"},
    {SAMPLES SWEEP_OF("yaw", "0 deg", "1 s", "2") COLUMNS TIME, "0 deg, settle",
     "must be more than 0"},
    {SAMPLES SWEEP_OF("yaw", "1 deg", "-1 s", "2") COLUMNS TIME, "-1 s", "must be 0 or more"},
    {SAMPLES SWEEP_OF("yaw", "1 deg", "1 s", "2.5") COLUMNS TIME, "2.5}",
     "sweep: least_rows is '2.5'; a whole number from 1 to 1000000 is needed"},
    {SAMPLES SWEEP_OF("yaw", "1 deg", "1 s", "0") COLUMNS TIME, "0}\n    columns",
     "sweep: least_rows is '0'; a whole number"},
    {SAMPLES "    sweep: {of: yaw, window: 1 deg, least_rows: 2}\n" COLUMNS TIME, "{of: yaw",
     "sweep lacks 'settle'"},
    {SAMPLES "    sweep: yes\n" COLUMNS TIME, "yes\n    columns", "sweep needs a block"},
    /* hold */
    {SAMPLES COLUMNS "      pt: {role: point, hold: blank}\n", "blank}",
     "has the role point, which every row must tell; take hold out"},
    {SAMPLES COLUMNS FLAG "      t: {role: time, unit: s, hold: repeat}\n", "repeat}",
     "has the role time, which every row must tell"},
    {POINTS BY_ROW COLUMNS "      p: {role: static_pressure, hold: repeat}\n", "repeat}",
     "column 'p': hold says how samples are written, and these are averages; take hold out"},
    {POINTS BY_ROW COLUMNS "    taps: {measured: absolute, hold: blank}\n", "blank}",
     "taps: hold says how samples are written, and these are averages"},
    {SAMPLES COLUMNS POINT "      p: {role: static_pressure, hold: maybe}\n", "maybe}",
     "write one of: blank, repeat"},
};

static void check_map(size_t i)
{
    char *text = with_map(maps[i].map);
    struct campaign *campaign = NULL;
    struct heard heard;
    struct fault fault = {0};
    unsigned failures = CU_get_number_of_failures();
    enum status status = campaign_read_text(text, &campaign, &heard, &fault);
    CHECK(status == (maps[i].mark != NULL ? BAD_INPUT : OK));
    if (maps[i].mark != NULL) {
        char place[64];
        campaign_place(text, maps[i].mark, place, sizeof place);
        const char *line = strstr(heard.all, place);
        CHECK_CONTAINS(line != NULL ? line : heard.all, place);
        CHECK_CONTAINS(line != NULL ? line : heard.all, maps[i].says);
        /* Points by row are of averages, the other ways of samples: two of them contradict twice. */
        CHECK((heard.n == 1 || strstr(maps[i].map, BY_ROW) != NULL) && heard.in_order);
    }
    if (CU_get_number_of_failures() > failures)
        CHECK_TEXT(heard.all, maps[i].map);
    campaign_free(campaign);
    free(text);
}

static void ways_to_a_point_exclude_each_other(void)
{
    for (size_t i = 0; i < sizeof maps / sizeof maps[0]; i++)
        check_map(i);
}

/* A role that is not understood may be the one that is missed. */
static void nothing_is_missed_beside_a_wrong_role(void)
{
    char *text =
        with_map(SAMPLES SWEEP_OF("roll", "1 deg", "1 s", "2") COLUMNS "      t: {role: tiem}\n");
    struct campaign *campaign = NULL;
    struct heard heard;
    struct fault fault = {0};
    CHECK(campaign_read_text(text, &campaign, &heard, &fault) == BAD_INPUT);
    CHECK(heard.n == 1);
    CHECK_CONTAINS(heard.all, "'tiem' is not a role");
    free(text);
}

static void what_was_declared_is_kept_in_si(void)
{
    char *text = with_map(SAMPLES SWEEP_OF("front_ride_height", "0.5 mm", "500 ms", "20")
                              COLUMNS TIME "      hF: {role: front_ride_height, hold: blank}\n"
                                           "    taps: {measured: absolute, hold: repeat}\n");
    struct campaign *campaign = NULL;
    struct heard heard;
    struct fault fault = {0};
    CHECK_OK(campaign_read_text(text, &campaign, &heard, &fault), &fault);
    free(text);
    if (campaign == NULL)
        return;
    const struct channel_map *map = &campaign->maps[0];
    CHECK(map->sweep.of == ATTITUDE_FRONT_RIDE_HEIGHT && map->sweep.least_rows == 20);
    CHECK_NEAR(map->sweep.window, 0.0005, 1e-18, "identity: 0.5 mm");
    CHECK_NEAR(map->sweep.settle, 0.5, 1e-15, "identity: 500 ms");
    CHECK(map->columns[0].hold == HOLD_NONE && map->columns[2].hold == HOLD_BLANK);
    CHECK(map->tap_hold == HOLD_REPEAT);
    campaign_free(campaign);
}

static void check_setting(struct store *store, const char *name, const char *want)
{
    char sql[200];
    struct statement *statement = NULL;
    struct fault fault = {0};
    int row = 0;
    (void)snprintf(sql, sizeof sql, "SELECT value || '|' || unit FROM setting WHERE name = '%s'",
                   name);
    CHECK_OK(statement_prepare(store, sql, &statement, &fault), &fault);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    check_text(row ? statement_text(statement, 0) : "(none)", want, name, __FILE__, __LINE__);
    statement_free(statement);
}

static void what_is_in_force_stands_among_the_settings(void)
{
    char *text =
        with_map(SAMPLES SWEEP COLUMNS TIME "      p: {role: static_pressure, hold: blank}\n"
                                            "    taps: {measured: absolute, hold: repeat}\n");
    struct campaign *campaign = NULL;
    struct store *store = NULL;
    struct heard heard;
    struct fault fault = {0};
    CHECK_OK(campaign_read_text(text, &campaign, &heard, &fault), &fault);
    free(text);
    if (campaign == NULL)
        return;
    CHECK_OK(store_open(":memory:", STORE_CREATE, &store, &fault), &fault);
    CHECK_OK(campaign_store(store, campaign, &fault), &fault);
    check_setting(store, "sweep: of", "yaw|");
    check_setting(store, "sweep: settle", "0.5|s");
    check_setting(store, "sweep: least_rows", "20|1");
    check_setting(store, "column p", "static_pressure, hold blank|");
    check_setting(store, "taps: hold", "repeat|");
    CHECK_OK(store_close(store, &fault), &fault);
    campaign_free(campaign);
}

CU_TestInfo campaign_points_tests[] = {
    {"ways to a point exclude each other", ways_to_a_point_exclude_each_other},
    {"nothing is missed beside a wrong role", nothing_is_missed_beside_a_wrong_role},
    {"what was declared is kept in SI", what_was_declared_is_kept_in_si},
    {"what is in force stands among the settings", what_is_in_force_stands_among_the_settings},
    CU_TEST_INFO_NULL};

/* test_campaign.c - reading a campaign.yaml that is right. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/campaign.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"
#include "tests/scratch.h"

static void a_good_file_is_read_in_si(void)
{
    struct campaign *c = NULL;
    struct heard heard;
    struct fault fault = {0};
    CHECK_OK(campaign_read_text(good_campaign(), &c, &heard, &fault), &fault);
    CHECK(c != NULL);
    if (c == NULL)
        return;
    CHECK(heard.n == 0);
    CHECK_TEXT(c->season, "Test season");
    CHECK_NEAR(c->car.wheelbase, 1.45, 1e-15, "identity: 1450 mm");
    CHECK_NEAR(c->car.volume, 0, 0, "not given");
    CHECK_NEAR(c->limits.zero_drift, 0.5, 0, "campaign.h: default");
    CHECK_NEAR(c->limits.q_unsteady, 0.002, 0, "campaign.h: default");
    CHECK_NEAR(c->limits.confidence, 0.95, 0, "campaign.h: default");
    CHECK(strlen(c->digest) == 64);
    CHECK(c->n_facilities == 2 && c->n_balances == 1 && c->n_maps == 1 && c->n_metrics == 3);
    const struct metric *balance = campaign_metric(c, "balance");
    CHECK(balance != NULL);
    if (balance == NULL)
        return;
    CHECK(balance->better == BETTER_TOWARD);
    CHECK_NEAR(balance->toward, 45, 0, "identity: in the quantity's own unit, %");
    CHECK_NEAR(balance->worthwhile, 0.3, 0, "identity");
    CHECK_TEXT(balance->quantity, "balance");
    CHECK(campaign_metric(c, "drag") == NULL);
    CHECK_TEXT(c->main_metric, "downforce");
    CHECK_TEXT(c->map_attitude, "low");
    campaign_free(c);
    campaign_free(NULL);
}

static void a_facility_is_read_in_our_sense(void)
{
    struct campaign *c = NULL;
    struct heard heard;
    struct fault fault = {0};
    CHECK_OK(campaign_read_text(good_campaign(), &c, &heard, &fault), &fault);
    CHECK(c != NULL);
    if (c == NULL)
        return;
    const struct facility *tunnel = campaign_facility(c, "saltmarsh");
    const struct facility *road = campaign_facility(c, "road");
    CHECK(tunnel != NULL);
    if (tunnel == NULL)
        return;
    CHECK(road != NULL);
    if (road == NULL)
        return;
    CHECK(campaign_facility(c, "elsewhere") == NULL);
    CHECK_NEAR(tunnel->yaw_sign, -1, 0, "campaign.h: air from the left is turned");
    CHECK_NEAR(road->yaw_sign, 1, 0, "campaign.h");
    CHECK(tunnel->n_drop_polynomial == 3 && tunnel->freestream == FREESTREAM_CONTRACTION);
    CHECK_NEAR(tunnel->drop_polynomial[0], 0.51549, 0, "identity");
    CHECK_NEAR(tunnel->drop_polynomial[2], 4.62743e-5, 0, "identity");
    CHECK_NEAR(tunnel->pressure_gradient, -0.0012, 0, "identity");
    CHECK_NEAR(tunnel->tare_tolerance[ATTITUDE_YAW], 0.5 * acos(-1.0) / 180, 1e-17,
               "identity: 0.5 deg");
    CHECK_NEAR(tunnel->tare_tolerance[ATTITUDE_ROLL], 0, 0, "not compared");
    CHECK(tunnel->humidity_absent == 1 && tunnel->floor_image == 1);
    CHECK_NEAR(tunnel->buoyancy_volume_factor, 1, 0, "campaign.h: default");
    CHECK_NEAR(tunnel->blockage_shape, 0, 0, "campaign.h: from length");
    CHECK_TEXT(tunnel->blockage, "image sum");
    CHECK(tunnel->to_target == TARGET_LOCAL_FIT && tunnel->weight_tare == TARE_LOOKUP);
    CHECK(road->section == SECTION_TRACK && road->corrected == CORRECTED_UNKNOWN);
    CHECK(road->zero == ZERO_NONE && road->width == 0);
    campaign_free(c);
}

static void a_balance_knows_how_it_stands(void)
{
    struct campaign *c = NULL;
    struct heard heard;
    struct fault fault = {0};
    CHECK_OK(campaign_read_text(good_campaign(), &c, &heard, &fault), &fault);
    CHECK(c != NULL);
    if (c == NULL)
        return;
    const struct balance *floor = campaign_balance(c, "floor");
    CHECK(floor != NULL);
    if (floor == NULL)
        return;
    CHECK(campaign_balance(c, "roof") == NULL);
    const double axes[3] = {-1, -1, 1};
    const double moments[3] = {1, 1, -1}; /* left-handed about forward, left, up */
    for (size_t i = 0; i < 3; i++) {
        CHECK_NEAR(floor->axis_sign[i], axes[i], 0, "identity");
        CHECK_NEAR(floor->moment_sign[i], moments[i], 0, "identity: hand times axis");
    }
    CHECK_NEAR(floor->origin[0], 0.03, 1e-17, "identity: 30 mm");
    CHECK_NEAR(floor->rated[5], 800, 0, "identity");
    CHECK_NEAR(floor->rated[1], 0, 0, "not given");
    CHECK_TEXT(floor->output_unit, "mV/V");
    CHECK_TEXT(floor->axes_text, "x forward, y left, z up, moments left-handed");
    campaign_free(c);
}

static void a_map_says_how_a_log_is_written(void)
{
    struct campaign *c = NULL;
    struct heard heard;
    struct fault fault = {0};
    CHECK_OK(campaign_read_text(good_campaign(), &c, &heard, &fault), &fault);
    CHECK(c != NULL);
    if (c == NULL)
        return;
    const struct channel_map *map = campaign_map(c, "forces");
    CHECK(map != NULL);
    if (map == NULL)
        return;
    CHECK(campaign_map(c, "Forces") == NULL);
    CHECK(map->delimiter == ';' && map->decimal_mark == ',' && map->unit_row == 1);
    CHECK(map->name_rows == 1 && map->preamble_rows == 0 && map->rows == ROWS_SAMPLES);
    CHECK_NEAR(map->rate, 100, 0, "identity");
    CHECK(map->n_missing_words == 2);
    CHECK_TEXT(map->missing_words[0], "");
    CHECK_TEXT(map->missing_words[1], "NaN");
    CHECK(map->n_columns == 4 && map->columns[2].role == ROLE_YAW);
    CHECK_TEXT(map->columns[2].unit, "deg");
    CHECK_NEAR(map->columns[2].sign, -1, 0, "identity");
    CHECK(map->columns[3].statistic == COLUMN_SD && map->columns[0].unit == NULL);
    char place[64];
    char want[64];
    campaign_place(good_campaign(), "yaw: {role", place, sizeof place);
    (void)snprintf(want, sizeof want, "campaign.yaml:%zu:7: ", map->columns[2].line);
    CHECK_TEXT(want, place);
    CHECK(map->has_taps && map->taps_measured == TAPS_ABSOLUTE);
    CHECK_TEXT(map->tap_unit, "Pa");
    campaign_free(c);
}

static void targets_count_air_from_the_right(void)
{
    struct campaign *c = NULL;
    struct heard heard;
    struct fault fault = {0};
    CHECK_OK(campaign_read_text(good_campaign(), &c, &heard, &fault), &fault);
    CHECK(c != NULL);
    if (c == NULL)
        return;
    CHECK(c->attitudes.n_targets == 2);
    const struct target *bend = &c->attitudes.targets[1];
    CHECK_TEXT(bend->name, "bend");
    CHECK_NEAR(bend->coordinate[ATTITUDE_YAW], -acos(-1.0) / 60, 1e-16,
               "identity: -3 deg, whatever the facility's logs count");
    CHECK_NEAR(bend->weight, 0.75, 0, "identity");
    CHECK(bend->given[ATTITUDE_YAW] && !bend->given[ATTITUDE_ROLL]);
    CHECK_NEAR(c->attitudes.capture[ATTITUDE_FRONT_RIDE_HEIGHT], 1.5e-3, 1e-18, "identity");
    campaign_free(c);
}

static void a_missing_file_is_not_found(void)
{
    struct campaign *campaign = NULL;
    struct fault fault = {0};
    char folder[SCRATCH_PATH];
    CHECK(scratch_make(folder));
    CHECK(campaign_read(folder, &campaign, NULL, NULL, &fault) == NOT_FOUND);
    CHECK(campaign == NULL);
    CHECK_CONTAINS(fault.text, "lapwing init");
    scratch_remove(folder);
}

static void the_demo_campaign_is_right(void)
{
    struct campaign *campaign = NULL;
    struct fault fault = {0};
    CHECK_OK(campaign_read("sample_runs/night", &campaign, NULL, NULL, &fault), &fault);
    campaign_free(campaign);
}

CU_TestInfo campaign_tests[] = {
    {"a good file is read in SI", a_good_file_is_read_in_si},
    {"a facility is read in our sense", a_facility_is_read_in_our_sense},
    {"a balance knows how it stands", a_balance_knows_how_it_stands},
    {"a map says how a log is written", a_map_says_how_a_log_is_written},
    {"targets count air from the right", targets_count_air_from_the_right},
    {"a missing file is not found", a_missing_file_is_not_found},
    {"the demo campaign is right", the_demo_campaign_is_right},
    CU_TEST_INFO_NULL};

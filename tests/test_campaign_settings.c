/* test_campaign_settings.c - schema/campaign_settings.c. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>

#include "schema/campaign.h"
#include "schema/campaign_store.h"
#include "schema/store.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"

static struct campaign *read_campaign(void)
{
    struct campaign *campaign = NULL;
    struct heard heard;
    struct fault fault = {0};
    CHECK_OK(campaign_read_text(good_campaign(), &campaign, &heard, &fault), &fault);
    return campaign;
}

static void check_answer(struct store *store, const char *sql, const char *want)
{
    struct statement *statement = NULL;
    struct fault fault = {0};
    int row = 0;
    CHECK_OK(statement_prepare(store, sql, &statement, &fault), &fault);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    check_text(row ? statement_text(statement, 0) : "(none)", want, sql, __FILE__, __LINE__);
    statement_free(statement);
}

static void check_setting(struct store *store, const char *section, const char *name,
                          const char *want)
{
    char sql[300];
    (void)snprintf(sql, sizeof sql,
                   "SELECT value || '|' || unit FROM setting WHERE section = '%s' AND name = '%s'",
                   section, name);
    check_answer(store, sql, want);
}

static void every_value_in_force_is_there(void)
{
    struct store *store = NULL;
    struct fault fault = {0};
    struct campaign *campaign = read_campaign();
    CHECK(campaign != NULL);
    if (campaign == NULL)
        return;
    CHECK_OK(store_open(":memory:", STORE_CREATE, &store, &fault), &fault);
    CHECK_OK(campaign_store(store, campaign, &fault), &fault);
    check_setting(store, "season", "season", "Test season|");
    check_setting(store, "season", "count", "0.001|1");
    check_setting(store, "car", "wheelbase", "1.45|m");
    check_setting(store, "car", "volume", "not given|");
    check_setting(store, "facility saltmarsh", "test_section", "closed|");
    check_setting(store, "facility saltmarsh", "yaw_positive", "air from left|");
    check_setting(store, "facility saltmarsh", "contraction_polynomial: power 2",
                  "4.62743e-05|1/Pa");
    check_setting(store, "facility saltmarsh", "blockage_shape", "from length|");
    check_setting(store, "facility saltmarsh", "pressure_gradient", "-0.0012|1/m");
    check_setting(store, "facility saltmarsh", "buoyancy_volume_factor", "1|1");
    check_setting(store, "facility saltmarsh", "floor_image", "yes|");
    check_setting(store, "facility road", "width", "not given|");
    check_setting(store, "facility road", "zero", "none|");
    check_setting(store, "balance floor", "axes", "x forward, y left, z up, moments left-handed|");
    check_setting(store, "balance floor", "rated: Mz", "800|N m");
    check_setting(store, "channel map forces", "decimal", "comma|");
    check_setting(store, "channel map forces", "column yaw", "yaw, in deg, sign turned|");
    check_setting(store, "channel map forces", "column CL", "downforce_coefficient, its sd|");
    check_setting(store, "channel map forces", "taps: measured", "absolute|");
    check_setting(store, "attitudes", "cap: front_ride_height", "0.0005|m");
    check_setting(store, "limits", "confidence", "0.95|1");
    CHECK_OK(store_close(store, &fault), &fault);
    campaign_free(campaign);
}

static void metrics_and_targets_have_tables_of_their_own(void)
{
    struct store *store = NULL;
    struct fault fault = {0};
    struct campaign *campaign = read_campaign();
    CHECK(campaign != NULL);
    if (campaign == NULL)
        return;
    CHECK_OK(store_open(":memory:", STORE_CREATE, &store, &fault), &fault);
    for (int again = 0; again < 2; again++) /* the second time replaces the first */
        CHECK_OK(campaign_store(store, campaign, &fault), &fault);
    check_answer(store,
                 "SELECT group_concat(metric || ' ' || quantity || ' ' || better || ' ' || "
                 "ifnull(toward, '-') || ' ' || worthwhile || ' ' || is_main, '; ') FROM "
                 "(SELECT * FROM metric ORDER BY sequence)",
                 "downforce CL higher - 0.01 1; balance balance toward 45.0 0.3 0; "
                 "drag area CDA undeclared - 0.001 0");
    check_answer(store,
                 "SELECT group_concat(target || ' ' || front_ride_height_m || ' ' || "
                 "round(degrees(yaw_rad), 9) || ' ' || ifnull(roll_rad, '-') || ' ' || weight, "
                 "'; ') FROM (SELECT * FROM target ORDER BY sequence)",
                 "low 0.01 0.0 - 0.25; bend 0.012 -3.0 - 0.75");
    CHECK_OK(store_execute(store, "DROP TABLE target", &fault), &fault);
    CHECK(campaign_store(store, campaign, &fault) == STORE_FAILED);
    CHECK_OK(store_close(store, &fault), &fault);
    campaign_free(campaign);
}

CU_TestInfo campaign_settings_tests[] = {
    {"every value in force is there", every_value_in_force_is_there},
    {"metrics and targets have tables of their own", metrics_and_targets_have_tables_of_their_own},
    CU_TEST_INFO_NULL};

/* test_campaign_trim.c - the section trim of campaign.yaml. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/campaign.h"
#include "schema/campaign_store.h"
#include "schema/store.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"
#include "tests/season_look.h"

extern CU_TestInfo campaign_trim_tests[];

static enum status read_with(const char *section, struct campaign **campaign, struct heard *heard)
{
    struct fault fault = {0};
    size_t size = strlen(good_campaign()) + strlen(section) + 1;
    char *text = malloc(size);
    CU_ASSERT_FATAL(text != NULL);
    (void)snprintf(text, size, "%s%s", good_campaign(), section);
    enum status status = campaign_read_text(text, campaign, heard, &fault);
    free(text);
    return status;
}

static void a_device_is_read_and_kept(void)
{
    struct campaign *campaign = NULL;
    struct store *store = memory_season();
    struct heard heard;
    struct fault fault = {0};
    CHECK(read_with("trim:\n  front flap: {configuration: up, from: 2 hole, to: 4 hole, least: 0 "
                    "hole, most: 8 hole}\n  rear wing: {configuration: steep, from: -1.5 deg, to: "
                    "-3 deg, least: -9 deg, most: 0 deg}\n",
                    &campaign, &heard) == OK);
    CU_ASSERT_FATAL(campaign != NULL);
    if (campaign == NULL) /* the checker does not know that the line above does not return */
        return;
    CHECK(campaign->n_trims == 2);
    CHECK_TEXT(campaign->trims[0].name, "front flap");
    CHECK_TEXT(campaign->trims[0].configuration, "up");
    CHECK_TEXT(campaign->trims[0].unit, "hole");
    CHECK_NEAR(campaign->trims[0].to, 4, 0, "as written");
    CHECK_NEAR(campaign->trims[1].from, -1.5, 0, "as written");
    CHECK_NEAR(campaign->trims[1].least, -9, 0, "as written");
    CHECK_OK(campaign_store(store, campaign, &fault), &fault);
    check_season(store,
                 "SELECT name, value, unit FROM setting WHERE section = 'trim front flap' "
                 "ORDER BY name",
                 3, "configuration|up|\nfrom|2|hole\nleast|0|hole\nmost|8|hole\nto|4|hole\n");
    end_season(store);
    campaign_free(campaign);
}

static void what_is_wrong_with_it_is_told(void)
{
    static const struct {
        const char *block, *says;
    } wrong[] = {
        {"{configuration: up, from: 2, to: 4 hole, least: 0 hole, most: 8 hole}",
         "from: '2' is no setting"},
        {"{configuration: up, from: two hole, to: 4 hole, least: 0 hole, most: 8 hole}",
         "from: 'two hole' is no setting"},
        {"{configuration: up, from: 2 hole, to: 4 holes, least: 0 hole, most: 8 hole}",
         "to is in 'holes', another setting of the device in 'hole'"},
        {"{configuration: up, from: 2 hole, to: 2 hole, least: 0 hole, most: 8 hole}",
         "from and to are both 2"},
        {"{configuration: up, from: 2 hole, to: 4 hole, least: 0 hole, most: 3 hole}",
         "are not within least 0 and most 3"},
        {"{configuration: up, from: 2 hole, to: 4 hole, least: 0 hole}", "trim lacks 'most'"},
        {"{from: 2 hole, to: 4 hole, least: 0 hole, most: 8 hole}", "trim lacks 'configuration'"},
        {"{configuration: up, from: 2 hole, to: 4 hole, least: 0 hole, most: 8 hole, by: 2}",
         "has no key 'by'"},
        {"up", "block of 'key: value'"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        struct campaign *campaign = NULL;
        struct heard heard;
        char section[300];
        (void)snprintf(section, sizeof section, "trim:\n  flap: %s\n", wrong[i].block);
        CHECK(read_with(section, &campaign, &heard) == BAD_INPUT);
        CHECK(campaign == NULL);
        check_contains(heard.all, wrong[i].says, wrong[i].block, __FILE__, __LINE__);
        campaign_free(campaign);
    }
}

CU_TestInfo campaign_trim_tests[] = {
    {"a device is read and kept", a_device_is_read_and_kept},
    {"what is wrong with it is told", what_is_wrong_with_it_is_told},
    CU_TEST_INFO_NULL};

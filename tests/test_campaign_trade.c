/* test_campaign_trade.c - the section trade of campaign.yaml. */
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

extern CU_TestInfo campaign_trade_tests[];

/* The good campaign with drag among its metrics, and a section. */
static enum status read_with(const char *section, struct campaign **campaign, struct heard *heard)
{
    static const char metrics[] = "metrics:\n";
    static const char drag[] = "  drag: {quantity: CD, better: lower, worthwhile: 0.003}\n";
    struct fault fault = {0};
    const char *good = good_campaign();
    const char *at = strstr(good, metrics);
    size_t size = strlen(good) + strlen(drag) + strlen(section) + 1;
    char *text = malloc(size);
    CU_ASSERT_FATAL(text != NULL && at != NULL);
    at += strlen(metrics);
    (void)snprintf(text, size, "%.*s%s%s%s", (int)(at - good), good, drag, at, section);
    enum status status = campaign_read_text(text, campaign, heard, &fault);
    free(text);
    return status;
}

static void a_trade_is_read_and_kept(void)
{
    struct campaign *campaign = NULL;
    struct store *store = memory_season();
    struct heard heard;
    struct fault fault = {0};
    CHECK(read_with("trade: {metric: drag, per: downforce, worth: 4}\n", &campaign, &heard) == OK);
    CU_ASSERT_FATAL(campaign != NULL);
    if (campaign == NULL) /* the checker does not know that the line above does not return */
        return;
    CHECK_TEXT(campaign->trade.metric, "drag");
    CHECK_TEXT(campaign->trade.per, "downforce");
    CHECK_NEAR(campaign->trade.worth, 4, 0, "as written");
    CHECK_OK(campaign_store(store, campaign, &fault), &fault);
    check_season(store,
                 "SELECT name, value, unit FROM setting WHERE section = 'trade' ORDER BY name", 3,
                 "metric|drag|\nper|downforce|\nworth|4|1\n");
    end_season(store);
    campaign_free(campaign);
}

static void what_is_wrong_with_it_is_told(void)
{
    static const struct {
        const char *block, *says;
    } wrong[] = {
        {"{metric: drag, per: downforce}", "trade lacks 'worth'"},
        {"{metric: drag, worth: 4}", "trade lacks 'per'"},
        {"{metric: drag, per: downforce, worth: 0}", "worth"},
        {"{metric: drag, per: downforce, worth: -4}", "worth"},
        {"{metric: drag, per: downforce, worth: four}", "worth"},
        {"{metric: lift, per: downforce, worth: 4}", "'lift' is none of the metrics"},
        {"{metric: drag, per: drag, worth: 4}", "metric and per are both 'drag'"},
        {"{metric: balance, per: downforce, worth: 4}", "of 'balance' neither more nor less"},
        {"{metric: drag, per: downforce, worth: 4, by: 2}", "has no key 'by'"},
        {"4", "block of 'key: value'"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        struct campaign *campaign = NULL;
        struct heard heard;
        char section[300];
        (void)snprintf(section, sizeof section, "trade: %s\n", wrong[i].block);
        CHECK(read_with(section, &campaign, &heard) == BAD_INPUT);
        CHECK(campaign == NULL);
        check_contains(heard.all, wrong[i].says, wrong[i].block, __FILE__, __LINE__);
        campaign_free(campaign);
    }
}

CU_TestInfo campaign_trade_tests[] = {
    {"a trade is read and kept", a_trade_is_read_and_kept},
    {"what is wrong with it is told", what_is_wrong_with_it_is_told},
    CU_TEST_INFO_NULL};

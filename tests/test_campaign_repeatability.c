/* test_campaign_repeatability.c - the section repeatability of campaign.yaml. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/statistics/variance_levels.h"
#include "schema/campaign.h"
#include "schema/campaign_reader.h"
#include "schema/campaign_store.h"
#include "schema/store.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"
#include "tests/season_look.h"

extern CU_TestInfo campaign_repeatability_tests[];

#define FIGURE(facility, quantity, attitude, level, deviation, freedom)                          \
    "  - {facility: " facility ", quantity: " quantity ", attitude: " attitude ", level: " level \
    ", standard_deviation: " deviation ", degrees_of_freedom: " freedom ", source: old}\n"

/* The good text with a section of its own; the caller frees. */
static char *with_section(const char *section)
{
    size_t size = strlen(good_campaign()) + strlen(section) + 40;
    char *text = malloc(size);
    CU_ASSERT_FATAL(text != NULL);
    (void)snprintf(text, size, "%srepeatability:\n%s", good_campaign(), section);
    return text;
}

static void the_levels_words_are_the_statistics(void)
{
    for (int i = 0; i < VARIANCE_LEVELS; i++)
        CHECK_TEXT(campaign_word_text(campaign_level_words, i),
                   variance_level_words((enum variance_level)i));
    CHECK_TEXT(campaign_word_text(campaign_level_words, VARIANCE_LEVELS), "");
}

static void figures_are_read_in_their_units(void)
{
    char *text =
        with_section(FIGURE("saltmarsh", "CL", "any", "part refitted", "0.003", "20")
                         FIGURE("saltmarsh", "CDA", "low", "new entry", "20 cm2", "2.5")
                             FIGURE("road", "balance", "weighted", "back to back", "0.1 %", "6"));
    struct campaign *campaign = NULL;
    struct heard heard;
    struct fault fault = {0};
    struct store *store = memory_season();
    CHECK_OK(campaign_read_text(text, &campaign, &heard, &fault), &fault);
    CU_ASSERT_FATAL(campaign != NULL && campaign->n_repeatability == 3);
    CHECK(campaign->repeatability[0].level == VARIANCE_REFITTED);
    CHECK_NEAR(campaign->repeatability[0].standard_deviation, 0.003, 0, "as written");
    CHECK_NEAR(campaign->repeatability[1].standard_deviation, 0.002, 1e-18, "20 cm2");
    CHECK_NEAR(campaign->repeatability[2].standard_deviation, 0.1, 1e-15, "percent, as balance is");
    CHECK_OK(campaign_store(store, campaign, &fault), &fault);
    CHECK_OK(campaign_store(store, campaign, &fault), &fault); /* anew, not twice */
    check_season(store,
                 "SELECT facility, quantity, target, level, standard_deviation, "
                 "degrees_of_freedom, source FROM repeatability_declared ORDER BY facility, "
                 "quantity",
                 7,
                 "road|balance|weighted|back to back|0.1|6.0|old\n"
                 "saltmarsh|CDA|low|new entry|0.002|2.5|old\n"
                 "saltmarsh|CL|any|part refitted|0.003|20.0|old\n");
    check_season(store,
                 "SELECT name, value, unit FROM setting WHERE section = 'repeatability 2' ORDER BY "
                 "name",
                 3,
                 "attitude|low|\ndegrees_of_freedom|2.5|1\nfacility|saltmarsh|\n"
                 "level|new entry|\nquantity|CDA|\nsource|old|\nstandard_deviation|0.002|m2\n");
    campaign_free(campaign);
    end_season(store);
    free(text);
}

static const struct {
    const char *section, *mark, *says;
} problems[] = {
    {"  CL: 0.003\n", "CL: 0.003", "repeatability needs a list of figures"},
    {"  - 0.003\n", "0.003\n", "repeatability, figure 1"},
    {FIGURE("nowhere", "CL", "any", "part refitted", "0.003", "20"), "nowhere",
     "'nowhere' is none of the facilities"},
    {FIGURE("road", "CQ", "any", "part refitted", "0.003", "20"), "CQ",
     "quantity: 'CQ' is not known; write one of: CD"},
    {FIGURE("road", "CL", "lower", "part refitted", "0.003", "20"), "lower",
     "'lower' is none of the targets; name one of them, or write weighted or any"},
    {FIGURE("road", "CL", "any", "refit", "0.003", "20"), "refit,",
     "'refit' is not one of its words"},
    {FIGURE("road", "CL", "any", "part refitted", "0", "20"), "0, degrees", "must be more than 0"},
    {FIGURE("road", "CL", "any", "part refitted", "-0.003", "20"), "-0.003", "must be more than 0"},
    {FIGURE("road", "CDA", "any", "part refitted", "0.003", "20"), "0.003, degrees", "has no unit"},
    {FIGURE("road", "CL", "any", "part refitted", "3 mm", "20"), "3 mm", "unit 'mm'"},
    {FIGURE("road", "CL", "any", "part refitted", "0.003", "0"), "0, source", "more than 0"},
    {"  - {facility: road, quantity: CL, attitude: any, level: new entry, standard_deviation: "
     "0.01, degrees_of_freedom: 3}\n",
     "{facility: road", "lacks 'source'"},
    {FIGURE("road", "CL", "any", "part refitted", "0.003", "20\n     , sauce: x"), "sauce",
     "'sauce'"},
    {FIGURE("road", "CL", "any", "part refitted", "0.003", "20")
         FIGURE("road", "CL", "any", "part refitted", "0.004", "21"),
     "{facility: road, quantity: CL, attitude: any, level: part refitted, standard_deviation: "
     "0.004",
     "figure 2 is of the same facility, quantity, attitude and level as one before"},
};

static void problems_are_told_where_they_stand(void)
{
    for (size_t i = 0; i < sizeof problems / sizeof problems[0]; i++) {
        char *text = with_section(problems[i].section);
        struct campaign *campaign = NULL;
        struct heard heard;
        struct fault fault = {0};
        char place[64];
        const char *section = strstr(text, "repeatability:");
        char *spaced = malloc(strlen(text) + 1);
        CU_ASSERT_FATAL(spaced != NULL && section != NULL);
        /* The mark is looked for in the section only. */
        memcpy(spaced, text, strlen(text) + 1);
        for (size_t k = 0; k < (size_t)(section - text); k++)
            spaced[k] = text[k] == '\n' ? '\n' : ' ';
        campaign_place(spaced, problems[i].mark, place, sizeof place);
        CHECK(campaign_read_text(text, &campaign, &heard, &fault) == BAD_INPUT);
        CHECK(campaign == NULL && heard.n == 1);
        CHECK_CONTAINS(heard.all, place);
        CHECK_CONTAINS(heard.all, problems[i].says);
        campaign_free(campaign);
        free(spaced);
        free(text);
    }
}

CU_TestInfo campaign_repeatability_tests[] = {
    {"the levels' words are the statistics'", the_levels_words_are_the_statistics},
    {"figures are read in their units", figures_are_read_in_their_units},
    {"problems are told where they stand", problems_are_told_where_they_stand},
    CU_TEST_INFO_NULL};

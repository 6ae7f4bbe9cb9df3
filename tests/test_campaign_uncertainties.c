/* test_campaign_uncertainties.c - the section uncertainties of campaign.yaml: what it holds, and the place of every
 * way to write it wrong. All values are invented. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/campaign.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"

extern CU_TestInfo campaign_uncertainties_tests[];

enum { TEXT_SIZE = 12000 };

static void compose(const char *facility, const char *items, char text[TEXT_SIZE])
{
    (void)snprintf(text, TEXT_SIZE, "%s\nuncertainties:\n  %s:\n%s", good_campaign(), facility,
                   items);
}

static void what_the_list_holds(void)
{
    char text[TEXT_SIZE];
    struct campaign *campaign = NULL;
    struct heard heard;
    struct fault fault = {0};
    compose("saltmarsh",
            "    - {source: probe, of: dynamic_pressure, expanded: 0.4 %, coverage: 2, reaches: "
            "always, degrees_of_freedom: 12, evidence: certificate}\n"
            "    - {source: alignment, of: balance_pitch, half_width: 0.06 deg, shape: "
            "rectangular, reaches: entry, evidence: inclinometer}\n"
            "    - {source: air, of: total_temperature, standard: 0.2 delta_degC, reaches: run, "
            "evidence: x}\n"
            "    - {source: wet, of: relative_humidity, standard: 2 %, reaches: point, evidence: "
            "x}\n"
            "    - {source: bridge, of: balance_output_3, standard: 0.0002 mV/V, reaches: run, "
            "evidence: x}\n"
            "    - {source: gauge, of: dynamic_pressure, standard: 1.5 Pa, reaches: always, "
            "correlated_with: probe, correlation: -0.5, evidence: x}\n"
            "    - {source: wall, of: blockage, half_width: 50 %, shape: triangular, reaches: "
            "always, evidence: x}\n",
            text);
    /* a difference of temperatures is not a temperature: kelvin is the unit that is both */
    char *celsius = strstr(text, "0.2 delta_degC");
    memcpy(celsius, "0.2 K         ", 14);
    enum status status = campaign_read_text(text, &campaign, &heard, &fault);
    CHECK_OK(status, &fault);
    if (status != OK)
        return;
    const struct facility_uncertainties *list = campaign_uncertainties(campaign, "saltmarsh");
    CHECK(list != NULL && list->n == 7 && campaign_uncertainties(campaign, "nowhere") == NULL);
    if (list == NULL)
        return;
    const struct declared_uncertainty *item = list->items;
    CHECK_NEAR(item[0].standard, 0.002, 1e-18, "expanded over coverage");
    CHECK(item[0].is_relative && item[0].freedom == 12 && item[0].reach == DECLARED_ALWAYS);
    CHECK_NEAR(item[1].standard, 0.06 * 3.14159265358979323846 / 180 / sqrt(3), 1e-15,
               "GUM (JCGM 100:2008), 4.3.7");
    CHECK(!item[1].is_relative && isinf(item[1].freedom) && item[1].reach == DECLARED_ENTRY);
    CHECK_NEAR(item[2].standard, 0.2, 1e-15, "kelvin");
    CHECK_NEAR(item[3].standard, 0.02, 1e-15, "of humidity, not of its value");
    CHECK(!item[3].is_relative && item[3].reach == DECLARED_POINT);
    CHECK_TEXT(item[4].output_unit, "mV/V");
    CHECK_TEXT(item[5].correlated_with, "probe");
    CHECK_NEAR(item[6].standard, 0.5 / sqrt(6), 1e-15, "GUM (JCGM 100:2008), 4.3.9");
    double correlation[49];
    CHECK(declared_correlations(list, correlation));
    CHECK_NEAR(correlation[5], -0.5, 0, "as written");
    CHECK_NEAR(correlation[35], -0.5, 0, "both ways");
    campaign_free(campaign);
}

#define ITEM(rest) "    - {source: s, of: dynamic_pressure, " rest ", reaches: run, evidence: e}\n"

static void wrong_ones_are_refused_by_place(void)
{
    static const struct {
        const char *items, *mark, *words;
    } cases[] = {
        {ITEM("standard: -0.1 %"), "-0.1 %", "must be more than 0"},
        {ITEM("standard: 0 Pa"), "0 Pa, reaches", "must be more than 0"},
        {ITEM("standard: 0.2 mm"), "0.2 mm, reaches", "uncertainty"},
        {ITEM("standard: 0.2"), "0.2, reaches", "uncertainty"},
        {ITEM("expanded: 0.2 %"), "0.2 %, reaches", "coverage"},
        {ITEM("half_width: 0.2 %"), "0.2 %, reaches", "shape with ends"},
        {ITEM("half_width: 0.2 %, shape: round"), "round", "not one of its words"},
        {ITEM("standard: 0.2 %, expanded: 0.4 %, coverage: 2"), "{source: s", "several"},
        {ITEM("degrees_of_freedom: 4"), "{source: s", "none"},
        {ITEM("standard: 0.2 %, degrees_of_freedom: -1.5"), "-1.5", "more than 0"},
        {ITEM("standard: 0.2 %, correlated_with: t"), "{source: s", "go together"},
        {ITEM("standard: 0.2 %, correlated_with: t, correlation: 0.5"), "t, correlation",
         "no other source"},
        {ITEM("standard: 0.2 %, correlated_with: s, correlation: 1.517"), "1.517",
         "between -1 and 1"},
        {"    - {source: s, of: tyre_pressure, standard: 1 Pa, reaches: run, evidence: e}\n",
         "tyre_pressure", "no input of a point"},
        {"    - {source: s, of: yaw, standard: 1 deg, reaches: week, evidence: e}\n", "week",
         "point, run, entry, always"},
        {"    - {source: s, of: balance_output_1, standard: 3 count, reaches: run, evidence: e}\n",
         "{source: s", "no balance's unit"},
        {"    - {source: s, of: yaw, standard: 1 deg, reaches: run}\n", "{source: s", "evidence"},
        {ITEM("standard: 0.2 %") ITEM("standard: 0.3 %"), "s, of: dynamic_pressure, standard: 0.3",
         "there twice"},
        {"    - {source: a, of: yaw, standard: 1 deg, reaches: run, evidence: e}\n"
         "    - {source: b, of: yaw, standard: 1 deg, reaches: entry, evidence: e, "
         "correlated_with: a, correlation: 0.5}\n",
         "a, correlation", "another distance"},
        {"    - {source: a, of: yaw, standard: 1 deg, reaches: run, evidence: e, "
         "correlated_with: b, correlation: 0.9}\n"
         "    - {source: b, of: yaw, standard: 1 deg, reaches: run, evidence: e, "
         "correlated_with: c, correlation: 0.9}\n"
         "    - {source: c, of: yaw, standard: 1 deg, reaches: run, evidence: e, "
         "correlated_with: a, correlation: -0.9}\n",
         "- {source: a", "contradict"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[TEXT_SIZE], place[200];
        struct campaign *campaign = NULL;
        struct heard heard;
        struct fault fault = {0};
        compose("saltmarsh", cases[i].items, text);
        CHECK(campaign_read_text(text, &campaign, &heard, &fault) == BAD_INPUT);
        campaign_place(text, cases[i].mark, place, sizeof place);
        CHECK_CONTAINS(heard.all, place);
        CHECK_CONTAINS(heard.all, cases[i].words);
        campaign_free(campaign);
    }
}

static void a_facility_must_be_there(void)
{
    char text[TEXT_SIZE];
    struct campaign *campaign = NULL;
    struct heard heard;
    struct fault fault = {0};
    compose("nowhere", ITEM("standard: 0.2 %"), text);
    CHECK(campaign_read_text(text, &campaign, &heard, &fault) == BAD_INPUT);
    CHECK_CONTAINS(heard.all, "'nowhere' is none of the facilities");
    campaign_free(campaign);
}

CU_TestInfo campaign_uncertainties_tests[] = {
    {"what the list holds", what_the_list_holds},
    {"wrong ones are refused by place", wrong_ones_are_refused_by_place},
    {"a facility must be there", a_facility_must_be_there},
    CU_TEST_INFO_NULL,
};

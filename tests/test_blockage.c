/* test_blockage.c - the families one by one, their table, their limits. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/physics/blockage.h"
#include "reduce/physics/constants.h"
#include "reduce/physics/spheroid.h"
#include "reduce/physics/tunnel_factor.h"
#include "tests/check.h"

static const struct blockage_input car = {.area = 0.40,
                                          .length = 2.35,
                                          .volume = 0.30,
                                          .section_width = 3.20,
                                          .section_height = 2.40,
                                          .floor_image = 1,
                                          .drag_coefficient = 0.9};

static struct blockage_result correct(const char *name, const struct blockage_input *input)
{
    struct blockage_result result = {.q_ratio = NAN};
    const struct blockage_family *family = blockage_family(name);
    CHECK(family != NULL);
    if (family != NULL)
        CHECK(family->correct(input, &result) == OUTCOME_OK);
    return result;
}

/* An input with a given S/C in a square section of 1 m2. */
static struct blockage_input share_of(double share)
{
    struct blockage_input input = car;
    input.area = share;
    input.section_width = input.section_height = 1.0;
    return input;
}

/* S/C, q_c/q, and a measured CL of -3 and CD of 0.9 corrected */
static const double area_ratio[][7] = {
    {0.01, 1.02030405061, -2.9403, 0.88209, 0.0199, -0.9602, -4.8806},
    {0.025, 1.05193951348, -2.851875, 0.8555625, 0.049375, -0.90125, -4.70375},
    {0.05, 1.108033241, -2.7075, 0.81225, 0.0975, -0.805, -4.415},
    {0.075, 1.16873630387, -2.566875, 0.7700625, 0.144375, -0.71125, -4.13375},
    {0.10, 1.23456790123, -2.43, 0.729, 0.19, -0.62, -3.86},
    {0.15, 1.38408304498, -2.1675, 0.65025, 0.2775, -0.445, -3.335},
};
static const double quarter_rule[][7] = {
    {0.01, 1.00500625, -2.98505606308, 0.895516818925, 0.00498131230527, -0.990037375389,
     -4.97011212617},
    {0.025, 1.0125390625, -2.96284865553, 0.888854596659, 0.0123837814899, -0.97523243702,
     -4.92569731106},
    {0.05, 1.02515625, -2.9263831733, 0.877914951989, 0.0245389422344, -0.950922115531,
     -4.85276634659},
    {0.075, 1.0378515625, -2.89058677406, 0.867176032218, 0.0364710753133, -0.927057849373,
     -4.78117354812},
    {0.10, 1.050625, -2.85544318858, 0.856632956573, 0.0481856038073, -0.903628792385,
     -4.71088637716},
    {0.15, 1.07640625, -2.78705182174, 0.836115546523, 0.0709827260851, -0.85803454783,
     -4.57410364349},
};

static void check_chain(const char *name, const double (*chain)[7], size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct blockage_input input = share_of(chain[i][0]);
        struct blockage_result result = correct(name, &input);
        CHECK_RELATIVE(result.q_ratio, chain[i][1], 1e-11, "the equation, computed independently");
        CHECK_RELATIVE(-3.0 / result.q_ratio, chain[i][2], 1e-11, "computed independently");
        CHECK(result.solid == 0.0 && result.wake == 0.0);
        CHECK(result.beyond_evidence == (chain[i][0] > 0.10));
    }
}

static void area_ratio_and_quarter_rule(void)
{
    check_chain("area ratio", area_ratio, sizeof area_ratio / sizeof *area_ratio);
    check_chain("quarter rule", quarter_rule, sizeof quarter_rule / sizeof *quarter_rule);
}

/* S/C, q_c/q of the wake term alone at CD 0.9 */
static const double wake_alone[][2] = {
    {0.01, 1.0045050625},   {0.025, 1.01128164062}, {0.05, 1.0226265625},
    {0.075, 1.03403476562}, {0.10, 1.04550625},     {0.15, 1.0686390625},
};

static void wake_term_of_the_image_sum(void)
{
    for (size_t i = 0; i < sizeof wake_alone / sizeof *wake_alone; i++) {
        struct blockage_input input = share_of(wake_alone[i][0]);
        struct blockage_result result = correct("image sum", &input);
        CHECK_RELATIVE((1 + result.wake) * (1 + result.wake), wake_alone[i][1], 1e-11,
                       "eps_w = CD S/(4C), computed independently");
        CHECK_RELATIVE(result.q_ratio, pow(1 + result.solid + result.wake, 2), 1e-15, "identity");
    }
}

static void a_golden_road_car(void)
{
    const char *source = "common practice: image sum of a duplex section, computed independently";
    struct blockage_input input = {.area = 1.8,
                                   .length = 4.5,
                                   .volume = 4.5,
                                   .section_width = 5.0,
                                   .section_height = 3.5,
                                   .shape = 0.5 * sqrt(PI), /* slender: k1 = 0 */
                                   .floor_image = 1,
                                   .drag_coefficient = 0.9};
    struct blockage_result result = correct("image sum", &input);
    CHECK_NEAR(0.5 * sqrt(PI) * tunnel_factor_closed(5.0 / 7.0), 0.75975, 5e-6, source);
    CHECK_NEAR(result.solid, 0.033022, 5e-7, source);
    CHECK_NEAR(result.wake, 0.023143, 5e-7, source);
    CHECK_NEAR(result.q_ratio, 1.115485, 5e-7, source);
    CHECK(result.beyond_evidence == 1);
}

/* With its mirror image half a sphere on the floor is a sphere, whose K is (sqrt(pi)/2) 1.5. */
static void half_a_sphere_on_the_floor(void)
{
    const double radius = 0.2;
    struct blockage_input input = {.area = PI * radius * radius / 2.0,
                                   .length = 2.0 * radius * (1.0 + 1e-12), /* not below rounding */
                                   .volume = 2.0 / 3.0 * PI * radius * radius * radius,
                                   .section_width = 2.0,
                                   .section_height = 1.0,
                                   .floor_image = 1};
    struct blockage_result result = correct("image sum", &input);
    double sphere = 4.0 / 3.0 * PI * radius * radius * radius;
    CHECK_RELATIVE(result.solid, 1.32934038818 * 0.8111610602 * sphere / 8.0, 1e-9,
                   "identity: a sphere in the square section of both halves");
}

static void the_floor_image_changes_the_solid_term(void)
{
    struct blockage_input with = car, without = car;
    with.shape = without.shape = 0.95;
    without.floor_image = 0;
    double ratio = correct("image sum", &with).solid / correct("image sum", &without).solid;
    CHECK_RELATIVE(ratio,
                   sqrt(0.5) * tunnel_factor_closed(3.2 / 4.8) / tunnel_factor_closed(3.2 / 2.4),
                   1e-13, "identity: 2/2^1.5 and tau of the duplex section");
    without.floor_image = 1;
    without.shape = 0.0;
    double diameter = sqrt(8.0 * 0.40 / PI);
    CHECK_RELATIVE(correct("image sum", &without).solid / correct("image sum", &with).solid,
                   spheroid_body_factor(2.35 / diameter) / 0.95, 1e-13, "identity");
    CHECK_NEAR(correct("none", &car).q_ratio, 1.0, 0.0, "definition");
}

static void the_table_of_families(void)
{
    static const char *const names[] = {"none",           "area ratio", "quarter rule",
                                        "image sum",      "maskell",    "maskell split",
                                        "wall signature", "open jet",   "slotted"};
    static const unsigned sections[] = {15, 1, 1, 3, 1,
                                        1,  1, 2, 4}; /* closed 1, open 2, slotted 4, track 8 */
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const struct blockage_family *family = blockage_family(names[i]);
        CHECK(family != NULL && family == blockage_family_at(i));
        CHECK(family != NULL && strlen(family->source) > 0 && strlen(family->equation) > 5);
        CHECK(family != NULL && family->sections == sections[i]);
        CHECK(family != NULL && strlen(family->evidence) > 0 && family->not_verified != NULL);
    }
    CHECK(blockage_family_at(9) == NULL);
    CHECK(blockage_family("image") == NULL && blockage_family("image sums") == NULL);
    CHECK(blockage_family("") == NULL && blockage_family(NULL) == NULL);
}

static enum outcome outcome_of(const char *name, struct blockage_input input)
{
    struct blockage_result result = {.q_ratio = -1.0};
    enum outcome outcome = blockage_family(name)->correct(&input, &result);
    CHECK(outcome == OUTCOME_OK || result.q_ratio == -1.0);
    return outcome;
}

static void where_evidence_and_method_end(void)
{
    static const char *const closed[] = {"area ratio", "quarter rule", "image sum"};
    for (size_t i = 0; i < 3; i++) {
        CHECK(outcome_of(closed[i], share_of(0.349)) == OUTCOME_OK);
        CHECK(outcome_of(closed[i], share_of(0.35)) == OUTCOME_BLOCKAGE_RANGE);
    }
    struct blockage_input input = car;
    CHECK(correct("image sum", &input).beyond_evidence == 0);
    input.length = 3.3; /* longer than the section is wide */
    CHECK(correct("image sum", &input).beyond_evidence == 1);
    CHECK(correct("area ratio", &input).beyond_evidence == 0);
}

static void refusals(void)
{
    static const char *const closed[] = {"area ratio", "quarter rule", "image sum"};
    for (size_t i = 0; i < 3; i++) {
        struct blockage_input bad = car;
        bad.area = NAN;
        CHECK(outcome_of(closed[i], bad) == OUTCOME_NOT_FINITE);
        bad.area = 0.0;
        CHECK(outcome_of(closed[i], bad) == OUTCOME_GEOMETRY);
        bad = car;
        bad.section_width = NAN;
        CHECK(outcome_of(closed[i], bad) == OUTCOME_NOT_FINITE);
        bad = car;
        bad.section_height = 0.0;
        CHECK(outcome_of(closed[i], bad) == OUTCOME_GEOMETRY);
    }
}

static void refusals_of_the_image_sum(void)
{
    struct blockage_input bad = car;
    bad.volume = 0.0;
    CHECK(outcome_of("image sum", bad) == OUTCOME_GEOMETRY);
    bad.volume = NAN;
    CHECK(outcome_of("image sum", bad) == OUTCOME_NOT_FINITE);
    bad = car;
    bad.length = 0.0; /* no shape either */
    CHECK(outcome_of("image sum", bad) == OUTCOME_GEOMETRY);
    bad.shape = 0.95;
    CHECK(outcome_of("image sum", bad) == OUTCOME_OK);
    bad.shape = -0.95;
    CHECK(outcome_of("image sum", bad) == OUTCOME_GEOMETRY);
    bad.shape = NAN;
    CHECK(outcome_of("image sum", bad) == OUTCOME_NOT_FINITE);
    bad = car;
    bad.drag_coefficient = NAN;
    CHECK(outcome_of("image sum", bad) == OUTCOME_NOT_FINITE);
    bad = car;
    bad.length = NAN;
    CHECK(outcome_of("image sum", bad) == OUTCOME_NOT_FINITE);
    bad = car;
    bad.section_width = 60.0; /* B/2H above 10 */
    CHECK(outcome_of("image sum", bad) == OUTCOME_GEOMETRY);
}

CU_TestInfo blockage_tests[] = {
    {"area ratio and quarter rule to S/C 0.15", area_ratio_and_quarter_rule},
    {"the wake term of the image sum", wake_term_of_the_image_sum},
    {"a road car in a duplex section", a_golden_road_car},
    {"half a sphere on the floor is a sphere", half_a_sphere_on_the_floor},
    {"the floor image changes the solid term alone", the_floor_image_changes_the_solid_term},
    {"families are found by their exact names", the_table_of_families},
    {"beyond evidence a number with a flag, from S/C 0.35 none", where_evidence_and_method_end},
    {"sections and areas that are not are refused", refusals},
    {"bodies that are not are refused by the image sum", refusals_of_the_image_sum},
    CU_TEST_INFO_NULL};

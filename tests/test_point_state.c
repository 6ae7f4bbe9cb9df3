/* test_point_state.c - what rules and decisions make of a point, and which comparison takes it. */
#include <CUnit/CUnit.h>
#include <string.h>

#include "reduce/point_state.h"
#include "schema/flag.h"
#include "tests/check.h"

/* Every pair of what the rules say and what was decided: the state, and who takes it. */
static const struct {
    enum flag_state worst;
    enum decision decision;
    const char *state;
    int takes[BASIS_COUNT]; /* stands, all in, rules alone */
} cases[] = {
    {FLAG_INFO, DECISION_NONE, "ok", {1, 1, 1}},
    {FLAG_INFO, DECISION_EXCLUDE, "excluded", {0, 1, 1}},
    {FLAG_INFO, DECISION_RESTORE, "ok", {1, 1, 1}},
    {FLAG_FLAGGED, DECISION_NONE, "flagged", {1, 1, 1}},
    {FLAG_FLAGGED, DECISION_EXCLUDE, "excluded", {0, 1, 1}},
    {FLAG_FLAGGED, DECISION_RESTORE, "flagged", {1, 1, 1}},
    {FLAG_FAILED, DECISION_NONE, "failed", {0, 1, 0}},
    {FLAG_FAILED, DECISION_EXCLUDE, "excluded", {0, 1, 0}},
    {FLAG_FAILED, DECISION_RESTORE, "restored", {1, 1, 0}},
    {FLAG_REFUSED, DECISION_NONE, "refused", {0, 0, 0}},
    {FLAG_REFUSED, DECISION_EXCLUDE, "refused", {0, 0, 0}},
    {FLAG_REFUSED, DECISION_RESTORE, "refused", {0, 0, 0}},
};

static void a_decision_stands_before_a_rule_but_makes_no_number(void)
{
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        enum point_state rules = point_state_of_rules(cases[i].worst);
        CHECK_TEXT(point_state_name(point_state_decided(rules, cases[i].decision)), cases[i].state);
        for (int basis = 0; basis < BASIS_COUNT; basis++)
            CHECK(point_takes_part(rules, cases[i].decision, (enum basis)basis) ==
                  cases[i].takes[basis]);
    }
}

static void only_a_restore_lifts_the_cap_as_it_stands(void)
{
    static const enum decision decisions[] = {DECISION_NONE, DECISION_EXCLUDE, DECISION_RESTORE};
    for (size_t i = 0; i < 3; i++) {
        CHECK(point_lifts_cap(decisions[i], BASIS_STANDS) == (decisions[i] == DECISION_RESTORE));
        CHECK(point_lifts_cap(decisions[i], BASIS_ALL_IN));
        CHECK(!point_lifts_cap(decisions[i], BASIS_RULES_ALONE));
    }
}

static void names_read_back_and_unknown_ones_are_not_compared(void)
{
    for (int i = POINT_OK; i <= POINT_RESTORED; i++)
        CHECK(point_state_from_name(point_state_name((enum point_state)i)) == (enum point_state)i);
    CHECK(point_state_from_name("fine") == POINT_REFUSED);
    CHECK(point_state_from_name(NULL) == POINT_REFUSED);
    CHECK(decision_from_name(decision_name(DECISION_EXCLUDE)) == DECISION_EXCLUDE);
    CHECK(decision_from_name(decision_name(DECISION_RESTORE)) == DECISION_RESTORE);
    CHECK(decision_from_name("Exclude") == DECISION_NONE &&
          decision_from_name(NULL) == DECISION_NONE);
}

/* No rule fails a point or a tap because its answer is unexpected: each of these looks at an instrument,
 * its record, or the attitude. Whoever adds a failing rule says here what it looks at. */
static void only_instruments_and_attitudes_fail_a_number(void)
{
    static const char *const known[] = {
        "near-stall",           /* the attained attitude, and the map about it */
        "off-target",           /* the attained attitude */
        "ride-heights-missing", /* too few height sensors left to know the attitude */
        "reynolds-unmeasured",  /* a Reynolds number outside the speed sweep */
        "tap-impossible",       /* a pressure below vacuum or above total pressure */
        "tap-frozen",           /* a channel that repeats one value */
        "tap-zero-silent",      /* a channel without a zero */
    };
    for (int i = 0; i < FLAG_RULE_COUNT; i++) {
        const struct flag_row *row = flag_row((enum flag_rule)i);
        size_t k = 0;
        while (k < sizeof known / sizeof known[0] && strcmp(known[k], row->code) != 0)
            k++;
        if (row->state == FLAG_FAILED)
            CHECK_TEXT(k < sizeof known / sizeof known[0] ? known[k] : "not in this list",
                       row->code);
    }
}

/* Flags that fail a point in some cases only say so in their consequence. */
static void what_may_fail_a_number_looks_at_its_record(void)
{
    static const char *const known[] = {
        "stuck",      /* samples of a channel that repeat one value */
        "clipped",    /* samples of a channel at the end of its range */
        "constant",   /* all samples of a run at one value, of a channel that moves in other runs */
        "near-stall", /* the attained attitude, and the map about it */
        "reynolds-unmeasured", /* a Reynolds number outside the speed sweep */
        "off-target",
        "point-excluded", /* the attitude; somebody's decision */
    };
    size_t found = 0;
    for (int i = 0; i < FLAG_RULE_COUNT; i++) {
        const struct flag_row *row = flag_row((enum flag_rule)i);
        size_t k = 0;
        if (strstr(row->consequence, "not compared") == NULL)
            continue;
        while (k < sizeof known / sizeof known[0] && strcmp(known[k], row->code) != 0)
            k++;
        CHECK_TEXT(k < sizeof known / sizeof known[0] ? known[k] : "not in this list", row->code);
        found++;
    }
    CHECK(found == sizeof known / sizeof known[0]);
}

extern CU_TestInfo point_state_tests[];
CU_TestInfo point_state_tests[] = {
    {"a decision stands before a rule but makes no number",
     a_decision_stands_before_a_rule_but_makes_no_number},
    {"only a restore lifts the cap as it stands", only_a_restore_lifts_the_cap_as_it_stands},
    {"names read back and unknown ones are not compared",
     names_read_back_and_unknown_ones_are_not_compared},
    {"only instruments and attitudes fail a number", only_instruments_and_attitudes_fail_a_number},
    {"what may fail a number looks at its record", what_may_fail_a_number_looks_at_its_record},
    CU_TEST_INFO_NULL};

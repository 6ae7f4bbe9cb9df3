/* test_vocabulary.c - the tables of roles, quantities, flags and attitude coordinates. */
#include <CUnit/CUnit.h>
#include <string.h>

#include "schema/campaign.h"
#include "schema/flag.h"
#include "schema/quantity.h"
#include "schema/role.h"
#include "schema/units.h"
#include "tests/check.h"

static void every_role_is_found_by_its_name(void)
{
    for (unsigned i = 0; i < ROLE_COUNT; i++)
        CHECK(role_from_name(role_name((enum role)i)) == (enum role)i);
    CHECK(role_from_name("ride height") == ROLE_COUNT);
    CHECK(role_from_name("") == ROLE_COUNT);
    CHECK_TEXT(role_unit(ROLE_YAW), "rad");
    CHECK(role_unit(ROLE_BALANCE_OUTPUT_6) == NULL);
    CHECK(role_unit(ROLE_POINT) == NULL);
}

static void every_unit_is_known_to_the_unit_database(void)
{
    struct units *units = NULL;
    struct fault fault;
    struct unit_conversion one;
    CHECK_OK(units_open(&units, &fault), &fault);
    for (unsigned i = 0; i < ROLE_COUNT; i++)
        if (role_unit((enum role)i) != NULL) {
            const char *unit = role_unit((enum role)i);
            CHECK_OK(units_conversion(units, unit, unit, &one, &fault), &fault);
            CHECK_NEAR(one.factor, 1, 0, "identity");
        }
    for (unsigned i = 0; i < QUANTITY_COUNT; i++) {
        const char *unit = quantity_row((enum quantity)i)->unit;
        CHECK_OK(units_conversion(units, unit, unit, &one, &fault), &fault);
    }
    units_close(units);
}

static void every_quantity_is_found_by_its_symbol(void)
{
    for (unsigned i = 0; i < QUANTITY_COUNT; i++) {
        const struct quantity_row *row = quantity_row((enum quantity)i);
        CHECK(quantity_from_symbol(row->symbol) == (enum quantity)i);
        CHECK(row->column[0] != '\0' && row->sign[0] != '\0' && row->meaning[0] != '\0');
    }
    CHECK(quantity_from_symbol("cl") == QUANTITY_COUNT); /* exactly */
    CHECK(quantity_row(QUANTITY_CYM)->in_counts && !quantity_row(QUANTITY_BALANCE)->in_counts);
}

static void every_flag_is_whole_and_its_code_its_own(void)
{
    for (unsigned i = 0; i < FLAG_RULE_COUNT; i++) {
        const struct flag_row *row = flag_row((enum flag_rule)i);
        CHECK(row->code != NULL);
        if (row->code == NULL)
            return;
        CHECK(strspn(row->code, "abcdefghijklmnopqrstuvwxyz0123456789-") == strlen(row->code));
        CHECK(row->sentence[strlen(row->sentence) - 1] == '.');
        CHECK(row->consequence[strlen(row->consequence) - 1] == '.');
        CHECK(row->action[strlen(row->action) - 1] == '.');
        for (unsigned k = 0; k < i; k++)
            CHECK(strcmp(flag_row((enum flag_rule)k)->code, row->code) != 0);
    }
    CHECK_TEXT(flag_state_name(FLAG_REFUSED), "refused");
    CHECK_TEXT(flag_state_name(FLAG_INFO), "info");
    CHECK_TEXT(flag_row(FLAG_ZERO_DRIFT)->code, "zero-drift");
}

static void every_coordinate_has_the_unit_of_its_role(void)
{
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++) {
        enum role role = attitude_axis_role((enum attitude_axis)axis);
        CHECK_TEXT(attitude_axis_name((enum attitude_axis)axis), role_name(role));
        CHECK_TEXT(attitude_axis_unit((enum attitude_axis)axis), role_unit(role));
    }
}

CU_TestInfo vocabulary_tests[] = {
    {"every role is found by its name", every_role_is_found_by_its_name},
    {"every unit is known to the unit database", every_unit_is_known_to_the_unit_database},
    {"every quantity is found by its symbol", every_quantity_is_found_by_its_symbol},
    {"every flag is whole and its code its own", every_flag_is_whole_and_its_code_its_own},
    {"every coordinate has the unit of its role", every_coordinate_has_the_unit_of_its_role},
    CU_TEST_INFO_NULL};

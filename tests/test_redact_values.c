/* test_redact_values.c - which numbers a redacted report shows: no level where only differences leave, and
 * in the place of a detail its value. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/query.h"
#include "report/redact.h"
#include "report/report_redacted.h"
#include "tests/check.h"
#include "tests/scratch.h"
#include "tests/test_report_fixture.h"

static double real_of(struct store *store, const char *sql)
{
    struct fault fault = {0};
    double value = (double)NAN;
    CHECK_OK(query_real(store, sql, NULL, &value, &fault), &fault);
    return value;
}

/* Differences stay, levels go. */
static void levels_are_left_out(void)
{
    static const char between[] =
        "SELECT (SELECT value FROM observation AS o JOIN configuration AS c USING (configuration) "
        "WHERE c.sequence = 2 AND mounting = 1 AND quantity = 'CL' AND target = 'weighted') - "
        "(SELECT value FROM observation AS o JOIN configuration AS c USING (configuration) "
        "WHERE c.sequence = 0 AND mounting = 3 AND quantity = 'CL' AND target = 'weighted')";
    static const struct redact_how how = {.redaction = REDACT_LEVELS};
    struct store *season = NULL;
    struct store *redacted = NULL;
    struct fault fault = {0};
    CHECK_OK(report_fixture_open(":memory:", NULL, &season, &fault), &fault);
    if (season != NULL)
        CHECK_OK(redact_open(season, &how, &redacted, &fault), &fault);
    if (redacted != NULL) {
        CHECK(real_of(season, "SELECT min(value) FROM observation WHERE quantity = 'CL'") > 2);
        CHECK(real_of(redacted, "SELECT max(abs(value)) FROM observation WHERE quantity = 'CL'") <
              0.1);
        CHECK_NEAR(real_of(redacted, between), real_of(season, between), 1e-12, "identity");
        CHECK_NEAR(real_of(redacted, "SELECT count(*) FROM point_coefficient WHERE "
                                     "coalesce(drag_coefficient, downforce_coefficient, "
                                     "balance_percent, lift_to_drag, target_drag_coefficient) IS "
                                     "NOT NULL"),
                   0, 0, "identity");
        CHECK_NEAR(real_of(redacted, "SELECT count(*) FROM tap_result WHERE coalesce(cp, cp_raw) "
                                     "IS NOT NULL"),
                   0, 0, "identity");
        CHECK_NEAR(real_of(redacted, "SELECT count(*) FROM ledger_row"), 0, 0, "identity");
        CHECK_NEAR(real_of(redacted, "SELECT total(delta) FROM delta"),
                   real_of(season, "SELECT total(delta) FROM delta"), 1e-12, "identity");
    }
    CHECK_OK(store_close(redacted, &fault), &fault);
    CHECK_OK(store_close(season, &fault), &fault);
}

/* Where levels are out no page shows a number in their place. */
static void no_level_is_invented(void)
{
    char folder[SCRATCH_PATH];
    struct store *store = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    for (int i = 0; i < 2 && store != NULL; i++) {
        int is_out = i == 1;
        struct report_options options = {.redaction = is_out ? REDACT_LEVELS : REDACT_NAMES};
        CHECK_OK(report_redacted(store, folder, &options, NULL, &fault), &fault);
        char *index = scratch_read(folder, REPORT_REDACTED_FOLDER "/index.html");
        char *night = scratch_read(folder, REPORT_REDACTED_FOLDER "/night.html");
        char *proof = scratch_read(folder, REPORT_REDACTED_FOLDER "/proof-C3.html");
        CHECK(index != NULL && night != NULL && proof != NULL);
        if (index != NULL && night != NULL && proof != NULL) {
            CHECK((strstr(index, "Nothing is drawn: it would be of levels") != NULL) == is_out);
            CHECK((strstr(index, "mean of 8 mountings") == NULL) == is_out);
            CHECK((strstr(night, "CL less the baseline&#39;s mean, +") != NULL) == is_out);
            CHECK((strstr(night, ": CL less the baseline&#39;s mean +0.0") != NULL) == is_out);
            CHECK((strstr(night, "Above, means over mountings") == NULL) == is_out);
            CHECK((strstr(night, "value of CL over ") == NULL) == is_out);
            CHECK((strstr(proof, ">Raw<") == NULL) == is_out);
            CHECK((strstr(proof, "Raw: before") == NULL) == is_out);
            CHECK_CONTAINS(proof, "Worth having: declared");
        }
        free(index);
        free(night);
        free(proof);
    }
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
}

/* What replaces a detail is in the unit that people read, and no text leads to what is withheld. */
static void values_stand_in_the_place_of_details(void)
{
    static const struct redact_how how = {.redaction = REDACT_NAMES};
    struct store *season = NULL;
    struct store *redacted = NULL;
    struct fault fault = {0};
    CHECK_OK(report_fixture_open(":memory:", NULL, &season, &fault), &fault);
    CHECK_OK(
        store_execute(season,
                      "INSERT INTO flag_row (reduction, run, point, subject, rule, state, "
                      "value, unit, limit_value, detail) VALUES "
                      "(100, '', '', 'CL', 'zero-drift', 'flagged', -0.008909, '1', 0.005, 'x'),"
                      "(100, '', '', 'W2', 'few-degrees', 'flagged', 1.5, '1', 3, 'x')",
                      &fault),
        &fault);
    CHECK_OK(redact_open(season, &how, &redacted, &fault), &fault);
    if (redacted != NULL) {
        CHECK(real_of(redacted, "SELECT count(*) FROM flag_row WHERE detail = '-8.909 counts; "
                                "limit 5 counts.'") == 1);
        CHECK(real_of(redacted, "SELECT count(*) FROM flag_row WHERE rule = 'few-degrees' AND "
                                "detail = '1.5; limit 3.'") == 1);
        CHECK(real_of(redacted,
                      "SELECT count(*) FROM flag_rule WHERE consequence LIKE '%in the detail%' "
                      "OR action LIKE '%in the detail%'") == 0);
        CHECK(real_of(season,
                      "SELECT count(*) FROM flag_rule WHERE consequence LIKE '%in the detail%'") >
              0);
    }
    CHECK_OK(store_close(redacted, &fault), &fault);
    CHECK_OK(store_close(season, &fault), &fault);
}

extern CU_TestInfo redact_values_tests[];
CU_TestInfo redact_values_tests[] = {
    {"levels are left out", levels_are_left_out},
    {"no level is invented", no_level_is_invented},
    {"values stand in the place of details", values_stand_in_the_place_of_details},
    CU_TEST_INFO_NULL};

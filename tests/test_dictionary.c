/* test_dictionary.c - schema/dictionary.c: every column explained, every flag's words in the store. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>

#include "schema/dictionary.h"
#include "schema/flag.h"
#include "schema/store.h"
#include "tests/check.h"
#include "tests/season_look.h"

static void the_dictionary_explains_every_column(void)
{
    struct store *store = memory_season();
    check_season(store,
                 "SELECT s.name || '.' || c.name FROM sqlite_schema AS s, "
                 "pragma_table_info(s.name) AS c LEFT JOIN data_dictionary AS d "
                 "ON d.object = s.name AND d.name = c.name WHERE s.type IN ('table', 'view') "
                 "AND s.name NOT LIKE 'sqlite_%' AND d.name IS NULL",
                 1, "");
    check_season(store,
                 "SELECT d.object || '.' || d.name FROM data_dictionary AS d WHERE NOT EXISTS "
                 "(SELECT 1 FROM sqlite_schema AS s, pragma_table_info(s.name) AS c "
                 "WHERE s.name = d.object AND c.name = d.name)",
                 1, "");
    check_season(store,
                 "SELECT object || '.' || name FROM data_dictionary WHERE meaning = '' "
                 "OR source = ''",
                 1, "");
    check_season(store,
                 "SELECT unit FROM data_dictionary WHERE object = 'point_coefficient' "
                 "AND name = 'target_balance_percent'",
                 1, "%\n");
    check_season(store,
                 "SELECT sign FROM data_dictionary WHERE object = 'point_coefficient' "
                 "AND name = 'downforce_front_coefficient_u'",
                 1, "not negative\n");
    end_season(store);
}

static void every_explanation_is_used(void)
{
    struct store *store = memory_season();
    size_t n = 0;
    const struct dictionary_row *rows = dictionary_rows(&n);
    for (size_t i = 0; i < n; i++) {
        char sql[512];
        (void)snprintf(sql, sizeof sql,
                       "SELECT count(*) > 0 FROM data_dictionary WHERE name = '%s' AND unit = '%s' "
                       "AND ('%s' = '' OR object = '%s')",
                       rows[i].name, rows[i].unit[0] == 't' ? "the quantity''s" : rows[i].unit,
                       rows[i].object != NULL ? rows[i].object : "",
                       rows[i].object != NULL ? rows[i].object : "");
        if (strcmp(rows[i].unit, "the row's") != 0)
            check_season(store, sql, 1, "1\n");
        for (size_t k = 0; k < i; k++)
            CHECK(strcmp(rows[k].name, rows[i].name) != 0 || rows[k].object != rows[i].object);
    }
    end_season(store);
}

static void every_flag_rule_is_in_the_store(void)
{
    struct store *store = memory_season();
    struct fault fault = {0};
    char want[32];
    (void)snprintf(want, sizeof want, "%d\n", (int)FLAG_RULE_COUNT);
    check_season(store, "SELECT count(*) FROM flag_rule", 1, want);
    check_season(store, "SELECT state FROM flag_rule WHERE rule = 'unbracketed'", 1, "refused\n");
    CHECK_OK(store_execute(store,
                           "UPDATE flag_rule SET action = 'old'; DELETE FROM "
                           "data_dictionary WHERE object = 'flag'",
                           &fault),
             &fault);
    CHECK_OK(dictionary_write(store, &fault), &fault); /* as a later build does */
    check_season(store, "SELECT count(*) FROM flag_rule WHERE action = 'old'", 1, "0\n");
    check_season(store, "SELECT count(*) FROM data_dictionary WHERE object = 'flag'", 1, "13\n");
    end_season(store);
}

CU_TestInfo dictionary_tests[] = {
    {"the dictionary explains every column", the_dictionary_explains_every_column},
    {"every explanation is used", every_explanation_is_used},
    {"every flag rule is in the store", every_flag_rule_is_in_the_store},
    CU_TEST_INFO_NULL};

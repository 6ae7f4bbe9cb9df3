/* flow_season.c - see flow_season.h. */
#include "tests/flow_season.h"

#include <CUnit/CUnit.h>
#include <stdio.h>

#include "tests/check.h"

const char flow_source[] = "NIST/SEMATECH e-Handbook, 6.3.2.2";

const double flow_values[FLOW_ALL] = {49.6, 47.6, 49.9, 51.3, 47.8, 51.2,
                                      52.6, 52.4, 53.6, 52.1, 75.0};

struct store *flow_season(int n)
{
    struct store *store = NULL;
    struct fault fault = {0};
    char sql[700];

    CHECK_OK(store_open(":memory:", STORE_CREATE, &store, &fault), &fault);
    for (int i = 0; i < n; i++) {
        (void)snprintf(
            sql, sizeof sql,
            "INSERT INTO run VALUES ('R%d', %d, 'hall', 'e%d', '2026-02-11T20:05:00Z', %d, 'base', "
            "'wind_on', '', '', '', '', '', 'ok', '', 2, 'k');"
            "INSERT INTO reduction VALUES (%d, 'compare', 'hall/e%d/base', 'k', 'i', 1);"
            "INSERT INTO observation VALUES (%d, 'base', 1, 'CL', 'weighted', 'R%d', %d, %.6g, "
            "NULL, NULL), (%d, 'base', 2, 'CL', 'weighted', 'R%d', %d, %.6g, NULL, NULL);",
            i, i, i, 1000 * i, i + 1, i, i + 1, i, 1000 * i, flow_values[i] - 0.5, i + 1, i,
            1000 * i + 1, flow_values[i] + 0.5);
        CHECK_OK(store_execute(store, sql, &fault), &fault);
    }
    return store;
}

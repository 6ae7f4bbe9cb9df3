/* test_drawn_budget.c - bars of the interval's budget are as long as the database's shares. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"
#include "tests/drawn_night.h"
#include "tests/svg_read.h"

enum { ROWS = 20 };

/* Shares that add up to a hundred, one of them below zero, as errors that cancel have it. Invented. */
static const char budget[] =
    "INSERT INTO reduction VALUES (400, 'budget', 'saltmarsh/February/C0', 'k', 'i', 1);"
    "INSERT INTO delta_uncertainty (reduction, configuration, baseline, quantity, target, is_main, "
    "standard_configuration, standard_baseline, standard_delta, predicted_scatter, "
    "observed_scatter, observed_degrees_of_freedom) VALUES (400, 'W2', 'C0', 'CL', 'weighted', 1, "
    "0.041, 0.04, 0.0019, 0.0023, 0.0028, 5);"
    "INSERT INTO delta_budget VALUES "
    "(400, 'W2', 'CL', 'weighted', 0, 'scatter', 'point', 0.0011, 0.0008, 0.0014, 61.37),"
    "(400, 'W2', 'CL', 'weighted', 1, 'zero', 'run', 0.0011, 0.0008, 0.0009, 30.22),"
    "(400, 'W2', 'CL', 'weighted', 2, 'height', 'point', 0.0011, 0.0008, 0.0004, 11.5),"
    "(400, 'W2', 'CL', 'weighted', 3, 'wind', 'always', 0.0062, 0.0061, 0.0001, 0.4),"
    "(400, 'W2', 'CL', 'weighted', 4, 'scale', 'always', 0.0062, 0.0061, 0.0002, -3.49)";

static const char shares_sql[] = "SELECT source, '', '', '', max(0, share_percent), 0, 0, 0, 0, 0 "
                                 "FROM delta_budget WHERE configuration = 'W2'";

static void check_bars(const struct drawn_night *night)
{
    struct drawn_row rows[ROWS];
    const char *panel = strstr(night->text, "id=\"budget\"");
    const char *stop = panel != NULL ? strstr(panel, "</section>") : NULL;
    size_t n = drawn_rows(night->store, shares_sql, rows, ROWS), seen = 0;
    CHECK(panel != NULL);
    for (struct svg svg = svg_after(panel, stop); svg.from != NULL;
         svg = svg_after(svg.stop, stop), seen++) {
        const char *axis = svg_next_class(svg.from, svg.stop, "axis");
        const char *bar = svg_next_class(svg.from, svg.stop, "mark");
        char label[80], source[80];
        svg_attribute_text(svg.from, "aria-label", label, sizeof label);
        (void)snprintf(source, sizeof source, "%.*s", (int)strcspn(label, ":"), label);
        const struct drawn_row *row = drawn_row_of(rows, n, source, NULL);
        CHECK(row != NULL && axis != NULL && bar != NULL);
        if (row == NULL || axis == NULL || bar == NULL)
            break;
        double whole = svg_attribute(axis, "x2") - svg_attribute(axis, "x1");
        CHECK(whole > 100); /* page units */
        CHECK_NEAR(svg_attribute(bar, "x"), svg_attribute(axis, "x1"), 0, "from zero");
        CHECK_NEAR(100 * svg_attribute(bar, "width") / whole, row->number[0], 2 / whole,
                   "the database");
    }
    CHECK(seen == n && n == 5);
}

static void bars_are_the_shares(void)
{
    struct drawn_night night;

    if (drawn_night_make(&night, 0, budget))
        check_bars(&night);
    drawn_night_end(&night);
}

extern CU_TestInfo drawn_budget_tests[];
CU_TestInfo drawn_budget_tests[] = {{"bars are the shares", bars_are_the_shares},
                                    CU_TEST_INFO_NULL};

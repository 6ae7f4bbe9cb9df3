/* drawn_night.c - see drawn_night.h. */
#include "tests/drawn_night.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/query.h"
#include "tests/check.h"
#include "tests/test_report_fixture.h"

int drawn_night_make(struct drawn_night *night, int more, const char *sql)
{
    struct fault fault = {0};

    *night = (struct drawn_night){.text = ""};
    enum status status = report_fixture_open(":memory:", NULL, &night->store, &fault);
    if (status == OK && more > 0)
        status = report_fixture_add_configurations(night->store, more, &fault);
    if (status == OK && sql != NULL)
        status = store_execute(night->store, sql, &fault);
    if (status == OK)
        status = report_fixture_page(night->store, &night->page, &fault);
    CHECK_OK(status, &fault);
    night->text = buffer_string(&night->page.out);
    return status == OK;
}

void drawn_night_end(struct drawn_night *night)
{
    struct fault fault = {0};

    html_free(&night->page);
    if (night->store != NULL)
        CHECK_OK(store_close(night->store, &fault), &fault);
}

struct taken {
    struct drawn_row *rows;
    size_t n, most;
};

static enum status take(struct statement *row, void *context, struct fault *fault)
{
    struct taken *taken = context;

    (void)fault;
    if (taken->n++ >= taken->most)
        return OK;
    struct drawn_row *out = &taken->rows[taken->n - 1];
    for (int i = 0; i < DRAWN_TEXTS; i++)
        (void)snprintf(out->text[i], sizeof out->text[i], "%s",
                       statement_is_null(row, i) ? "" : statement_text(row, i));
    for (int i = 0; i < DRAWN_NUMBERS; i++)
        out->number[i] = statement_real(row, DRAWN_TEXTS + i);
    return OK;
}

size_t drawn_rows(struct store *store, const char *sql, struct drawn_row *rows, size_t most)
{
    struct taken taken = {rows, 0, most};
    struct fault fault = {0};

    CHECK_OK(query_each(store, sql, NULL, take, &taken, &fault), &fault);
    CHECK(taken.n > 0 && taken.n <= most);
    return taken.n < most ? taken.n : most;
}

const struct drawn_row *drawn_row_of(const struct drawn_row *rows, size_t n, const char *first,
                                     const char *second)
{
    for (size_t i = 0; i < n; i++)
        if ((first == NULL || strcmp(rows[i].text[0], first) == 0) &&
            (second == NULL || strcmp(rows[i].text[1], second) == 0))
            return &rows[i];
    return NULL;
}

double drawn_number(struct store *store, const char *sql)
{
    struct fault fault = {0};
    double value = (double)NAN;

    CHECK_OK(query_real(store, sql, NULL, &value, &fault), &fault);
    return value;
}

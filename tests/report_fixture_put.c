/* report_fixture_put.c - one row into the report's fixture; see report_fixture_parts.h. */
#include "tests/report_fixture_parts.h"

#include <stdarg.h>
#include <stdint.h>

double fixture_scatter(unsigned number)
{
    uint32_t mixed = (number + 1) * 2654435761U;

    mixed ^= mixed >> 15;
    mixed *= 2246822519U;
    mixed ^= mixed >> 13;
    return (double)(mixed % 20001U) / 10000 - 1;
}

void fixture_put(struct fixture *fixture, const char *sql, const char *kinds, ...)
{
    struct statement *statement = NULL;
    va_list values;

    if (fixture->status != OK)
        return;
    fixture->status = statement_prepare(fixture->store, sql, &statement, fixture->fault);
    va_start(values, kinds);
    for (int i = 0; fixture->status == OK && kinds[i] != '\0'; i++) {
        if (kinds[i] == 't')
            fixture->status =
                statement_bind_text(statement, i + 1, va_arg(values, const char *), fixture->fault);
        else if (kinds[i] == 'r')
            fixture->status =
                statement_bind_real(statement, i + 1, va_arg(values, double), fixture->fault);
        else if (kinds[i] == 'i')
            fixture->status =
                statement_bind_integer(statement, i + 1, va_arg(values, int), fixture->fault);
    }
    va_end(values);
    if (fixture->status == OK)
        fixture->status = statement_run(statement, fixture->fault);
    statement_free(statement);
}

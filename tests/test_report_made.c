/* test_report_made.c - see test_report_made.h. */
#include "tests/test_report_made.h"

#include <stdlib.h>
#include <string.h>

#include "report/html.h"
#include "tests/check.h"
#include "tests/test_report_fixture.h"

static char *copy_of(const char *text)
{
    size_t size = strlen(text) + 1;
    char *copy = malloc(size);

    CHECK(copy != NULL);
    if (copy != NULL)
        memcpy(copy, text, size);
    return copy;
}

char *report_page_after(const char *change, const char *more)
{
    struct store *store = NULL;
    struct html page = {0};
    struct fault fault = {0};
    char *text = NULL;

    enum status status = report_fixture_open(":memory:", NULL, &store, &fault);
    if (status == OK && change != NULL)
        status = store_execute(store, change, &fault);
    if (status == OK && more != NULL)
        status = store_execute(store, more, &fault);
    if (status == OK)
        status = report_fixture_page(store, &page, &fault);
    CHECK_OK(status, &fault);
    if (status == OK)
        text = copy_of(buffer_string(&page.out));
    html_free(&page);
    if (store != NULL)
        CHECK_OK(store_close(store, &fault), &fault);
    return text;
}

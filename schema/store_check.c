/* store_check.c - see store_check.h. */
#include "schema/store_check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/store.h"

static const char file_name[] = "/season.sqlite";

/* SQLite's report has several lines; a fault has one. */
static void on_one_line(const char *report, char *line, size_t size)
{
    (void)snprintf(line, size, "%s", report);
    for (char *c = line; *c != '\0'; c++)
        if (*c == '\n')
            *c = ' ';
}

static enum status damaged(const char *path, const char *report, struct fault *fault)
{
    char line[200];
    on_one_line(report, line, sizeof line);
    return FAIL(
        fault, BAD_INPUT,
        "%.300s is damaged: %s; move it aside and run lapwing batch: the logs are the truth", path,
        line);
}

static enum status check_pages(struct store *store, const char *path, struct fault *fault)
{
    struct statement *statement = NULL;
    struct fault step = {.status = OK};
    int row = 0;
    enum status status = statement_prepare(store, "PRAGMA quick_check(1)", &statement, &step);
    if (status == OK)
        status = statement_step(statement, &row, &step);
    const char *report = status == OK && row ? statement_text(statement, 0) : NULL;
    if (status == STORE_FAILED)
        status = damaged(path, step.text, fault);
    else if (status != OK && fault != NULL)
        *fault = step;
    else if (report != NULL && strcmp(report, "ok") != 0)
        status = damaged(path, report, fault);
    statement_free(statement);
    return status;
}

static enum status check_file(const char *path, struct fault *fault)
{
    struct fault opening = {.status = OK};
    struct fault closing = {.status = OK};
    struct store *store = NULL;
    enum status status = store_open(path, STORE_READ_ONLY, &store, &opening);
    if (status == NOT_FOUND)
        return OK;
    if (status != OK) {
        if (fault != NULL)
            *fault = opening;
        return status;
    }
    status = check_pages(store, path, fault);
    enum status closed = store_close(store, &closing);
    if (status != OK || closed == OK)
        return status;
    if (fault != NULL)
        *fault = closing;
    return closed;
}

enum status store_check_folder(const char *folder, struct fault *fault)
{
    size_t size = strlen(folder) + sizeof file_name;
    char *path = malloc(size);
    if (path == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the season's path");
    (void)snprintf(path, size, "%s%s", folder, file_name);
    enum status status = check_file(path, fault);
    free(path);
    return status;
}

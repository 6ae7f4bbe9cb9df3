/* json.c - see json.h. */
#include "tests/browser/json.h"

#include <math.h>
#include <sqlite3.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The first column of sql with two texts bound; the caller frees. */
static char *asked(const char *sql, const char *first, const char *second)
{
    static sqlite3 *db = NULL;
    sqlite3_stmt *statement = NULL;
    char *answer = NULL;

    if (db == NULL && sqlite3_open(":memory:", &db) != SQLITE_OK)
        return NULL;
    if (sqlite3_prepare_v2(db, sql, -1, &statement, NULL) != SQLITE_OK)
        return NULL;
    (void)sqlite3_bind_text(statement, 1, first, -1, SQLITE_STATIC);
    if (second != NULL)
        (void)sqlite3_bind_text(statement, 2, second, -1, SQLITE_STATIC);
    if (sqlite3_step(statement) == SQLITE_ROW) {
        const unsigned char *text = sqlite3_column_text(statement, 0);
        answer = text != NULL ? strdup((const char *)text) : NULL;
    }
    (void)sqlite3_finalize(statement);
    return answer;
}

char *json_text(const char *json, const char *path)
{
    return json != NULL ? asked("SELECT json_extract(?1, ?2)", json, path) : NULL;
}

double json_number(const char *json, const char *path)
{
    char *text = json_text(json, path);
    char *end = NULL;
    double value = text != NULL ? strtod(text, &end) : (double)NAN;

    if (text == NULL || end == text)
        value = (double)NAN;
    free(text);
    return value;
}

char *json_quote(const char *text)
{
    return asked("SELECT json_quote(?1)", text, NULL);
}

char *json_format(const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    char *text = length >= 0 ? malloc((size_t)length + 1) : NULL;
    if (text == NULL)
        return NULL;
    va_start(arguments, format);
    (void)vsnprintf(text, (size_t)length + 1, format, arguments);
    va_end(arguments);
    return text;
}

/* redact.c - copying a season without its names; see redact.h. */
#include "report/redact.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/query.h"
#include "report/redact_mend.h"
#include "report/redact_text.h"
#include "schema/asked.h"

struct column {
    char type; /* Text, Real, Integer, Blob; NUL: an integer of what was asked */
    int not_null, is_time, is_level;
    struct redact_column is;
};

struct copying {
    struct store *season, *redacted;
    enum redaction redaction;
    const unsigned char *secret;
    int with_asked;
    struct redact_names names;
    double shift; /* s, taken off times */
    /* of the table at hand */
    const char *table;
    struct column *columns;
    size_t n, capacity;
    struct buffer list, places; /* "run, point", "?1, ?2" */
    struct statement *insert;
    struct buffer cell;
    int has_reduction;
};

static enum status take_column(struct statement *row, void *context, struct fault *fault)
{
    struct copying *copying = context;
    const char *name = statement_text(row, 0);
    void *items = copying->columns;

    struct column *added =
        query_append(&items, &copying->n, &copying->capacity, sizeof *added, fault);
    copying->columns = items;
    if (added == NULL)
        return NO_MEMORY;
    *added =
        (struct column){.type = statement_text(row, 1)[0],
                        .not_null = statement_integer(row, 2) != 0,
                        .is_time = redact_is_time(name),
                        .is_level = copying->redaction == REDACT_LEVELS && redact_is_level(name),
                        .is = redact_column(copying->table, name)};
    copying->has_reduction |= strcmp(name, "reduction") == 0;
    buffer_format(&copying->list, "%s%s", copying->n > 1 ? ", " : "", name);
    buffer_format(&copying->places, "%s?%zu", copying->n > 1 ? ", " : "", copying->n);
    return OK;
}

static enum status copy_text(struct copying *copying, const struct column *column, const char *text,
                             int position, struct fault *fault)
{
    if (text == NULL)
        return OK;
    buffer_clear(&copying->cell);
    enum status status = redact_text(&copying->names, &column->is, text, &copying->cell, fault);
    if (status == OK)
        status = buffer_status(&copying->cell, "a text without names", fault);
    if (status != OK)
        return status;
    return statement_bind_text(copying->insert, position, buffer_string(&copying->cell), fault);
}

static enum status copy_real(const struct copying *copying, const struct column *column,
                             double value, int position, struct fault *fault)
{
    if (column->is_level)
        return OK;
    return statement_bind_real(copying->insert, position,
                               column->is_time ? value - copying->shift : value, fault);
}

/* What is not bound is NULL. Bytes of statistics are what no page reads. */
static enum status copy_cell(struct copying *copying, struct statement *row, size_t i,
                             struct fault *fault)
{
    const struct column *column = &copying->columns[i];
    int position = (int)i + 1;

    if (statement_is_null(row, (int)i))
        return OK;
    if (column->type == 'T')
        return copy_text(copying, column, statement_text(row, (int)i), position, fault);
    if (column->type == 'R')
        return copy_real(copying, column, statement_real(row, (int)i), position, fault);
    if (column->type != 'B')
        return statement_bind_integer(copying->insert, position, statement_integer(row, (int)i),
                                      fault);
    return column->not_null ? statement_bind_blob(copying->insert, position, "", 0, fault) : OK;
}

static enum status take_row(struct statement *row, void *context, struct fault *fault)
{
    struct copying *copying = context;
    enum status status = OK;

    for (size_t i = 0; status == OK && i < copying->n; i++)
        status = copy_cell(copying, row, i, fault);
    return status == OK ? statement_run(copying->insert, fault) : status;
}

/* Current results only; of the settings those that are limits of the program's own, and numbers. Not of the car:
 * a name may be written in digits, and whoever has a car's dimensions knows the car. */
static const char *rows_of(const struct copying *copying)
{
    if (strcmp(copying->table, "reduction") == 0)
        return " WHERE is_current = 1";
    if (strcmp(copying->table, "setting") == 0)
        return " WHERE ((section = 'season' AND name = 'count') OR (section = 'limits' AND name IN "
               "('belt_speed', 'confidence', 'height_residual', 'picture_megabytes', 'q_unsteady', "
               "'trend', 'zero_drift'))) AND value <> '' AND value NOT GLOB '*[^-0-9.+e]*'";
    if (copying->has_reduction)
        return " WHERE reduction IS NULL OR reduction IN (SELECT reduction FROM reduction WHERE "
               "is_current = 1)";
    return "";
}

static enum status copy_rows(struct copying *copying, struct fault *fault)
{
    struct buffer sql = {0};

    buffer_format(&sql, "INSERT INTO %s (%s) VALUES (%s)", copying->table,
                  buffer_string(&copying->list), buffer_string(&copying->places));
    enum status status = buffer_status(&sql, "a statement", fault);
    if (status == OK)
        status = statement_prepare(copying->redacted, buffer_string(&sql), &copying->insert, fault);
    buffer_clear(&sql);
    buffer_format(&sql, "SELECT %s FROM %s%s", buffer_string(&copying->list), copying->table,
                  rows_of(copying));
    if (status == OK)
        status = buffer_status(&sql, "a statement", fault);
    if (status == OK)
        status = query_each(copying->season, buffer_string(&sql), NULL, take_row, copying, fault);
    statement_free(copying->insert);
    copying->insert = NULL;
    buffer_free(&sql);
    return status;
}

static enum status copy_table(struct copying *copying, const char *table, struct fault *fault)
{
    const char *texts[] = {table, NULL};

    copying->table = table;
    copying->n = 0;
    copying->has_reduction = 0;
    buffer_clear(&copying->list);
    buffer_clear(&copying->places);
    /* Both have the same tables; a season that may only be read does not describe itself. */
    enum status status =
        query_each(copying->redacted, "SELECT name, type, \"notnull\" FROM pragma_table_info(?1)",
                   texts, take_column, copying, fault);
    return status == OK ? copy_rows(copying, fault) : status;
}

static enum status take_table(struct statement *row, void *context, struct fault *fault)
{
    struct copying *copying = context;
    const char *table = statement_text(row, 0);

    return redact_takes(table, copying->redaction) ? copy_table(copying, table, fault) : OK;
}

/* The tables of what was asked, but the words of the question itself. */
static enum status copy_asked(struct copying *copying, struct fault *fault)
{
    static const char *const tables[] = {
        "asked_delta",     "asked_ratio",   "asked_equal_balance", "asked_package",
        "asked_stability", "asked_variant", "asked_exclusion",     "asked_reduction"};

    enum status status = asked_make(copying->redacted, fault);
    for (size_t i = 0; status == OK && i < sizeof tables / sizeof tables[0]; i++)
        status = copy_table(copying, tables[i], fault);
    return status;
}

/* The attitude of the pressure maps is a name in a setting. */
static enum status copy_map_attitude(struct copying *copying, struct fault *fault)
{
    struct text_pool texts = {0};
    const char *name = "";
    struct statement *insert = NULL;

    enum status status =
        query_text(copying->season,
                   "SELECT value FROM setting WHERE section = 'season' AND name = 'map_attitude'",
                   NULL, &texts, &name, fault);
    buffer_clear(&copying->cell);
    if (status == OK)
        status = redact_name(&copying->names, REDACT_TARGET, name, &copying->cell, fault);
    if (status == OK && name[0] != '\0')
        status = statement_prepare(copying->redacted,
                                   "INSERT INTO setting VALUES ('season', 'map_attitude', ?1, '')",
                                   &insert, fault);
    if (status == OK && insert != NULL)
        status = statement_bind_text(insert, 1, buffer_string(&copying->cell), fault);
    if (status == OK && insert != NULL)
        status = statement_run(insert, fault);
    statement_free(insert);
    text_pool_free(&texts);
    return status;
}

static enum status copy_all(struct copying *copying, struct fault *fault)
{
    enum status status = query_real(copying->season,
                                    "SELECT 86400.0 * CAST(min(start_s) / 86400 AS INTEGER) - "
                                    "strftime('%s', '2000-01-01') FROM run",
                                    NULL, &copying->shift, fault);

    if (!isfinite(copying->shift))
        copying->shift = 0;
    if (status == OK)
        status = redact_names_open(copying->season, copying->redacted, copying->secret,
                                   &copying->names, fault);
    if (status == OK)
        status = query_each(copying->season,
                            "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name",
                            NULL, take_table, copying, fault);
    if (status == OK)
        status = copy_map_attitude(copying, fault);
    if (status == OK)
        status = redact_mend(copying->redacted, copying->redaction, fault);
    return status == OK && copying->with_asked ? copy_asked(copying, fault) : status;
}

static enum status copy_season(struct copying *copying, struct fault *fault)
{
    enum status status = store_execute(copying->redacted, "PRAGMA foreign_keys = OFF", fault);

    if (status == OK)
        status = store_begin(copying->redacted, fault);
    if (status == OK)
        status = copy_all(copying, fault);
    redact_names_end(&copying->names);
    free(copying->columns);
    buffer_free(&copying->list);
    buffer_free(&copying->places);
    buffer_free(&copying->cell);
    return status == OK ? store_commit(copying->redacted, fault) : status;
}

enum status redact_open(struct store *season, const struct redact_how *how, struct store **redacted,
                        struct fault *fault)
{
    struct copying copying = {.season = season,
                              .redaction = how->redaction,
                              .secret = how->secret,
                              .with_asked = how->with_asked};

    *redacted = NULL;
    enum status status = store_open("", STORE_CREATE, &copying.redacted, fault);
    if (status != OK)
        return status;
    status = copy_season(&copying, fault);
    if (status != OK) {
        (void)store_close(copying.redacted, NULL);
        return status;
    }
    *redacted = copying.redacted;
    return OK;
}

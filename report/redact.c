/* redact.c - copying a season without its names; see redact.h. */
#include "report/redact.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/csv_out.h"
#include "report/query.h"
#include "report/redact_text.h"

struct column {
    char type; /* of STRICT tables: Text, Real, Integer, Blob */
    int not_null, is_time, is_level;
    struct redact_column is;
};

struct copying {
    struct store *season, *redacted;
    enum redaction redaction;
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
    if (column->type == 'I')
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

/* Current results only; of the settings numbers whose names are the program's. */
static const char *rows_of(const struct copying *copying)
{
    if (strcmp(copying->table, "reduction") == 0)
        return " WHERE is_current = 1";
    if (strcmp(copying->table, "setting") == 0)
        return " WHERE (section IN ('car', 'limits') OR (section = 'season' AND name = 'count')) "
               "AND value <> '' AND value NOT GLOB '*[^-0-9.+e]*'";
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

static enum status take_table(struct statement *row, void *context, struct fault *fault)
{
    struct copying *copying = context;
    const char *texts[] = {statement_text(row, 0), NULL};

    copying->table = texts[0];
    if (!redact_takes(copying->table, copying->redaction))
        return OK;
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

/* In the copy, where names are gone: what is made of columns that were emptied. */
static const char mend_sql[] =
    "UPDATE run SET start_text = strftime('%Y-%m-%dT%H:%M:%SZ', start_s, 'unixepoch');"
    "UPDATE run SET reason = 'reason withheld' WHERE state <> 'ok';"
    "UPDATE log SET mtime_ns = 0;"
    "INSERT INTO setting VALUES ('season', 'season', 'Redacted season', '');"
    "INSERT INTO setting VALUES ('redaction', 'names', 'Names are exchanged for ids. What people "
    "wrote, file names, hashes and settings in words are left out. Days are counted from "
    "2000-01-01, "
    "the day of the first run.', '')";

static const char detail_sql[] =
    "UPDATE flag_row SET detail = CASE WHEN value IS NULL THEN 'Detail withheld.' ELSE "
    "trim(printf('%.4g %s', value, unit)) || CASE WHEN limit_value IS NULL THEN '.' ELSE "
    "trim(printf('; limit %.4g %s', limit_value, unit)) || '.' END END";

static const char levels_sql[] =
    "UPDATE flag_row SET value = NULL, limit_value = NULL, detail = 'Detail withheld.';"
    "CREATE TEMP TABLE level (reduction, quantity, target, mean, PRIMARY KEY (reduction, quantity, "
    "target));"
    "INSERT INTO level SELECT o.reduction, o.quantity, o.target, avg(o.value) FROM observation AS "
    "o JOIN configuration AS c ON c.configuration = o.configuration AND c.baseline = "
    "o.configuration GROUP BY o.reduction, o.quantity, o.target;"
    "DELETE FROM observation WHERE NOT EXISTS (SELECT 1 FROM level AS l WHERE l.reduction = "
    "observation.reduction AND l.quantity = observation.quantity AND l.target = "
    "observation.target);"
    "UPDATE observation SET value = value - l.mean, baseline_here = baseline_here - l.mean FROM "
    "level AS l WHERE l.reduction = observation.reduction AND l.quantity = observation.quantity "
    "AND l.target = observation.target;"
    "DROP TABLE level;"
    "INSERT INTO setting VALUES ('redaction', 'levels', 'Absolute coefficients and loads are left "
    "out; a run''s value is given less the mean of its baseline.', '')";

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
        status = redact_names_open(copying->season, copying->redacted, &copying->names, fault);
    if (status == OK)
        status = query_each(copying->season,
                            "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name",
                            NULL, take_table, copying, fault);
    if (status == OK)
        status = copy_map_attitude(copying, fault);
    if (status == OK)
        status = store_execute(copying->redacted, mend_sql, fault);
    if (status == OK)
        status = store_execute(copying->redacted, detail_sql, fault);
    if (status == OK && copying->redaction == REDACT_LEVELS)
        status = store_execute(copying->redacted, levels_sql, fault);
    return status;
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

enum status redact_open(struct store *season, enum redaction redaction, struct store **redacted,
                        struct fault *fault)
{
    struct copying copying = {.season = season, .redaction = redaction};

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

static const struct csv_column key_columns[] = {
    {"kind", "", CSV_TEXT},
    {"name", "in the season", CSV_TEXT},
    {"id", "in the redacted report", CSV_TEXT},
};

enum status redact_key(struct store *redacted, struct buffer *out, struct fault *fault)
{
    static const struct csv_table key = {"redaction key",
                                         "SELECT kind, name, id FROM redacted_name ORDER BY number",
                                         key_columns, sizeof key_columns / sizeof key_columns[0]};

    return csv_write(redacted, &key, out, fault);
}

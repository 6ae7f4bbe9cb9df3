/* token_season.c - see token_season.h. */
#include "tests/token_season.h"

#include <stdio.h>
#include <string.h>

#include "report/query.h"

/* What is made of a column: %1 the mark, %2 the column. */
enum kind { NAME, LIST, FREE, VOCABULARY, SUBJECT, SECTION, VALUE, BECAUSE, VARIANT, SKIPPED };

static const struct {
    const char *table; /* NULL: wherever it is */
    const char *columns;
    enum kind kind;
} lists[] = {
    {"reduction", " subject ", SUBJECT},
    {"setting", " section ", SECTION},
    {"setting", " value ", VALUE},
    {"setting", " name unit ", VOCABULARY},
    {"correction_method", " method equation evidence source not_verified ", VOCABULARY},
    {"flag_rule", " sentence consequence action ", VOCABULARY},
    {"data_dictionary", " object name unit sign meaning source ", VOCABULARY},
    {"run", " reason ", FREE},
    {"observation", " runs ", LIST},
    {"point_budget", " untold ", LIST},
    {"uncertainty_source", " source ", NAME},
    {"delta_budget", " source ", NAME},
    {"log", " map file ", NAME},
    {"calibration_load", " load ", VOCABULARY},
    {"calibration", " load term ", VOCABULARY},
    {"delta_result", " reason ", BECAUSE},
    {"delta_ratio", " reason ", BECAUSE},
    {"trimmed_delta", " reason ", BECAUSE},
    {"package_delta", " reason ", BECAUSE},
    {"robustness", " variant ", VARIANT},
    {"repeat_pair_result", " quantity ", NAME},
    {"repeat_result", " quantity ", NAME},
    {NULL,
     " configuration parent baseline part run tare_run earlier_run later_run earlier_point "
     "later_point facility entry target point tap tap_a tap_b "
     "tap_c surface balance mounting metric device column_name who subject ",
     NAME},
    {NULL, " decided_by parts ", LIST},
    {NULL,
     " change note why decided detail found evidence block zero tare sha256 key inputs ingest_key "
     "start_text drag_contains downforce_contains unit written_unit setting_unit output_unit file "
     "source ",
     FREE},
    {NULL,
     " quantity role state rule_state rule decision kind better stage step method level basis "
     "reach "
     "shape input noise_source verdict verdict_with verdict_without stability form reason "
     "not_tested ",
     VOCABULARY},
};

/* The kind of a column; SKIPPED when nobody said. */
static enum kind kind_of(const char *table, const char *column)
{
    char word[80];
    (void)snprintf(word, sizeof word, " %s ", column);
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++)
        if ((lists[i].table == NULL || strcmp(lists[i].table, table) == 0) &&
            strstr(lists[i].columns, word) != NULL)
            return lists[i].kind;
    return SKIPPED;
}

/* MARK is put in for the mark and COLUMN for the column. */
static const char *const makes[] = {
    [NAME] =
        "CASE WHEN COLUMN IN ('', 'weighted', 'any') THEN COLUMN ELSE 'MARK' || hex(COLUMN) END",
    [LIST] = "CASE WHEN COLUMN = '' THEN '' ELSE (SELECT group_concat('MARK' || hex(value), "
             "iif(instr(COLUMN, '; ') > 0, '; ', ', ')) FROM json_each('[\"' || "
             "replace(replace(COLUMN, '; ', '\",\"'), ', ', '\",\"') || '\"]')) END",
    [FREE] = "'MARK' || 'words'",
    [SUBJECT] = "(SELECT group_concat('MARK' || hex(value), '/') FROM json_each('[\"' || "
                "replace(COLUMN, '/', '\",\"') || '\"]'))",
    [SECTION] =
        "CASE WHEN COLUMN LIKE 'facility %' THEN 'facility MARK' || hex(substr(COLUMN, 10)) "
        "ELSE COLUMN END",
    [VALUE] = "CASE WHEN name = 'map_attitude' THEN 'MARK' || hex(COLUMN) WHEN COLUMN GLOB "
              "'*[a-zA-Z]*' THEN 'MARK' || 'setting' ELSE COLUMN END",
    [BECAUSE] = "'as ' || baseline || ' says'",
    [VARIANT] = "CASE WHEN COLUMN LIKE 'without return %' THEN 'without return MARK' || "
                "hex(substr(COLUMN, 16)) ELSE COLUMN END",
};

static void expand(const char *make, const char *mark, const char *column, char *out, size_t size)
{
    size_t used = 0;
    while (*make != '\0' && used + 80 < size) {
        int is_mark = strncmp(make, "MARK", 4) == 0;
        int is_column = strncmp(make, "COLUMN", 6) == 0;
        if (is_mark || is_column)
            used += (size_t)snprintf(out + used, size - used, "%s", is_mark ? mark : column);
        else
            out[used++] = *make;
        make += is_mark ? 4 : is_column ? 6 : 1;
    }
    out[used] = '\0';
}

struct making {
    const char *mark;
    char *sql; /* a statement each column of tables */
    size_t size, used;
    char *unknown;
    size_t unknown_size;
};

static enum status take_column(struct statement *row, void *context, struct fault *fault)
{
    struct making *making = context;
    const char *table = statement_text(row, 0);
    const char *column = statement_text(row, 1);
    enum kind kind = kind_of(table, column);
    char value[900];
    (void)fault;
    if (kind == SKIPPED && making->unknown != NULL) {
        size_t used = strlen(making->unknown);
        (void)snprintf(making->unknown + used, making->unknown_size - used, "%s.%s ", table,
                       column);
    }
    if (kind == SKIPPED || kind == VOCABULARY || making->sql == NULL ||
        strcmp(table, "flag_rule") == 0 || strcmp(table, "data_dictionary") == 0)
        return OK;
    expand(makes[kind], making->mark, column, value, sizeof value);
    making->used += (size_t)snprintf(making->sql + making->used, making->size - making->used,
                                     "UPDATE %s SET %s = %s WHERE %s IS NOT NULL;", table, column,
                                     value, column);
    return OK;
}

/* What stands on another column is made before that column is. */
static const char columns_sql[] =
    "SELECT t.name, c.name FROM sqlite_schema AS t, pragma_table_info(t.name) AS c WHERE t.type = "
    "'table' AND c.type = 'TEXT' ORDER BY c.name IN ('reason') , t.name, c.cid";

enum status token_season_make(struct store *store, const char *mark, struct fault *fault)
{
    static char sql[65536];
    struct making making = {.mark = mark, .sql = sql, .size = sizeof sql};
    sql[0] = '\0';
    enum status status = query_each(store, columns_sql, NULL, take_column, &making, fault);
    if (status == OK)
        status = store_execute(store, "PRAGMA foreign_keys = OFF", fault);
    return status == OK ? store_execute(store, sql, fault) : status;
}

enum status token_season_unknown(struct store *store, char *out, size_t size, struct fault *fault)
{
    struct making making = {.unknown = out, .unknown_size = size};
    out[0] = '\0';
    return query_each(store, columns_sql, NULL, take_column, &making, fault);
}

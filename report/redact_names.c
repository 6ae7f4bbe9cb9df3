/* redact_names.c - see redact_names.h. */
#include "report/redact_names.h"

#include <stdio.h>
#include <string.h>

#include "report/query.h"
#include "report/redact_key.h"
#include "schema/quantity.h"
#include "schema/role.h"

enum {
    TOKEN = 6
}; /* characters of an id, 30 bits: of a thousand names two are alike once in 2000 seasons */
enum { PLAIN = 80 };

struct kind_row {
    const char *word;   /* in the key */
    const char *before; /* the number of an id */
    int digits;         /* of the number, at least */
    const char *kept;   /* a word of the program's that is no name; NULL: none */
    const char *sql;    /* declared names, in their order; a second column: what is said beside */
};

static const struct kind_row kinds[REDACT_KINDS] = {
    [REDACT_CONFIGURATION] = {"configuration", "C", 1, NULL,
                              "SELECT configuration FROM configuration ORDER BY sequence"},
    [REDACT_RUN] = {"run", "R", 2, NULL, "SELECT run FROM run ORDER BY sequence"},
    [REDACT_FACILITY] = {"facility", "F", 1, NULL,
                         "SELECT facility FROM run GROUP BY facility ORDER BY min(sequence)"},
    [REDACT_ENTRY] = {"entry", "E", 1, NULL,
                      "SELECT entry FROM run GROUP BY entry ORDER BY min(sequence)"},
    [REDACT_TARGET] = {"target", "T", 1, "weighted", "SELECT target FROM target ORDER BY sequence"},
    [REDACT_POINT] = {"point", "P", 2, NULL,
                      "SELECT p.point FROM point AS p JOIN run AS r ON r.run = p.run GROUP BY "
                      "p.point ORDER BY min(p.sequence), min(r.sequence), p.point"},
    [REDACT_TAP] = {"tap", "tap ", 3, NULL, "SELECT tap FROM tap ORDER BY sequence"},
    [REDACT_SURFACE] = {"surface", "surface ", 1, NULL,
                        "SELECT surface FROM tap GROUP BY surface ORDER BY min(sequence)"},
    [REDACT_BALANCE] = {"balance", "B", 1, NULL,
                        "SELECT balance FROM run WHERE balance <> '' GROUP BY balance ORDER BY "
                        "min(sequence)"},
    [REDACT_MOUNTING] = {"mounting", "mounting ", 1, NULL,
                         "SELECT mounting FROM run GROUP BY mounting ORDER BY min(sequence)"},
    [REDACT_METRIC] = {"metric", "measure ", 1, NULL,
                       "SELECT metric, quantity FROM metric ORDER BY sequence"},
    [REDACT_DEVICE] = {"device", "device ", 1, NULL,
                       "SELECT device FROM trimmed_delta GROUP BY device ORDER BY device"},
    [REDACT_CHANNEL] = {"channel", "channel ", 1, NULL,
                        "SELECT c.column_name FROM channel AS c JOIN run AS r ON r.run = c.run "
                        "GROUP BY c.column_name ORDER BY min(r.sequence), min(c.position), "
                        "c.column_name"},
    [REDACT_MAP] = {"channel map", "map ", 1, NULL,
                    "SELECT l.map FROM log AS l GROUP BY l.map ORDER BY l.map"},
    [REDACT_LOG] = {"log", "log ", 1, NULL,
                    "SELECT l.file FROM log AS l JOIN run AS r ON r.run = l.run GROUP BY l.file "
                    "ORDER BY min(r.sequence), min(l.position), l.file"},
    [REDACT_SOURCE] = {"source of uncertainty", "source ", 1, NULL,
                       "SELECT source, max(input) FROM uncertainty_source GROUP BY source ORDER "
                       "BY min(position), source"},
    [REDACT_PERSON] = {"person", "person ", 1, NULL,
                       "SELECT who FROM decision GROUP BY who ORDER BY min(sheet_line)"},
};

static enum status add(struct redact_names *names, enum redact_kind kind, const char *name,
                       const char *id, struct fault *fault)
{
    enum status status = statement_bind_text(names->add, 1, kinds[kind].word, fault);

    if (status == OK)
        status = statement_bind_text(names->add, 2, name, fault);
    if (status == OK)
        status = statement_bind_text(names->add, 3, id, fault);
    return status == OK ? statement_run(names->add, fault) : status;
}

static enum status is_taken(struct redact_names *names, const char *id, int *found,
                            struct fault *fault)
{
    enum status status = statement_bind_text(names->taken, 1, id, fault);

    if (status == OK)
        status = statement_step(names->taken, found, fault);
    enum status reset = statement_reset(names->taken, status == OK ? fault : NULL);
    return status != OK ? status : reset;
}

/* "C-7kq3m2"; longer where two names would be alike. */
static enum status plain_token(struct redact_names *names, enum redact_kind kind, const char *name,
                               char plain[PLAIN], struct fault *fault)
{
    const char *before = kinds[kind].before;
    const char *dash = before[strlen(before) - 1] == ' ' ? "" : "-";
    char token[REDACT_TOKEN];
    int found = 1;

    enum status status = redact_token(names->secret, kinds[kind].word, name, token, fault);
    for (int n = TOKEN; status == OK && found && n < REDACT_TOKEN; n++) {
        (void)snprintf(plain, PLAIN, "%s%s%.*s", before, dash, n, token);
        status = is_taken(names, plain, &found, fault);
    }
    return status;
}

/* A column that is called by the program's own word for it is no name. */
static int is_word(enum redact_kind kind, const char *name)
{
    return kind == REDACT_CHANNEL &&
           (quantity_from_symbol(name) != QUANTITY_COUNT || role_from_name(name) != ROLE_COUNT);
}

/* beside: of the program's vocabulary; "" or NULL for nothing. */
static enum status number(struct redact_names *names, enum redact_kind kind, const char *name,
                          const char *beside, struct fault *fault)
{
    char plain[PLAIN];
    char id[PLAIN + 70];
    int has_more = beside != NULL && beside[0] != '\0';
    enum status status = OK;

    if (is_word(kind, name))
        return add(names, kind, name, name, fault);
    if (names->secret != NULL)
        status = plain_token(names, kind, name, plain, fault);
    else
        (void)snprintf(plain, sizeof plain, "%s%0*d", kinds[kind].before, kinds[kind].digits,
                       ++names->count[kind]);
    if (status != OK)
        return status;
    (void)snprintf(id, sizeof id, "%s%s%.60s%s", plain, has_more ? " (" : "",
                   has_more ? beside : "", has_more ? ")" : "");
    return add(names, kind, name, id, fault);
}

struct taking {
    struct redact_names *names;
    enum redact_kind kind;
};

static enum status take_name(struct statement *row, void *context, struct fault *fault)
{
    struct taking *taking = context;
    const char *name = statement_text(row, 0);
    int has_beside = taking->kind == REDACT_METRIC || taking->kind == REDACT_SOURCE;

    if (name == NULL || name[0] == '\0')
        return OK;
    return number(taking->names, taking->kind, name, has_beside ? statement_text(row, 1) : NULL,
                  fault);
}

static enum status prepare(struct redact_names *names, struct fault *fault)
{
    struct store *store = names->store;

    enum status status = store_execute(
        store,
        "CREATE TEMP TABLE redacted_name (number INTEGER PRIMARY KEY, kind TEXT NOT NULL, "
        "name TEXT NOT NULL, id TEXT NOT NULL, lowered TEXT GENERATED ALWAYS AS (lower(name)) "
        "STORED, UNIQUE (kind, name));"
        "CREATE INDEX temp.redacted_any ON redacted_name (name)",
        fault);
    if (status == OK)
        status = statement_prepare(store,
                                   "INSERT INTO redacted_name (kind, name, id) VALUES (?1, ?2, ?3)",
                                   &names->add, fault);
    if (status == OK)
        status =
            statement_prepare(store, "SELECT id FROM redacted_name WHERE kind = ?1 AND name = ?2",
                              &names->find, fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "SELECT id FROM redacted_name WHERE name = ?1 ORDER BY kind NOT IN ('tap', "
            "'channel'), number LIMIT 1",
            &names->any, fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "SELECT 1 FROM redacted_name WHERE length(name) > 1 AND name "
            "GLOB '*[^-0-9.,+ ]*' AND id <> name AND instr(lower(?1), lowered) > 0 LIMIT 1",
            &names->inside, fault);
    if (status == OK)
        status = statement_prepare(store,
                                   "SELECT 1 FROM redacted_name WHERE id = ?1 OR substr(id, 1, "
                                   "length(?1) + 1) = ?1 || ' '",
                                   &names->taken, fault);
    return status;
}

enum status redact_names_open(struct store *season, struct store *redacted,
                              const unsigned char *secret, struct redact_names *names,
                              struct fault *fault)
{
    *names = (struct redact_names){.store = redacted, .season = season, .secret = secret};
    enum status status = prepare(names, fault);
    for (int kind = 0; status == OK && kind < REDACT_KINDS; kind++) {
        struct taking taking = {names, (enum redact_kind)kind};
        status = query_each(season, kinds[kind].sql, NULL, take_name, &taking, fault);
    }
    return status;
}

void redact_names_end(struct redact_names *names)
{
    statement_free(names->find);
    statement_free(names->add);
    statement_free(names->any);
    statement_free(names->inside);
    statement_free(names->taken);
    *names = (struct redact_names){.store = NULL};
}

/* The id that the bound statement finds, or *found 0. */
static enum status take_id(struct statement *statement, struct buffer *out, int *found,
                           struct fault *fault)
{
    enum status status = statement_step(statement, found, fault);

    if (status == OK && *found && out != NULL)
        buffer_text(out, statement_text(statement, 0));
    enum status reset = statement_reset(statement, status == OK ? fault : NULL);
    return status != OK ? status : reset;
}

enum status redact_name(struct redact_names *names, enum redact_kind kind, const char *name,
                        struct buffer *out, struct fault *fault)
{
    int found = 0;

    if (name[0] == '\0')
        return OK;
    if (kinds[kind].kept != NULL && strcmp(kinds[kind].kept, name) == 0) {
        buffer_text(out, name);
        return OK;
    }
    for (int time = 0; time < 2; time++) {
        enum status status = statement_bind_text(names->find, 1, kinds[kind].word, fault);
        if (status == OK)
            status = statement_bind_text(names->find, 2, name, fault);
        if (status == OK)
            status = take_id(names->find, out, &found, fault);
        if (status == OK && !found && time == 0)
            status = number(names, kind, name, NULL, fault);
        if (status != OK || found)
            return status;
    }
    return OK;
}

enum status redact_find_inside(struct redact_names *names, const char *text, int *found,
                               struct fault *fault)
{
    enum status status = statement_bind_text(names->inside, 1, text, fault);

    return status == OK ? take_id(names->inside, NULL, found, fault) : status;
}

enum status redact_known(struct redact_names *names, const char *name, struct buffer *out,
                         int *found, struct fault *fault)
{
    enum status status = statement_bind_text(names->any, 1, name, fault);

    return status == OK ? take_id(names->any, out, found, fault) : status;
}

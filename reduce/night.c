/* night.c - reading the run sheet from the store; see night.h. */
#include "reduce/night.h"

#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

static const char run_sql[] =
    "SELECT run, facility, entry, start_text, configuration, kind, balance, zero, tare, mounting, "
    "ingest_key, start_s, state, "
    "(SELECT min(p.time_s) FROM point AS p WHERE p.run = r.run), "
    "(SELECT max(p.time_s) FROM point AS p WHERE p.run = r.run), "
    "(SELECT p.time_s FROM point AS p WHERE p.run = r.run ORDER BY p.sequence, p.point LIMIT 1) "
    "FROM run AS r ORDER BY sequence, run";

enum { RUN_TEXTS = 11 };

/* The text columns of a run in the order of the query. */
static void run_texts(struct run_row *run, char **fields[RUN_TEXTS])
{
    char **order[RUN_TEXTS] = {&run->run,        &run->facility,      &run->entry,
                               &run->start_text, &run->configuration, &run->kind,
                               &run->balance,    &run->zero,          &run->tare,
                               &run->mounting,   &run->ingest_key};
    memcpy(fields, order, sizeof order);
}

static double time_or(struct statement *statement, int column, double start)
{
    return statement_is_null(statement, column) ? start : statement_real(statement, column);
}

static enum status read_run(struct statement *statement, struct run_row *run, struct fault *fault)
{
    char **fields[RUN_TEXTS];
    run_texts(run, fields);
    for (int i = 0; i < RUN_TEXTS; i++) {
        enum status status = rows_text(statement, i, fields[i], fault);
        if (status != OK)
            return status;
    }
    run->start = statement_real(statement, 11);
    run->earliest = time_or(statement, 13, run->start);
    run->latest = time_or(statement, 14, run->start);
    run->first_point = time_or(statement, 15, run->start);
    const char *state = statement_text(statement, 12);
    run->usable = state != NULL && strcmp(state, "ok") == 0;
    return OK;
}

static enum status read_runs(struct night *night, struct fault *fault)
{
    struct statement *statement = NULL;
    size_t capacity = 0;
    int row = 0;
    enum status status = statement_prepare(night->store, run_sql, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        void *array = night->runs;
        status = array_reserve(&array, &capacity, night->n_runs + 1, sizeof *night->runs, fault);
        night->runs = array;
        if (status != OK)
            break;
        struct run_row *run = &night->runs[night->n_runs++];
        memset(run, 0, sizeof *run);
        status = read_run(statement, run, fault);
    }
    statement_free(statement);
    return status;
}

static enum status read_configurations(struct night *night, struct fault *fault)
{
    struct statement *statement = NULL;
    size_t capacity = 0;
    int row = 0;
    enum status status = statement_prepare(night->store,
                                           "SELECT configuration, baseline FROM configuration "
                                           "ORDER BY sequence, configuration",
                                           &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        void *array = night->configurations;
        status = array_reserve(&array, &capacity, night->n_configurations + 1,
                               sizeof *night->configurations, fault);
        night->configurations = array;
        if (status != OK)
            break;
        struct configuration_row *made = &night->configurations[night->n_configurations++];
        memset(made, 0, sizeof *made);
        status = rows_text(statement, 0, &made->configuration, fault);
        if (status == OK)
            status = rows_text(statement, 1, &made->baseline, fault);
    }
    statement_free(statement);
    return status;
}

enum status night_read(struct store *store, const struct campaign *campaign, struct night *night,
                       struct fault *fault)
{
    memset(night, 0, sizeof *night);
    night->store = store;
    night->campaign = campaign;
    enum status status = read_runs(night, fault);
    if (status == OK)
        status = read_configurations(night, fault);
    if (status == OK)
        status = decisions_read(store, &night->decisions, fault);
    if (status != OK)
        night_end(night);
    return status;
}

static void run_end(struct run_row *run)
{
    char **texts[RUN_TEXTS];
    run_texts(run, texts);
    for (int i = 0; i < RUN_TEXTS; i++) {
        char **text = texts[i];
        free(*text);
    }
}

void night_end(struct night *night)
{
    for (size_t i = 0; i < night->n_runs; i++)
        run_end(&night->runs[i]);
    for (size_t i = 0; i < night->n_configurations; i++) {
        free(night->configurations[i].configuration);
        free(night->configurations[i].baseline);
    }
    free(night->runs);
    free(night->configurations);
    decisions_end(&night->decisions);
    memset(night, 0, sizeof *night);
}

const struct run_row *night_run(const struct night *night, const char *run)
{
    for (size_t i = 0; i < night->n_runs; i++)
        if (strcmp(night->runs[i].run, run) == 0)
            return &night->runs[i];
    return NULL;
}

const char *night_baseline(const struct night *night, const char *configuration)
{
    for (size_t i = 0; i < night->n_configurations; i++)
        if (strcmp(night->configurations[i].configuration, configuration) == 0)
            return night->configurations[i].baseline;
    return configuration;
}

int run_is_wind_on(const struct run_row *run)
{
    return strcmp(run->kind, "wind_on") == 0;
}

int run_same_entry(const struct run_row *a, const struct run_row *b)
{
    return strcmp(a->facility, b->facility) == 0 && strcmp(a->entry, b->entry) == 0;
}

const char *run_differs(const struct run_row *run, const struct run_row *other)
{
    if (strcmp(run->facility, other->facility) != 0)
        return "is of another facility";
    if (strcmp(run->entry, other->entry) != 0)
        return "is of another entry";
    if (strcmp(run->balance, other->balance) != 0)
        return "is of another balance";
    return NULL;
}

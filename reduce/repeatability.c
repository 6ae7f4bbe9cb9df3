/* repeatability.c - pooling what entries say; see repeatability.h. */
#include "reduce/repeatability.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"
#include "reduce/statistics/entry_variance.h"

struct question {
    struct store *store;
    const char *facility, *quantity, *target;
    double before;
};

static enum variance_level level_from_words(const char *words)
{
    unsigned level = 0;
    while (level < VARIANCE_LEVELS && words != NULL &&
           strcmp(variance_level_words((enum variance_level)level), words) != 0)
        level++;
    return words == NULL ? VARIANCE_LEVELS : (enum variance_level)level;
}

/* Binds facility, quantity, target, and, where the statement asks, the moment. */
static enum status ask(const struct question *question, const char *sql, int has_moment,
                       struct statement **statement, struct fault *fault)
{
    const char *const texts[] = {question->facility, question->quantity, question->target};
    double before =
        isinf(question->before) ? copysign(DBL_MAX, question->before) : question->before;
    enum status status = rows_open(question->store, sql, texts, 3, statement, fault);
    if (status == OK && has_moment)
        status = statement_bind_real(*statement, 4, before, fault);
    return status;
}

static void pool_in(struct variance_estimate estimate, struct variance_estimate *pooled)
{
    const struct variance_estimate both[] = {*pooled, estimate};
    *pooled = variance_pool(both, 2);
}

static enum status pool_entries(const struct question *question, struct repeatability *known,
                                struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = ask(
        question,
        "SELECT r.level, r.variance, r.degrees_of_freedom, "
        "dense_rank() OVER (PARTITION BY r.level ORDER BY r.entry), "
        "dense_rank() OVER (ORDER BY r.entry) "
        "FROM reduction AS d JOIN repeatability AS r ON r.reduction = d.reduction AND "
        "r.quantity = ?2 AND r.target = ?3 WHERE d.stage = 'repeatability' AND d.is_current = 1 "
        "AND r.facility = ?1 AND r.started_s < ?4 ORDER BY r.level, r.started_s, d.subject",
        1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        enum variance_level level = level_from_words(statement_text(statement, 0));
        size_t rank = (size_t)statement_integer(statement, 3);
        size_t rank_of_all = (size_t)statement_integer(statement, 4);
        if (level == VARIANCE_LEVELS)
            continue;
        pool_in(
            (struct variance_estimate){statement_real(statement, 1), statement_real(statement, 2)},
            &known->level[level]);
        if (rank > known->level_entries[level])
            known->level_entries[level] = rank;
        if (rank_of_all > known->entries)
            known->entries = rank_of_all;
    }
    statement_free(statement);
    return status;
}

/* The target's own row comes first, and keeps that for any out. */
static enum status pool_declared(const struct question *question, struct repeatability *known,
                                 struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status =
        ask(question,
            "SELECT level, standard_deviation, degrees_of_freedom FROM repeatability_declared "
            "WHERE facility = ?1 AND quantity = ?2 AND target IN (?3, 'any') "
            "ORDER BY target = 'any', level",
            0, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        enum variance_level level = level_from_words(statement_text(statement, 0));
        double deviation = statement_real(statement, 1);
        if (level == VARIANCE_LEVELS || known->declared[level])
            continue;
        pool_in((struct variance_estimate){deviation * deviation, statement_real(statement, 2)},
                &known->level[level]);
        known->declared[level] = 1;
    }
    statement_free(statement);
    return status;
}

struct cell_list {
    struct entry_cell *cells;
    size_t n, capacity;
    size_t configurations, entries;
};

static enum status read_cells(const struct question *question, struct cell_list *list,
                              struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status =
        ask(question,
            "SELECT dense_rank() OVER (ORDER BY m.configuration), dense_rank() OVER (ORDER BY "
            "m.entry), m.mountings, m.mean FROM reduction AS d JOIN entry_mean AS m ON m.reduction "
            "= d.reduction AND m.quantity = ?2 AND m.target = ?3 WHERE d.stage = 'repeatability' "
            "AND d.is_current = 1 AND m.facility = ?1 AND m.started_s < ?4 "
            "ORDER BY m.started_s, m.entry, m.configuration",
            1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        void *array = list->cells;
        status = array_reserve(&array, &list->capacity, list->n + 1, sizeof *list->cells, fault);
        list->cells = array;
        if (status != OK)
            break;
        struct entry_cell cell = {(size_t)statement_integer(statement, 0) - 1,
                                  (size_t)statement_integer(statement, 1) - 1,
                                  statement_real(statement, 2), statement_real(statement, 3)};
        list->cells[list->n++] = cell;
        list->configurations += cell.configuration >= list->configurations
                                    ? cell.configuration + 1 - list->configurations
                                    : 0;
        list->entries += cell.entry >= list->entries ? cell.entry + 1 - list->entries : 0;
    }
    statement_free(statement);
    return status;
}

/* Entries with a configuration that was in another one too. */
static size_t count_shared(const struct cell_list *list)
{
    size_t count = 0;
    for (size_t e = 0; e < list->entries; e++) {
        int is_shared = 0;
        for (size_t i = 0; !is_shared && i < list->n; i++)
            for (size_t j = 0; !is_shared && list->cells[i].entry == e && j < list->n; j++)
                is_shared = list->cells[j].entry != e &&
                            list->cells[j].configuration == list->cells[i].configuration;
        count += (size_t)is_shared;
    }
    return count;
}

static enum status find_new_entry(const struct question *question, struct repeatability *known,
                                  struct fault *fault)
{
    struct cell_list list = {NULL, 0, 0, 0, 0};
    struct variance_estimate single = {(double)NAN, 0};
    enum status status = read_cells(question, &list, fault);
    if (status == OK &&
        entry_variance(list.cells, list.n, list.configurations, list.entries,
                       known->level[VARIANCE_REFITTED], &single) == OUTCOME_NO_MEMORY)
        status = FAIL(fault, NO_MEMORY, "no memory for the means of %zu entries", list.entries);
    size_t entries = count_shared(&list);
    free(list.cells);
    if (status != OK || !(single.freedom > 0))
        return status;
    known->level[VARIANCE_NEW_ENTRY] = single;
    known->level_entries[VARIANCE_NEW_ENTRY] = entries;
    known->entries = entries > known->entries ? entries : known->entries;
    return OK;
}

enum status repeatability_read(struct store *store, const char *facility, const char *quantity,
                               const char *target, double before, struct repeatability *known,
                               struct fault *fault)
{
    const struct question question = {store, facility, quantity, target, before};
    struct repeatability declared;
    memset(known, 0, sizeof *known);
    for (int i = 0; i < VARIANCE_LEVELS; i++)
        known->level[i].variance = (double)NAN;
    declared = *known;
    enum status status = pool_entries(&question, known, fault);
    if (status == OK)
        status = pool_declared(&question, &declared, fault);
    if (status != OK)
        return status;
    /* The refit's before the new entry's, which is made with it. */
    for (int i = 0; i < VARIANCE_NEW_ENTRY; i++)
        pool_in(declared.level[i], &known->level[i]);
    status = find_new_entry(&question, known, fault);
    pool_in(declared.level[VARIANCE_NEW_ENTRY], &known->level[VARIANCE_NEW_ENTRY]);
    memcpy(known->declared, declared.declared, sizeof known->declared);
    return status;
}

double repeatability_entry_start(const struct night *night, const struct run_row *of)
{
    double start = of->start;
    for (size_t i = 0; i < night->n_runs; i++)
        if (run_same_entry(&night->runs[i], of))
            start = fmin(start, night->runs[i].start);
    return start;
}

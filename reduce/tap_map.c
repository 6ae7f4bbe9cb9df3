/* tap_map.c - mean tap pressures at a target; see tap_map.h. */
#include "reduce/tap_map.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

static const char cp_sql[] =
    "SELECT c.tap, c.cp FROM reduction AS td "
    "JOIN target_result AS t ON t.reduction = td.reduction "
    "JOIN reduction AS pd ON pd.stage = 'point' AND pd.subject = t.run AND pd.is_current = 1 "
    "JOIN tap_result AS c ON c.reduction = pd.reduction AND c.point = t.point "
    "WHERE td.stage = 'target' AND td.subject = ?1 AND td.is_current = 1 AND t.run = ?2 "
    "AND t.target = ?3 AND t.is_used = 1 AND c.state = 'ok' AND c.cp IS NOT NULL "
    "ORDER BY t.point, c.tap";

static enum status read_taps(const struct night *night, struct tap_map *map, struct fault *fault)
{
    struct statement *statement = NULL;
    size_t capacity = 0;
    int row = 0;
    enum status status = statement_prepare(
        night->store, "SELECT tap, surface, x_m, y_m FROM tap ORDER BY sequence, tap", &statement,
        fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        void *array = map->taps;
        status = array_reserve(&array, &capacity, map->n_taps + 1, sizeof *map->taps, fault);
        map->taps = array;
        if (status != OK)
            break;
        struct map_tap *tap = &map->taps[map->n_taps++];
        memset(tap, 0, sizeof *tap);
        tap->x = statement_real(statement, 2);
        tap->y = statement_real(statement, 3);
        status = rows_text(statement, 0, &tap->tap, fault);
        if (status == OK)
            status = rows_text(statement, 1, &tap->surface, fault);
    }
    statement_free(statement);
    return status;
}

/* Taps come back sorted by name, so the search starts where the last one was found. */
static size_t tap_index(const struct tap_map *map, const char *name, size_t start)
{
    for (size_t i = 0; i < map->n_taps; i++) {
        size_t at = (start + i) % map->n_taps;
        if (strcmp(map->taps[at].tap, name) == 0)
            return at;
    }
    return map->n_taps;
}

static enum status read_run(const struct night *night, const struct run_row *run,
                            const char *target, const struct tap_map *map, double *sum,
                            size_t *count, struct fault *fault)
{
    struct statement *statement = NULL;
    char *subject = NULL;
    size_t last = 0;
    int row = 0;
    enum status status = group_subject(run, run->configuration, &subject, fault);
    if (status == OK)
        status = rows_open(night->store, cp_sql, (const char *const[]){subject, run->run, target},
                           3, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        const char *name = statement_text(statement, 0);
        size_t at = tap_index(map, name == NULL ? "" : name, last);
        if (at == map->n_taps)
            continue;
        sum[at] += statement_real(statement, 1);
        count[at]++;
        last = at;
    }
    statement_free(statement);
    free(subject);
    return status;
}

static enum status read_runs(const struct night *night, const struct run_group *group,
                             const char *target, struct tap_map *map, struct fault *fault)
{
    void *cp = NULL;
    void *count = NULL;
    enum status status = array_make(&cp, group->n_runs * map->n_taps, sizeof *map->cp, fault);
    map->cp = cp;
    if (status == OK)
        status = array_make(&count, map->n_taps, sizeof(size_t), fault);
    size_t *counts = count;
    for (size_t i = 0; status == OK && i < group->n_runs; i++) {
        double *sum = &map->cp[i * map->n_taps];
        memset(counts, 0, map->n_taps * sizeof *counts);
        status = read_run(night, group->runs[i], target, map, sum, counts, fault);
        for (size_t k = 0; status == OK && k < map->n_taps; k++)
            sum[k] = counts[k] == 0 ? (double)NAN : sum[k] / (double)counts[k];
    }
    free(counts);
    return status;
}

enum status tap_map_read(const struct night *night, const struct run_group *group,
                         const char *target, struct tap_map *map, struct fault *fault)
{
    memset(map, 0, sizeof *map);
    map->n_runs = group->n_runs;
    enum status status = read_taps(night, map, fault);
    if (status == OK)
        status = read_runs(night, group, target, map, fault);
    if (status != OK)
        tap_map_end(map);
    return status;
}

void tap_map_end(struct tap_map *map)
{
    for (size_t i = 0; i < map->n_taps; i++) {
        free(map->taps[i].tap);
        free(map->taps[i].surface);
    }
    free(map->taps);
    free(map->cp);
    memset(map, 0, sizeof *map);
}

struct tap_mean tap_map_mean(const struct tap_map *map, const struct run_group *group,
                             const char *configuration, size_t tap)
{
    struct tap_mean made = {0, 0};
    for (size_t i = 0; i < map->n_runs; i++) {
        double cp = map->cp[i * map->n_taps + tap];
        if (isnan(cp) || strcmp(group->runs[i]->configuration, configuration) != 0)
            continue;
        made.mean += cp;
        made.runs++;
    }
    made.mean = made.runs == 0 ? (double)NAN : made.mean / (double)made.runs;
    return made;
}

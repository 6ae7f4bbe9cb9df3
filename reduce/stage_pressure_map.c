/* stage_pressure_map.c - pressure maps of one family; see stage_pressure_map.h. */
#include "reduce/stage_pressure_map.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/map_triangles.h"
#include "reduce/reductions.h"
#include "reduce/rows.h"
#include "reduce/tap_change.h"

static const char method_version[] =
    "mean of runs, change bracketed by mounting and tested, Delaunay in plan view v3";

/* The declared map attitude, else the main one, else (weighted) the target of the largest weight. */
static const char *map_target(const struct campaign *campaign)
{
    const struct attitudes *attitudes = &campaign->attitudes;
    const char *named =
        campaign->map_attitude != NULL ? campaign->map_attitude : campaign->main_attitude;
    const struct target *heaviest = attitudes->n_targets == 0 ? NULL : &attitudes->targets[0];
    for (size_t i = 0; i < attitudes->n_targets; i++) {
        if (named != NULL && strcmp(attitudes->targets[i].name, named) == 0)
            return named;
        if (attitudes->targets[i].weight > heaviest->weight)
            heaviest = &attitudes->targets[i];
    }
    return heaviest == NULL ? "" : heaviest->name;
}

static enum status add_taps(const struct night *night, struct key_text *key, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = statement_prepare(
        night->store, "SELECT tap, surface, x_m, y_m FROM tap ORDER BY sequence, tap", &statement,
        fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        const char *tap = statement_text(statement, 0);
        const char *surface = statement_text(statement, 1);
        const double place[] = {statement_real(statement, 2), statement_real(statement, 3)};
        key_text_word(key, "tap", tap == NULL ? "" : tap);
        key_text_word(key, "  surface", surface == NULL ? "" : surface);
        key_text_numbers(key, "  x y [m]", place, 2);
    }
    statement_free(statement);
    return status;
}

static enum status make_key(const struct night *night, const struct run_group *group,
                            const char *target, struct key_text *key, struct fault *fault)
{
    enum status status = OK;
    memset(key, 0, sizeof *key);
    key_text_word(key, "baseline", group->name);
    key_text_word(key, "map attitude", target);
    for (size_t i = 0; status == OK && i < group->n_runs; i++) {
        const struct run_row *run = group->runs[i];
        char *subject = NULL;
        key_text_word(key, "configuration", run->configuration);
        status = reduction_key_add(night->store, "point", run->run, key, fault);
        if (status == OK)
            status = group_subject(run, run->configuration, &subject, fault);
        if (status == OK)
            status = reduction_key_add(night->store, "target", subject, key, fault);
        free(subject);
    }
    family_key_order(night, group->runs[0], key);
    if (status == OK)
        status = add_taps(night, key, fault);
    key_text_word(key, "method pressure map", method_version);
    return status == OK ? key_text_status(key, fault) : status;
}

struct map_work {
    const struct night *night;
    const struct run_group *group;
    const char *target;
    struct tap_map map;
    struct family family;
    struct tap_changes changes; /* empty when the target is not one of the family's measures */
    struct statement *insert;
    struct triangle_writer triangles;
    int64_t reduction;
};

/* The change of a tap; nothing where the attitude is not among the family's measures. */
static struct tap_change change_of(const struct map_work *work, size_t configuration, size_t tap)
{
    const double none = (double)NAN;
    if (work->changes.changes != NULL)
        return work->changes.changes[configuration * work->changes.n_taps + tap];
    return (struct tap_change){none, none, none,
                               none, none, configuration == 0 ? TAP_OF_BASELINE : TAP_NOT_COMPARED};
}

static enum status write_tap(struct map_work *work, size_t configuration, size_t tap,
                             struct tap_mean *mean, struct fault *fault)
{
    const char *name = work->family.configurations[configuration];
    *mean = tap_map_mean(&work->map, work->group, name, tap);
    const struct tap_change change = change_of(work, configuration, tap);
    const char *const texts[] = {name, work->target, work->map.taps[tap].tap};
    const double values[] = {mean->mean,     change.delta, change.uncertainty,
                             change.freedom, change.p,     change.q};
    enum status status = statement_bind_integer(work->insert, 1, work->reduction, fault);
    for (int i = 0; status == OK && i < 3; i++)
        status = statement_bind_text(work->insert, 2 + i, texts[i], fault);
    for (int i = 0; status == OK && i < 6; i++)
        status = statement_bind_real(work->insert, 5 + i, values[i], fault);
    if (status == OK)
        status = statement_bind_text(work->insert, 11, tap_test_reason(change.test), fault);
    if (status == OK)
        status = statement_bind_integer(work->insert, 12, (int64_t)mean->runs, fault);
    return status == OK ? statement_run(work->insert, fault) : status;
}

static enum status map_configuration(struct map_work *work, size_t configuration,
                                     struct fault *fault)
{
    void *array = NULL;
    enum status status = array_make(&array, work->map.n_taps, sizeof(int), fault);
    int *is_live = array;
    for (size_t tap = 0; status == OK && tap < work->map.n_taps; tap++) {
        struct tap_mean mean = {0, 0};
        status = write_tap(work, configuration, tap, &mean, fault);
        is_live[tap] = mean.runs > 0;
    }
    if (status == OK)
        status = triangles_write(&work->triangles, work->family.configurations[configuration],
                                 work->target, &work->map, is_live, fault);
    free(is_live);
    return status;
}

static enum status compare_taps(struct map_work *work, struct fault *fault)
{
    enum status status = family_read(work->night, work->group, BASIS_STANDS, &work->family, fault);
    if (status != OK)
        return status;
    size_t measure = family_measure(&work->family, work->target);
    if (measure == work->family.n_measures)
        return OK;
    return tap_changes_make(&work->family, measure, &work->map, &work->changes, fault);
}

/* 1 for the first run of its configuration in the group: each is mapped once. */
static int is_first(const struct run_group *group, size_t run)
{
    for (size_t i = 0; i < run; i++)
        if (strcmp(group->runs[i]->configuration, group->runs[run]->configuration) == 0)
            return 0;
    return 1;
}

static enum status map_family(struct map_work *work, struct fault *fault)
{
    struct store *store = work->night->store;
    enum status status = tap_map_read(work->night, work->group, work->target, &work->map, fault);
    if (status == OK)
        status = compare_taps(work, fault);
    if (status == OK)
        status = triangle_writer_open(store, work->reduction, &work->triangles, fault);
    if (status == OK)
        status = statement_prepare(store,
                                   "INSERT INTO map_tap (reduction, configuration, target, tap, "
                                   "cp, delta_cp, delta_cp_u, degrees_of_freedom, p_value, "
                                   "q_value, not_tested, runs) VALUES (?,?,?,?,?,?,?,?,?,?,?,?)",
                                   &work->insert, fault);
    for (size_t i = 0; status == OK && i < work->group->n_runs; i++)
        if (is_first(work->group, i))
            status = map_configuration(work, work->family.runs[i].configuration, fault);
    statement_free(work->insert);
    triangle_writer_end(&work->triangles);
    tap_changes_end(&work->changes);
    family_end(&work->family);
    tap_map_end(&work->map);
    return status;
}

enum status stage_pressure_map(const struct night *night, const struct run_group *group, int *fresh,
                               struct fault *fault)
{
    struct key_text key;
    struct map_work work;
    memset(&work, 0, sizeof work);
    work.night = night;
    work.group = group;
    work.target = map_target(night->campaign);
    *fresh = 0;
    enum status status = make_key(night, group, work.target, &key, fault);
    if (status == OK)
        status = store_reduction(night->store, "pressure_map", group->subject, key.text,
                                 &work.reduction, fresh, fault);
    key_text_end(&key);
    if (status != OK || !*fresh)
        return status;
    return map_family(&work, fault);
}

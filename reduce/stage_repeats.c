/* stage_repeats.c - see stage_repeats.h. */
#include "reduce/stage_repeats.h"

#include <stdio.h>
#include <string.h>

#include "reduce/reductions.h"
#include "reduce/stated_rows.h"
#include "reduce/rows.h"
#include "schema/entry.h"
#include "schema/flag.h"

static const char method_version[] = "each point in one pair, the nearest, binomial and t v1";

static enum status make_key(const struct night *night, const struct record_group *group,
                            struct key_text *key, struct fault *fault)
{
    const struct campaign *campaign = night->campaign;
    enum status status = OK;
    memset(key, 0, sizeof *key);
    for (size_t i = 0; i < campaign->repeats.n; i++) {
        key_text_word(key, "match", campaign->repeats.matches[i].channel);
        key_text_number(key, "  within", campaign->repeats.matches[i].tolerance);
    }
    key_text_numbers(key, "attitude within", campaign->attitudes.tolerance, ATTITUDE_COUNT);
    for (size_t i = 0; status == OK && i < group->n_runs; i++) {
        const struct run_row *run = group->runs[i];
        key_text_word(key, "run", run->run);
        key_text_word(key, "  kind", run->kind);
        key_text_word(key, "  configuration", run->configuration);
        key_text_number(key, "  start [s]", run->start);
        key_text_word(key, "  ingest key", run->ingest_key);
        if (run_is_wind_on(run))
            status = reduction_key_add(night->store, "point", run->run, key, fault);
    }
    key_text_word(key, "method repeats", method_version);
    return status == OK ? key_text_status(key, fault) : status;
}

static enum status compare(struct stated_rows *rows, const struct stated_points *points,
                           struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < points->n_quantities; i++) {
        struct stated_pairs pairs;
        status = stated_pairs_make(points, &points->quantities[i], &pairs, fault);
        if (status != OK)
            return status;
        status = stated_rows_write(rows, points, &points->quantities[i], &pairs, fault);
        stated_pairs_end(&pairs);
    }
    return status;
}

enum status stage_repeats(const struct night *night, const struct record_group *group, int *fresh,
                          struct fault *fault)
{
    struct key_text key;
    struct stated_points points;
    struct stated_rows rows;
    int64_t reduction = 0;
    *fresh = 0;
    enum status status = make_key(night, group, &key, fault);
    if (status == OK)
        status = store_reduction(night->store, "repeats", group->subject, key.text, &reduction,
                                 fresh, fault);
    key_text_end(&key);
    if (status != OK || !*fresh)
        return status;
    status = stated_points_read(night, group->runs, group->n_runs, &points, fault);
    if (status != OK)
        return status;
    status = stated_rows_open(night->store, reduction, &rows, fault);
    if (status == OK) {
        status = compare(&rows, &points, fault);
        stated_rows_end(&rows);
    }
    stated_points_end(&points);
    return status;
}

static enum status print_entry(struct store *store, const struct season_entry *entry,
                               struct fault *fault)
{
    const char *const texts[] = {entry->facility, entry->entry,
                                 flag_row(FLAG_STATED_UNCERTAINTY_TOO_SMALL)->code,
                                 flag_row(FLAG_STATED_UNCERTAINTY_TOO_LARGE)->code};
    struct statement *statement = NULL;
    int row = 0;
    enum status status = rows_open(
        store,
        "SELECT f.detail FROM flag_row AS f JOIN reduction AS d ON d.reduction = f.reduction AND "
        "d.is_current = 1 WHERE d.stage = 'repeats' AND d.subject = ?1 || '/' || ?2 AND "
        "f.rule IN (?3, ?4) ORDER BY f.id",
        texts, 4, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row)
        (void)printf("repeats: %s\n", statement_text(statement, 0));
    statement_free(statement);
    return status;
}

enum status repeats_print(struct store *store, struct fault *fault)
{
    struct season_entries entries;
    enum status status = entries_read(store, &entries, fault);
    if (status != OK)
        return status;
    if (entries.n > 0)
        status = print_entry(store, &entries.items[0], fault);
    entries_end(&entries);
    return status;
}

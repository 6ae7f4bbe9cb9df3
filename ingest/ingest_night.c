/* ingest_night.c - see ingest_night.h. */
#include "ingest/ingest_night.h"

#include <stdlib.h>

#include "ingest/run_pool.h"
#include "ingest/run_selection.h"
#include "ingest/run_store.h"
#include "ingest/stored_run.h"
#include "schema/campaign_store.h"

enum { THREADS_BY_DEFAULT = 2 };

struct night {
    struct store *store;
    const struct night_request *request;
    struct night_result *result;
    struct season_sheets *sheets;
    struct run_store *writer;
    char (*map_digests)[DIGEST_TEXT];
    size_t *to_read; /* indices of the runs whose logs must be read */
    size_t n_to_read;
};

enum status ingest_sheets(const struct night_request *request, struct season_sheets **sheets,
                          struct fault *fault)
{
    struct units *units = NULL;
    struct problems problems = problems_to(request->report, request->report_context);
    *sheets = NULL;
    enum status status = units_open(&units, fault);
    if (status == OK)
        status =
            season_sheets_read(request->folder, request->campaign, units, &problems, sheets, fault);
    units_close(units);
    if (status == OK)
        status = problems_status(&problems, fault);
    if (status == OK && request->only != NULL)
        status = run_selection_check((*sheets)->runs, request->only, fault);
    if (status != OK) {
        season_sheets_free(*sheets);
        *sheets = NULL;
    }
    return status;
}

static void count_run(struct night *night, int is_quarantined)
{
    if (is_quarantined)
        night->result->runs_quarantined++;
    else
        night->result->runs_usable++;
}

/* An unchanged run: its row follows the sheet, its files' times are kept. */
static enum status keep_run(struct night *night, size_t i, const struct stored_run *stored,
                            struct fault *fault)
{
    const struct run_entry *run = &night->sheets->runs->runs[i];
    enum status status = run_store_update(night->writer, run, i, fault);
    for (size_t k = 0; k < run->n_logs && status == OK; k++)
        if (stored->touched[k] >= 0)
            status = run_store_touch(night->writer, run->name, k, stored->touched[k], fault);
    night->result->logs_unchanged += stored->n_logs;
    count_run(night, stored->is_quarantined);
    return status;
}

static int is_selected(const struct night *night, size_t i)
{
    const struct night_request *request = night->request;
    const struct run_sheet *runs = night->sheets->runs;
    return request->only == NULL ||
           run_selection_has(runs, request->only, request->folder, &runs->runs[i]);
}

static enum status decide_run(struct night *night, size_t i, struct fault *fault)
{
    struct stored_run stored;
    if (!is_selected(night, i))
        return OK;
    enum status status = stored_run_compare(
        night->store, night->request->folder, night->sheets, &night->sheets->runs->runs[i],
        (const char(*)[DIGEST_TEXT])night->map_digests, night->request->now_ns, &stored, fault);
    if (status != OK)
        return status;
    if (stored.is_current)
        status = keep_run(night, i, &stored, fault);
    else
        night->to_read[night->n_to_read++] = i;
    stored_run_end(&stored);
    return status;
}

/* Everything that needs no log: one transaction. */
static enum status store_sheets(struct night *night, struct fault *fault)
{
    enum status status = store_begin(night->store, fault);
    if (status == OK)
        status = campaign_store(night->store, night->request->campaign, fault);
    if (status == OK)
        status = run_store_sheets(night->writer, night->sheets, fault);
    for (size_t i = 0; i < night->sheets->runs->n && status == OK; i++)
        status = decide_run(night, i, fault);
    if (status == OK)
        status = store_commit(night->store, fault);
    if (status != OK)
        store_rollback(night->store);
    return status;
}

static enum status key_of_read(struct night *night, const struct run_entry *run,
                               const struct read_run *read, char key[DIGEST_TEXT],
                               struct fault *fault)
{
    const char **digests = calloc(run->n_logs + 1, sizeof *digests);
    if (digests == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the key of run '%s'", run->name);
    for (size_t i = 0; i < run->n_logs; i++)
        digests[i] = read->logs[i].digest;
    enum status status = reading_key_of_run(
        night->sheets, run, (const char(*)[DIGEST_TEXT])night->map_digests, digests, key, fault);
    free(digests);
    return status;
}

static enum status write_run(struct night *night, size_t i, const struct read_run *read,
                             struct fault *fault)
{
    const struct run_entry *run = &night->sheets->runs->runs[i];
    char key[DIGEST_TEXT];
    int64_t *times = calloc(run->n_logs + 1, sizeof *times);
    if (times == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to store run '%s'", run->name);
    for (size_t k = 0; k < run->n_logs; k++)
        times[k] = stamp_to_keep(read->logs[k].stamp.mtime_ns, night->request->now_ns);
    enum status status = key_of_read(night, run, read, key, fault);
    if (status == OK)
        status = store_begin(night->store, fault);
    if (status == OK) {
        status = run_store_replace(night->writer, run, i, read, key, times, fault);
        if (status == OK)
            status = store_commit(night->store, fault);
        if (status != OK)
            store_rollback(night->store);
    }
    free(times);
    return status;
}

static void count_read(struct night *night, const struct read_run *read)
{
    for (size_t k = 0; k < read->n_logs; k++) {
        night->result->logs_read += (size_t)read->logs[k].is_read;
        night->result->rows += read->logs[k].rows;
        night->result->bytes += read->logs[k].stamp.bytes;
    }
    count_run(night, read->merged.record == NULL);
}

static enum status read_logs(struct night *night, struct fault *fault)
{
    int threads = night->request->threads > 0 ? night->request->threads : THREADS_BY_DEFAULT;
    const struct run_pool_work work = {night->request->folder, night->sheets, night->to_read,
                                       night->n_to_read, threads};
    struct run_pool *pool = NULL;
    if (night->n_to_read == 0)
        return OK;
    enum status status = run_pool_start(&work, &pool, fault);
    for (size_t k = 0; k < night->n_to_read && status == OK; k++) {
        struct read_run *read = NULL;
        status = run_pool_take(pool, k, &read, fault);
        if (status == OK)
            status = write_run(night, night->to_read[k], read, fault);
        if (status == OK)
            count_read(night, read);
        read_run_free(read);
    }
    run_pool_end(pool);
    return status;
}

static enum status store_late_flags(struct night *night, struct fault *fault)
{
    enum status status = store_begin(night->store, fault);
    if (status == OK)
        status = run_store_late_flags(night->writer, fault);
    if (status == OK)
        status = store_commit(night->store, fault);
    if (status != OK)
        store_rollback(night->store);
    return status;
}

enum status ingest_night(struct store *store, const struct night_request *request,
                         struct season_sheets *sheets, struct night_result *result,
                         struct fault *fault)
{
    struct night night = {.store = store, .request = request, .result = result, .sheets = sheets};
    enum status status = OK;

    *result = (struct night_result){0};
    night.to_read = calloc(sheets->runs->n + 1, sizeof *night.to_read);
    if (night.to_read == NULL)
        status = FAIL(fault, NO_MEMORY, "no memory for the night's runs");
    if (status == OK)
        status = reading_key_maps(night.sheets, &night.map_digests, fault);
    if (status == OK)
        status = run_store_open(store, &night.writer, fault);
    if (status == OK)
        status = store_sheets(&night, fault);
    if (status == OK)
        status = read_logs(&night, fault);
    if (status == OK)
        status = store_late_flags(&night, fault);
    run_store_close(night.writer);
    free(night.map_digests);
    free(night.to_read);
    return status;
}

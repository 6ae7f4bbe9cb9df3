/* run_reader.c - see run_reader.h. */
#include "ingest/run_reader.h"

#include <stdlib.h>
#include <string.h>

#include "ingest/channel_reader.h"

void read_run_free(struct read_run *read)
{
    if (read == NULL)
        return;
    merged_run_end(&read->merged);
    free(read->logs);
    free(read);
}

static enum status read_source(struct file_source *source, const char *name,
                               const struct log_reading *reading, struct units *units, size_t most,
                               struct problems *problems, struct read_log *about,
                               struct log_record **record, struct fault *fault)
{
    enum status status = channel_reader_read(file_source_bytes(source), name, reading, units, most,
                                             problems, record, fault);
    if (status == OK)
        status = file_source_digest(source, about->digest, fault);
    if (status != OK)
        return status;
    about->is_read = 1;
    about->stamp = file_source_stamp(source);
    status = file_source_settled(source, fault);
    if (status != OK) {
        log_record_free(*record);
        *record = NULL;
        return problems_take(problems, status, fault);
    }
    if (*record != NULL) {
        about->gaps = (*record)->gaps;
        about->n_suspects = (*record)->n_suspects;
        memcpy(about->suspects, (*record)->suspects, sizeof about->suspects);
        about->rows = (*record)->rows;
        about->rows_read = (*record)->rows_read;
        about->rows_outside = (*record)->rows_outside;
        about->short_points = (*record)->short_points;
        about->unterminated_line = (*record)->unterminated_line;
        about->left_out = (*record)->left_out;
    }
    return OK;
}

enum status run_reader_log(const char *folder, const struct season_sheets *sheets,
                           const struct run_entry *run, size_t log, struct units *units,
                           size_t most, struct problems *problems, struct read_log *about,
                           struct log_record **record, struct fault *fault)
{
    const char *name = run->logs[log].file;
    const struct log_reading reading = season_sheets_reading(sheets, run, log);
    struct file_source *source = NULL;

    *record = NULL;
    *about = (struct read_log){.is_read = 0};
    char *path = season_path(folder, name);
    if (path == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the path of '%s'", name);
    enum status status = file_source_open(path, name, &source, fault);
    free(path);
    if (status == OK)
        status = read_source(source, name, &reading, units, most, problems, about, record, fault);
    if (status == BAD_INPUT || status == NOT_FOUND)
        fault_where(fault, "runs.csv:%zu", run->line);
    file_source_close(source);
    return problems_take(problems, status, fault);
}

static enum status read_logs(const char *folder, const struct season_sheets *sheets,
                             const struct run_entry *run, struct units *units,
                             struct read_run *read, struct log_slot *records, struct fault *fault)
{
    struct problems problems = problems_to(NULL, NULL);
    for (size_t i = 0; i < run->n_logs; i++) {
        enum status status = run_reader_log(folder, sheets, run, i, units, 1, &problems,
                                            &read->logs[i], &records[i].record, fault);
        if (status != OK)
            return status;
    }
    if (problems_status(&problems, &read->reason) != OK)
        return OK;
    return run_merge(records, run->n_logs, &run->start, &read->merged, fault);
}

enum status run_reader_read(const char *folder, const struct season_sheets *sheets,
                            const struct run_entry *run, struct units *units, struct read_run **out,
                            struct fault *fault)
{
    struct fault own = {.status = OK};
    enum status status = OK;
    struct read_run *read = calloc(1, sizeof *read);
    struct log_slot *records = calloc(run->n_logs + 1, sizeof *records);

    *out = NULL;
    if (fault == NULL)
        fault = &own;
    if (read != NULL)
        read->logs = calloc(run->n_logs + 1, sizeof *read->logs);
    if (read == NULL || records == NULL || read->logs == NULL) {
        status = FAIL(fault, NO_MEMORY, "no memory to read run '%s'", run->name);
        goto done;
    }
    read->n_logs = run->n_logs;
    status = read_logs(folder, sheets, run, units, read, records, fault);
    if (status != OK)
        goto done;
    *out = read;
    read = NULL; /* handed over */
done:
    for (size_t i = 0; records != NULL && i < run->n_logs; i++)
        log_record_free(records[i].record);
    free(records);
    read_run_free(read);
    return status;
}

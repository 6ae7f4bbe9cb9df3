/* statistic_store.c - see statistic_store.h. */
#include "ingest/statistic_store.h"

#include <math.h>

enum status statistic_store_begin(struct store *store, struct statistic_store *writer,
                                  struct fault *fault)
{
    *writer = (struct statistic_store){NULL, NULL};
    enum status status = statement_prepare(store, "DELETE FROM channel_statistic WHERE run = ?1",
                                           &writer->drop, fault);
    if (status == OK)
        status =
            statement_prepare(store,
                              "INSERT INTO channel_statistic (run, point, position, "
                              "column_name, role, unit, mean, sd, n, n_missing, minimum, "
                              "maximum, stated_uncertainty) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, "
                              "?8, ?9, ?10, ?11, ?12, ?13)",
                              &writer->put, fault);
    if (status != OK)
        statistic_store_end(writer);
    return status;
}

void statistic_store_end(struct statistic_store *writer)
{
    statement_free(writer->drop);
    statement_free(writer->put);
    *writer = (struct statistic_store){NULL, NULL};
}

enum status statistic_store_drop(const struct statistic_store *writer, const char *run,
                                 struct fault *fault)
{
    enum status status = statement_bind_text(writer->drop, 1, run, fault);
    return status != OK ? status : statement_run(writer->drop, fault);
}

static enum status put_row(const struct statistic_store *writer, const char *run, const char *point,
                           size_t position, const struct log_channel *channel,
                           const struct channel_statistics *s, struct fault *fault)
{
    const char *const texts[] = {channel->column, role_name(channel->role), channel->unit};
    const double numbers[] = {s->n > 0 ? s->mean : (double)NAN,
                              s->sd,
                              s->n,
                              s->n_missing,
                              s->minimum,
                              s->maximum,
                              channel->has_stated ? s->stated : (double)NAN};
    enum status status = statement_bind_text(writer->put, 1, run, fault);
    if (status == OK)
        status = statement_bind_text(writer->put, 2, point, fault);
    if (status == OK)
        status = statement_bind_integer(writer->put, 3, (int64_t)position, fault);
    for (int i = 0; i < 3 && status == OK; i++)
        status = statement_bind_text(writer->put, 4 + i, texts[i], fault);
    for (int i = 0; i < 7 && status == OK; i++)
        status = statement_bind_real(writer->put, 7 + i, numbers[i], fault);
    return status != OK ? status : statement_run(writer->put, fault);
}

/* Repeats are found by attitude and speed, so these are wanted where an uncertainty is stated. */
static int states_uncertainty(const struct log_record *record)
{
    for (size_t i = 0; i < record->n_channels; i++)
        if (record->channels[i].has_stated)
            return 1;
    return 0;
}

enum status statistic_store_put(const struct statistic_store *writer, const struct run_entry *run,
                                const struct log_record *record, struct fault *fault)
{
    enum status status = OK;
    int states = states_uncertainty(record);
    for (size_t p = 0; p < record->n_points; p++)
        for (size_t i = 0; i < record->n_channels && status == OK; i++)
            if (record->channels[i].role == ROLE_OTHER || run_is_record_only(run) ||
                (states && record->channels[i].role != ROLE_TAP))
                status = put_row(writer, run->name, record->points[p].label, i,
                                 &record->channels[i], &record->points[p].statistics[i], fault);
    return status;
}

/* record_history.c - see record_history.h. */
#include "reduce/record_history.h"

#include <stdlib.h>
#include <string.h>

#include "reduce/record_state.h"
#include "reduce/rows.h"

static enum status keep_run(const struct run_data *data, struct history_run *kept,
                            struct fault *fault)
{
    void *series = NULL;
    void *channels = NULL;
    enum status status =
        array_make(&series, data->n_points, sizeof(struct channel_statistics), fault);
    if (status == OK)
        status = array_make(&channels, data->n_channels, sizeof *kept->channels, fault);
    kept->channels = channels;
    for (size_t c = 0; status == OK && c < data->n_channels; c++) {
        struct history_channel *channel = &kept->channels[kept->n_channels++];
        record_series(data, c, series);
        channel->role = data->channels[c].role;
        channel->signature = channel_signature_make(series, data->n_points);
        status = text_copy(data->channels[c].tap, &channel->tap, fault);
    }
    free(series);
    return status;
}

static enum status read_run(const struct night *night, struct history_run *kept,
                            struct fault *fault)
{
    struct run_data data;
    enum status status = run_data_read(night, kept->run->run, &data, fault);
    if (status != OK)
        return status;
    status = keep_run(&data, kept, fault);
    run_data_end(&data);
    return status;
}

enum status record_history_read(const struct night *night, const struct run_row *const *runs,
                                size_t n, struct record_history *history, struct fault *fault)
{
    void *array = NULL;
    enum status status = array_make(&array, n, sizeof *history->runs, fault);
    *history = (struct record_history){array, 0};
    for (size_t i = 0; status == OK && i < n; i++) {
        history->runs[history->n_runs].run = runs[i];
        status = read_run(night, &history->runs[history->n_runs++], fault);
    }
    if (status != OK)
        record_history_end(history);
    return status;
}

void record_history_end(struct record_history *history)
{
    for (size_t i = 0; i < history->n_runs; i++) {
        for (size_t c = 0; c < history->runs[i].n_channels; c++)
            free(history->runs[i].channels[c].tap);
        free(history->runs[i].channels);
    }
    free(history->runs);
    *history = (struct record_history){NULL, 0};
}

static int is_same(const struct history_channel *a, const struct history_channel *b)
{
    return a->role == b->role && strcmp(a->tap, b->tap) == 0;
}

/* Runs of one kind mostly have the same channels in the same places. */
static const struct history_channel *find(const struct history_run *run,
                                          const struct history_channel *channel, size_t guess)
{
    if (guess < run->n_channels && is_same(&run->channels[guess], channel))
        return &run->channels[guess];
    for (size_t c = 0; c < run->n_channels; c++)
        if (is_same(&run->channels[c], channel))
            return &run->channels[c];
    return NULL;
}

static int is_comparable(const struct run_row *a, const struct run_row *b)
{
    return strcmp(a->kind, b->kind) == 0 && strcmp(a->balance, b->balance) == 0;
}

size_t record_history_others(const struct record_history *history, size_t run, size_t channel,
                             struct channel_signature others[HISTORY_OTHERS_MAX])
{
    const struct history_run *own = &history->runs[run];
    size_t n = 0;
    for (size_t away = 1; away < history->n_runs; away++) {
        const size_t candidates[] = {run - away, run + away}; /* below 0 it is beyond the end */
        for (size_t k = 0; k < 2 && n < HISTORY_OTHERS_MAX; k++) {
            if (candidates[k] >= history->n_runs ||
                !is_comparable(history->runs[candidates[k]].run, own->run))
                continue;
            const struct history_channel *found =
                find(&history->runs[candidates[k]], &own->channels[channel], channel);
            if (found != NULL && found->signature.points > 0)
                others[n++] = found->signature;
        }
    }
    return n;
}

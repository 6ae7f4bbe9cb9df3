/* record_history.c - see record_history.h. */
#include "reduce/record_history.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/record_state.h"
#include "reduce/rows.h"
#include "reduce/statistics/robust.h"

static enum status keep_channel(const struct run_data *data, size_t at,
                                struct channel_statistics *series, struct history_channel *channel,
                                struct fault *fault)
{
    const struct channel_row *row = &data->channels[at];
    void *means = NULL;
    enum status status = array_make(&means, data->n_points, sizeof *channel->means, fault);
    channel->means = means;
    channel->role = row->role;
    if (status == OK)
        status = text_copy(row->role == ROLE_OTHER ? row->column : row->tap, &channel->name, fault);
    if (status != OK)
        return status;
    record_series(data, at, series);
    channel->signature = channel_signature_make(series, data->n_points);
    for (size_t i = 0; i < data->n_points; i++)
        channel->means[i] = series[i].mean;
    return OK;
}

static enum status keep_points(const struct run_data *data, struct history_run *kept,
                               struct fault *fault)
{
    void *points = NULL;
    enum status status = array_make(&points, data->n_points, sizeof *kept->points, fault);
    kept->points = points;
    for (size_t i = 0; status == OK && i < data->n_points; i++) {
        status = text_copy(data->points[i].point, &kept->points[i], fault);
        kept->n_points += status == OK;
    }
    return status;
}

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
    for (size_t c = 0; status == OK && c < data->n_channels; c++)
        status = keep_channel(data, c, series, &kept->channels[kept->n_channels++], fault);
    free(series);
    return status == OK ? keep_points(data, kept, fault) : status;
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

static void run_end(struct history_run *run)
{
    for (size_t c = 0; c < run->n_channels; c++) {
        free(run->channels[c].name);
        free(run->channels[c].means);
    }
    for (size_t i = 0; i < run->n_points; i++)
        free(run->points[i]);
    free(run->channels);
    free((void *)run->points);
}

void record_history_end(struct record_history *history)
{
    for (size_t i = 0; i < history->n_runs; i++)
        run_end(&history->runs[i]);
    free(history->runs);
    *history = (struct record_history){NULL, 0};
}

static int is_comparable(const struct run_row *a, const struct run_row *b)
{
    return strcmp(a->kind, b->kind) == 0 && strcmp(a->balance, b->balance) == 0;
}

size_t record_history_comparable(const struct record_history *history, size_t run,
                                 size_t others[HISTORY_OTHERS_MAX])
{
    size_t n = 0;
    for (size_t away = 1; away < history->n_runs; away++) {
        const size_t candidates[] = {run - away, run + away}; /* below 0 it is beyond the end */
        for (size_t k = 0; k < 2 && n < HISTORY_OTHERS_MAX; k++)
            if (candidates[k] < history->n_runs &&
                is_comparable(history->runs[candidates[k]].run, history->runs[run].run))
                others[n++] = candidates[k];
    }
    return n;
}

static int is_same(const struct history_channel *a, const struct history_channel *b)
{
    return a->role == b->role && strcmp(a->name, b->name) == 0;
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

const struct history_channel *record_history_same(const struct record_history *history, size_t run,
                                                  size_t channel, size_t other)
{
    const struct history_channel *found =
        find(&history->runs[other], &history->runs[run].channels[channel], channel);
    return found != NULL && found->signature.points > 0 ? found : NULL;
}

size_t record_history_others(const struct record_history *history, size_t run, size_t channel,
                             struct channel_signature others[HISTORY_OTHERS_MAX])
{
    size_t comparable[HISTORY_OTHERS_MAX];
    size_t runs = record_history_comparable(history, run, comparable);
    size_t n = 0;
    for (size_t i = 0; i < runs; i++) {
        const struct history_channel *found =
            record_history_same(history, run, channel, comparable[i]);
        if (found != NULL)
            others[n++] = found->signature;
    }
    return n;
}

double record_history_repeats(const struct record_history *history, size_t run, size_t channel)
{
    struct channel_signature others[HISTORY_OTHERS_MAX];
    double shares[HISTORY_OTHERS_MAX];
    double still = 0;
    size_t n = record_history_others(history, run, channel, others);
    for (size_t i = 0; i < n; i++) {
        shares[i] = others[i].repeat_share;
        still += others[i].constant == 1;
    }
    struct robust share = robust_of(shares, n);
    if (share.n < HISTORY_RUNS_MIN ||
        (record_is_position(history->runs[run].channels[channel].role) && 4 * still > (double)n))
        return (double)NAN;
    return share.median;
}

/* record_lag.c - see record_lag.h. */
#include "reduce/record_lag.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "reduce/rows.h"
#include "reduce/statistics/channel_lag.h"

static int is_load(const struct channel_row *channel)
{
    return channel->role >= ROLE_BALANCE_OUTPUT_1 && channel->role <= ROLE_YAW_COEFFICIENT;
}

/* The wind that ingest held the channels against: the first of these. */
static const struct channel_row *wind_of(const struct run_data *data)
{
    static const enum role winds[] = {ROLE_TOTAL_MINUS_STATIC, ROLE_CONTRACTION_DROP,
                                      ROLE_DYNAMIC_PRESSURE, ROLE_AIR_SPEED};
    for (size_t w = 0; w < sizeof winds / sizeof winds[0]; w++) {
        int channel = run_data_channel(data, winds[w]);
        if (channel >= 0)
            return &data->channels[channel];
    }
    return NULL;
}

static enum status flag_channel(const struct record_run *run, const struct channel_row *channel,
                                double lag, const char *against, struct fault *fault)
{
    struct flag_note note =
        flag_note_make(FLAG_LATE_CHANNEL, run->work.run->run, "", record_subject(channel));
    note.value = lag;
    note.limit = lag > 0 ? lag_limit : -lag_limit;
    note.unit = "s";
    note.effect = (double)NAN;
    (void)snprintf(note.detail, sizeof note.detail, "'%.40s' is %.2f s %s %s; limit %.2f s",
                   channel->column, fabs(lag), lag > 0 ? "later than" : "ahead of", against,
                   lag_limit);
    return record_flag(run, &note, fault);
}

/* *lag: of the wind behind the loads; 0 when it is in time. */
static enum status find_late_wind(const struct run_data *data, double *lag, struct fault *fault)
{
    void *array = NULL;
    size_t n = 0;
    *lag = 0;
    enum status status = array_make(&array, data->n_channels, sizeof(struct channel_lag), fault);
    struct channel_lag *loads = array;
    for (size_t c = 0; status == OK && c < data->n_channels; c++)
        if (is_load(&data->channels[c]))
            loads[n++] = data->channels[c].lag;
    if (status == OK && !wind_is_late(loads, n, lag))
        *lag = 0;
    free(array);
    return status;
}

enum status record_lag_judge(const struct record_run *run, struct fault *fault)
{
    const struct run_data *data = &run->work.data;
    const struct channel_row *wind = wind_of(data);
    double lag = 0;
    if (!run_is_wind_on(run->work.run) || wind == NULL)
        return OK;
    enum status status = find_late_wind(data, &lag, fault);
    if (status != OK)
        return status;
    if (lag != 0)
        return flag_channel(run, wind, lag, "the loads", fault);
    for (size_t c = 0; status == OK && c < data->n_channels; c++)
        if (channel_is_late(&data->channels[c].lag))
            status =
                flag_channel(run, &data->channels[c], data->channels[c].lag.lag, "the wind", fault);
    return status;
}

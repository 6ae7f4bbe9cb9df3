/* record_run.c - see record_run.h. */
#include "reduce/record_run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/point_quantities.h"
#include "reduce/record_state.h"
#include "reduce/rows.h"
#include "reduce/run_work.h"

enum { POINTS_LISTED = 6 };

static enum status make_room(struct record_run *run, struct fault *fault)
{
    const struct run_data *data = &run->work.data;
    void *series = NULL;
    void *varied = NULL;
    void *hit = NULL;
    void *blamed = NULL;
    enum status status = array_make(&series, data->n_points, sizeof *run->series, fault);
    if (status == OK)
        status = array_make(&varied, data->n_channels, sizeof *run->varied, fault);
    if (status == OK)
        status = array_make(&hit, data->n_points, 1, fault);
    if (status == OK)
        status = array_make(&blamed, data->n_points, 1, fault);
    run->series = series;
    run->varied = varied;
    run->hit = hit;
    run->blamed = blamed;
    return status;
}

/* What the science refuses is flagged by the point stage; its record is judged all the same. */
static enum status complete(struct record_run *run, struct fault *fault)
{
    struct fault refusal;
    struct run_work *work = &run->work;
    if (!run_is_wind_on(work->run))
        return OK;
    enum status status = run_work_complete(work, &refusal);
    run->has_recipe = status == OK && !run_work_zero_is_missing(work) &&
                      work->tare.choice.kind != TARE_KIND_MISSING;
    if (status == OK || status == NO_RESULT)
        return OK;
    if (fault != NULL)
        *fault = refusal;
    return status;
}

enum status record_run_open(const struct night *night, const struct run_row *row,
                            struct flagger *flagger, struct record_run *run, struct fault *fault)
{
    memset(run, 0, sizeof *run);
    run->work.night = night;
    run->work.run = row;
    run->flagger = flagger;
    enum status status = run_data_read(night, row->run, &run->work.data, fault);
    if (status == OK)
        status = complete(run, fault);
    if (status == OK)
        status = make_room(run, fault);
    if (status != OK)
        record_run_end(run);
    return status;
}

void record_run_end(struct record_run *run)
{
    run_work_end(&run->work);
    free(run->series);
    free(run->varied);
    free(run->hit);
    free(run->blamed);
    memset(run, 0, sizeof *run);
}

static size_t count_hit(const struct record_run *run)
{
    size_t n = 0;
    for (size_t i = 0; i < run->work.data.n_points; i++)
        n += run->hit[i];
    return n;
}

void record_say_points(const struct record_run *run, char *text, size_t size)
{
    const struct run_data *data = &run->work.data;
    size_t n = count_hit(run);
    size_t listed = n > POINTS_LISTED + 1 ? POINTS_LISTED : n;
    size_t said = 0;
    if (n > 1 && n == data->n_points) {
        (void)snprintf(text, size, "all %zu points", n);
        return;
    }
    int length = snprintf(text, size, n == 1 ? "point" : "points");
    for (size_t i = 0; i < data->n_points && said < listed; i++) {
        if (!run->hit[i])
            continue;
        const char *before = said == 0 ? " " : said + 1 == n ? " and " : ", ";
        said++;
        if (length >= 0 && (size_t)length < size)
            length += snprintf(text + length, size - (size_t)length, "%s%.20s", before,
                               data->points[i].point);
    }
    if (listed < n && length >= 0 && (size_t)length < size)
        length += snprintf(text + length, size - (size_t)length, " and %zu more", n - listed);
    if (data->n_points > 1 && length >= 0 && (size_t)length < size)
        (void)snprintf(text + length, size - (size_t)length, " of %zu", data->n_points);
}

const char *record_only_point(const struct record_run *run)
{
    if (count_hit(run) != 1)
        return "";
    size_t i = 0;
    while (!run->hit[i])
        i++;
    return run->work.data.points[i].point;
}

double record_effect(const struct record_run *run, size_t point, const struct mean_change *changes,
                     size_t n)
{
    const struct run_work *work = &run->work;
    struct tunnel_inputs inputs;
    double logged[QUANTITY_COUNT];
    double changed[QUANTITY_COUNT];
    if (!run->has_recipe)
        return (double)NAN;
    struct point_row copy = work->data.points[point];
    if (!point_inputs_fill(work, &copy, &inputs) || !point_quantities(work, &inputs, logged))
        return (double)NAN;
    memcpy(run->varied, copy.channels, work->data.n_channels * sizeof *run->varied);
    copy.channels = run->varied;
    for (size_t i = 0; i < n; i++) {
        if (record_is_position(work->data.channels[changes[i].channel].role))
            return (double)NAN;
        run->varied[changes[i].channel].mean = changes[i].mean;
    }
    if (!point_inputs_fill(work, &copy, &inputs) || !point_quantities(work, &inputs, changed))
        return (double)NAN;
    return effect_in_counts(work->night->campaign, changed, logged);
}

const char *record_subject(const struct channel_row *channel)
{
    return channel->role == ROLE_TAP ? channel->tap : channel->column;
}

enum status record_flag(const struct record_run *run, struct flag_note *note, struct fault *fault)
{
    effect_say(run->work.night->campaign, note->effect, note->detail, sizeof note->detail);
    return flagger_write(run->flagger, note, fault);
}

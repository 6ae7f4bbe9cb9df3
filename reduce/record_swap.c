/* record_swap.c - see record_swap.h. */
#include "reduce/record_swap.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"
#include "reduce/statistics/channel_profile.h"
#include "schema/units.h"

enum { PROFILE_RUNS_MAX = 16 };

static const double candidate_scales = 3;      /* from its own history, as a whole */
static const double candidate_surprise = 5;    /* beyond what is usual for its points */
static const double surprise_of_a_point = 0.5; /* that fits: E (f + 1)/2 ln(1 + d^2/f) */
static const double smallest_share = 1e-9;     /* of the level: no step is finer */

/* Where the points of this run are in each of the nearest runs; SIZE_MAX: not there. */
struct neighbours_of_run {
    size_t runs[PROFILE_RUNS_MAX];
    size_t *points; /* n_runs x n_points */
    size_t n_runs, n_points;
};

struct swap_work {
    struct record_run *run;
    const struct record_history *history;
    size_t at;
    const struct channel_usual *usual;
    unsigned char *is_swapped;
    size_t n;
    struct neighbours_of_run near;
    struct channel_profile *profiles; /* of each channel */
    double *surprise;                 /* NAN: no profile */
    struct units *units;              /* NULL until asked for */
    double *means;                    /* of the other runs, n_runs x n_points */
    double *exchanged[2];             /* of the two channels at hand, n_points each */
};

static const struct history_run *own_run(const struct swap_work *work)
{
    return &work->history->runs[work->at];
}

static const struct history_channel *own_channel(const struct swap_work *work, size_t c)
{
    return &own_run(work)->channels[c];
}

static size_t find_point(const struct history_run *run, const char *label, size_t guess)
{
    if (guess < run->n_points && strcmp(run->points[guess], label) == 0)
        return guess;
    for (size_t k = 0; k < run->n_points; k++)
        if (strcmp(run->points[k], label) == 0)
            return k;
    return SIZE_MAX;
}

static void find_neighbours(struct swap_work *work)
{
    size_t others[HISTORY_OTHERS_MAX];
    struct neighbours_of_run *near = &work->near;
    const struct history_run *own = own_run(work);
    size_t n = record_history_comparable(work->history, work->at, others);
    near->n_runs = n < PROFILE_RUNS_MAX ? n : PROFILE_RUNS_MAX;
    near->n_points = own->n_points < PROFILE_POINTS_MAX ? own->n_points : PROFILE_POINTS_MAX;
    for (size_t j = 0; j < near->n_runs; j++) {
        near->runs[j] = others[j];
        for (size_t k = 0; k < near->n_points; k++)
            near->points[j * near->n_points + k] =
                find_point(&work->history->runs[others[j]], own->points[k], k);
    }
}

static void make_profile(struct swap_work *work, size_t c)
{
    const struct neighbours_of_run *near = &work->near;
    const struct history_channel *own = own_channel(work, c);
    struct profile_run runs[PROFILE_RUNS_MAX];
    double scratch[PROFILE_POINTS_MAX];
    size_t n = 0;
    for (size_t j = 0; j < near->n_runs; j++) {
        const struct history_channel *other =
            record_history_same(work->history, work->at, c, near->runs[j]);
        double *means = work->means + n * near->n_points;
        if (other == NULL)
            continue;
        for (size_t k = 0; k < near->n_points; k++) {
            size_t point = near->points[j * near->n_points + k];
            means[k] = point == SIZE_MAX ? (double)NAN : other->means[point];
        }
        runs[n++] = (struct profile_run){means, other->signature.deviation};
    }
    double least =
        fmax(fmax(own->signature.step, smallest_share * fabs(own->signature.level)), DBL_MIN);
    work->profiles[c] = channel_profile_make(runs, n, near->n_points, least, scratch);
    const struct profile_run here = {own->means, own->signature.deviation};
    work->surprise[c] = channel_profile_surprise(&work->profiles[c], &here, HUGE_VAL);
}

/* Of a unit that nobody reads, the column cannot be told in another's. The units are opened once they
 * are asked for, which takes a while and is rare. */
static int conversion_of(struct swap_work *work, size_t c, struct unit_conversion *conversion)
{
    struct fault ignored;
    const struct channel_row *channel = &work->run->work.data.channels[c];
    if (work->units == NULL && units_open(&work->units, &ignored) != OK)
        return 0;
    return units_conversion(work->units, channel->written_unit, channel->unit, conversion,
                            &ignored) == OK;
}

/* The numbers of one channel's column, read with the unit and sign of another's:
 * of x = s (k r + o) the number is r = (s x - o)/k. */
static int read_as(struct swap_work *work, size_t from, size_t to, double *means,
                   struct profile_run *exchanged)
{
    const struct channel_row *channels = work->run->work.data.channels;
    const struct history_channel *own = own_channel(work, from);
    struct unit_conversion a = {1, 0};
    struct unit_conversion b = {1, 0};
    if (strcmp(channels[from].written_unit, channels[to].written_unit) != 0 &&
        (!conversion_of(work, from, &a) || !conversion_of(work, to, &b)))
        return 0;
    double factor = channels[to].sign * channels[from].sign * b.factor / a.factor;
    double offset = channels[to].sign * (b.offset - a.offset * b.factor / a.factor);
    for (size_t k = 0; k < work->near.n_points; k++)
        means[k] = factor * own->means[k] + offset;
    *exchanged = (struct profile_run){means, fabs(factor) * own->signature.deviation};
    return 1;
}

static int surprises(const struct swap_work *work, size_t c)
{
    double usual = surprise_of_a_point * (double)work->near.n_points;
    return work->surprise[c] > usual + candidate_surprise;
}

static int exchanged_by_profile(struct swap_work *work, size_t a, size_t b, double *gain)
{
    struct profile_column columns[2] = {{.own = &work->profiles[a], .surprise = work->surprise[a]},
                                        {.own = &work->profiles[b], .surprise = work->surprise[b]}};
    if (!surprises(work, a) || !surprises(work, b))
        return 0;
    return read_as(work, a, b, work->exchanged[0], &columns[0].exchanged) &&
           read_as(work, b, a, work->exchanged[1], &columns[1].exchanged) &&
           columns_exchanged(&columns[0], &columns[1], gain);
}

/* 1 for a channel that its own history does not explain as a whole. */
static int is_away(const struct swap_work *work, size_t c)
{
    const struct channel_usual *usual = &work->usual[c];
    const struct channel_signature *own = &own_channel(work, c)->signature;
    if (!usual->known || !isfinite(own->level))
        return 0;
    return fabs(own->level - usual->level) > candidate_scales * usual->level_scale ||
           fabs(log(own->range) - usual->range) > candidate_scales * usual->range_scale ||
           fabs(log(own->deviation) - usual->noise) > candidate_scales * usual->noise_scale;
}

static int exchanged_as_a_whole(const struct swap_work *work, size_t a, size_t b, double *gain)
{
    const struct channel_row *channels = work->run->work.data.channels;
    return strcmp(channels[a].unit, channels[b].unit) == 0 && is_away(work, a) &&
           is_away(work, b) &&
           channels_swapped(&own_channel(work, a)->signature, &work->usual[a],
                            &own_channel(work, b)->signature, &work->usual[b], gain);
}

static int is_candidate(const struct swap_work *work, size_t c)
{
    return !work->is_swapped[c] && (surprises(work, c) || is_away(work, c));
}

/* The best partner of a channel among those after it; n when there is none. */
static size_t find_partner(struct swap_work *work, size_t a, double *gain)
{
    size_t best = work->n;
    *gain = 0;
    for (size_t b = a + 1; b < work->n; b++) {
        double found = 0;
        if (!is_candidate(work, b) || (!exchanged_by_profile(work, a, b, &found) &&
                                       !exchanged_as_a_whole(work, a, b, &found)))
            continue;
        if (found <= *gain)
            continue;
        *gain = found;
        best = b;
    }
    return best;
}

static enum status flag_pair(const struct swap_work *work, size_t a, size_t b, double gain,
                             struct fault *fault)
{
    const struct run_data *data = &work->run->work.data;
    const struct channel_row *first = &data->channels[a];
    const struct channel_row *second = &data->channels[b];
    char subject[200];
    (void)snprintf(subject, sizeof subject, "%.80s and %.80s", first->column, second->column);
    struct flag_note note =
        flag_note_make(FLAG_CHANNELS_SWAPPED, work->run->work.run->run, "", subject);
    size_t middle = data->n_points / 2;
    const struct channel_statistics *point = data->points[middle].channels;
    if (strcmp(first->unit, second->unit) == 0) {
        const struct mean_change changes[] = {{a, point[b].mean}, {b, point[a].mean}};
        note.effect = record_effect(work->run, middle, changes, 2);
    }
    note.value = gain;
    note.limit = 20;
    note.unit = "1";
    (void)snprintf(
        note.detail, sizeof note.detail,
        "'%.40s' is at %.6g %s and usually at %.6g, '%.40s' is at %.6g %s and usually at "
        "%.6g: each follows the other's runs (log-likelihood ratio %.0f)",
        first->column, own_channel(work, a)->signature.level, first->unit, work->usual[a].level,
        second->column, own_channel(work, b)->signature.level, second->unit, work->usual[b].level,
        gain);
    return record_flag(work->run, &note, fault);
}

static enum status judge(struct swap_work *work, struct fault *fault)
{
    enum status status = OK;
    find_neighbours(work);
    for (size_t c = 0; c < work->n; c++)
        make_profile(work, c);
    for (size_t a = 0; status == OK && a < work->n; a++) {
        double gain = 0;
        size_t b = is_candidate(work, a) ? find_partner(work, a, &gain) : work->n;
        if (b == work->n)
            continue;
        work->is_swapped[a] = 1;
        work->is_swapped[b] = 1;
        status = flag_pair(work, a, b, gain, fault);
    }
    return status;
}

static enum status make_room(struct swap_work *work, struct fault *fault)
{
    size_t points = own_run(work)->n_points;
    void *arrays[6] = {NULL};
    const size_t sizes[6] = {PROFILE_RUNS_MAX * points * sizeof(size_t),
                             work->n * sizeof *work->profiles,
                             work->n * sizeof *work->surprise,
                             PROFILE_RUNS_MAX * points * sizeof(double),
                             points * sizeof(double),
                             points * sizeof(double)};
    enum status status = OK;
    for (size_t i = 0; status == OK && i < 6; i++)
        status = array_make(&arrays[i], sizes[i], 1, fault);
    work->near.points = arrays[0];
    work->profiles = arrays[1];
    work->surprise = arrays[2];
    work->means = arrays[3];
    work->exchanged[0] = arrays[4];
    work->exchanged[1] = arrays[5];
    return status;
}

static void work_end(struct swap_work *work)
{
    units_close(work->units);
    free(work->near.points);
    free(work->profiles);
    free(work->surprise);
    free(work->means);
    free(work->exchanged[0]);
    free(work->exchanged[1]);
}

enum status record_swaps_judge(struct record_run *run, const struct record_history *history,
                               size_t at, const struct channel_usual *usual,
                               unsigned char *is_swapped, struct fault *fault)
{
    struct swap_work work = {.run = run,
                             .history = history,
                             .at = at,
                             .usual = usual,
                             .is_swapped = is_swapped,
                             .n = run->work.data.n_channels};
    enum status status = make_room(&work, fault);
    if (status == OK)
        status = judge(&work, fault);
    work_end(&work);
    return status;
}

/* record_judge.c - see record_judge.h. */
#include "reduce/record_judge.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/record_silence.h"
#include "reduce/record_swap.h"
#include "reduce/record_words.h"
#include "reduce/rows.h"

enum { DIFFERING_MIN = 3, TAPS_MIN = 4 };

static const double most = 0.5; /* of the channels: the run differs, or the taps do */

/* One channel of the run and what its history says of it. */
struct judged {
    struct history_judgement noise, level;
    int is_judged; /* 0: too few others */
};

struct judging {
    struct record_run *run;
    const struct record_history *history;
    size_t at;
    const unsigned char *is_blamed;
    struct judged *channels;
    struct channel_usual *usual; /* of each channel */
    unsigned char *is_swapped;   /* 1: told of with its partner */
    size_t n;
};

static enum role role_of(const struct judging *judging, size_t c)
{
    return judging->run->work.data.channels[c].role;
}

static const struct channel_signature *signature_of(const struct judging *judging, size_t c)
{
    return &judging->history->runs[judging->at].channels[c].signature;
}

static void judge_channel(struct judging *judging, size_t c)
{
    struct channel_signature others[HISTORY_OTHERS_MAX];
    struct judged *judged = &judging->channels[c];
    const struct channel_signature *own = signature_of(judging, c);
    size_t n = record_history_others(judging->history, judging->at, c, others);
    judged->is_judged = n >= HISTORY_RUNS_MIN;
    judged->noise = channel_noise_judge(own, others, n);
    struct history_judgement silence =
        record_silence_judge(judging->run, &judging->history->runs[judging->at], c, others, n);
    if (silence.finding != HISTORY_USUAL)
        judged->noise = silence;
    judged->level = channel_level_judge(own, others, n, judging->run->work.data.channels[c].unit);
    judging->usual[c] = channel_usual_make(others, n);
}

/* How many channels there are of one sort, and how many of them a test is true for. */
struct tally {
    size_t all, hit;
};

typedef int channel_test(const struct judging *judging, size_t c);

static struct tally count(const struct judging *judging, channel_test *is_of_sort,
                          channel_test *is_hit)
{
    struct tally tally = {0, 0};
    for (size_t c = 0; c < judging->n; c++) {
        if (!judging->channels[c].is_judged || !is_of_sort(judging, c))
            continue;
        tally.all++;
        tally.hit += is_hit(judging, c) != 0;
    }
    return tally;
}

static int is_tap(const struct judging *judging, size_t c)
{
    return role_of(judging, c) == ROLE_TAP;
}

static int is_no_tap(const struct judging *judging, size_t c)
{
    return !is_tap(judging, c);
}

/* A load whose level tells something; one that is 0 in all runs does not. */
static int is_load(const struct judging *judging, size_t c)
{
    return judging->usual[c].known && role_of(judging, c) >= ROLE_BALANCE_OUTPUT_1 &&
           role_of(judging, c) <= ROLE_YAW_COEFFICIENT;
}

static int is_wind(const struct judging *judging, size_t c)
{
    enum role role = role_of(judging, c);
    return role == ROLE_TOTAL_MINUS_STATIC || role == ROLE_CONTRACTION_DROP ||
           role == ROLE_NOZZLE_DROP || role == ROLE_PLENUM_DROP || role == ROLE_DYNAMIC_PRESSURE ||
           role == ROLE_AIR_SPEED;
}

static int is_far(const struct judging *judging, size_t c)
{
    return judging->channels[c].level.finding != HISTORY_USUAL && !judging->is_swapped[c];
}

static int is_noisy(const struct judging *judging, size_t c)
{
    return judging->channels[c].noise.finding == HISTORY_NOISY;
}

static int is_quiet(const struct judging *judging, size_t c)
{
    return judging->channels[c].noise.finding == HISTORY_QUIET;
}

static int is_most(struct tally tally, size_t at_least)
{
    return tally.hit >= at_least && (double)tally.hit > most * (double)tally.all;
}

static enum status flag_differs(const struct judging *judging, struct tally tally,
                                const char *words, struct fault *fault)
{
    struct flag_note note = flag_note_make(FLAG_RUN_DIFFERS, judging->run->work.run->run, "", "");
    note.value = (double)tally.hit / (double)tally.all;
    note.limit = most;
    note.unit = "1";
    (void)snprintf(note.detail, sizeof note.detail, "%zu of %zu channels %s", tally.hit, tally.all,
                   words);
    return flagger_write(judging->run->flagger, &note, fault);
}

/* What the logged level does against the one that the slip would make right, at the middle point. */
static double effect_of_slip(const struct judging *judging, size_t c, const struct unit_slip *slip)
{
    const struct run_data *data = &judging->run->work.data;
    size_t middle = data->n_points / 2;
    double mean = data->points[middle].channels[c].mean;
    struct mean_change change = {c, (mean - slip->offset) / slip->factor};
    return record_effect(judging->run, middle, &change, 1);
}

static double effect_of_noise(const struct judging *judging, size_t c)
{
    const struct run_data *data = &judging->run->work.data;
    size_t middle = data->n_points / 2;
    const struct channel_statistics *s = &data->points[middle].channels[c];
    struct mean_change change = {c, s->mean + channel_standard_error(s)};
    return isfinite(change.mean) ? fabs(record_effect(judging->run, middle, &change, 1))
                                 : (double)NAN;
}

static enum status flag_finding(const struct judging *judging, size_t c, const char *subject,
                                const struct history_judgement *judgement, struct fault *fault)
{
    static const enum flag_rule flags[HISTORY_FINDINGS] = {
        [HISTORY_NOISY] = FLAG_NOISE_UNUSUAL, [HISTORY_QUIET] = FLAG_NOISE_UNUSUAL,
        [HISTORY_CONSTANT] = FLAG_CONSTANT,   [HISTORY_SLOW] = FLAG_SLOW_RESPONSE,
        [HISTORY_UNIT] = FLAG_UNIT_SUSPECTED, [HISTORY_LEVEL] = FLAG_LEVEL_UNUSUAL,
    };
    const struct channel_row *channel = &judging->run->work.data.channels[c];
    struct flag_note note =
        flag_note_make(flags[judgement->finding], judging->run->work.run->run, "", subject);
    if (record_silence_fails(judging->run, c, judgement))
        note.state = FLAG_FAILED;
    note.value = judgement->value;
    note.limit = judgement->limit;
    note.unit = judgement->finding == HISTORY_SLOW ? "1" : channel->unit;
    if (judgement->finding == HISTORY_UNIT)
        note.effect = effect_of_slip(judging, c, &judgement->slip);
    else if (judgement->finding == HISTORY_NOISY || judgement->finding == HISTORY_QUIET)
        note.effect = effect_of_noise(judging, c);
    record_say_history(channel, judgement, note.detail, sizeof note.detail);
    return record_flag(judging->run, &note, fault);
}

/* The first tap with a finding speaks for all where most taps tell the same. */
static enum status flag_taps(const struct judging *judging, channel_test *is_hit, int by_level,
                             int *told, struct fault *fault)
{
    struct tally taps = count(judging, is_tap, is_hit);
    *told = is_most(taps, TAPS_MIN);
    for (size_t c = 0; *told && c < judging->n; c++) {
        if (!judging->channels[c].is_judged || !is_tap(judging, c) || !is_hit(judging, c))
            continue;
        const struct judged *judged = &judging->channels[c];
        return flag_finding(judging, c, "taps", by_level ? &judged->level : &judged->noise, fault);
    }
    return OK;
}

static enum status judge_levels(const struct judging *judging, struct fault *fault)
{
    int taps_told = 0;
    enum status status = flag_taps(judging, is_far, 1, &taps_told, fault);
    for (size_t c = 0; status == OK && c < judging->n; c++) {
        if (!judging->channels[c].is_judged || !is_far(judging, c) ||
            (taps_told && is_tap(judging, c)))
            continue;
        status = flag_finding(judging, c, record_subject(&judging->run->work.data.channels[c]),
                              &judging->channels[c].level, fault);
    }
    return status;
}

/* Noisy and quiet channels, unless most of them are; what is constant or slow is told in any case. */
static enum status judge_noise(const struct judging *judging, int levels_differ,
                               struct fault *fault)
{
    int noisy_taps = 0;
    int quiet_taps = 0;
    enum status status = OK;
    if (!levels_differ)
        status = flag_taps(judging, is_noisy, 0, &noisy_taps, fault);
    if (status == OK && !levels_differ)
        status = flag_taps(judging, is_quiet, 0, &quiet_taps, fault);
    for (size_t c = 0; status == OK && c < judging->n; c++) {
        const struct judged *judged = &judging->channels[c];
        int by_size = is_noisy(judging, c) || is_quiet(judging, c);
        int told = is_tap(judging, c) && (noisy_taps || quiet_taps);
        int is_explained = judging->is_swapped[c] || judged->level.finding == HISTORY_UNIT ||
                           judging->is_blamed[c] || (by_size && (levels_differ || told));
        if (judged->noise.finding == HISTORY_USUAL ||
            (is_explained && judged->noise.finding != HISTORY_CONSTANT))
            continue;
        status = flag_finding(judging, c, record_subject(&judging->run->work.data.channels[c]),
                              &judged->noise, fault);
    }
    return status;
}

static enum status judge_run(struct judging *judging, struct fault *fault)
{
    enum status status = record_swaps_judge(judging->run, judging->history, judging->at,
                                            judging->usual, judging->is_swapped, fault);
    struct tally far = count(judging, is_no_tap, is_far);
    struct tally noisy = count(judging, is_no_tap, is_noisy);
    struct tally quiet = count(judging, is_no_tap, is_quiet);
    struct tally loads = count(judging, is_load, is_far);
    int wind_and_loads =
        count(judging, is_wind, is_far).hit > 0 && loads.hit > 0 && 2 * loads.hit >= loads.all;
    int levels_differ = is_most(far, DIFFERING_MIN) || wind_and_loads;
    struct tally restless = noisy.hit > quiet.hit ? noisy : quiet;
    int noise_differs = is_most(restless, DIFFERING_MIN);
    if (status == OK && levels_differ)
        status = flag_differs(judging, far, "are far from their level in the other runs", fault);
    if (status == OK && !levels_differ)
        status = judge_levels(judging, fault);
    if (status == OK && noise_differs && !levels_differ)
        status = flag_differs(judging, restless,
                              noisy.hit > quiet.hit ? "are noisier than in the other runs"
                                                    : "are quieter than in the other runs",
                              fault);
    return status == OK ? judge_noise(judging, levels_differ || noise_differs, fault) : status;
}

enum status record_judge(struct record_run *run, const struct record_history *history, size_t at,
                         const unsigned char *is_blamed, struct fault *fault)
{
    void *channels = NULL;
    void *usual = NULL;
    void *is_swapped = NULL;
    size_t n = run->work.data.n_channels;
    if (run->work.data.n_points == 0)
        return OK;
    enum status status = array_make(&channels, n, sizeof(struct judged), fault);
    if (status == OK)
        status = array_make(&usual, n, sizeof(struct channel_usual), fault);
    if (status == OK)
        status = array_make(&is_swapped, n, 1, fault);
    if (status == OK) {
        struct judging judging = {run, history, at, is_blamed, channels, usual, is_swapped, n};
        for (size_t c = 0; c < n; c++)
            judge_channel(&judging, c);
        status = judge_run(&judging, fault);
    }
    free(channels);
    free(usual);
    free(is_swapped);
    return status;
}

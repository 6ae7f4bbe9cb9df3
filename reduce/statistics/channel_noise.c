/* channel_noise.c - a channel's noise against its history; see channel_history.h. */
#include <math.h>

#include "reduce/statistics/channel_history.h"
#include "reduce/statistics/history_usual.h"
#include "reduce/statistics/record_rules.h"

static const double most_others = 0.75;
static const double noise_factor = 2;
static const double noise_deviations = 6;
static const double slow_factor = 1.5;
static const double calm_factor = 1.15;
static const double slow_deviations = 5;

/* Scatter that two ln sd have by chance, 1/(2 n) each; a run of few samples is the worse of both. */
static double chance_of(const struct channel_signature *run)
{
    return run->independent > 0 ? sqrt(1 / run->independent) : 1;
}

/* Runs of a channel by whether it stands still in them. */
struct stillness {
    double judged;
    double alive; /* no point is constant */
    double moved; /* not all are */
};

static struct stillness count_still(const struct channel_signature *others, size_t n)
{
    struct stillness count = {0, 0, 0};
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(others[i].constant))
            continue;
        count.judged++;
        count.alive += others[i].constant == 0;
        count.moved += others[i].constant < 1;
    }
    return count;
}

static struct history_judgement constant_beside(const struct channel_signature *others, size_t n)
{
    return (struct history_judgement){.finding = HISTORY_CONSTANT,
                                      .value = 0,
                                      .usual = exp(usual_of(others, n, USUAL_NOISE).median),
                                      .limit = 0};
}

/* Equal neighbours of the others, in a row as long as this run's points, are no chance. */
static int is_no_chance(const struct channel_signature *run, const struct channel_signature *others,
                        size_t n)
{
    struct robust repeats = usual_of(others, n, USUAL_REPEAT_SHARE);
    struct channel_statistics longest = {.n = run->samples, .stuck = run->samples};
    return record_stuck(&longest, repeats.median).raised;
}

static int is_constant(const struct channel_signature *run, const struct channel_signature *others,
                       size_t n, struct history_judgement *judgement)
{
    struct stillness still = count_still(others, n);
    if (run->constant != 1 || still.judged < HISTORY_RUNS_MIN ||
        still.alive < most_others * still.judged || !is_no_chance(run, others, n))
        return 0;
    *judgement = constant_beside(others, n);
    return 1;
}

struct history_judgement channel_silence_judge(const struct channel_signature *run,
                                               const struct channel_signature *others, size_t n)
{
    struct history_judgement judgement = {.value = NAN, .usual = NAN, .limit = NAN};
    struct stillness still = count_still(others, n);
    if (run->constant != 1)
        return judgement;
    if (still.alive > 0 && is_no_chance(run, others, n))
        return constant_beside(others, n);
    if (still.moved == 0)
        judgement.finding = HISTORY_CONSTANT;
    return judgement;
}

/* The others' effective samples are known, this run's are not any more: too slow to be estimated. */
static int became_too_slow(const struct channel_signature *run, const struct robust *usual,
                           size_t n)
{
    return isnan(run->sluggishness) && (double)usual->n >= most_others * (double)n;
}

static int is_slow(const struct channel_signature *run, const struct channel_signature *others,
                   size_t n, struct history_judgement *judgement)
{
    struct robust usual = usual_of(others, n, USUAL_SLUGGISHNESS);
    struct robust noise = usual_of(others, n, USUAL_NOISE);
    if (usual.n < HISTORY_RUNS_MIN || noise.n < HISTORY_RUNS_MIN || !(run->deviation > 0))
        return 0;
    double chance = chance_of(run);
    double bound = fmax(log(slow_factor), slow_deviations * fmax(usual.scale, chance));
    double calm = fmax(log(calm_factor), slow_deviations * fmax(noise.scale, chance));
    if (!(log(run->deviation) < noise.median - calm))
        return 0;
    if (!(log(run->sluggishness) > usual.median + bound) && !became_too_slow(run, &usual, n))
        return 0;
    *judgement = (struct history_judgement){.finding = HISTORY_SLOW,
                                            .value = run->sluggishness,
                                            .usual = exp(usual.median),
                                            .limit = exp(usual.median + bound)};
    return 1;
}

struct history_judgement channel_noise_judge(const struct channel_signature *run,
                                             const struct channel_signature *others, size_t n)
{
    struct history_judgement judgement = {.value = NAN, .usual = NAN, .limit = NAN};
    if (is_constant(run, others, n, &judgement) || is_slow(run, others, n, &judgement))
        return judgement;
    struct robust usual = usual_of(others, n, USUAL_NOISE);
    if (usual.n < HISTORY_RUNS_MIN || !(run->deviation > 0))
        return judgement;
    double bound = fmax(log(noise_factor), noise_deviations * fmax(usual.scale, chance_of(run)));
    double distance = log(run->deviation) - usual.median;
    if (fabs(distance) > bound)
        judgement.finding = distance > 0 ? HISTORY_NOISY : HISTORY_QUIET;
    judgement.value = run->deviation;
    judgement.usual = exp(usual.median);
    judgement.limit = exp(usual.median + (distance > 0 ? bound : -bound));
    return judgement;
}

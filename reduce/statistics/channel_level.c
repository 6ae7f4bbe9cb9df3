/* channel_level.c - a channel's level against its history, and the units that would explain it; see
 * channel_history.h.                                                                               */
#include <math.h>

#include "reduce/statistics/channel_history.h"
#include "reduce/statistics/history_usual.h"

static const double far_deviations = 10;
static const double far_share = 0.05;
static const double level_share = 0.3; /* of the median, before a level without a reason is far */
static const double zero_deviations = 10; /* as far: nearer to zero no factor could be told */
static const double fit_deviations = 4;
static const double fit_share = 0.15;
static const double fit_share_with_offset = 0.02;
static const double fit_noise_factor = 1.5;
static const double change_deviations = 6;
static const double change_factor = 1.3;

/* All that a run's level is judged by. */
struct evidence {
    const struct channel_signature *run;
    struct robust level, range, noise, step;
};

static int is_far(const struct evidence *evidence)
{
    const struct robust *level = &evidence->level;
    double width = level->maximum - level->minimum;
    double distance = fabs(evidence->run->level - level->median);
    return distance > far_deviations * level->scale && distance > far_share * fabs(level->median) &&
           (evidence->run->level > level->maximum + width ||
            evidence->run->level < level->minimum - width);
}

/* Whether a number in logarithms is where a factor puts it. A run or a history without it says
 * nothing against the factor. */
static int fits(double value, const struct robust *usual, double factor)
{
    if (isnan(value) || usual->n < HISTORY_RUNS_MIN)
        return 1;
    double bound = fmax(log(fit_noise_factor), fit_deviations * usual->scale);
    return fabs(value - usual->median - log(fabs(factor))) <= bound;
}

/* How far a slip leaves the level from the others, as a share of what is allowed: below 1 it fits. */
static double misfit_of_level(const struct evidence *evidence, const struct unit_slip *slip)
{
    const struct robust *level = &evidence->level;
    double share = slip->offset == 0 ? fit_share : fit_share_with_offset;
    double allowed = fmax(fit_deviations * level->scale, share * fabs(level->median));
    double usual = slip->factor * level->median + slip->offset;
    if (!fits(usual_number(evidence->run, USUAL_NOISE), &evidence->noise, slip->factor))
        return HUGE_VAL;
    return fabs(evidence->run->level - usual) / (allowed * fabs(slip->factor));
}

static int has_changed(double value, const struct robust *usual)
{
    double bound = fmax(log(change_factor), change_deviations * usual->scale);
    return usual->n >= HISTORY_RUNS_MIN && fabs(value - usual->median) > bound;
}

/* Without a level: range and noise, or step and noise, must both have gone the same way. */
static double misfit_of_scale(const struct evidence *evidence, const struct unit_slip *slip)
{
    double noise = usual_number(evidence->run, USUAL_NOISE);
    int by_step = isnan(evidence->run->range);
    double other = usual_number(evidence->run, by_step ? USUAL_STEP : USUAL_RANGE);
    const struct robust *usual = by_step ? &evidence->step : &evidence->range;
    if (slip->factor <= 0 || slip->factor == 1 || isnan(noise) || isnan(other) ||
        !has_changed(noise, &evidence->noise) || !has_changed(other, usual) ||
        !fits(noise, &evidence->noise, slip->factor) || !fits(other, usual, slip->factor))
        return HUGE_VAL;
    double apart = fmax(fabs(noise - evidence->noise.median - log(slip->factor)),
                        fabs(other - usual->median - log(slip->factor)));
    return apart / (2 * log(fit_noise_factor));
}

typedef double misfit(const struct evidence *evidence, const struct unit_slip *slip);

/* The slip that fits best; 0 when none does. */
static int find_slip(const struct evidence *evidence, const char *unit, misfit *misfit_of,
                     struct unit_slip *best)
{
    struct unit_slip slips[UNIT_SLIPS_MAX];
    size_t n = unit_slips(unit, slips);
    double least = 1;
    int found = 0;
    for (size_t i = 0; i < n; i++) {
        double apart = misfit_of(evidence, &slips[i]);
        if (!(apart < least))
            continue;
        least = apart;
        *best = slips[i];
        found = 1;
    }
    return found;
}

static int level_is_about_zero(const struct evidence *evidence)
{
    const struct robust *level = &evidence->level;
    return fabs(level->median) <= zero_deviations * level->scale ||
           (level->minimum < 0 && level->maximum > 0);
}

static void judge_scale(const struct evidence *evidence, const char *unit,
                        struct history_judgement *judgement)
{
    int by_step = isnan(evidence->run->range);
    const struct robust *usual = by_step ? &evidence->noise : &evidence->range;
    if (!find_slip(evidence, unit, misfit_of_scale, &judgement->slip))
        return;
    judgement->finding = HISTORY_UNIT;
    judgement->told_by = by_step ? UNIT_BY_NOISE : UNIT_BY_RANGE;
    judgement->value = by_step ? evidence->run->deviation : evidence->run->range;
    judgement->usual = exp(usual->median);
    judgement->limit =
        exp(usual->median + (judgement->slip.factor > 1 ? 1 : -1) *
                                fmax(log(change_factor), change_deviations * usual->scale));
}

static void judge_level(const struct evidence *evidence, const char *unit,
                        struct history_judgement *judgement)
{
    const struct robust *level = &evidence->level;
    double distance = evidence->run->level - level->median;
    double bound = fmax(far_deviations * level->scale, far_share * fabs(level->median));
    judgement->value = evidence->run->level;
    judgement->usual = level->median;
    judgement->limit = level->median + (distance > 0 ? bound : -bound);
    if (!is_far(evidence))
        return;
    if (!level_is_about_zero(evidence) &&
        find_slip(evidence, unit, misfit_of_level, &judgement->slip))
        judgement->finding = HISTORY_UNIT;
    else if (fabs(distance) > level_share * fabs(level->median))
        judgement->finding = HISTORY_LEVEL;
}

struct history_judgement channel_level_judge(const struct channel_signature *run,
                                             const struct channel_signature *others, size_t n,
                                             const char *unit)
{
    struct history_judgement judgement = {.value = NAN, .usual = NAN, .limit = NAN};
    struct evidence evidence = {run, usual_of(others, n, USUAL_LEVEL),
                                usual_of(others, n, USUAL_RANGE), usual_of(others, n, USUAL_NOISE),
                                usual_of(others, n, USUAL_STEP)};
    if (evidence.level.n < HISTORY_RUNS_MIN || !isfinite(run->level))
        return judgement;
    if (level_is_about_zero(&evidence))
        judge_scale(&evidence, unit, &judgement);
    if (judgement.finding == HISTORY_USUAL)
        judge_level(&evidence, unit, &judgement);
    return judgement;
}

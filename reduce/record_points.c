/* record_points.c - see record_points.h. */
#include "reduce/record_points.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/record_state.h"
#include "reduce/record_words.h"

/* A channel at hand. */
struct subject {
    struct record_run *run;
    size_t channel;
    enum role role;
    const char *name, *column, *unit;
    struct record_ends ends;
    struct record_shares shares;
    double repeats; /* share of equal neighbours in the other runs; NAN: not known */
};

struct point_rule {
    enum flag_rule flag;
    int is_excused; /* 1: not asked at a point that an earlier rule of the table speaks about */
    struct record_judgement (*judge)(const struct subject *subject, size_t point);
    void (*describe)(const struct subject *subject, size_t point,
                     const struct record_judgement *judgement, char *text, size_t size);
    double (*effect)(const struct subject *subject, size_t point);
};

static const struct channel_statistics *at(const struct subject *subject, size_t point)
{
    return &subject->run->series[point];
}

static size_t points_of(const struct subject *subject)
{
    return subject->run->work.data.n_points;
}

/* A frozen tap has a flag and a fate of its own. */
static struct record_judgement judge_stuck(const struct subject *subject, size_t point)
{
    if (subject->role == ROLE_TAP && at(subject, point)->sd == 0)
        return (struct record_judgement){0};
    if (points_of(subject) == 1 && !subject->run->has_recipe) /* a zero: no other points to ask */
        return record_stuck(at(subject, point), subject->repeats);
    return record_stuck_at(subject->role, &subject->shares, at(subject, point));
}

static struct record_judgement judge_clipped(const struct subject *subject, size_t point)
{
    struct record_judgement clipped = record_clipped(at(subject, point));
    return clipped.raised ? clipped : record_clipped_alike(at(subject, point), &subject->ends);
}

static struct record_judgement judge_spiked(const struct subject *subject, size_t point)
{
    return record_spiked(at(subject, point));
}

static struct record_judgement judge_noise(const struct subject *subject, size_t point)
{
    return record_noise(subject->run->series, points_of(subject), point);
}

static void describe_stuck(const struct subject *subject, size_t point,
                           const struct record_judgement *judgement, char *text, size_t size)
{
    (void)snprintf(text, size, "repeats one value for %.0f of %.0f samples, chance allows %.0f",
                   judgement->value, at(subject, point)->n, floor(judgement->limit));
}

static void describe_clipped(const struct subject *subject, size_t point,
                             const struct record_judgement *judgement, char *text, size_t size)
{
    const struct channel_statistics *s = at(subject, point);
    if (judgement->limit == RECORD_SHARING_MIN) {
        double end = s->maximum == subject->ends.high ? s->maximum : s->minimum;
        (void)snprintf(text, size,
                       "ends at the same value, %.6g %s, at %.0f points and nowhere beyond; chance "
                       "would spread them",
                       end, subject->unit, judgement->value);
        return;
    }
    (void)snprintf(
        text, size,
        "has %.3g %% of its samples at an end of its range, %.6g .. %.6g %s; limit %g %%",
        100 * judgement->value, s->minimum, s->maximum, subject->unit, 100 * judgement->limit);
}

static void describe_spiked(const struct subject *subject, size_t point,
                            const struct record_judgement *judgement, char *text, size_t size)
{
    const struct channel_statistics *s = at(subject, point);
    char without[60] = "not known without, because they are too many";
    if (isfinite(s->mean_without_spikes))
        (void)snprintf(without, sizeof without, "%.8g without", s->mean_without_spikes);
    (void)snprintf(text, size,
                   "has %.0f of %.0f samples that stand out, limit %g %%; mean %.8g with them, "
                   "%s, %s",
                   s->spiked, s->n, 100 * judgement->limit, s->mean, without, subject->unit);
}

static void describe_noise(const struct subject *subject, size_t point,
                           const struct record_judgement *judgement, char *text, size_t size)
{
    (void)snprintf(
        text, size,
        "has a standard deviation of %.3g%s%s, %.2g times that of the run's other points; "
        "bound %.2g",
        at(subject, point)->sd, record_unit_gap(subject->unit), record_unit_word(subject->unit),
        judgement->value, judgement->limit);
}

static double effect_unknown(const struct subject *subject, size_t point)
{
    (void)subject;
    (void)point;
    return (double)NAN;
}

static double effect_of_spikes(const struct subject *subject, size_t point)
{
    struct mean_change change = {subject->channel, at(subject, point)->mean_without_spikes};
    return isfinite(change.mean) ? record_effect(subject->run, point, &change, 1) : (double)NAN;
}

/* What one standard error of the channel is worth; it has no sign. */
static double effect_of_noise(const struct subject *subject, size_t point)
{
    const struct channel_statistics *s = at(subject, point);
    struct mean_change change = {subject->channel, s->mean + channel_standard_error(s)};
    return isfinite(change.mean) ? fabs(record_effect(subject->run, point, &change, 1))
                                 : (double)NAN;
}

/* In the order in which one excuses the next. */
static const struct point_rule rules[] = {
    {FLAG_STUCK, 0, judge_stuck, describe_stuck, effect_unknown},
    {FLAG_CLIPPED, 0, judge_clipped, describe_clipped, effect_unknown},
    {FLAG_SPIKES, 0, judge_spiked, describe_spiked, effect_of_spikes},
    {FLAG_NOISE_UNUSUAL, 1, judge_noise, describe_noise, effect_of_noise},
};

/* What a rule found over the points of a channel. */
struct finding {
    size_t points, worst;
    double severity; /* of the worst point */
    struct record_judgement judgement;
    int is_spoilt;
    double effect; /* largest by size; NAN when none is known */
};

/* How far beyond the limit, on either side of it. */
static double severity_of(const struct record_judgement *judgement)
{
    return fabs(log(judgement->value / judgement->limit));
}

static void add_point(const struct subject *subject, const struct point_rule *rule, size_t point,
                      const struct record_judgement *judgement, struct finding *finding)
{
    double effect = rule->effect(subject, point);
    double severity = severity_of(judgement);
    if (finding->points++ == 0 || severity > finding->severity) {
        finding->worst = point;
        finding->severity = severity;
        finding->judgement = *judgement;
    }
    finding->is_spoilt |= judgement->spoilt;
    if (isnan(finding->effect) || fabs(effect) > fabs(finding->effect))
        finding->effect = effect;
}

static struct finding find(const struct subject *subject, const struct point_rule *rule)
{
    struct record_run *run = subject->run;
    struct finding finding = {.effect = (double)NAN};
    for (size_t i = 0; i < points_of(subject); i++) {
        run->hit[i] = 0;
        if (rule->is_excused && run->blamed[i])
            continue;
        struct record_judgement judgement = rule->judge(subject, i);
        if (!judgement.raised)
            continue;
        run->hit[i] = 1;
        run->blamed[i] = 1;
        add_point(subject, rule, i, &judgement, &finding);
    }
    return finding;
}

static enum status write_finding(const struct subject *subject, const struct point_rule *rule,
                                 const struct finding *finding, struct fault *fault)
{
    char points[240];
    char what[240];
    const struct record_run *run = subject->run;
    const struct run_work *work = &run->work;
    struct flag_note note =
        flag_note_make(rule->flag, work->run->run, record_only_point(run), subject->name);
    if (finding->is_spoilt && run->has_recipe && record_is_needed(work, subject->role))
        note.state = FLAG_FAILED;
    note.value = finding->judgement.value;
    note.limit = finding->judgement.limit;
    note.unit = "1";
    note.effect = finding->effect;
    record_say_points(run, points, sizeof points);
    rule->describe(subject, finding->worst, &finding->judgement, what, sizeof what);
    (void)snprintf(note.detail, sizeof note.detail, "%s: '%.40s' %s%s%.20s", points,
                   subject->column, what, finding->points > 1 ? ", at point " : "",
                   finding->points > 1 ? work->data.points[finding->worst].point : "");
    return record_flag(run, &note, fault);
}

static enum status judge_channel(struct subject *subject, int *is_blamed, struct fault *fault)
{
    size_t n = points_of(subject);
    size_t blamed = 0;
    enum status status = OK;
    memset(subject->run->blamed, 0, n);
    record_series(&subject->run->work.data, subject->channel, subject->run->series);
    subject->ends = record_shared_ends(subject->run->series, n);
    subject->shares = record_shares_of(subject->run->series, n);
    for (size_t i = 0; status == OK && i < sizeof rules / sizeof rules[0]; i++) {
        if (rules[i].is_excused)
            for (size_t k = blamed = 0; k < n; k++)
                blamed += subject->run->blamed[k];
        struct finding finding = find(subject, &rules[i]);
        if (finding.points > 0)
            status = write_finding(subject, &rules[i], &finding, fault);
    }
    *is_blamed = n > 0 && 2 * blamed >= n;
    return status;
}

enum status record_points_judge(struct record_run *run, const struct record_history *history,
                                size_t at, unsigned char *is_blamed, struct fault *fault)
{
    const struct run_data *data = &run->work.data;
    enum status status = OK;
    for (size_t c = 0; status == OK && c < data->n_channels; c++) {
        int blamed = 0;
        struct subject subject = {run,
                                  c,
                                  data->channels[c].role,
                                  record_subject(&data->channels[c]),
                                  data->channels[c].column,
                                  data->channels[c].unit,
                                  {.low = (double)NAN, .high = (double)NAN},
                                  {0, 0, 0, 0},
                                  record_history_repeats(history, at, c)};
        status = judge_channel(&subject, &blamed, fault);
        if (is_blamed != NULL)
            is_blamed[c] = (unsigned char)blamed;
    }
    return status;
}

/* bracket_watch.c - see bracket_watch.h. */
#include "reduce/bracket_watch.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/point_quantities.h"

static const double noise_deviations = 2;

/* The returns next to a time; NULL where there is none. One at exactly that time is no bracket. */
struct bracket_ends {
    const struct mounting_value *before, *after;
};

static struct bracket_ends find_ends(const struct evidence *evidence, double time)
{
    struct bracket_ends ends = {NULL, NULL};
    for (size_t i = 0; i < evidence->n; i++) {
        const struct mounting_value *m = &evidence->mountings[i];
        if (m->configuration != 0)
            continue;
        if (m->time < time && (ends.before == NULL || m->time > ends.before->time))
            ends.before = m;
        if (m->time > time && (ends.after == NULL || m->time < ends.after->time))
            ends.after = m;
    }
    return ends;
}

static double movement(const struct bracket_ends *ends)
{
    int is_whole = ends->before != NULL && ends->after != NULL;
    return is_whole ? ends->after->value - ends->before->value : (double)NAN;
}

/* The first run of a mounting of the baseline. */
static const char *run_of(const struct family *family, const struct mounting_value *mounting)
{
    for (size_t i = 0; i < family->n_runs; i++)
        if (family->runs[i].configuration == 0 && family->runs[i].mounting == mounting->mounting)
            return family->runs[i].run->run;
    return "";
}

static double limit_of(const struct evidence *evidence, const struct metric *metric)
{
    double noise = noise_deviations * sqrt(2) * evidence->bracket.noise.standard_deviation;
    return evidence_has_noise(evidence) ? fmax(metric->worthwhile, noise) : metric->worthwhile;
}

static void describe(const struct family *family, const struct bracket_ends *ends,
                     const struct campaign *campaign, const struct metric *metric,
                     struct flag_note *note)
{
    const struct quantity_row *row = quantity_row(quantity_from_symbol(note->subject));
    double size = row->in_counts ? count_size(campaign) : 1;
    const char *unit = row->in_counts ? " counts" : strcmp(row->unit, "%") == 0 ? " %" : "";
    (void)snprintf(note->detail, sizeof note->detail,
                   "from %.80s to %.80s, %.0f min apart, %s of the baseline moves by %+.3g%s, "
                   "limit %.3g%s, %s",
                   run_of(family, ends->before), run_of(family, ends->after),
                   (ends->after->time - ends->before->time) / 60, row->symbol, note->value / size,
                   unit, note->limit / size, unit,
                   note->limit > metric->worthwhile
                       ? "twice the noise of a difference of two mountings"
                       : "the smallest delta worth having");
}

int bracket_watch_check(const struct family *family, const struct evidence *evidence,
                        size_t configuration, const struct campaign *campaign,
                        const struct metric *metric, struct flag_note *note)
{
    struct bracket_ends worst = {NULL, NULL};
    double most = 0;
    for (size_t i = 0; i < evidence->n; i++) {
        if (evidence->mountings[i].configuration != configuration)
            continue;
        struct bracket_ends ends = find_ends(evidence, evidence->mountings[i].time);
        if (!(fabs(movement(&ends)) > most))
            continue;
        most = fabs(movement(&ends));
        worst = ends;
    }
    double limit = limit_of(evidence, metric);
    if (worst.before == NULL || worst.after == NULL || !(most > limit) || !(metric->worthwhile > 0))
        return 0;
    const struct quantity_row *row = quantity_row(evidence->quantity);
    *note = flag_note_make(FLAG_BRACKET_WIDE, "", "", row->symbol);
    note->value = movement(&worst);
    note->limit = limit;
    note->unit = row->unit;
    note->effect = row->in_counts ? note->value / count_size(campaign) : (double)NAN;
    describe(family, &worst, campaign, metric, note);
    note->subject = family->configurations[configuration];
    return 1;
}

/* fact_measure.c - facts about the main measure: how its baseline moved, how wide its intervals are.
 * See fact.h. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/baseline_track.h"
#include "report/fact.h"
#include "report/number_text.h"

struct returns {
    void *values;
    size_t n, capacity;
};

static enum status take_return(struct statement *row, void *context, struct fault *fault)
{
    struct returns *returns = context;
    double *value =
        query_append(&returns->values, &returns->n, &returns->capacity, sizeof *value, fault);

    if (value == NULL)
        return NO_MEMORY;
    *value = statement_real(row, 0);
    return OK;
}

/* "over 7 mountings of it; largest step between neighbours +9.4, range 10.3", and what a step that
 * matters does to deltas. */
static void note_track(const struct baseline_track *track, const struct display *display,
                       int is_stepped, struct fact *fact)
{
    struct number_text step = number_text_delta(display->factor * track->step, display->decimals);
    struct number_text range = number_text_plain(display->factor * track->range, display->decimals);
    char more[160] = "";

    if (track->returns > 2)
        (void)snprintf(more, sizeof more, "; largest step between neighbours %.40s, range %.40s",
                       step.text, range.text);
    (void)snprintf(
        fact->note, FACT_TEXT, "over %zu mountings of it%s%s", track->returns, more,
        is_stepped ? ". A step is not a drift: it does not drop out of deltas next to it." : "");
}

static void describe_track(const struct baseline_track *track, const struct finding_metric *metric,
                           struct fact *fact)
{
    const struct display *display = &metric->display;
    int is_stepped = fabs(track->step) > metric->worthwhile;

    (void)snprintf(fact->value, FACT_TEXT, "%s",
                   number_text_delta(display->factor * track->moved, display->decimals).text);
    (void)snprintf(fact->unit, FACT_TEXT, "%s", display_named(display, metric->name).text);
    note_track(track, display, is_stepped, fact);
    if (baseline_track_size(track) <= metric->worthwhile)
        fact_good(fact, "less than matters");
    else
        fact_look(fact, is_stepped ? "stepped" : "moved");
}

enum status fact_baseline(const struct night_page *night, struct fact *fact, struct fault *fault)
{
    const struct findings *findings = night->findings;
    const struct finding_configuration *baseline = findings_baseline(findings);
    struct returns returns = {0};

    fact_plain(fact, "not returned to");
    (void)snprintf(fact->value, FACT_TEXT, "n/a");
    if (baseline == NULL || findings->n_metrics == 0)
        return OK;
    const char *texts[] = {baseline->name, findings->metrics[0].quantity, findings->target, NULL};
    enum status status =
        query_each(night->store,
                   "SELECT o.value FROM observation AS o JOIN page_reduction AS d USING "
                   "(reduction) WHERE o.configuration = ?1 AND o.quantity = ?2 AND "
                   "o.target = ?3 ORDER BY o.time_s, o.mounting",
                   texts, take_return, &returns, fault);
    if (status == OK && returns.n >= 2) {
        struct baseline_track track = baseline_track(returns.values, returns.n);
        describe_track(&track, &findings->metrics[0], fact);
    }
    if (status == OK && returns.n == 0)
        fact_plain(fact, "no value");
    free(returns.values);
    return status;
}

/* "the widest of 3; a true change ...", or without the first words where all are alike. */
static void note_width(const struct finding_metric *metric, size_t n, int differ, struct fact *fact)
{
    double worthwhile = metric->display.factor * metric->worthwhile;
    char widest[40] = "";

    if (differ)
        (void)snprintf(widest, sizeof widest, "the widest of %zu; ", n);
    (void)snprintf(fact->note, FACT_TEXT,
                   "%sa true change of this size is told from zero about half the time; worth "
                   "having: %.40s %.40s",
                   widest, number_text_declared(worthwhile).text, metric->display.unit);
}

void fact_half_width(const struct findings *findings, struct fact *fact)
{
    double widest = (double)NAN;
    double narrowest = (double)NAN;
    size_t n = 0;

    for (size_t i = 0; i < findings->n_leading; i++) {
        double width = findings->configurations[i].deltas[0].half_width;
        if (!isfinite(width))
            continue;
        widest = fmax(widest, width);
        narrowest = fmin(narrowest, width);
        n++;
    }
    (void)snprintf(fact->value, FACT_TEXT, "n/a");
    if (findings->n_metrics == 0 || n == 0) {
        fact_plain(fact, "no interval");
        return;
    }
    const struct finding_metric *metric = &findings->metrics[0];
    const struct display *display = &metric->display;
    (void)snprintf(fact->value, FACT_TEXT, "%s",
                   number_text_width(display->factor * widest, display->decimals).text);
    (void)snprintf(fact->unit, FACT_TEXT, "%s", display_named(display, metric->name).text);
    struct number_text least = number_text_width(display->factor * narrowest, display->decimals);
    note_width(metric, n, strcmp(fact->value, least.text) != 0, fact);
    if (widest <= metric->worthwhile)
        fact_good(fact, "within what matters");
    else
        fact_look(fact, "wider than what matters");
}

/* headline.c - the first sentence; see headline.h. */
#include "report/headline.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "report/number_text.h"

static const struct finding_delta *main_delta(const struct finding_configuration *configuration)
{
    return &configuration->deltas[0];
}

const struct finding_configuration *headline_first(const struct findings *findings,
                                                   const char *verdict)
{
    const struct finding_configuration *best = NULL;
    double best_score = -INFINITY;

    for (size_t i = 0; i < findings->n_leading; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        double score = findings_score(findings, at);
        if (at->is_baseline || strcmp(main_delta(at)->verdict, verdict) != 0)
            continue;
        if (best == NULL || score > best_score) {
            best = at;
            best_score = score;
        }
    }
    return best;
}

size_t headline_count(const struct findings *findings, const char *verdict)
{
    size_t n = 0;

    for (size_t i = 0; i < findings->n_leading; i++)
        if (!findings->configurations[i].is_baseline &&
            strcmp(main_delta(&findings->configurations[i])->verdict, verdict) == 0)
            n++;
    return n;
}

int headline_no_verdict(const struct findings *findings)
{
    for (size_t i = 0; i < findings->n_leading; i++)
        if (main_delta(&findings->configurations[i])->verdict[0] != '\0')
            return 0;
    return 1;
}

/* "+38.2 ± 6.1 counts of downforce" */
static void add_amount(struct buffer *out, const struct finding_metric *metric,
                       const struct finding_delta *delta)
{
    const struct display *display = &metric->display;

    buffer_text(out, number_text_pair(display->factor * delta->delta,
                                      display->factor * delta->half_width, display->decimals)
                         .text);
    buffer_text(out, " ");
    buffer_text(out, display_named(display, metric->name).text);
}

/* What a gain is paid with: drag, or downforce where drag is the main measure. */
static size_t cost_metric(const struct findings *findings)
{
    const char *cost = strcmp(findings->metrics[0].quantity, "CD") == 0 ? "CL" : "CD";

    for (size_t m = 1; m < findings->n_metrics; m++)
        if (strcmp(findings->metrics[m].quantity, cost) == 0)
            return m;
    return 0;
}

static void add_cost(struct buffer *out, const struct findings *findings,
                     const struct finding_configuration *winner)
{
    size_t m = cost_metric(findings);
    const struct finding_metric *metric = &findings->metrics[m];
    const struct finding_delta *delta = &winner->deltas[m];
    int is_drag = strcmp(metric->quantity, "CD") == 0;

    if (m == 0 || !isfinite(delta->delta))
        return;
    if (delta->lower > 0 || delta->upper < 0) {
        int is_worse = is_drag ? delta->delta > 0 : delta->delta < 0;
        int is_inside =
            strcmp(findings->metrics[0].quantity, "L/D") == 0; /* drag is in the ratio */
        buffer_text(out, is_worse && !is_inside ? ", at a cost of " : ", with ");
        add_amount(out, metric, delta);
        return;
    }
    buffer_text(out, "; ");
    add_amount(out, metric, delta);
    buffer_text(out, isfinite(delta->half_width) ? " could be nothing" : " without an interval");
}

void headline_hangs(struct buffer *out, const struct finding_configuration *configuration)
{
    const char *on = findings_hangs_on(configuration);

    if (on[0] != '\0')
        buffer_format(out, "; the verdict hangs on %s", on);
}

static void say_winner(const struct findings *findings, struct headline *headline)
{
    const struct finding_configuration *winner = headline->winner;
    struct buffer *out = &headline->sentence;

    buffer_format(out, "%s beats %s%s: ", winner->name, winner->baseline,
                  headline_count(findings, "gain") > 1 ? " by the most" : "");
    add_amount(out, &findings->metrics[0], main_delta(winner));
    add_cost(out, findings, winner);
    headline_hangs(out, winner);
    buffer_text(out, ".");
}

/* Whether a configuration beats its baseline may be open, so that only what is shown is denied. */
static void say_loss(const struct findings *findings, struct headline *headline)
{
    const struct finding_configuration *worst = NULL;
    struct buffer *out = &headline->sentence;

    for (size_t i = 0; i < findings->n_leading; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        if (strcmp(main_delta(at)->verdict, "loss") == 0 &&
            (worst == NULL || findings_score(findings, at) < findings_score(findings, worst)))
            worst = at;
    }
    if (worst == NULL)
        return;
    buffer_format(out, "No configuration is shown to beat %s; %s loses%s: ", worst->baseline,
                  worst->name, headline_count(findings, "loss") > 1 ? " the most" : "");
    add_amount(out, &findings->metrics[0], main_delta(worst));
    headline_hangs(out, worst);
    buffer_text(out, ".");
}

static void say_changed(const struct findings *findings, struct headline *headline)
{
    const struct finding_configuration *first = NULL;

    for (size_t i = 0; i < findings->n_leading; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        if (strcmp(main_delta(at)->verdict, "changed") == 0 &&
            (first == NULL || fabs(main_delta(at)->delta) > fabs(main_delta(first)->delta)))
            first = at;
    }
    if (first == NULL)
        return;
    buffer_format(&headline->sentence, "%s differs%s from %s: ", first->name,
                  headline_count(findings, "changed") > 1 ? " most" : "", first->baseline);
    add_amount(&headline->sentence, &findings->metrics[0], main_delta(first));
    headline_hangs(&headline->sentence, first);
    buffer_text(&headline->sentence, ".");
}

size_t headline_reason_length(const char *reason)
{
    const char *repeated = strstr(reason, ": no ");
    size_t length = repeated != NULL ? (size_t)(repeated - reason) : strlen(reason);

    return length > 0 && reason[length - 1] == '.' ? length - 1 : length;
}

/* The reason that every row without a verdict shares; "" when they differ or there is none. */
static const char *common_reason(const struct findings *findings)
{
    const char *reason = NULL;

    for (size_t i = 0; i < findings->n_leading; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        if (at->is_baseline || !main_delta(at)->is_there)
            continue;
        size_t length = headline_reason_length(main_delta(at)->reason);
        if (reason != NULL && (length != headline_reason_length(reason) ||
                               strncmp(reason, main_delta(at)->reason, length) != 0))
            return "";
        reason = main_delta(at)->reason;
    }
    return reason != NULL ? reason : "";
}

/* "Parts not refitted: no verdict."; a refusal is a sentence of its own. */
static void say_no_verdict(const struct findings *findings, struct headline *headline)
{
    const char *reason = common_reason(findings);
    size_t length = headline_reason_length(reason);

    if (length == 0) {
        buffer_text(&headline->sentence, "No verdict on any configuration.");
        return;
    }
    char first = (char)toupper((unsigned char)reason[0]);
    buffer_add(&headline->sentence, &first, 1);
    buffer_add(&headline->sentence, reason + 1, length - 1);
    buffer_text(&headline->sentence, strstr(reason, "refused: ") != NULL ? "." : ": no verdict.");
}

static int any_real_but_small(const struct findings *findings)
{
    for (size_t i = 0; i < findings->n_leading; i++)
        if (main_delta(&findings->configurations[i])->real_but_small)
            return 1;
    return 0;
}

/* Of one without a verdict nothing is said. */
static void say_unchanged(const struct findings *findings, struct buffer *out)
{
    const struct finding_metric *metric = &findings->metrics[0];

    if (headline_count(findings, "no change that matters") == 1)
        buffer_text(out, headline_first(findings, "no change that matters")->name);
    else
        buffer_format(out, "No configuration%s",
                      headline_count(findings, "") > 0 ? " with a verdict" : "");
    buffer_format(
        out, " %s %s by an amount that matters (%s%s%s).",
        headline_count(findings, "no change that matters") == 1 ? "does not change" : "changes",
        metric->name, number_text_declared(metric->display.factor * metric->worthwhile).text,
        metric->display.unit[0] != '\0' ? " " : "", metric->display.unit);
}

static void say_nothing_won(const struct findings *findings, struct headline *headline)
{
    struct buffer *out = &headline->sentence;

    if (headline_count(findings, "can't tell yet") == 0)
        say_unchanged(findings, out);
    else if (any_real_but_small(findings))
        buffer_text(out, "No configuration is shown to differ from the baseline by an amount that "
                         "matters.");
    else
        buffer_text(out, "No configuration differs from the baseline by more than the night can "
                         "see.");
}

/* Something to compare: a metric, and one row of it. */
static int anything_compared(const struct findings *findings)
{
    for (size_t i = 0; i < findings->n_leading; i++)
        if (main_delta(&findings->configurations[i])->is_there)
            return findings->n_metrics > 0;
    return 0;
}

static int only_baselines(const struct findings *findings)
{
    for (size_t i = 0; i < findings->n_configurations; i++)
        if (!findings->configurations[i].is_baseline && findings->configurations[i].points.all > 0)
            return 0;
    return 1;
}

/* The first thing that is missing. */
static void say_why_nothing(const struct findings *findings, struct buffer *out)
{
    buffer_text(out, "Nothing was compared: ");
    if (findings->n_metrics == 0)
        buffer_text(out, "the campaign declares no metric.");
    else if (!(findings->wind_runs > 0))
        buffer_text(out, "no wind-on run was made.");
    else if (!(findings->wind_runs_read > 0))
        buffer_format(out, "of %.0f wind-on run%s none could be read as declared.",
                      findings->wind_runs, findings->wind_runs > 1 ? "s" : "");
    else if (only_baselines(findings))
        buffer_text(out, "only the baseline was measured.");
    else
        buffer_text(out, "no configuration has a delta.");
}

/* Without a single delta: not measured at all, or measured and refused to the last point. */
static void say_nothing_compared(const struct findings *findings, struct headline *headline)
{
    const char *refusal = "";

    for (size_t i = 0; i < findings->n_leading; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        int is_refused = at->points.all > 0 && at->points.refused == at->points.all;
        if (refusal[0] == '\0' || !is_refused)
            refusal = is_refused ? at->refusal : "";
        if (!is_refused)
            break;
    }
    if (refusal[0] != '\0')
        buffer_format(&headline->sentence, "Measured, but refused: %s", refusal);
    else if (findings->n_configurations == 0 && findings->recorded_points > 0)
        buffer_format(&headline->sentence,
                      "Recorded only: %.0f points of %.0f run%s; their statistics are in "
                      "channels.csv.",
                      findings->recorded_points, findings->recorded_runs,
                      findings->recorded_runs > 1 ? "s" : "");
    else
        say_why_nothing(findings, &headline->sentence);
}

void headline_make(const struct findings *findings, struct headline *headline)
{
    *headline = (struct headline){0};
    const struct trust_check *failed = trust_failed(&findings->trust);
    if (!anything_compared(findings)) {
        say_nothing_compared(findings, headline);
        if (failed != NULL) {
            buffer_text(&headline->real, failed->says);
            buffer_text(&headline->undecided, failed->action);
        }
        return;
    }
    headline->winner = headline_first(findings, "gain");
    if (headline->winner != NULL)
        say_winner(findings, headline);
    else if (headline_no_verdict(findings))
        say_no_verdict(findings, headline);
    else if (headline_count(findings, "loss") > 0)
        say_loss(findings, headline);
    else if (headline_count(findings, "changed") > 0)
        say_changed(findings, headline);
    else
        say_nothing_won(findings, headline);
    if (failed != NULL)
        headline_distrust(findings, failed, headline);
    else
        headline_proof(findings, headline);
    headline_also(findings, headline);
}

enum status headline_status(const struct headline *headline, struct fault *fault)
{
    enum status status = buffer_status(&headline->sentence, "the headline", fault);

    if (status == OK)
        status = buffer_status(&headline->real, "the headline", fault);
    if (status == OK)
        status = buffer_status(&headline->undecided, "the headline", fault);
    if (status == OK)
        status = buffer_status(&headline->also, "the headline", fault);
    return status;
}

void headline_end(struct headline *headline)
{
    buffer_free(&headline->sentence);
    buffer_free(&headline->real);
    buffer_free(&headline->undecided);
    buffer_free(&headline->also);
}

/* trust.c - the checks; see trust.h. */
#include "report/trust.h"

#include <math.h>
#include <string.h>

#include "report/number_text.h"
#include "report/trust_work.h"

size_t trust_count(const struct trust *trust, enum trust_state state)
{
    size_t n = 0;

    for (size_t i = 0; i < trust->n; i++)
        n += trust->checks[i].state == state;
    return n;
}

const struct trust_check *trust_failed(const struct trust *trust)
{
    for (size_t i = 0; i < trust->n; i++)
        if (trust->checks[i].state == TRUST_FAILS)
            return &trust->checks[i];
    return NULL;
}

const struct finding_metric *trust_metric(const struct trust_work *work)
{
    return &work->findings->metrics[0];
}

void trust_say_size(struct trust_work *work, double stored)
{
    const struct display *display = &trust_metric(work)->display;

    buffer_text(&work->says,
                number_text_plain(fabs(display->factor * stored), display->decimals).text);
    buffer_text(&work->says, display->unit[0] != '\0' ? " " : "");
    buffer_text(&work->says, display->unit);
}

void trust_say_worthwhile(struct trust_work *work)
{
    const struct display *display = &trust_metric(work)->display;

    buffer_text(&work->says,
                number_text_declared(display->factor * trust_metric(work)->worthwhile).text);
    buffer_text(&work->says, display->unit[0] != '\0' ? " " : "");
    buffer_text(&work->says, display->unit);
}

static const struct {
    const char *name;
    trust_make *make;
    int needs_delta; /* 0: asked of a night of baselines too */
} rows[TRUST_CHECKS] = {
    {"Baseline", trust_check_baseline, 0},        {"Brackets", trust_check_brackets, 1},
    {"Undeclared change", trust_check_change, 0}, {"Two methods", trust_check_methods, 1},
    {"Scatter", trust_check_scatter, 1},          {"Like the season", trust_check_season, 0},
    {"How firm", trust_check_exclusion, 1},
};

static int anything_compared(const struct findings *findings)
{
    for (size_t i = 0; i < findings->n_leading; i++)
        if (findings->configurations[i].deltas[0].is_there)
            return findings->n_metrics > 0;
    return 0;
}

static int baseline_has_value(const struct findings *findings)
{
    const struct finding_configuration *baseline = findings_baseline(findings);

    return findings->n_metrics > 0 && baseline != NULL && isfinite(baseline->baseline_level);
}

const struct finding_configuration *trust_leader(const struct findings *findings)
{
    const struct finding_configuration *best = NULL;

    for (size_t i = 0; i < findings->n_leading; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        if (!at->is_baseline && strcmp(at->deltas[0].verdict, "gain") == 0 &&
            (best == NULL || findings_score(findings, at) > findings_score(findings, best)))
            best = at;
    }
    return best;
}

static enum status make_check(struct trust_work *work, size_t row, struct trust_check *check,
                              struct fault *fault)
{
    *check = (struct trust_check){rows[row].name, TRUST_UNKNOWN, "", ""};
    buffer_clear(&work->says);
    enum status status = rows[row].make(work, check, fault);
    if (status == OK)
        status = buffer_status(&work->says, "a check on the night", fault);
    if (status == OK)
        status =
            text_pool_keep(&work->findings->texts, buffer_string(&work->says), &check->says, fault);
    if (check->state == TRUST_HOLDS)
        check->action = "";
    return status;
}

enum status findings_read_trust(struct store *store, struct findings *findings, struct fault *fault)
{
    struct trust_work work = {store, findings, trust_leader(findings), {0}};
    struct trust *trust = &findings->trust;
    int has_deltas = anything_compared(findings);
    enum status status = OK;

    trust->n = 0;
    if (!has_deltas && !baseline_has_value(findings))
        return OK;
    for (size_t i = 0; status == OK && i < TRUST_CHECKS; i++)
        if (has_deltas || !rows[i].needs_delta)
            status = make_check(&work, i, &trust->checks[trust->n++], fault);
    buffer_free(&work.says);
    return status;
}

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
} rows[TRUST_CHECKS] = {
    {"Baseline", trust_check_baseline},        {"Brackets", trust_check_brackets},
    {"Undeclared change", trust_check_change}, {"Two methods", trust_check_methods},
    {"Scatter", trust_check_scatter},          {"Like the season", trust_check_season},
    {"How firm", trust_check_exclusion},
};

static int anything_compared(const struct findings *findings)
{
    for (size_t i = 0; i < findings->n_leading; i++)
        if (findings->configurations[i].deltas[0].is_there)
            return findings->n_metrics > 0;
    return 0;
}

static const struct finding_configuration *leader_of(const struct findings *findings)
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

enum status findings_read_trust(struct store *store, struct findings *findings, struct fault *fault)
{
    struct trust_work work = {store, findings, leader_of(findings), {0}};
    enum status status = OK;

    findings->trust.n = 0;
    for (size_t i = 0; status == OK && i < TRUST_CHECKS && anything_compared(findings); i++) {
        struct trust_check *check = &findings->trust.checks[i];
        *check = (struct trust_check){rows[i].name, TRUST_UNKNOWN, "", ""};
        buffer_clear(&work.says);
        status = rows[i].make(&work, check, fault);
        if (status == OK)
            status = buffer_status(&work.says, "a check on the night", fault);
        if (status == OK)
            status =
                text_pool_keep(&findings->texts, buffer_string(&work.says), &check->says, fault);
        if (check->state == TRUST_HOLDS)
            check->action = "";
        findings->trust.n = i + 1;
    }
    buffer_free(&work.says);
    return status;
}

/* trust_answer.c - checks on what was made of the night; see trust.h. */
#include "report/trust_work.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/number_text.h"
#include "schema/flag.h"

/* ---- what the deltas rest on --------------------------------------------------------------------- */

enum status trust_check_methods(struct trust_work *work, struct trust_check *check,
                                struct fault *fault)
{
    const struct finding_configuration *worst = NULL;
    size_t both = 0;
    double gap = -1;

    (void)fault;
    for (size_t i = 0; i < work->findings->n_leading; i++) {
        const struct finding_configuration *at = &work->findings->configurations[i];
        double apart = fabs(at->deltas[0].delta - at->deltas[0].beside_delta);
        if (at->is_baseline || !isfinite(apart))
            continue;
        both++;
        int is_worse = worst == NULL || at->deltas[0].disagrees > worst->deltas[0].disagrees ||
                       (at->deltas[0].disagrees == worst->deltas[0].disagrees && apart > gap);
        if (at == work->leader && at->deltas[0].disagrees)
            check->state = TRUST_FAILS;
        if (is_worse) {
            worst = at;
            gap = apart;
        }
    }
    check->action = flag_row(FLAG_ESTIMATES_DISAGREE)->action;
    if (worst == NULL) {
        buffer_text(&work->says, "Each delta could be found in one way only, so none is held "
                                 "against another.");
        return OK;
    }
    if (check->state != TRUST_FAILS)
        check->state = worst->deltas[0].disagrees ? TRUST_LOOK : TRUST_HOLDS;
    if (check->state == TRUST_FAILS) {
        worst = work->leader;
        gap = fabs(worst->deltas[0].delta - worst->deltas[0].beside_delta);
    }
    buffer_text(&work->says, "The whole night's model and the local bracket ");
    if (check->state != TRUST_HOLDS)
        buffer_format(&work->says, "disagree: on %s they are ", worst->name);
    else if (both > 1)
        buffer_format(&work->says,
                      "agree on all %zu deltas that both give; on %s, where they differ most, they "
                      "are ",
                      both, worst->name);
    else
        buffer_format(&work->says, "agree: on %s they are ", worst->name);
    trust_say_size(work, gap);
    buffer_text(&work->says, " apart.");
    return OK;
}

struct scatter {
    double predicted, observed, freedom; /* of the observed: 0, nothing was mounted twice */
};

static enum status take_scatter(struct statement *row, void *context, struct fault *fault)
{
    struct scatter *scatter = context;

    (void)fault;
    *scatter =
        (struct scatter){statement_real(row, 0), statement_real(row, 1), statement_real(row, 2)};
    return OK;
}

/* Of the configuration that the budget's section is about: that with the largest delta. */
enum status trust_check_scatter(struct trust_work *work, struct trust_check *check,
                                struct fault *fault)
{
    const struct finding_configuration *baseline = findings_baseline(work->findings);
    const char *texts[] = {trust_metric(work)->quantity, work->findings->target,
                           baseline != NULL ? baseline->name : "", NULL};
    struct scatter scatter = {NAN, NAN, 0};
    double flagged = 0;

    enum status status = query_each(
        work->store,
        "SELECT u.predicted_scatter, u.observed_scatter, u.observed_degrees_of_freedom FROM "
        "delta_uncertainty AS u JOIN "
        "page_reduction AS d USING (reduction) WHERE u.quantity = ?1 AND u.target = ?2 AND "
        "u.baseline = ?3 ORDER BY abs((SELECT max(x.delta) FROM page_delta AS x WHERE "
        "x.configuration = u.configuration AND x.is_main = 1)) DESC, u.configuration LIMIT 1",
        texts, take_scatter, &scatter, fault);
    if (status == OK)
        status = query_real(work->store,
                            "SELECT count(*) FROM page_flag WHERE rule = ?1 AND subject = ?2",
                            (const char *[]){flag_row(FLAG_BUDGET_UNLIKE_SCATTER)->code,
                                             trust_metric(work)->quantity, NULL},
                            &flagged, fault);
    check->action = scatter.observed > scatter.predicted
                        ? "Find what changes from mounting to mounting, or declare it with "
                          "reaches: run."
                        : "Look for a declared source that is too large, or that reaches farther "
                          "than a run.";
    if (!isfinite(scatter.predicted) || !(scatter.observed > 0) || !(scatter.freedom > 0)) {
        buffer_text(&work->says, "No budget or no repeats: the scatter of mountings is not held "
                                 "against what is declared.");
        return status;
    }
    int is_unexplained = flagged > 0 && scatter.observed > scatter.predicted;
    check->state = flagged > 0 ? TRUST_LOOK : TRUST_HOLDS;
    buffer_text(&work->says, "Mountings scatter by ");
    trust_say_size(work, scatter.observed);
    buffer_text(&work->says, ", where the uncertainties of the budget say ");
    trust_say_size(work, scatter.predicted);
    buffer_text(&work->says,
                is_unexplained
                    ? ": something that is not declared changes from mounting to mounting, and "
                      "need not be random."
                    : ".");
    return status;
}

enum status trust_check_season(struct trust_work *work, struct trust_check *check,
                               struct fault *fault)
{
    const char *texts[] = {flag_row(FLAG_NOISE_UNLIKE_SEASON)->code, NULL};
    double unlike = 0, earlier = 0, declared = 0;

    enum status status = query_real(work->store, "SELECT count(*) FROM page_flag WHERE rule = ?1",
                                    texts, &unlike, fault);
    if (status == OK)
        status = query_real(work->store,
                            "SELECT count(*) FROM repeatability AS x JOIN reduction AS d USING "
                            "(reduction) JOIN page_scope AS p ON p.facility = x.facility AND "
                            "p.entry <> x.entry WHERE d.is_current = 1 AND x.degrees_of_freedom > "
                            "0 AND x.started_s < (SELECT min(start_s) FROM page_run)",
                            NULL, &earlier, fault);
    if (status == OK)
        status = query_real(work->store,
                            "SELECT count(*) FROM repeatability_declared AS x JOIN page_scope AS p "
                            "ON p.facility = x.facility",
                            NULL, &declared, fault);
    check->action = flag_row(FLAG_NOISE_UNLIKE_SEASON)->action;
    if (unlike > 0) {
        check->state = TRUST_LOOK;
        buffer_text(&work->says, flag_row(FLAG_NOISE_UNLIKE_SEASON)->sentence);
    } else if (earlier + declared > 0) {
        check->state = TRUST_HOLDS;
        buffer_format(&work->says, "The scatter is not flagged as unlike %s.",
                      earlier > 0 ? "that of the facility's earlier entries"
                                  : "what is declared of the facility");
    } else {
        buffer_text(&work->says, "The season knows of no earlier scatter of this facility to hold "
                                 "the entry's against.");
    }
    return status;
}

const struct finding_configuration *trust_not_firm(const struct findings *findings)
{
    const struct finding_configuration *leader = trust_leader(findings);
    const struct finding_configuration *soft = NULL;

    for (size_t i = 0; i < findings->n_leading; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        if (at->variants > 0 && strcmp(at->stability, "firm") != 0 &&
            (soft == NULL || at == leader))
            soft = at;
    }
    return soft;
}

enum status trust_check_exclusion(struct trust_work *work, struct trust_check *check,
                                  struct fault *fault)
{
    size_t told = 0, firm = 0;
    const struct finding_configuration *soft = trust_not_firm(work->findings);

    (void)fault;
    for (size_t i = 0; i < work->findings->n_leading; i++) {
        const struct finding_configuration *at = &work->findings->configurations[i];
        if (at->stability[0] == '\0')
            continue;
        told++;
        firm += strcmp(at->stability, "firm") == 0;
    }
    check->action = "Repeat it before deciding on it; its proof sheet has the verdict without each "
                    "of them.";
    if (told == 0) {
        buffer_text(&work->says, "No verdict was worked out again without some of its runs.");
        return OK;
    }
    check->state = soft == NULL ? TRUST_HOLDS : TRUST_LOOK;
    buffer_format(&work->says,
                  "Worked out again without each return, without flagged points and with what was "
                  "left out, the verdict stays the same for %zu of %zu configuration%s",
                  firm, told, told == 1 ? "" : "s");
    if (soft != NULL) {
        if (soft == work->leader && strncmp(soft->stability, "reversed", 8) == 0)
            check->state = TRUST_FAILS;
        buffer_format(&work->says, "; %s: %s (%lld of %lld say the same)", soft->name,
                      soft->stability, soft->variants_same, soft->variants);
    }
    buffer_text(&work->says, ".");
    return OK;
}

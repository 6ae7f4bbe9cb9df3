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
    if (check->state == TRUST_HOLDS)
        buffer_format(&work->says,
                      "The whole night's model and the local bracket agree on all %zu deltas; ",
                      both);
    else
        buffer_text(&work->says, "The whole night's model and the local bracket disagree: ");
    buffer_format(&work->says, "on %s, %sthey are ", worst->name,
                  check->state == TRUST_HOLDS && both > 1 ? "where most, " : "");
    trust_say_size(work, gap);
    buffer_text(&work->says, " apart.");
    return OK;
}

struct scatter {
    double predicted, observed;
};

static enum status take_scatter(struct statement *row, void *context, struct fault *fault)
{
    struct scatter *scatter = context;

    (void)fault;
    *scatter = (struct scatter){statement_real(row, 0), statement_real(row, 1)};
    return OK;
}

/* Of the configuration that the budget's section is about: that with the largest delta. */
enum status trust_check_scatter(struct trust_work *work, struct trust_check *check,
                                struct fault *fault)
{
    const struct finding_configuration *baseline = findings_baseline(work->findings);
    const char *texts[] = {trust_metric(work)->quantity, work->findings->target,
                           baseline != NULL ? baseline->name : "", NULL};
    struct scatter scatter = {NAN, NAN};
    double flagged = 0;

    enum status status = query_each(
        work->store,
        "SELECT u.predicted_scatter, u.observed_scatter FROM delta_uncertainty AS u JOIN "
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
    check->action = flag_row(FLAG_BUDGET_UNLIKE_SCATTER)->action;
    if (!isfinite(scatter.predicted) || !isfinite(scatter.observed)) {
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
    double unlike = 0, known = 0;

    enum status status = query_real(work->store, "SELECT count(*) FROM page_flag WHERE rule = ?1",
                                    texts, &unlike, fault);
    if (status == OK)
        status = query_real(work->store,
                            "SELECT count(*) FROM repeatability_season AS s JOIN page_scope AS p "
                            "ON p.facility = s.facility WHERE s.degrees_of_freedom > 0",
                            NULL, &known, fault);
    check->action = flag_row(FLAG_NOISE_UNLIKE_SEASON)->action;
    if (unlike > 0) {
        check->state = TRUST_LOOK;
        buffer_text(&work->says, flag_row(FLAG_NOISE_UNLIKE_SEASON)->sentence);
    } else if (work->findings->entries.n > 1 && known > 0) {
        check->state = TRUST_HOLDS;
        buffer_text(&work->says,
                    "The scatter is not flagged as unlike that of the season's other entries.");
    } else {
        buffer_text(&work->says,
                    "The season has no other entry to hold tonight's scatter against.");
    }
    return status;
}

enum status trust_check_exclusion(struct trust_work *work, struct trust_check *check,
                                  struct fault *fault)
{
    size_t told = 0, firm = 0;
    const struct finding_configuration *soft = NULL;

    (void)fault;
    for (size_t i = 0; i < work->findings->n_leading; i++) {
        const struct finding_configuration *at = &work->findings->configurations[i];
        if (at->stability[0] == '\0')
            continue;
        told++;
        firm += strcmp(at->stability, "firm") == 0;
        if (strcmp(at->stability, "firm") != 0 && (soft == NULL || at == work->leader))
            soft = at;
    }
    check->action = "Decide on what is left out before deciding on the part; exclusions.csv has "
                    "every delta with and without.";
    if (told == 0) {
        buffer_text(&work->says, "No verdict was found again without some of its runs.");
        return OK;
    }
    check->state = soft == NULL ? TRUST_HOLDS : TRUST_LOOK;
    buffer_format(&work->says,
                  "Found again without one return, or with what is left out, %zu of "
                  "%zu reading%s firm",
                  firm, told, told == 1 ? " is" : "s are");
    if (soft != NULL) {
        if (soft == work->leader && strncmp(soft->stability, "reversed", 8) == 0)
            check->state = TRUST_FAILS;
        buffer_format(&work->says, "; that of %s is %s (%lld of %lld say the same)", soft->name,
                      soft->stability, soft->variants_same, soft->variants);
    }
    buffer_text(&work->says, ".");
    return OK;
}

/* trust_night.c - checks on what was done that night; see trust.h. */
#include "report/trust_work.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/baseline_track.h"
#include "report/number_text.h"
#include "schema/flag.h"

struct values {
    void *items;
    size_t n, capacity;
};

static enum status take_value(struct statement *row, void *context, struct fault *fault)
{
    struct values *values = context;
    double *added =
        query_append(&values->items, &values->n, &values->capacity, sizeof *added, fault);

    if (added == NULL)
        return NO_MEMORY;
    *added = statement_real(row, 0);
    return OK;
}

static double widest_judged(const struct findings *findings)
{
    double widest = (double)NAN;

    for (size_t i = 0; i < findings->n_leading; i++)
        widest = fmax(widest, findings->configurations[i].deltas[0].half_width);
    return widest;
}

static void judge_track(struct trust_work *work, const struct baseline_track *track,
                        struct trust_check *check)
{
    double widest = widest_judged(work->findings);
    double worthwhile = trust_metric(work)->worthwhile;
    double step = fabs(track->step);

    check->state = baseline_track_size(track) <= worthwhile ? TRUST_HOLDS : TRUST_LOOK;
    if (step > worthwhile && step > 2 * widest)
        check->state = TRUST_FAILS;
    buffer_text(&work->says, "The baseline moved by ");
    trust_say_size(work, track->moved);
    buffer_format(&work->says, " from the first to the last of its %zu mountings", track->returns);
    if (track->returns > 2) {
        buffer_text(&work->says, ", by ");
        trust_say_size(work, track->step);
        buffer_text(&work->says, " at most between neighbours");
    }
    if (check->state == TRUST_FAILS)
        buffer_text(&work->says, ", which is more than twice the widest judged half-width, ");
    else
        buffer_text(&work->says,
                    check->state == TRUST_HOLDS ? "; that is within the " : "; more than the ");
    if (check->state == TRUST_FAILS)
        trust_say_size(work, widest);
    else
        trust_say_worthwhile(work);
    buffer_text(&work->says, check->state == TRUST_FAILS ? "." : " that matter.");
    check->action = "Find what moved before deciding anything; repeat the runs around the step.";
}

/* What the leading family's baseline measured in the main measure, mounting by mounting. */
static enum status baseline_values(const struct trust_work *work, struct values *values,
                                   struct fault *fault)
{
    const struct finding_configuration *baseline = findings_baseline(work->findings);

    if (baseline == NULL)
        return OK;
    const char *texts[] = {baseline->name, trust_metric(work)->quantity, work->findings->target,
                           NULL};
    return query_each(work->store,
                      "SELECT o.value FROM observation AS o JOIN page_reduction AS d USING "
                      "(reduction) WHERE o.configuration = ?1 AND o.quantity = ?2 AND "
                      "o.target = ?3 ORDER BY o.time_s, o.mounting",
                      texts, take_value, values, fault);
}

enum status trust_check_baseline(struct trust_work *work, struct trust_check *check,
                                 struct fault *fault)
{
    struct values values = {0};

    enum status status = baseline_values(work, &values, fault);
    if (status == OK && values.n >= 2) {
        struct baseline_track track = baseline_track(values.items, values.n);
        judge_track(work, &track, check);
    } else if (status == OK) {
        buffer_text(&work->says, values.n == 0 ? "The baseline has no value at this attitude, so "
                                                 "nothing tells how far the night moved."
                                               : "The baseline was not returned to, so nothing "
                                                 "tells how far the night moved.");
        check->action = "Return to the baseline.";
    }
    free(values.items);
    return status;
}

/* ---- flags --------------------------------------------------------------------------------------- */

struct flag_seen {
    size_t n;
    struct trust_work *work;
    double effect; /* of the largest, counts */
    char place[160];
    int fails;
};

static double counts_that_matter(const struct trust_work *work)
{
    return trust_metric(work)->display.factor * trust_metric(work)->worthwhile;
}

/* Half of what the bracket moved by, against the interval of a decided configuration. */
static enum status take_bracket(struct statement *row, void *context, struct fault *fault)
{
    struct flag_seen *seen = context;
    const char *name = statement_text(row, 0);
    double movement = fabs(statement_real(row, 1));
    const struct finding_configuration *at = findings_configuration(seen->work->findings, name);

    (void)fault;
    if (at == NULL || at->family != 0)
        return OK;
    const char *verdict = at->deltas[0].verdict;
    int is_decided = strcmp(verdict, "gain") == 0 || strcmp(verdict, "loss") == 0 ||
                     strcmp(verdict, "changed") == 0;
    int fails = is_decided && movement / 2 > at->deltas[0].half_width;
    seen->n++;
    if (seen->fails > fails || (seen->fails == fails && !(movement > seen->effect)))
        return OK;
    seen->fails = fails;
    seen->effect = movement;
    (void)snprintf(seen->place, sizeof seen->place, "%.150s", name);
    return OK;
}

enum status trust_check_brackets(struct trust_work *work, struct trust_check *check,
                                 struct fault *fault)
{
    const char *texts[] = {flag_row(FLAG_BRACKET_WIDE)->code, NULL};
    struct flag_seen seen = {.work = work, .effect = -1};
    struct values values = {0};

    enum status status = baseline_values(work, &values, fault);
    free(values.items);
    if (status == OK && values.n < 2) {
        buffer_text(&work->says, "No mounting lies between two mountings of the baseline.");
        return OK;
    }
    if (status != OK)
        return status;
    status = query_each(
        work->store,
        "SELECT f.subject, f.value FROM page_flag AS f WHERE f.rule = ?1 AND f.value IS NOT NULL "
        "ORDER BY f.subject, f.value",
        texts, take_bracket, &seen, fault);
    check->state = seen.n == 0 ? TRUST_HOLDS : seen.fails ? TRUST_FAILS : TRUST_LOOK;
    check->action = flag_row(FLAG_BRACKET_WIDE)->action;
    if (seen.n == 0) {
        buffer_text(&work->says, "Between no two returns around a mounting did the baseline move "
                                 "by more than its scatter and ");
        trust_say_worthwhile(work);
        buffer_text(&work->says, ".");
        return status;
    }
    buffer_format(&work->says, "Around %s the baseline moved by ", seen.place);
    trust_say_size(work, seen.effect);
    buffer_text(&work->says, seen.fails ? " between its returns; half of that is more than the "
                                          "delta's interval."
                                        : " between its returns, more than matters.");
    return status;
}

static enum status take_change(struct statement *row, void *context, struct fault *fault)
{
    struct flag_seen *seen = context;
    double effect = fabs(statement_real(row, 1));

    (void)fault;
    seen->n++;
    if (seen->n > 1 && !(effect > seen->effect))
        return OK;
    seen->effect = effect;
    (void)snprintf(seen->place, sizeof seen->place, "%.150s", statement_text(row, 0));
    return OK;
}

enum status trust_check_change(struct trust_work *work, struct trust_check *check,
                               struct fault *fault)
{
    struct flag_seen seen = {.work = work};
    double still = 0;

    enum status status = query_real(
        work->store, "SELECT count(*) FROM page_run WHERE kind NOT IN ('wind_on', 'record_only')",
        NULL, &still, fault);
    if (status == OK)
        status = query_each(work->store,
                            "SELECT run, effect_counts FROM page_flag WHERE rule = ?1 "
                            "ORDER BY abs(effect_counts) DESC, run",
                            (const char *[]){flag_row(FLAG_UNDECLARED_CHANGE)->code, NULL},
                            take_change, &seen, fault);
    check->state = seen.n == 0 ? TRUST_HOLDS : TRUST_LOOK;
    if (seen.n > 0 && seen.effect > counts_that_matter(work))
        check->state = TRUST_FAILS;
    check->action = flag_row(FLAG_UNDECLARED_CHANGE)->action;
    if (seen.n == 0 && still < 2) {
        check->state = TRUST_UNKNOWN;
        buffer_text(&work->says, "Fewer than two zeros or weight tares were taken, so no step "
                                 "between runs can be seen.");
        return status;
    }
    if (seen.n == 0) {
        buffer_text(&work->says, "No step of zero or weight is flagged between runs of one "
                                 "configuration.");
        return status;
    }
    buffer_format(&work->says, "Before %s something changed that the run sheet does not tell",
                  seen.place);
    if (isfinite(seen.effect)) {
        buffer_text(&work->says, ", worth ");
        trust_say_size(work, seen.effect / trust_metric(work)->display.factor);
    }
    buffer_text(&work->says, ".");
    return status;
}

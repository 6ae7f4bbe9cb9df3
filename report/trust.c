/* trust.c - the checks; see trust.h. */
#include "report/trust.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/baseline_track.h"
#include "report/findings.h"
#include "report/number_text.h"
#include "schema/flag.h"

struct trust_work {
    struct store *store;
    struct findings *findings;
    const struct finding_configuration *leader; /* the best gain; NULL */
    struct buffer says;                         /* of the check that is being made */
};

typedef enum status trust_make(struct trust_work *work, struct trust_check *check,
                               struct fault *fault);

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

static const struct finding_metric *main_metric(const struct trust_work *work)
{
    return &work->findings->metrics[0];
}

/* "14.2 counts": a size in the page's unit. */
static void say_size(struct trust_work *work, double stored)
{
    const struct display *display = &main_metric(work)->display;

    buffer_text(&work->says,
                number_text_plain(fabs(display->factor * stored), display->decimals).text);
    buffer_text(&work->says, display->unit[0] != '\0' ? " " : "");
    buffer_text(&work->says, display->unit);
}

static void say_worthwhile(struct trust_work *work)
{
    const struct display *display = &main_metric(work)->display;

    buffer_text(&work->says,
                number_text_declared(display->factor * main_metric(work)->worthwhile).text);
    buffer_text(&work->says, display->unit[0] != '\0' ? " " : "");
    buffer_text(&work->says, display->unit);
}

/* ---- baseline ------------------------------------------------------------------------------------ */

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
    double worthwhile = main_metric(work)->worthwhile;
    double step = fabs(track->step);

    check->state = baseline_track_size(track) <= worthwhile ? TRUST_HOLDS : TRUST_LOOK;
    if (step > worthwhile && step > 2 * widest)
        check->state = TRUST_FAILS;
    buffer_text(&work->says, "The baseline moved by ");
    say_size(work, track->moved);
    buffer_format(&work->says, " from first to last of %zu returns", track->returns);
    if (track->returns > 2) {
        buffer_text(&work->says, ", by ");
        say_size(work, track->step);
        buffer_text(&work->says, " at most between neighbours");
    }
    if (check->state == TRUST_FAILS)
        buffer_text(&work->says, ", which is more than twice the widest judged half-width, ");
    else
        buffer_text(&work->says,
                    check->state == TRUST_HOLDS ? "; that is within the " : "; more than the ");
    if (check->state == TRUST_FAILS)
        say_size(work, widest);
    else
        say_worthwhile(work);
    buffer_text(&work->says, check->state == TRUST_FAILS ? "." : " that matter.");
    check->action = "Find what moved before deciding anything; repeat the runs around the step.";
}

static enum status check_baseline(struct trust_work *work, struct trust_check *check,
                                  struct fault *fault)
{
    const struct finding_configuration *baseline = findings_baseline(work->findings);
    struct values values = {0};
    enum status status = OK;

    if (baseline != NULL) {
        const char *texts[] = {baseline->name, main_metric(work)->quantity, work->findings->target,
                               NULL};
        status = query_each(work->store,
                            "SELECT o.value FROM observation AS o JOIN page_reduction AS d USING "
                            "(reduction) WHERE o.configuration = ?1 AND o.quantity = ?2 AND "
                            "o.target = ?3 ORDER BY o.time_s, o.mounting",
                            texts, take_value, &values, fault);
    }
    if (status == OK && values.n >= 2) {
        struct baseline_track track = baseline_track(values.items, values.n);
        judge_track(work, &track, check);
    } else if (status == OK) {
        buffer_text(&work->says, "The baseline was not returned to, so nothing tells how far the "
                                 "night moved.");
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
    return main_metric(work)->display.factor * main_metric(work)->worthwhile;
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

static enum status check_brackets(struct trust_work *work, struct trust_check *check,
                                  struct fault *fault)
{
    const char *texts[] = {flag_row(FLAG_BRACKET_WIDE)->code, NULL};
    struct flag_seen seen = {.work = work, .effect = -1};

    enum status status = query_each(
        work->store,
        "SELECT f.subject, f.value FROM page_flag AS f WHERE f.rule = ?1 AND f.value IS NOT NULL "
        "ORDER BY f.subject, f.value",
        texts, take_bracket, &seen, fault);
    check->state = seen.n == 0 ? TRUST_HOLDS : seen.fails ? TRUST_FAILS : TRUST_LOOK;
    check->action = flag_row(FLAG_BRACKET_WIDE)->action;
    if (seen.n == 0) {
        buffer_text(&work->says, "Between no two returns around a mounting did the baseline move "
                                 "by more than its scatter and ");
        say_worthwhile(work);
        buffer_text(&work->says, ".");
        return status;
    }
    buffer_format(&work->says, "Around %s the baseline moved by ", seen.place);
    say_size(work, seen.effect);
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

static enum status check_change(struct trust_work *work, struct trust_check *check,
                                struct fault *fault)
{
    const char *texts[] = {flag_row(FLAG_UNDECLARED_CHANGE)->code, NULL};
    struct flag_seen seen = {.work = work};

    enum status status = query_each(work->store,
                                    "SELECT run, effect_counts FROM page_flag WHERE rule = ?1 "
                                    "ORDER BY abs(effect_counts) DESC, run",
                                    texts, take_change, &seen, fault);
    check->state = seen.n == 0 ? TRUST_HOLDS : TRUST_LOOK;
    if (seen.n > 0 && seen.effect > counts_that_matter(work))
        check->state = TRUST_FAILS;
    check->action = flag_row(FLAG_UNDECLARED_CHANGE)->action;
    if (seen.n == 0) {
        buffer_text(&work->says, "No step of zero or weight is flagged between runs of one "
                                 "configuration.");
        return status;
    }
    buffer_format(&work->says, "Before %s something changed that the run sheet does not tell",
                  seen.place);
    if (isfinite(seen.effect)) {
        buffer_text(&work->says, ", worth ");
        say_size(work, seen.effect / main_metric(work)->display.factor);
    }
    buffer_text(&work->says, ".");
    return status;
}

/* ---- what the deltas rest on --------------------------------------------------------------------- */

static enum status check_methods(struct trust_work *work, struct trust_check *check,
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
    say_size(work, gap);
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
static enum status check_scatter(struct trust_work *work, struct trust_check *check,
                                 struct fault *fault)
{
    const struct finding_configuration *baseline = findings_baseline(work->findings);
    const char *texts[] = {main_metric(work)->quantity, work->findings->target,
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
                                             main_metric(work)->quantity, NULL},
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
    say_size(work, scatter.observed);
    buffer_text(&work->says, ", where the uncertainties of the budget say ");
    say_size(work, scatter.predicted);
    buffer_text(&work->says,
                is_unexplained
                    ? ": something that is not declared changes from mounting to mounting, and "
                      "need not be random."
                    : ".");
    return status;
}

static enum status check_season(struct trust_work *work, struct trust_check *check,
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

static enum status check_exclusion(struct trust_work *work, struct trust_check *check,
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

/* ---- together ------------------------------------------------------------------------------------ */

static const struct {
    const char *name;
    trust_make *make;
} rows[TRUST_CHECKS] = {
    {"Baseline", check_baseline},
    {"Brackets", check_brackets},
    {"Undeclared change", check_change},
    {"Two methods", check_methods},
    {"Scatter", check_scatter},
    {"Like the season", check_season},
    {"What is left out", check_exclusion},
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

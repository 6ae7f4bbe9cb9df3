/* robustness.c - see robustness.h. */
#include "reduce/robustness.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/delta_reading.h"
#include "reduce/family_contents.h"
#include "reduce/rows.h"
#include "reduce/statistics/night_variants.h"

struct robust_work {
    struct exclusion_request asked; /* the request, at the headlines' significance */
    const struct exclusion_request *request;
    struct delta_reading *headlines, *readings; /* n_configurations */
    struct statement *insert;
};

static enum status read_deltas(const struct robust_work *work, const struct family *family,
                               struct delta_reading *readings, struct fault *fault)
{
    const struct compare_plan *plan = work->request->plan;
    enum quantity quantity = quantity_from_symbol(plan->main_metric->quantity);
    return exclusion_read(work->request, family, quantity, plan->main_measure, readings, fault);
}

static enum status write_row(struct robust_work *work, size_t configuration, const char *variant,
                             struct fault *fault)
{
    const struct family *family = work->request->stands;
    const struct compare_plan *plan = work->request->plan;
    const struct delta_reading *reading = &work->readings[configuration];
    const char *const texts[] = {family->configurations[configuration], plan->main_metric->quantity,
                                 family->measures[plan->main_measure], variant, reading->verdict};
    const double reals[] = {reading->delta, reading->half_width};
    enum status status = statement_bind_integer(work->insert, 1, work->request->reduction, fault);
    for (int i = 0; status == OK && i < 5; i++)
        status = statement_bind_text(work->insert, 2 + i, texts[i], fault);
    for (int i = 0; status == OK && i < 2; i++)
        status = statement_bind_real(work->insert, 7 + i,
                                     isfinite(reals[i]) ? reals[i] : (double)NAN, fault);
    return status == OK ? statement_run(work->insert, fault) : status;
}

/* Only of configurations with a verdict: nothing else can change. Where every point is flagged nothing is
 * left without them, which says nothing of the verdict: no variant. */
static enum status judge(struct robust_work *work, const struct family *family, const char *variant,
                         int needs_delta, struct fault *fault)
{
    enum status status = read_deltas(work, family, work->readings, fault);
    for (size_t i = 1; status == OK && i < family->n_configurations; i++)
        if (work->headlines[i].verdict != NULL &&
            (!needs_delta || isfinite(work->readings[i].delta)))
            status = write_row(work, i, variant, fault);
    return status;
}

/* The family's runs but those of one mounting of the baseline; runs is room for all of them. */
static struct family leave_out(const struct family *family, size_t mounting,
                               struct family_run *runs, char *names, size_t size)
{
    struct family left = *family;
    size_t used = 0;
    left.runs = runs;
    left.n_runs = 0;
    names[0] = '\0';
    for (size_t i = 0; i < family->n_runs; i++) {
        const struct family_run *run = &family->runs[i];
        if (run->configuration != 0 || run->mounting != mounting) {
            left.runs[left.n_runs++] = *run;
            continue;
        }
        (void)snprintf(names + used, size - used, "%s%.60s", used == 0 ? "" : ", ", run->run->run);
        used = strlen(names);
    }
    return left;
}

/* The highest mounting number of the baseline. */
static size_t count_returns(const struct family *family)
{
    size_t most = 0;
    for (size_t i = 0; i < family->n_runs; i++)
        if (family->runs[i].configuration == 0 && family->runs[i].mounting > most)
            most = family->runs[i].mounting;
    return most;
}

static enum status leave_returns(struct robust_work *work, struct fault *fault)
{
    const struct family *family = work->request->stands;
    char names[240];
    char variant[280];
    void *array = NULL;
    enum status status = array_make(&array, family->n_runs, sizeof *family->runs, fault);
    for (size_t m = 1; status == OK && m <= count_returns(family); m++) {
        struct family left = leave_out(family, m, array, names, sizeof names);
        if (left.n_runs == family->n_runs)
            continue;
        (void)snprintf(variant, sizeof variant, "without return %s", names);
        status = judge(work, &left, variant, 0, fault);
    }
    free(array);
    return status;
}

static enum status leave_flagged(struct robust_work *work, struct fault *fault)
{
    const struct exclusion_request *request = work->request;
    struct family left;
    enum status status = family_read_unflagged(request->night, request->group, &left, fault);
    if (status == OK)
        status = family_keep_one_content(request->night, &left, NULL, fault);
    if (status != OK) {
        family_end(&left);
        return status;
    }
    if (!family_is_same(request->stands, &left))
        status = judge(work, &left, "without flagged points", 1, fault);
    family_end(&left);
    return status;
}

/* What leaving out and taking in by decisions and failures changes, where it changes anything. */
static enum status copy_bases(const struct exclusion_request *request, struct fault *fault)
{
    struct statement *copy = NULL;
    enum status status = statement_prepare(
        request->night->store,
        "INSERT INTO robustness (reduction, configuration, quantity, target, variant, delta, "
        "half_width, verdict) SELECT reduction, configuration, quantity, target, basis, "
        "delta_without, half_width_without, verdict_without FROM exclusion_effect WHERE reduction "
        "= ?1 AND is_main = 1 AND verdict_with IS NOT NULL",
        &copy, fault);
    if (status == OK)
        status = statement_bind_integer(copy, 1, request->reduction, fault);
    if (status == OK)
        status = statement_run(copy, fault);
    statement_free(copy);
    return status;
}

static enum verdict word_of(const char *verdict)
{
    static const enum verdict words[] = {VERDICT_NO_CHANGE, VERDICT_GAIN, VERDICT_LOSS,
                                         VERDICT_CHANGED};
    for (size_t i = 0; verdict != NULL && i < sizeof words / sizeof words[0]; i++)
        if (strcmp(verdict, verdict_words(words[i])) == 0)
            return words[i];
    return VERDICT_CANNOT_TELL;
}

static enum status write_stability(const struct robust_work *work, size_t configuration,
                                   const enum verdict *variants, size_t n, struct fault *fault)
{
    const struct exclusion_request *request = work->request;
    enum verdict headline = work->headlines[configuration].word;
    struct statement *insert = NULL;
    int64_t same = 0;
    for (size_t i = 0; i < n; i++)
        same += variants[i] == headline;
    const char *const texts[] = {request->stands->configurations[configuration],
                                 request->plan->main_metric->quantity,
                                 request->stands->measures[request->plan->main_measure],
                                 stability_words(verdict_stability(headline, variants, n))};
    const int64_t integers[] = {request->reduction, (int64_t)n, same};
    enum status status = rows_open(request->night->store,
                                   "INSERT INTO stability_result (configuration, quantity, target, "
                                   "stability, reduction, variants, same) VALUES (?,?,?,?,?,?,?)",
                                   texts, 4, &insert, fault);
    for (int i = 0; status == OK && i < 3; i++)
        status = statement_bind_integer(insert, 5 + i, integers[i], fault);
    if (status == OK)
        status = statement_run(insert, fault);
    statement_free(insert);
    return status;
}

/* One configuration's variants, as they were just written. */
static enum status sum_up(const struct robust_work *work, size_t configuration, struct fault *fault)
{
    const struct exclusion_request *request = work->request;
    struct statement *row = NULL;
    void *array = NULL;
    size_t n = 0;
    size_t capacity = 0;
    int more = 0;
    enum status status = rows_open(request->night->store,
                                   "SELECT verdict FROM robustness WHERE configuration = ?1 AND "
                                   "reduction = ?2 ORDER BY variant",
                                   &request->stands->configurations[configuration], 1, &row, fault);
    if (status == OK)
        status = statement_bind_integer(row, 2, request->reduction, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        status = array_reserve(&array, &capacity, n + 1, sizeof(enum verdict), fault);
        if (status == OK)
            ((enum verdict *)array)[n++] = word_of(statement_text(row, 0));
    }
    statement_free(row);
    if (status == OK && n > 0)
        status = write_stability(work, configuration, array, n, fault);
    free(array);
    return status;
}

static enum status write_all(struct robust_work *work, struct fault *fault)
{
    const struct family *family = work->request->stands;
    enum status status = read_deltas(work, family, work->headlines, fault);
    for (size_t i = 1; status == OK && i < family->n_configurations; i++)
        if (isfinite(work->headlines[i].half_width))
            work->asked.significance = delta_significance(&work->headlines[i]);
    if (status == OK)
        status = leave_returns(work, fault);
    if (status == OK)
        status = leave_flagged(work, fault);
    if (status == OK)
        status = copy_bases(work->request, fault);
    for (size_t i = 1; status == OK && i < family->n_configurations; i++)
        if (work->headlines[i].verdict != NULL)
            status = sum_up(work, i, fault);
    return status;
}

enum status robustness_write(const struct exclusion_request *request, struct fault *fault)
{
    struct robust_work work = {.asked = *request};
    work.request = &work.asked;
    void *headlines = NULL;
    void *readings = NULL;
    size_t n = request->stands->n_configurations;
    if (!compare_plan_has_main(request->plan, request->stands))
        return OK;
    enum status status = array_make(&headlines, n, sizeof *work.headlines, fault);
    if (status == OK)
        status = array_make(&readings, n, sizeof *work.readings, fault);
    work.headlines = headlines;
    work.readings = readings;
    if (status == OK)
        status = statement_prepare(
            request->night->store,
            "INSERT INTO robustness (reduction, configuration, quantity, target, variant, verdict, "
            "delta, half_width) VALUES (?,?,?,?,?,?,?,?)",
            &work.insert, fault);
    if (status == OK)
        status = write_all(&work, fault);
    statement_free(work.insert);
    free(headlines);
    free(readings);
    return status;
}

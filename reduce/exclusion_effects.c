/* exclusion_effects.c - see exclusion_effects.h. */
#include "reduce/exclusion_effects.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/exclusion_flag.h"
#include "reduce/exclusion_points.h"
#include "reduce/family_contents.h"
#include "reduce/family_values.h"
#include "reduce/rows.h"

struct effect_work {
    const struct exclusion_request *request;
    enum basis basis;
    const struct family *without;
    const struct family *told; /* of a basis told already, NULL for the first */
    struct exclusion_points points;
    struct statement *insert;
    struct delta_reading *with_readings, *without_readings, *told_readings; /* n_configurations */
    enum quantity quantity;
    size_t measure;
};

/* A point counts where it is the configuration's or its baseline's. */
static int counts(const struct effect_work *work, size_t point, size_t configuration)
{
    const struct exclusion_point *at = &work->points.points[point];
    size_t of = work->request->stands->runs[at->run].configuration;
    return (of == configuration || of == 0) &&
           exclusion_point_bears(at, &work->request->night->campaign->attitudes, work->measure);
}

/* Points and runs that count, and the names of those who decided on them. */
static enum status sum_up(const struct effect_work *work, size_t configuration, size_t *points,
                          size_t *runs, struct key_text *names, struct fault *fault)
{
    size_t last_run = SIZE_MAX;
    *points = 0;
    *runs = 0;
    for (size_t i = 0; i < work->points.n; i++) {
        const struct exclusion_point *at = &work->points.points[i];
        int is_named = at->decision == NULL;
        if (!counts(work, i, configuration))
            continue;
        (*points)++;
        *runs += at->run != last_run; /* points of a run stand together */
        last_run = at->run;
        for (size_t k = 0; k < i && !is_named; k++)
            is_named = counts(work, k, configuration) && work->points.points[k].decision != NULL &&
                       strcmp(work->points.points[k].decision->who, at->decision->who) == 0;
        if (!is_named)
            key_text_say(names, "%s%s", names->length == 0 ? "" : ", ", at->decision->who);
    }
    return key_text_status(names, fault);
}

static int is_same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static int readings_differ(const struct delta_reading *with, const struct delta_reading *without)
{
    return !is_same(with->delta, without->delta) ||
           !is_same(with->half_width, without->half_width) || exclusion_flips(with, without);
}

/* Worth a row: a number on either side, a point or a number that differs, and not told before. */
static int is_news(const struct effect_work *work, size_t configuration, size_t points)
{
    const struct delta_reading *with = &work->with_readings[configuration];
    const struct delta_reading *without = &work->without_readings[configuration];
    if (isnan(with->delta) && isnan(without->delta))
        return 0;
    if (work->told != NULL && !readings_differ(&work->told_readings[configuration], without))
        return 0;
    return points > 0 || readings_differ(with, without);
}

static enum status write_row(struct effect_work *work, size_t configuration, size_t points,
                             size_t runs, const char *names, struct fault *fault)
{
    const struct family *family = work->request->stands;
    const struct delta_reading *with = &work->with_readings[configuration];
    const struct delta_reading *without = &work->without_readings[configuration];
    int is_main = compare_plan_is_main(work->request->plan, family, work->quantity, work->measure);
    const char *const texts[] = {family->configurations[configuration],
                                 quantity_row(work->quantity)->symbol,
                                 family->measures[work->measure],
                                 basis_name(work->basis),
                                 with->verdict,
                                 without->verdict,
                                 names};
    const double reals[] = {with->delta, with->half_width, without->delta, without->half_width};
    const int64_t integers[] = {work->request->reduction, is_main, (int64_t)points, (int64_t)runs};
    enum status status = OK;
    for (int i = 0; status == OK && i < 7; i++)
        status = statement_bind_text(work->insert, 1 + i, texts[i], fault);
    for (int i = 0; status == OK && i < 4; i++)
        status = statement_bind_real(work->insert, 8 + i,
                                     isfinite(reals[i]) ? reals[i] : (double)NAN, fault);
    for (int i = 0; status == OK && i < 4; i++)
        status = statement_bind_integer(work->insert, 12 + i, integers[i], fault);
    return status == OK ? statement_run(work->insert, fault) : status;
}

static enum status write_effect(struct effect_work *work, size_t configuration, struct fault *fault)
{
    const struct delta_reading *with = &work->with_readings[configuration];
    const struct delta_reading *without = &work->without_readings[configuration];
    struct key_text names = {NULL, 0, 0, 0};
    size_t points = 0;
    size_t runs = 0;
    enum status status = sum_up(work, configuration, &points, &runs, &names, fault);
    int is_written = status == OK && is_news(work, configuration, points);
    if (is_written)
        status = write_row(work, configuration, points, runs, names.text == NULL ? "" : names.text,
                           fault);
    key_text_end(&names);
    if (status != OK || !is_written || !exclusion_flips(with, without))
        return status;
    struct exclusion_flip flip = {work->request->stands, &work->points, work->basis, configuration,
                                  work->measure,         with,          without};
    return exclusion_flag_write(work->request->flagger, work->request->night->campaign, &flip,
                                fault);
}

enum status exclusion_read(const struct exclusion_request *request, const struct family *family,
                           enum quantity quantity, size_t measure, struct delta_reading *readings,
                           struct fault *fault)
{
    struct evidence evidence;
    const struct compare_plan *plan = request->plan;
    const struct season_measure *season = season_measure(request->season, quantity, measure);
    int is_main = compare_plan_is_main(plan, family, quantity, measure);
    const struct delta_rule rule = {plan->confidence, is_main ? plan->main_metric : NULL,
                                    season->entries, request->significance};
    enum status status =
        evidence_make(family, quantity, measure, &season->refitted, &evidence, fault);
    if (status != OK)
        return status;
    delta_read_all(&evidence, family->n_configurations, &rule, readings);
    evidence_end(&evidence);
    return OK;
}

static enum status read_readings(const struct effect_work *work, const struct family *family,
                                 struct delta_reading *readings, struct fault *fault)
{
    return exclusion_read(work->request, family, work->quantity, work->measure, readings, fault);
}

static enum status compare_measure(struct effect_work *work, struct fault *fault)
{
    enum status status = read_readings(work, work->request->stands, work->with_readings, fault);
    if (status == OK)
        status = read_readings(work, work->without, work->without_readings, fault);
    if (status == OK && work->told != NULL)
        status = read_readings(work, work->told, work->told_readings, fault);
    for (size_t i = 1; status == OK && i < work->without->n_configurations; i++)
        status = write_effect(work, i, fault);
    return status;
}

static enum status compare_measures(struct effect_work *work, struct fault *fault)
{
    const struct compare_plan *plan = work->request->plan;
    enum status status = OK;
    for (size_t i = 0; i < plan->n_quantities; i++)
        for (size_t k = 0; status == OK && k < work->without->n_measures; k++) {
            work->quantity = plan->quantities[i];
            work->measure = k;
            status = compare_measure(work, fault);
        }
    return status;
}

static enum status make_room(struct effect_work *work, struct fault *fault)
{
    size_t n = work->without->n_configurations;
    void *with = NULL;
    void *without = NULL;
    void *told = NULL;
    enum status status = array_make(&with, n, sizeof *work->with_readings, fault);
    if (status == OK)
        status = array_make(&without, n, sizeof *work->without_readings, fault);
    if (status == OK)
        status = array_make(&told, n, sizeof *work->told_readings, fault);
    work->with_readings = with;
    work->without_readings = without;
    work->told_readings = told;
    return status;
}

static enum status write_basis(const struct exclusion_request *request, enum basis basis,
                               const struct family *without, const struct family *told,
                               struct fault *fault)
{
    struct effect_work work = {
        .request = request, .basis = basis, .without = without, .told = told};
    enum status status =
        exclusion_points_read(request->night, request->stands, basis, &work.points, fault);
    if (status == OK)
        status = make_room(&work, fault);
    if (status == OK)
        status = statement_prepare(
            request->night->store,
            "INSERT INTO exclusion_effect (configuration, quantity, target, basis, verdict_with, "
            "verdict_without, decided_by, delta_with, half_width_with, delta_without, "
            "half_width_without, reduction, is_main, points, runs) VALUES "
            "(?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
            &work.insert, fault);
    if (status == OK)
        status = compare_measures(&work, fault);
    statement_free(work.insert);
    free(work.with_readings);
    free(work.without_readings);
    free(work.told_readings);
    exclusion_points_end(&work.points);
    return status;
}

/* Most nights leave nothing out: asked once a configuration, before any family is read again. */
static enum status find_difference(const struct exclusion_request *request, int *differs,
                                   struct fault *fault)
{
    const struct run_group *group = request->group;
    enum status status = OK;
    *differs = 0;
    for (size_t i = 0; i < group->n_runs; i++) {
        size_t k = 0;
        while (strcmp(group->runs[k]->configuration, group->runs[i]->configuration) != 0)
            k++;
        for (int basis = BASIS_STANDS + 1; k == i && basis < BASIS_COUNT; basis++)
            if (status == OK && !*differs)
                status = family_basis_differs(request->night, group->runs[i], (enum basis)basis,
                                              differs, fault);
    }
    return status;
}

/* Of one content, like the family that stands; what is left out for it has been flagged there. */
static enum status read_basis(const struct exclusion_request *request, enum basis basis,
                              struct family *family, struct fault *fault)
{
    enum status status = family_read(request->night, request->group, basis, family, fault);
    return status == OK ? family_keep_one_content(request->night, family, NULL, fault) : status;
}

static enum status write_bases(const struct exclusion_request *request, struct fault *fault)
{
    struct family all_in;
    struct family rules_alone;
    const struct family *stands = request->stands;
    enum status status = read_basis(request, BASIS_ALL_IN, &all_in, fault);
    if (status == OK)
        status = read_basis(request, BASIS_RULES_ALONE, &rules_alone, fault);
    else
        memset(&rules_alone, 0, sizeof rules_alone);
    if (status == OK && !family_is_same(stands, &all_in))
        status = write_basis(request, BASIS_ALL_IN, &all_in, NULL, fault);
    if (status == OK && !family_is_same(stands, &rules_alone) &&
        !family_is_same(&all_in, &rules_alone))
        status = write_basis(request, BASIS_RULES_ALONE, &rules_alone, &all_in, fault);
    family_end(&all_in);
    family_end(&rules_alone);
    return status;
}

enum status exclusion_effects_write(const struct exclusion_request *request, struct fault *fault)
{
    int differs = 0;
    enum status status = find_difference(request, &differs, fault);
    return status == OK && differs ? write_bases(request, fault) : status;
}

/* stage_derive.c - see stage_derive.h. */
#include "reduce/stage_derive.h"

#include <math.h>
#include <string.h>

#include "reduce/derive_work.h"
#include "reduce/family_contents.h"
#include "reduce/reductions.h"
#include "reduce/statistics/student.h"

static const char method_version[] = "Fieller's ratio, equal balance and packages, covariances by "
                                     "sum and difference v1";

enum status derive_deltas(struct derive_work *work, enum quantity quantity,
                          const struct measured_deltas **deltas, struct fault *fault)
{
    struct measured_deltas *kept = &work->deltas[quantity];
    enum status status = OK;
    if (kept->n == 0)
        status = measured_deltas_make(&work->measuring, quantity, kept, fault);
    *deltas = kept;
    return status;
}

struct derived_interval derive_interval(double value, double standard, double freedom,
                                        double confidence)
{
    double multiplier = freedom > 0 ? student_multiplier(confidence, freedom) : (double)NAN;
    double half_width = multiplier * standard;
    return (struct derived_interval){standard,           freedom,           multiplier, half_width,
                                     value - half_width, value + half_width};
}

enum status derive_write(struct derive_work *work, struct statement *insert,
                         const char *const *texts, int n_texts, const double *reals, int n_reals,
                         struct fault *fault)
{
    enum status status = statement_bind_integer(insert, 1, work->reduction, fault);
    for (int i = 0; status == OK && i < n_texts; i++)
        status = statement_bind_text(insert, 2 + i, texts[i], fault);
    for (int i = 0; status == OK && i < n_reals; i++)
        status = statement_bind_real(insert, 2 + n_texts + i,
                                     isfinite(reals[i]) ? reals[i] : (double)NAN, fault);
    return status == OK ? statement_run(insert, fault) : status;
}

static void add_trims(const struct campaign *campaign, struct key_text *key)
{
    for (size_t i = 0; i < campaign->n_metrics; i++)
        key_text_word(key, "metric", campaign->metrics[i].quantity);
    key_text_number(key, "confidence", campaign->limits.confidence);
    for (size_t i = 0; i < campaign->n_trims; i++) {
        const struct trim_device *device = &campaign->trims[i];
        const double settings[] = {device->from, device->to, device->least, device->most};
        key_text_word(key, "trim", device->name);
        key_text_word(key, "  configuration", device->configuration);
        key_text_numbers(key, "  from to least most", settings, 4);
        key_text_word(key, "  unit", device->unit);
    }
}

static enum status make_key(const struct night *night, const struct run_group *group,
                            struct key_text *key, struct fault *fault)
{
    memset(key, 0, sizeof *key);
    enum status status = reduction_key_add(night->store, "compare", group->subject, key, fault);
    add_trims(night->campaign, key);
    if (status == OK)
        status = derive_key_parts(night, key, fault);
    key_text_word(key, "method derive", method_version);
    return status == OK ? key_text_status(key, fault) : status;
}

static enum status open_inserts(struct derive_work *work, struct fault *fault)
{
    struct store *store = work->night->store;
    enum status status = statement_prepare(
        store,
        "INSERT INTO delta_ratio (reduction, configuration, baseline, target, kind, reason, ratio, "
        "lower, upper, correlation, degrees_of_freedom, multiplier) "
        "VALUES (?,?,?,?,?,?,?,?,?,?,?,?)",
        &work->ratio, fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "INSERT INTO trimmed_delta (reduction, configuration, baseline, device, quantity, "
            "target, setting_unit, reason, delta, standard_uncertainty, degrees_of_freedom, "
            "multiplier, half_width, lower, upper, setting_change) "
            "VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
            &work->trimmed, fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "INSERT INTO package_delta (reduction, configuration, baseline, quantity, target, "
            "parts, "
            "reason, package, sum_of_parts, interaction, standard_uncertainty, degrees_of_freedom, "
            "multiplier, half_width, lower, upper) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
            &work->package, fault);
    return status;
}

static enum status derive_measure(struct derive_work *work, struct fault *fault)
{
    enum status status = derive_ratios(work, fault);
    if (status == OK)
        status = derive_trimmed(work, fault);
    if (status == OK)
        status = derive_packages(work, fault);
    for (int i = 0; i < QUANTITY_COUNT; i++)
        measured_deltas_end(&work->deltas[i]);
    return status;
}

/* Of every quantity: what is derived picks among them. */
static enum status read_season(struct derive_work *work, struct fault *fault)
{
    enum quantity quantities[QUANTITY_COUNT];
    for (int i = 0; i < QUANTITY_COUNT; i++)
        quantities[i] = (enum quantity)i;
    return season_knowledge_read(work->night, &work->family, quantities, QUANTITY_COUNT,
                                 &work->season, fault);
}

static enum status derive_family(struct derive_work *work, const struct run_group *group,
                                 struct fault *fault)
{
    enum status status = family_read(work->night, group, BASIS_STANDS, &work->family, fault);
    if (status != OK)
        return status;
    status = family_keep_one_content(work->night, &work->family, NULL, fault);
    if (status == OK)
        status = open_inserts(work, fault);
    if (status == OK)
        status = read_season(work, fault);
    for (size_t k = 0; status == OK && k < work->family.n_measures; k++) {
        work->measuring.measure = k;
        status = derive_measure(work, fault);
    }
    statement_free(work->ratio);
    statement_free(work->trimmed);
    statement_free(work->package);
    season_knowledge_end(&work->season);
    family_end(&work->family);
    return status;
}

enum status stage_derive(const struct night *night, const struct run_group *group, int *fresh,
                         struct fault *fault)
{
    struct key_text key;
    struct derive_work work;
    memset(&work, 0, sizeof work);
    work.night = night;
    work.measuring =
        (struct measuring){&work.family, &work.season, 0, night->campaign->limits.confidence};
    *fresh = 0;
    enum status status = make_key(night, group, &key, fault);
    if (status == OK)
        status = store_reduction(night->store, "derive", group->subject, key.text, &work.reduction,
                                 fresh, fault);
    key_text_end(&key);
    if (status != OK || !*fresh)
        return status;
    return derive_family(&work, group, fault);
}

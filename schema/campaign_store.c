/* campaign_store.c - see campaign_store.h. */
#include "schema/campaign_store.h"

#include <math.h>
#include <string.h>

#include "schema/campaign_settings.h"
#include "schema/campaign_reader.h"
#include "schema/store.h"

static enum status store_metric(struct statement *insert, const struct campaign *campaign,
                                size_t at, struct fault *fault)
{
    static const char *const words[] = {[BETTER_HIGHER] = "higher",
                                        [BETTER_LOWER] = "lower",
                                        [BETTER_TOWARD] = "toward",
                                        [BETTER_UNDECLARED] = "undeclared"};
    const struct metric *metric = &campaign->metrics[at];
    double toward = metric->better == BETTER_TOWARD ? metric->toward : (double)NAN;
    int is_main = strcmp(metric->name, campaign->main_metric) == 0;
    enum status status = statement_bind_text(insert, 1, metric->name, fault);
    if (status == OK)
        status = statement_bind_integer(insert, 2, (int64_t)at, fault);
    if (status == OK)
        status = statement_bind_text(insert, 3, metric->quantity, fault);
    if (status == OK)
        status = statement_bind_text(insert, 4, words[metric->better], fault);
    if (status == OK)
        status = statement_bind_real(insert, 5, toward, fault);
    if (status == OK)
        status = statement_bind_real(insert, 6, metric->worthwhile, fault);
    if (status == OK)
        status = statement_bind_integer(insert, 7, is_main, fault);
    return status == OK ? statement_run(insert, fault) : status;
}

static enum status store_metrics(struct store *store, const struct campaign *campaign,
                                 struct fault *fault)
{
    struct statement *insert = NULL;
    enum status status =
        statement_prepare(store,
                          "INSERT INTO metric (metric, sequence, quantity, better, toward, "
                          "worthwhile, is_main) VALUES (?, ?, ?, ?, ?, ?, ?)",
                          &insert, fault);
    for (size_t i = 0; status == OK && i < campaign->n_metrics; i++)
        status = store_metric(insert, campaign, i, fault);
    statement_free(insert);
    return status;
}

static enum status store_target(struct statement *insert, const struct target *target, size_t at,
                                struct fault *fault)
{
    enum status status = statement_bind_text(insert, 1, target->name, fault);
    if (status == OK)
        status = statement_bind_integer(insert, 2, (int64_t)at, fault);
    for (int axis = 0; status == OK && axis < ATTITUDE_COUNT; axis++)
        status = statement_bind_real(
            insert, axis + 3, target->given[axis] ? target->coordinate[axis] : (double)NAN, fault);
    if (status == OK)
        status = statement_bind_real(insert, ATTITUDE_COUNT + 3, target->weight, fault);
    return status == OK ? statement_run(insert, fault) : status;
}

static enum status store_targets(struct store *store, const struct campaign *campaign,
                                 struct fault *fault)
{
    struct statement *insert = NULL;
    enum status status = statement_prepare(
        store,
        "INSERT INTO target (target, sequence, front_ride_height_m, rear_ride_height_m, yaw_rad, "
        "roll_rad, pitch_rad, steer_rad, weight) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        &insert, fault);
    for (size_t i = 0; status == OK && i < campaign->attitudes.n_targets; i++)
        status = store_target(insert, &campaign->attitudes.targets[i], i, fault);
    statement_free(insert);
    return status;
}

static enum status store_figure(struct statement *insert,
                                const struct declared_repeatability *figure, struct fault *fault)
{
    const char *const texts[] = {figure->facility, figure->quantity, figure->attitude,
                                 campaign_word_text(campaign_level_words, figure->level)};
    enum status status = OK;
    for (int i = 0; status == OK && i < 4; i++)
        status = statement_bind_text(insert, i + 1, texts[i], fault);
    if (status == OK)
        status = statement_bind_real(insert, 5, figure->standard_deviation, fault);
    if (status == OK)
        status = statement_bind_real(insert, 6, figure->degrees_of_freedom, fault);
    if (status == OK)
        status = statement_bind_text(insert, 7, figure->source, fault);
    return status == OK ? statement_run(insert, fault) : status;
}

static enum status store_repeatability(struct store *store, const struct campaign *campaign,
                                       struct fault *fault)
{
    struct statement *insert = NULL;
    enum status status = statement_prepare(
        store,
        "INSERT INTO repeatability_declared (facility, quantity, target, level, "
        "standard_deviation, degrees_of_freedom, source) VALUES (?, ?, ?, ?, ?, ?, ?)",
        &insert, fault);
    for (size_t i = 0; status == OK && i < campaign->n_repeatability; i++)
        status = store_figure(insert, &campaign->repeatability[i], fault);
    statement_free(insert);
    return status;
}

enum status campaign_store(struct store *store, const struct campaign *campaign,
                           struct fault *fault)
{
    enum status status = store_execute(store,
                                       "DELETE FROM setting; DELETE FROM metric; DELETE FROM "
                                       "target; DELETE FROM repeatability_declared",
                                       fault);
    if (status == OK)
        status = campaign_settings_store(store, campaign, fault);
    if (status == OK)
        status = store_metrics(store, campaign, fault);
    if (status == OK)
        status = store_targets(store, campaign, fault);
    if (status == OK)
        status = store_repeatability(store, campaign, fault);
    return status;
}

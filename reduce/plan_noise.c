/* plan_noise.c - see plan_noise.h. */
#include "reduce/plan_noise.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"
#include "schema/campaign_store.h"

static const char file_name[] = "/season.sqlite";

/* The season, or an empty one in memory where nothing was ingested yet. */
static enum status open_season(const char *folder, struct store **store, struct fault *fault)
{
    struct fault missing;
    void *path = NULL;
    size_t size = strlen(folder) + sizeof file_name;
    enum status status = array_make(&path, size, 1, fault);
    if (status != OK)
        return status;
    (void)snprintf(path, size, "%s%s", folder, file_name);
    status = store_open(path, STORE_EXISTING, store, &missing);
    free(path);
    if (status == NOT_FOUND)
        return store_open(":memory:", STORE_CREATE, store, fault);
    if (status != OK && fault != NULL)
        *fault = missing;
    return status;
}

static enum status read_metric(struct store *store, const struct planned_night *night,
                               const struct metric *metric, struct plan_metric *to,
                               struct fault *fault)
{
    const struct campaign *campaign = night->input->campaign;
    to->metric = metric;
    to->is_main = strcmp(metric->name, campaign->main_metric) == 0;
    enum status status =
        repeatability_read(store, night->facility->name, metric->quantity, campaign->main_attitude,
                           night->input->start, &to->known, fault);
    to->before = to->known.level[VARIANCE_REFITTED];
    return status;
}

/* The campaign as it is now, which may declare more than the last ingest knew; rolled back. */
static enum status read_metrics(struct store *store, struct planned_night *night,
                                struct fault *fault)
{
    const struct campaign *campaign = night->input->campaign;
    enum status status = store_begin(store, fault);
    if (status != OK)
        return status;
    status = campaign_store(store, campaign, fault);
    for (size_t i = 0; status == OK && i < campaign->n_metrics; i++)
        status = read_metric(store, night, &campaign->metrics[i], &night->metrics[i], fault);
    store_rollback(store);
    return status;
}

enum status plan_noise_read(struct planned_night *night, struct fault *fault)
{
    struct store *store = NULL;
    void *array = NULL;
    night->n_metrics = night->input->campaign->n_metrics;
    enum status status = array_make(&array, night->n_metrics, sizeof *night->metrics, fault);
    night->metrics = array;
    if (status == OK)
        status = open_season(night->input->options.folder, &store, fault);
    if (status != OK)
        return status;
    status = read_metrics(store, night, fault);
    struct fault closing;
    enum status closed = store_close(store, &closing);
    if (status == OK && closed != OK && fault != NULL)
        *fault = closing;
    return status == OK ? closed : status;
}

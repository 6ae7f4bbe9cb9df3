/* campaign_file.c - reading campaign.yaml; see campaign.h for what it gives and campaign_reader.h
 * for how it is read. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "schema/campaign_reader.h"
#include "schema/digest.h"
#include "schema/file_read.h"

enum { FILE_BYTES_MAX = 16 << 20 };

static const struct binding campaign_bindings[] = {
    {.key = "season",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct campaign, season)},
    {.key = "count",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = offsetof(struct campaign, count),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "point",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct campaign, point_meaning)},
    {.key = "car", .kind = BIND_PART, .read = campaign_read_car},
    {.key = "facilities", .kind = BIND_PART, .required = 1, .read = campaign_read_facilities},
    {.key = "balances", .kind = BIND_PART, .read = campaign_read_balances},
    {.key = "channel_maps", .kind = BIND_PART, .required = 1, .read = campaign_read_maps},
    {.key = "attitudes", .kind = BIND_PART, .read = campaign_read_attitudes},
    {.key = "metrics", .kind = BIND_PART, .read = campaign_read_metrics},
    {.key = "main_measure", .kind = BIND_PART, .read = campaign_read_main_measure},
    {.key = "map_attitude", .kind = BIND_TEXT, .offset = offsetof(struct campaign, map_attitude)},
    {.key = "trade", .kind = BIND_PART, .read = campaign_read_trade},
    {.key = "trim", .kind = BIND_PART, .read = campaign_read_trim},
    {.key = "uncertainties", .kind = BIND_PART, .read = campaign_read_uncertainties},
    {.key = "limits", .kind = BIND_PART, .read = campaign_read_limits},
    {.key = "keep_samples", .kind = BIND_PART, .read = campaign_read_keep_samples},
    {.key = "repeats", .kind = BIND_PART, .read = campaign_read_repeats},
    {.key = "plan", .kind = BIND_PART, .read = campaign_read_plan},
    {.key = "repeatability", .kind = BIND_PART, .read = campaign_read_repeatability},
};

static int by_place(const void *left, const void *right)
{
    const struct campaign_trouble *a = left;
    const struct campaign_trouble *b = right;
    if (a->line != b->line)
        return a->line < b->line ? -1 : 1;
    if (a->column != b->column)
        return a->column < b->column ? -1 : 1;
    return a->sequence < b->sequence ? -1 : 1;
}

/* Tells all that was noted, in the order of the file; the first one is the fault. */
static enum status conclude(struct campaign_reader *reader, campaign_problem *report, void *context,
                            struct fault *fault)
{
    if (reader->failed != OK) {
        if (fault != NULL)
            *fault = reader->failure;
        return reader->failed;
    }
    if (reader->n_troubles == 0)
        return OK;
    qsort(reader->troubles, reader->n_troubles, sizeof reader->troubles[0], by_place);
    for (size_t i = 0; report != NULL && i < reader->n_troubles; i++)
        report(context, &reader->troubles[i].fault);
    if (fault != NULL)
        *fault = reader->troubles[0].fault;
    return BAD_INPUT;
}

static enum status read_tree(struct campaign_reader *reader, campaign_problem *report,
                             void *context, struct fault *fault)
{
    reader->campaign->limits = (struct limits){.zero_drift = 0.5,
                                               .q_unsteady = 0.002,
                                               .belt_speed = 0.005,
                                               .trend = 0.5,
                                               .confidence = 0.95,
                                               .height_residual = 0.3e-3,
                                               .picture_megabytes = 4};
    plan_section_defaults(&reader->campaign->plan);
    campaign_bind(reader, yaml_tree_root(reader->tree), "campaign.yaml", campaign_bindings,
                  sizeof campaign_bindings / sizeof campaign_bindings[0], reader->campaign);
    if (reader->failed == OK)
        campaign_check_references(reader);
    enum status status = conclude(reader, report, context, fault);
    free(reader->troubles);
    return status;
}

static enum status digest_bytes(const char *bytes, size_t size, char out[DIGEST_TEXT],
                                struct fault *fault)
{
    struct digest *digest = NULL;
    enum status status = digest_begin(&digest, fault);
    if (status != OK)
        return status;
    status = digest_add(digest, bytes, size, fault);
    if (status != OK) {
        digest_free(digest);
        return status;
    }
    return digest_end(digest, out, fault);
}

static enum status open_campaign(const char *path, int *descriptor, struct fault *fault)
{
    enum status status = file_open_plain(path, path, descriptor, NULL, fault);
    if (status == NOT_FOUND)
        return FAIL(fault, NOT_FOUND,
                    "there is no %s; `lapwing init` begins a campaign folder, -C names one", path);
    return status;
}

static enum status fill_bytes(int descriptor, const char *path, char *bytes, size_t *size,
                              struct fault *fault)
{
    size_t got = 0;
    do {
        enum status status =
            file_read_some(descriptor, path, bytes + *size, FILE_BYTES_MAX - *size, &got, fault);
        if (status != OK)
            return status;
        *size += got;
    } while (got > 0 && *size < FILE_BYTES_MAX);
    if (*size < FILE_BYTES_MAX)
        return OK;
    return FAIL(fault, BAD_INPUT, "%s has %d bytes or more; a campaign is text of a few pages",
                path, FILE_BYTES_MAX);
}

static enum status read_bytes(const char *path, char **bytes, size_t *size, struct fault *fault)
{
    int descriptor = -1;
    *bytes = NULL;
    *size = 0;
    enum status status = open_campaign(path, &descriptor, fault);
    if (status != OK)
        return status;
    char *read = malloc(FILE_BYTES_MAX);
    if (read == NULL)
        status = FAIL(fault, NO_MEMORY, "no memory to read %s", path);
    else
        status = fill_bytes(descriptor, path, read, size, fault);
    (void)close(descriptor); /* read only: nothing can be lost */
    if (status != OK) {
        free(read);
        return status;
    }
    *bytes = read;
    return OK;
}

/* What keeps the whole file from being read is one problem, told like the others. */
static enum status conclude_whole(enum status status, const struct fault *local,
                                  campaign_problem *report, void *context, struct fault *fault)
{
    if (status == BAD_INPUT && report != NULL)
        report(context, local);
    if (status != OK && fault != NULL)
        *fault = *local;
    return status;
}

static enum status fill(struct campaign *campaign, const char *bytes, size_t size,
                        campaign_problem *report, void *context, struct fault *fault)
{
    struct campaign_reader reader = {.path = campaign->path, .campaign = campaign};
    struct fault local;
    enum status status = digest_bytes(bytes, size, campaign->digest, fault);
    if (status == OK)
        status = conclude_whole(yaml_tree_load(campaign->path, bytes, size, &reader.tree, &local),
                                &local, report, context, fault);
    if (status == OK)
        status = units_open(&reader.units, fault);
    if (status == OK)
        status = read_tree(&reader, report, context, fault);
    units_close(reader.units);
    yaml_tree_free(reader.tree);
    return status;
}

static enum status make_path(struct campaign *campaign, const char *folder, struct fault *fault)
{
    static const char name[] = "campaign.yaml";
    size_t size = strlen(folder) + sizeof name + 1;
    campaign->path = malloc(size);
    if (campaign->path == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to read the campaign in %s", folder);
    if (strcmp(folder, ".") == 0 || folder[0] == '\0')
        (void)snprintf(campaign->path, size, "%s", name);
    else
        (void)snprintf(campaign->path, size, "%s%s%s", folder,
                       folder[strlen(folder) - 1] == '/' ? "" : "/", name);
    return OK;
}

enum status campaign_read(const char *folder, struct campaign **campaign, campaign_problem *report,
                          void *context, struct fault *fault)
{
    char *bytes = NULL;
    size_t size = 0;
    struct fault local;
    *campaign = NULL;
    struct campaign *made = calloc(1, sizeof *made);
    if (made == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to read the campaign in %s", folder);
    enum status status = make_path(made, folder, fault);
    if (status == OK)
        status = conclude_whole(read_bytes(made->path, &bytes, &size, &local), &local, report,
                                context, fault);
    if (status == OK)
        status = fill(made, bytes, size, report, context, fault);
    free(bytes);
    if (status != OK) {
        campaign_free(made);
        return status;
    }
    *campaign = made;
    return OK;
}

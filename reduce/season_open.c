/* season_open.c - opening a campaign folder; see season_open.h. */
#include "reduce/season_open.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

static const char file_name[] = "/season.sqlite";

enum status season_open(const char *folder, enum store_mode mode, struct season *season,
                        struct fault *fault)
{
    void *path = NULL;
    size_t size = strlen(folder) + sizeof file_name;
    *season = (struct season){NULL, NULL};
    enum status status = campaign_read(folder, &season->campaign, NULL, NULL, fault);
    if (status != OK)
        return status;
    status = array_make(&path, size, 1, fault);
    if (status == OK) {
        (void)snprintf(path, size, "%s%s", folder, file_name);
        status = store_open(path, mode, &season->store, fault);
    }
    free(path);
    return status == OK ? OK : season_close(season, status, fault);
}

enum status season_close(struct season *season, enum status status, struct fault *fault)
{
    struct fault closing;
    enum status closed = store_close(season->store, &closing);
    campaign_free(season->campaign);
    *season = (struct season){NULL, NULL};
    if (status != OK || closed == OK)
        return status;
    if (fault != NULL)
        *fault = closing;
    return closed;
}

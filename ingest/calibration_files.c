/* calibration_files.c - see calibration_files.h. */
#include "ingest/calibration_files.h"

#include <stdlib.h>

#include "ingest/calibration_file.h"
#include "ingest/season_sheets.h"

static enum status read_one(const char *folder, const struct balance *balance, struct units *units,
                            calibration_taker *take, void *context, struct fault *fault)
{
    struct problems problems = problems_to(NULL, NULL);
    struct calibration calibration;
    char *path = season_path(folder, balance->file);
    if (path == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the path of %s", balance->file);
    enum status status =
        calibration_file_read(path, balance->file, balance, units, &problems, &calibration, fault);
    free(path);
    if (status == OK && problems.n == 0)
        take(context, balance, &calibration);
    return status;
}

enum status calibration_files_each(const char *folder, const struct campaign *campaign,
                                   calibration_taker *take, void *context, struct fault *fault)
{
    struct units *units = NULL;
    enum status status = units_open(&units, fault);
    for (size_t i = 0; i < campaign->n_balances && status == OK; i++)
        status = read_one(folder, &campaign->balances[i], units, take, context, fault);
    units_close(units);
    return status;
}

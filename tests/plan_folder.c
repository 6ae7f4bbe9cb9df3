/* plan_folder.c - see plan_folder.h. */
#include "tests/plan_folder.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/program.h"

static const char sections[] =
    "\nplan:\n"
    "  facility: saltmarsh\n"
    "  entry: 2026-03\n"
    "  start: 2026-03-11T19:00:00+01:00\n"
    "  available: 8 h\n"
    "  run: 16 min\n"
    "  zero: 2 min\n"
    "  change: 6 min\n"
    "  weight_sweep: 16 min\n"
    "  logs: forces=logs/RUN_forces.csv;pressures=logs/RUN_taps.csv\n"
    "  zero_logs: forces=logs/RUN.csv\n"
    "\nrepeatability:\n"
    "  - {facility: saltmarsh, quantity: CL, attitude: any, level: part refitted,\n"
    "     standard_deviation: 0.003, degrees_of_freedom: 20, source: invented}\n"
    "  - {facility: saltmarsh, quantity: CD, attitude: any, level: part refitted,\n"
    "     standard_deviation: 0.001, degrees_of_freedom: 20, source: invented}\n";

int plan_folder_make(char folder[SCRATCH_PATH])
{
    char out[PROGRAM_OUTPUT];
    if (!scratch_make(folder) ||
        program_shell(out,
                      "cp -r sample_runs/night/*.yaml sample_runs/night/*.csv "
                      "sample_runs/night/balance %s && rm %s/runs.csv",
                      folder, folder) != 0)
        return 0;
    char *campaign = scratch_read(folder, "campaign.yaml");
    size_t size = (campaign != NULL ? strlen(campaign) : 0) + sizeof sections;
    char *whole = malloc(size);
    int ok = whole != NULL && campaign != NULL;
    if (ok) {
        char *night = strstr(campaign, "\nplan:");
        if (night != NULL)
            *night = '\0';
        (void)snprintf(whole, size, "%s%s", campaign, sections);
        ok = scratch_write(folder, "campaign.yaml", whole);
    }
    free(whole);
    free(campaign);
    return ok;
}

int plan_folder_run(const char *folder, const char *arguments, char *out)
{
    return program_shell(out, "%s -C %s plan %s", program_lapwing(), folder, arguments);
}

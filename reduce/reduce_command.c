/* reduce_command.c - `lapwing reduce`; see reduce_command.h. */
#include "reduce/reduce_command.h"

#include <stdio.h>

#include "reduce/pipeline.h"
#include "reduce/season_open.h"
#include "reduce/stage_repeats.h"

static void print_summary(const struct reduce_summary *summary)
{
    (void)printf("runs: %zu reduced, %zu up to date", summary->runs_reduced + summary->runs_refused,
                 summary->runs_up_to_date);
    if (summary->runs_without_number > 0)
        (void)printf(", %zu without a number (see their flags)", summary->runs_without_number);
    if (summary->runs_not_usable > 0)
        (void)printf(", %zu quarantined", summary->runs_not_usable);
    (void)printf("\ntargets, comparisons and maps: %zu reduced, %zu up to date\n",
                 summary->groups_reduced, summary->groups_up_to_date);
}

static int run(const struct common_options *common, int argc, char **argv, struct fault *fault)
{
    struct season season;
    struct reduce_summary summary;
    if (argc > 1)
        return fault_exit_code(FAIL(fault, BAD_INPUT,
                                    "reduce takes no argument '%s'; see `lapwing reduce --help`",
                                    argv[1]));
    enum status status = season_open(common->folder, STORE_EXISTING, &season, fault);
    if (status != OK)
        return fault_exit_code(status);
    status = reduce_night(season.store, season.campaign, &summary, fault);
    if (status == OK && !common->quiet) {
        print_summary(&summary);
        status = repeats_print(season.store, fault);
    }
    status = season_close(&season, status, fault);
    if (status != OK)
        return fault_exit_code(status);
    return summary.runs_not_usable > 0 || summary.runs_without_number > 0 ? 1 : 0;
}

const struct command reduce_command = {
    "reduce", "reduce what changed: coefficients, targets, deltas, pressure maps",
    "usage: lapwing [-C DIR] reduce\n"
    "\n"
    "Takes the point statistics that `lapwing ingest` left in season.sqlite through the stages\n"
    "  point         zero, balance, weight tare, transfer, freestream, buoyancy, blockage\n"
    "  target        to the declared attitudes, by a local fit through the configuration's points\n"
    "  compare       deltas against the baseline returns, with intervals and verdicts\n"
    "  pressure_map  mean Cp of every tap, its change, and which changes are real\n"
    "  repeats       uncertainties that the logs state against points measured again\n"
    "A result whose inputs have not changed is left alone: same logs, run sheet, campaign,\n"
    "calibration and methods give the same key. Each run is one transaction.\n"
    "\n"
    "Exit status: 0 all done, flags included; 1 done, but runs are quarantined or without a\n"
    "number; 2 the campaign is wrong or nothing was ingested; 3 storage, memory or internal "
    "failure.\n",
    run};

/* explain_command.c - `lapwing explain`; see explain_command.h. */
#include "reduce/explain_command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/explain.h"
#include "reduce/explain_trace.h"
#include "reduce/rows.h"
#include "reduce/season_open.h"

enum status explain_split(char *name, struct explain_request *request, struct fault *fault)
{
    char *slash = strchr(name, '/');
    if (slash == NULL || slash == name || slash[1] == '\0')
        return FAIL(fault, BAD_INPUT, "'%s' is not RUN/POINT; see `lapwing explain --help`", name);
    *slash = '\0';
    request->run = name;
    request->point = slash + 1;
    return OK;
}

static enum status explain(const struct common_options *common,
                           const struct explain_request *request, const char *channel,
                           struct fault *fault)
{
    struct season season;
    struct key_text text;
    enum status status = season_open(common->folder, STORE_READ_ONLY, &season, fault);
    if (status != OK)
        return status;
    if (channel != NULL)
        status = explain_trace(season.store, request->run, request->point, channel, &text, fault);
    else
        status = explain_number(season.store, season.campaign, request, &text, fault);
    if (status == OK)
        (void)fputs(text.text, stdout);
    key_text_end(&text);
    return season_close(&season, status, fault);
}

static int run(const struct common_options *common, int argc, char **argv, struct fault *fault)
{
    struct explain_request request = {NULL, NULL, NULL, 0};
    const char *channel = NULL;
    char *name = NULL;
    if (argc == 4 && strcmp(argv[3], "--inputs") == 0) {
        request.with_inputs = 1;
        argc--;
    }
    if (argc == 4 && strcmp(argv[2], "--trace") == 0) {
        channel = argv[3];
        argc--;
    }
    if (argc != 3 || (channel == NULL && strcmp(argv[2], "--trace") == 0))
        return fault_exit_code(FAIL(fault, BAD_INPUT,
                                    "explain takes RUN/POINT and a coefficient, or --trace and a "
                                    "channel; see `lapwing "
                                    "explain --help`"));
    request.symbol = argv[2];
    enum status status = text_copy(argv[1], &name, fault);
    if (status == OK)
        status = explain_split(name, &request, fault);
    if (status == OK)
        status = explain(common, &request, channel, fault);
    free(name);
    return fault_exit_code(status);
}

const struct command explain_command = {
    "explain", "one number traced back to the lines of its log",
    "usage: lapwing [-C DIR] explain RUN/POINT COEFFICIENT [--inputs]\n"
    "       lapwing [-C DIR] explain RUN/POINT --trace CHANNEL\n"
    "\n"
    "Prints where a number comes from, in the order of the data: log files with their SHA-256 and\n"
    "lines, means of the channels, zeros with their times, calibration, weight tare, every step\n"
    "that was done with its formula and its change, the result, its target, flags, and the key of\n"
    "the reduction; with --inputs also everything that the key is the hash of.\n"
    "\n"
    "POINT is the point's label in the log, or the name of a target: 'R05/F10 R36'.\n"
    "COEFFICIENT is CD, CY, CL, CLF, CLR, CRM, CPM, CYM, balance, L/D, CDA, CLA, or Cp:TAP.\n"
    "Downforce is positive.\n"
    "\n"
    "--trace prints the samples of a channel (column, tap or role) that are kept of the point, "
    "thinned,\n"
    "and the highest of their spectrum: of points where they may have raised a flag, and of all "
    "points\n"
    "of the channels below keep_samples: in campaign.yaml.\n"
    "\n"
    "example: lapwing explain R05/6 CL\n",
    run};

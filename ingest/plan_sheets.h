/* plan_sheets.h - what a plan needs of the campaign's folder: campaign, configurations, names that are
 * taken. No log is opened, and runs.csv need not be there yet. */
#ifndef LAPWING_PLAN_SHEETS_H
#define LAPWING_PLAN_SHEETS_H

#include "schema/command.h"
#include "schema/plan_input.h"

/* Reads the request and the folder; problems of the sheets are told on standard error, and come back as
 * BAD_INPUT. End *input with plan_input_end() either way. */
enum status plan_read(const struct common_options *common, int argc, char **argv,
                      struct plan_input *input, struct fault *fault);

#endif

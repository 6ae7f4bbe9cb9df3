/* ingest_command.h - `lapwing ingest`, and the same work for commands that go on from there. */
#ifndef LAPWING_INGEST_COMMAND_H
#define LAPWING_INGEST_COMMAND_H

#include "ingest/ingest_night.h"
#include "schema/command.h"

extern const struct command ingest_command;

/* Reads campaign.yaml of the folder, opens (or makes) its season.sqlite, ingests what changed, and
 * prints one line unless quiet. Every problem of the campaign's files goes to standard error; then
 * the season is untouched and the status BAD_INPUT. */
enum status ingest_folder(const struct common_options *common, struct night_result *result,
                          struct fault *fault);

/* The same for one wind-on run and the wind-off runs it may need; prints nothing on standard output.
 * NOT_FOUND, BAD_INPUT: no such run, and nothing was done. */
enum status ingest_one_run(const struct common_options *common, const char *run,
                           struct night_result *result, struct fault *fault);

#endif

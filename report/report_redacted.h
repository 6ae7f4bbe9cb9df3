/* report_redacted.h - the report of a season without its names. */
#ifndef LAPWING_REPORT_REDACTED_H
#define LAPWING_REPORT_REDACTED_H

#include "report/redacted_folder.h"
#include "report/report_command.h"

/* Writes folder/report-redacted from a copy of the season (report/redact.h), and options->key_file when
 * there is one; what an earlier report left there is taken away. BAD_INPUT: something else lies in the folder, or
 * the key would lie among the files that are given away. */
enum status report_redacted(struct store *season, const char *folder,
                            const struct report_options *options, struct report_summary *summary,
                            struct fault *fault);

#endif

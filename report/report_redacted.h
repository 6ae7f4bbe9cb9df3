/* report_redacted.h - the report of a season without its names. */
#ifndef LAPWING_REPORT_REDACTED_H
#define LAPWING_REPORT_REDACTED_H

#include "report/report_command.h"

/* Where it goes, below the campaign's folder. */
#define REPORT_REDACTED_FOLDER "report-redacted"

/* Writes folder/report-redacted from a copy of the season (report/redact.h), and options->key_file when
 * there is one. BAD_INPUT: the key would lie among the files that are given away. */
enum status report_redacted(struct store *season, const char *folder,
                            const struct report_options *options, struct report_summary *summary,
                            struct fault *fault);

#endif

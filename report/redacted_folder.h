/* redacted_folder.h - the folder that is given away, and what may lie in it.
 *
 * Whoever mails it mails all of it. So only files that redacted reports write may be there: what is else in it
 * is refused, what is left of an earlier report is taken away, and no other command writes into it.   */
#ifndef LAPWING_REPORT_REDACTED_FOLDER_H
#define LAPWING_REPORT_REDACTED_FOLDER_H

#include "report/report_files.h"

/* Below the campaign's folder. */
#define REPORT_REDACTED_FOLDER "report-redacted"

/* Makes it where it is missing. BAD_INPUT: it holds what no redacted report writes, or is the report's own
 * folder by another name. */
enum status redacted_folder_open(const char *campaign, char report[REPORT_PATH],
                                 struct fault *fault);

/* Takes away what an earlier report left in it, so that a report that fails halfway leaves too little and
 * never what an earlier one told beyond it. */
enum status redacted_folder_clear(const char *report, struct fault *fault);

/* BAD_INPUT: the key would lie in the folder, or the folder it is to lie in cannot be found. */
enum status redacted_folder_key(const char *campaign, const char *key, struct fault *fault);

/* BAD_INPUT: output, which has names in it, would lie in the folder. */
enum status redacted_folder_names(const char *campaign, const char *output, struct fault *fault);

#endif

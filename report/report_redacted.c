/* report_redacted.c - see report_redacted.h. */
#include "report/report_redacted.h"

#include "report/redacted_season.h"

enum status report_redacted(struct store *season, const char *folder,
                            const struct report_options *options, struct report_summary *summary,
                            struct fault *fault)
{
    struct redacted_season redacted;
    char report[REPORT_PATH];

    enum status status = redacted_folder_open(folder, report, fault);
    if (status == OK)
        status = redacted_season_open(season, folder, options, 0, &redacted, fault);
    if (status != OK)
        return status;
    status = redacted_folder_clear(report, fault);
    if (status == OK)
        status = report_write_into(redacted.store, report, NULL, options, summary, fault);
    return redacted_season_end(&redacted, status, fault);
}

/* report_command.c - see report_command.h. */
#include "report/report_command.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "report/proof_command.h"
#include "report/report_files.h"
#include "report/report_redacted.h"
#include "report/report_tables.h"
#include "report/season_site.h"
#include "report/workbook.h"

static void keep_headline(const struct buffer *headline, struct report_summary *summary)
{
    const char *text = buffer_string(headline);
    size_t length = strlen(text);

    if (length >= sizeof summary->headline) {
        length = sizeof summary->headline - 1;
        while (length > 0 && ((unsigned char)text[length] & 0xC0U) == 0x80U)
            length--;
    }
    memcpy(summary->headline, text, length);
    summary->headline[length] = '\0';
}

/* Every page; the latest night's first sentence into *summary. */
static enum status write_pages(struct store *store, const char *report, const char *campaign,
                               struct report_summary *summary, struct fault *fault)
{
    struct buffer headline = {0};

    enum status status = season_site_write(store, report, campaign, &headline, fault);
    if (status == OK && summary != NULL)
        keep_headline(&headline, summary);
    buffer_free(&headline);
    return status;
}

enum status report_write_into(struct store *store, const char *report, const char *campaign,
                              const struct report_options *options, struct report_summary *summary,
                              struct fault *fault)
{
    char path[REPORT_PATH];

    enum status status = write_pages(store, report, campaign, summary, fault);
    if (status == OK)
        status = report_tables_write(store, report, options, fault);
    if (status == OK)
        status = report_path(report, "night.xlsx", path, fault);
    return status == OK ? workbook_write(store, path, options->notes, fault) : status;
}

enum status report_write(struct store *store, const char *folder, struct report_summary *summary,
                         struct fault *fault)
{
    static const struct report_options plain = {.redaction = REDACT_NOTHING};
    char report[REPORT_PATH];

    enum status status = report_folder(folder, report, fault);
    return status == OK ? report_write_into(store, report, folder, &plain, summary, fault) : status;
}

struct saying {
    const char *folder, *report;
};

static int say_file(void *context, const char *name)
{
    const struct saying *saying = context;

    return printf("%s/%s/%s\n", saying->folder, saying->report, name) >= 0;
}

static enum status say_where(const struct common_options *common,
                             const struct report_options *options,
                             const struct report_summary *summary, struct fault *fault)
{
    int is_redacted = options->redaction != REDACT_NOTHING;
    struct saying saying = {common->folder, is_redacted ? REPORT_REDACTED_FOLDER : "report"};

    if (common->quiet)
        return OK;
    int fine = printf("%s\n", summary->headline) >= 0;
    fine &= say_file(&saying, "night.html");
    fine &= say_file(&saying, "index.html");
    fine &= report_tables_say(options, say_file, &saying);
    fine &= say_file(&saying, "night.xlsx");
    if (options->key_file != NULL)
        fine &= printf("%s: keep it to yourself\n", options->key_file) >= 0;
    if (!fine || fflush(stdout) != 0)
        return FAIL(fault, WRITE_FAILED, "cannot write to standard output: %s", strerror(errno));
    return OK;
}

static enum status write_report(struct store *store, const char *folder,
                                const struct report_options *options,
                                struct report_summary *summary, struct fault *fault)
{
    char report[REPORT_PATH];

    if (options->redaction != REDACT_NOTHING)
        return report_redacted(store, folder, options, summary, fault);
    enum status status = report_folder(folder, report, fault);
    return status == OK ? report_write_into(store, report, folder, options, summary, fault)
                        : status;
}

static int run(const struct common_options *common, int argc, char **argv, struct fault *fault)
{
    struct report_options options;
    struct report_summary summary = {""};
    struct store *store = NULL;
    char path[REPORT_PATH];

    if (proof_is_wanted(argc, argv))
        return proof_run(common, argc, argv, fault);
    enum status status = report_options_read(argc, argv, &options, fault);
    if (status == OK)
        status = report_path(common->folder, "season.sqlite", path, fault);
    if (status == OK)
        status = store_open(path, STORE_READ_ONLY, &store, fault);
    if (status == OK)
        status = write_report(store, common->folder, &options, &summary, fault);
    if (status == OK)
        status = say_where(common, &options, &summary, fault);
    enum status closed = store_close(store, status == OK ? fault : NULL);
    return fault_exit_code(status != OK ? status : closed);
}

const struct command report_command = {
    "report", "write the night's page and its CSV tables",
    "usage: lapwing [-C DIR] report [--csv comma|semicolon] [--json] [--notes]\n"
    "                               [--redact [deltas-only]] [--redact-key FILE]\n"
    "       lapwing [-C DIR] report --proof CONFIGURATION [--entry ENTRY] [--output FILE]\n"
    "                               [--redact [deltas-only]] [--redact-key FILE]\n"
    "\n"
    "Writes from the season's database, without reading any log:\n"
    "  DIR/report/night.html  one self-contained page about the latest entry: what won, by how\n"
    "                         much, what is not decided\n"
    "  DIR/report/index.html  the season: its entries, the baseline over them, its configurations\n"
    "  DIR/report/night-FACILITY-ENTRY.html  the page of each entry\n"
    "  DIR/report/proof-CONFIGURATION.html  the sheet of each part that was compared, by its "
    "latest\n"
    "                         entry: one page of A4 to hand on\n"
    "  DIR/report/deltas.csv  every delta of every entry with its interval and verdict\n"
    "  DIR/report/points.csv  every point: attitude, air, coefficients, uncertainty within the "
    "point\n"
    "  DIR/report/taps.csv    pressure coefficients by run, point and tap\n"
    "  DIR/report/tap_changes.csv  what each configuration changes at every tap, tested\n"
    "  DIR/report/loads.csv   loads in balance axes and in car axes\n"
    "  DIR/report/exclusions.csv  every delta that differs when nothing is left out\n"
    "  DIR/report/budget.csv  what every delta is uncertain by, source by source\n"
    "  DIR/report/ratios.csv, equal_balance.csv, packages.csv  what follows from several deltas\n"
    "  DIR/report/channels.csv  channels that no coefficient is made of\n"
    "  DIR/report/traces.csv  samples that a flag is about, and those of keep_samples\n"
    "  DIR/report/observations.csv  every mounting's value: what deltas are made of\n"
    "  DIR/report/left_out.csv  points that a rule or a person left out, or took in\n"
    "  DIR/report/flags.csv   everything that needs a person's eyes\n"
    "  DIR/report/night.xlsx  the entry of the page as a workbook\n"
    "Downforce is positive. The same database gives the same bytes; a page that has not changed\n"
    "is not written again. Pages of entries and parts that are gone are removed, where the\n"
    "index.html of the report before led to them.\n"
    "\n"
    "  --proof CONFIGURATION  write its proof sheet only; --proof=NAME for one that begins with a "
    "dash\n"
    "  --entry ENTRY          by this entry (or FACILITY/ENTRY), not the latest that compared it\n"
    "  --output FILE          there, not in DIR/report\n"
    "\n"
    "  --csv semicolon   semicolons and decimal commas, for spreadsheets that want them\n"
    "  --json            each table as JSON too\n"
    "  --notes           with what people wrote: changes, notes, who decided what and why. Without "
    "it\n"
    "                    tables carry ids only, and files with notes from before are removed\n"
    "  --redact          DIR/report-redacted instead: ids for the names of configurations, runs,\n"
    "                    places, attitudes, taps; no free text, pictures, hashes or dates. What "
    "an\n"
    "                    earlier one left there is taken away; other files there are refused\n"
    "  --redact deltas-only  and nothing that tells a level: no absolute coefficients and loads, "
    "no\n"
    "                    samples, no budget\n"
    "  --redact-key FILE ids are made by the secret in FILE, the same in every report by it; it "
    "also\n"
    "                    says which id is which name. Made when it is missing, its owner's alone; "
    "not\n"
    "                    in the folder that is given away\n",
    run};

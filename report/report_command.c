/* report_command.c - see report_command.h. */
#include "report/report_command.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "report/csv_out.h"
#include "report/proof_command.h"
#include "report/report_files.h"
#include "report/season_site.h"

static const struct csv_table *const tables[] = {&csv_deltas,      &csv_points, &csv_taps,
                                                 &csv_tap_changes, &csv_loads,  &csv_exclusions,
                                                 &csv_channels,    &csv_budget};

static enum status save(const char *folder, const char *name, const struct buffer *text,
                        struct fault *fault)
{
    char path[REPORT_PATH];

    enum status status = report_path(folder, name, path, fault);
    return status == OK ? report_save(path, text, fault) : status;
}

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

static enum status write_table(struct store *store, const char *folder,
                               const struct csv_table *table, struct fault *fault)
{
    struct buffer text = {0};

    enum status status = csv_write(store, table, &text, fault);
    if (status == OK)
        status = save(folder, table->file, &text, fault);
    buffer_free(&text);
    return status;
}

enum status report_write(struct store *store, const char *folder, struct report_summary *summary,
                         struct fault *fault)
{
    char report[REPORT_PATH];

    enum status status = report_folder(folder, report, fault);
    if (status == OK)
        status = write_pages(store, report, folder, summary, fault);
    for (size_t i = 0; status == OK && i < sizeof tables / sizeof tables[0]; i++)
        status = write_table(store, report, tables[i], fault);
    return status;
}

static enum status say_where(const struct common_options *common,
                             const struct report_summary *summary, struct fault *fault)
{
    int failed = 0;

    if (common->quiet)
        return OK;
    failed |= printf("%s\n%s/report/night.html\n%s/report/index.html\n", summary->headline,
                     common->folder, common->folder) < 0;
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++)
        failed |= printf("%s/report/%s\n", common->folder, tables[i]->file) < 0;
    if (failed || fflush(stdout) != 0)
        return FAIL(fault, WRITE_FAILED, "cannot write to standard output: %s", strerror(errno));
    return OK;
}

static int run(const struct common_options *common, int argc, char **argv, struct fault *fault)
{
    struct report_summary summary = {""};
    struct store *store = NULL;
    char path[REPORT_PATH];

    if (proof_is_wanted(argc, argv))
        return proof_run(common, argc, argv, fault);
    if (argc > 1)
        return fault_exit_code(FAIL(fault, BAD_INPUT,
                                    "report takes no argument, got '%s'; see `lapwing report "
                                    "--help`",
                                    argv[1]));
    enum status status = report_path(common->folder, "season.sqlite", path, fault);
    if (status == OK)
        status = store_open(path, STORE_READ_ONLY, &store, fault);
    if (status == OK)
        status = report_write(store, common->folder, &summary, fault);
    if (status == OK)
        status = say_where(common, &summary, fault);
    enum status closed = store_close(store, status == OK ? fault : NULL);
    return fault_exit_code(status != OK ? status : closed);
}

const struct command report_command = {
    "report", "write the night's page and its CSV tables",
    "usage: lapwing [-C DIR] report\n"
    "       lapwing [-C DIR] report --proof CONFIGURATION [--entry ENTRY] [--output FILE]\n"
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
    "  DIR/report/channels.csv  channels that no coefficient is made of\n"
    "Downforce is positive. The same database gives the same bytes; a page that has not changed\n"
    "is not written again, and pages of entries and parts that are gone are removed.\n"
    "\n"
    "  --proof CONFIGURATION  write its proof sheet only\n"
    "  --entry ENTRY          by this entry (or FACILITY/ENTRY), not the latest that compared it\n"
    "  --output FILE          there, not in DIR/report\n",
    run};

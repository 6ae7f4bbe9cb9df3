/* report_command.c - see report_command.h. */
#include "report/report_command.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "report/csv_out.h"
#include "report/page_night.h"
#include "report/report_files.h"

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

static void keep_headline(const struct headline *headline, struct report_summary *summary)
{
    const char *text = buffer_string(&headline->sentence);
    size_t length = strlen(text);

    if (length >= sizeof summary->headline) {
        length = sizeof summary->headline - 1;
        while (length > 0 && ((unsigned char)text[length] & 0xC0U) == 0x80U)
            length--;
    }
    memcpy(summary->headline, text, length);
    summary->headline[length] = '\0';
}

static enum status write_page(struct store *store, const char *folder,
                              struct report_summary *summary, struct fault *fault)
{
    struct findings findings;
    struct headline headline;
    struct html page = {0};

    enum status status = findings_read(store, &findings, fault);
    if (status != OK)
        return status;
    headline_make(&findings, &headline);
    struct night_page night = {store, &findings, &headline};
    status = headline_status(&headline, fault);
    if (status == OK)
        status = page_night(&page, &night, fault);
    if (status == OK)
        status = save(folder, "night.html", &page.out, fault);
    if (status == OK && summary != NULL)
        keep_headline(&headline, summary);
    html_free(&page);
    headline_end(&headline);
    findings_end(&findings);
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
        status = write_page(store, report, summary, fault);
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
    failed |= printf("%s\n%s/report/night.html\n", summary->headline, common->folder) < 0;
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
    "\n"
    "Writes from the season's database, without reading any log:\n"
    "  DIR/report/night.html  one self-contained page about the latest entry: what won, by how\n"
    "                         much, what is not decided\n"
    "  DIR/report/deltas.csv  every delta of every entry with its interval and verdict\n"
    "  DIR/report/points.csv  every point: attitude, air, coefficients, uncertainty within the "
    "point\n"
    "  DIR/report/taps.csv    pressure coefficients by run, point and tap\n"
    "  DIR/report/tap_changes.csv  what each configuration changes at every tap, tested\n"
    "  DIR/report/loads.csv   loads in balance axes and in car axes\n"
    "  DIR/report/exclusions.csv  every delta that differs when nothing is left out\n"
    "  DIR/report/budget.csv  what every delta is uncertain by, source by source\n"
    "  DIR/report/channels.csv  channels that no coefficient is made of\n"
    "Downforce is positive. The same database gives the same bytes.\n",
    run};

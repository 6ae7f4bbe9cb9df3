/* proof_command.c - see proof_command.h. */
#include "report/proof_command.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "report/page_names.h"
#include "report/proof.h"
#include "report/redacted_folder.h"
#include "report/redacted_season.h"
#include "report/report_files.h"
#include "report/site_files.h"

struct request {
    const char *part, *entry, *output; /* NULL: not said */
    struct report_options options;     /* of them redaction and its key */
};

int proof_is_wanted(int argc, char **argv)
{
    for (int i = 1; i < argc; i++)
        if (strcmp(argv[i], "--proof") == 0 || strncmp(argv[i], "--proof=", 8) == 0)
            return 1;
    return 0;
}

static enum status read_request(int argc, char **argv, struct request *request, struct fault *fault)
{
    for (int i = 1; i < argc; i++) {
        const struct {
            const char *option, **value;
        } options[] = {{"--proof", &request->part},
                       {"--entry", &request->entry},
                       {"--output", &request->output}};
        size_t k = 0;
        int is_taken = 0;
        enum status status =
            report_options_redact(argc, argv, &i, &request->options, &is_taken, fault);
        if (status != OK)
            return status;
        if (is_taken)
            continue;
        size_t length = strcspn(argv[i], "=");
        while (k < 3 && (strlen(options[k].option) != length ||
                         strncmp(argv[i], options[k].option, length) != 0))
            k++;
        if (k == 3)
            return FAIL(fault, BAD_INPUT,
                        "report --proof takes no '%.80s'; see `lapwing report --help`", argv[i]);
        if (argv[i][length] == '=') { /* a name may begin with a dash */
            *options[k].value = argv[i] + length + 1;
            continue;
        }
        if (i + 1 == argc)
            return FAIL(fault, BAD_INPUT, "%s needs a value; see `lapwing report --help`", argv[i]);
        *options[k].value = argv[++i];
    }
    return report_options_check(&request->options, fault);
}

/* "2026-02" or "saltmarsh/2026-02". */
static int is_entry(const struct season_entry *entry, const char *wanted)
{
    size_t length = strlen(entry->facility);

    return strcmp(entry->entry, wanted) == 0 ||
           (strncmp(wanted, entry->facility, length) == 0 && wanted[length] == '/' &&
            strcmp(wanted + length + 1, entry->entry) == 0);
}

static enum status find_entry(const struct season_entries *entries, const char *wanted, size_t *at,
                              struct fault *fault)
{
    size_t found = 0;

    for (size_t i = 0; i < entries->n; i++)
        if (is_entry(&entries->items[i], wanted)) {
            *at = i;
            found++;
        }
    if (found == 0)
        return FAIL(fault, NOT_FOUND, "the season has no entry '%.80s'; see runs.csv", wanted);
    if (found > 1)
        return FAIL(fault, BAD_INPUT,
                    "%zu facilities have an entry '%.80s'; write --entry FACILITY/ENTRY", found,
                    wanted);
    return OK;
}

static int is_compared(const struct findings *findings, const char *part)
{
    const struct finding_configuration *found = findings_configuration(findings, part);

    return found != NULL && !found->is_baseline && found->deltas[0].is_there;
}

/* The asked entry, or the latest that compared the part. On OK the caller ends *findings. */
static enum status read_entry(struct store *store, const struct request *request,
                              struct findings *findings, struct fault *fault)
{
    struct season_entries entries;
    size_t at = 0;

    enum status status = entries_read(store, &entries, fault);
    if (status != OK)
        return status;
    size_t n = entries.n;
    if (request->entry != NULL)
        status = find_entry(&entries, request->entry, &at, fault);
    entries_end(&entries);
    for (; status == OK && at < n; at++) {
        status = findings_read_entry(store, at, findings, fault);
        if (status != OK || is_compared(findings, request->part))
            return status;
        findings_end(findings);
        if (request->entry != NULL)
            break;
    }
    if (status != OK)
        return status;
    return FAIL(fault, NOT_FOUND,
                "'%.80s' was compared with its baseline in no entry%s%.80s; "
                "see `lapwing compare --entry all`",
                request->part, request->entry != NULL ? " named " : "",
                request->entry != NULL ? request->entry : "");
}

static enum status save_sheet(struct store *store, const struct common_options *common,
                              const struct request *request, const struct buffer *text,
                              char path[REPORT_PATH], struct fault *fault)
{
    char folder[REPORT_PATH];
    struct page_name file;

    if (request->output != NULL) {
        (void)snprintf(path, REPORT_PATH, "%s", request->output);
        return report_save(request->output, text, fault);
    }
    enum status status = page_names_proof(store, request->part, &file, fault);
    if (status == OK && request->options.redaction != REDACT_NOTHING)
        status = redacted_folder_open(common->folder, folder, fault);
    else if (status == OK)
        status = report_folder(common->folder, folder, fault);
    if (status == OK)
        status = report_path(folder, file.text, path, fault);
    return status == OK ? site_save(folder, file.text, text, fault) : status;
}

static enum status make_sheet(struct store *store, const struct common_options *common,
                              const struct request *request, struct fault *fault)
{
    struct findings findings;
    struct page_name file;
    struct html page = {0};
    char path[REPORT_PATH];

    enum status status = page_names_proof(store, request->part, &file, fault);
    if (status == OK)
        status = read_entry(store, request, &findings, fault);
    if (status != OK)
        return status;
    int is_redacted = request->options.redaction != REDACT_NOTHING;
    struct proof proof = {store, &findings, findings_configuration(&findings, request->part),
                          is_redacted ? NULL : common->folder};
    status = page_proof(&page, &proof, fault);
    if (status == OK)
        status = save_sheet(store, common, request, &page.out, path, fault);
    html_free(&page);
    findings_end(&findings);
    if (status == OK && !common->quiet && (printf("%s\n", path) < 0 || fflush(stdout) != 0))
        return FAIL(fault, WRITE_FAILED, "cannot write to standard output: %s", strerror(errno));
    return status;
}

/* The entry that is asked for, by its ids: FACILITY/ENTRY. */
static enum status name_entry(struct store *season, const struct redacted_season *made,
                              const char *wanted, struct buffer *out, struct fault *fault)
{
    struct season_entries entries;
    char ids[2][REDACTED_ID];
    size_t at = 0;

    enum status status = entries_read(season, &entries, fault);
    if (status != OK)
        return status;
    status = find_entry(&entries, wanted, &at, fault);
    if (status == OK)
        status = redacted_season_id(made, "facility", entries.items[at].facility, ids[0], fault);
    if (status == OK)
        status = redacted_season_id(made, "entry", entries.items[at].entry, ids[1], fault);
    if (status == OK)
        buffer_format(out, "%s/%s", ids[0], ids[1]);
    entries_end(&entries);
    return status == OK ? buffer_status(out, "the name of an entry", fault) : status;
}

/* The sheet of the same part and entry by their ids. */
static enum status make_redacted(struct store *season, const struct common_options *common,
                                 const struct request *asked, struct fault *fault)
{
    struct redacted_season made;
    struct request request = *asked;
    struct buffer entry = {0};
    char part[REDACTED_ID];

    enum status status =
        redacted_season_open(season, common->folder, &asked->options, 0, &made, fault);
    if (status != OK)
        return status;
    status = redacted_season_id(&made, "configuration", asked->part, part, fault);
    request.part = part;
    if (status == OK && asked->entry != NULL) {
        status = name_entry(season, &made, asked->entry, &entry, fault);
        request.entry = buffer_string(&entry);
    }
    if (status == OK)
        status = make_sheet(made.store, common, &request, fault);
    buffer_free(&entry);
    return redacted_season_end(&made, status, fault);
}

static enum status make(struct store *season, const struct common_options *common,
                        const struct request *request, struct fault *fault)
{
    if (request->options.redaction != REDACT_NOTHING)
        return make_redacted(season, common, request, fault);
    enum status status = request->output != NULL
                             ? redacted_folder_names(common->folder, request->output, fault)
                             : OK;
    return status == OK ? make_sheet(season, common, request, fault) : status;
}

int proof_run(const struct common_options *common, int argc, char **argv, struct fault *fault)
{
    struct request request = {.part = NULL};
    struct store *store = NULL;
    char path[REPORT_PATH];

    enum status status = read_request(argc, argv, &request, fault);
    if (status == OK)
        status = report_path(common->folder, "season.sqlite", path, fault);
    if (status == OK)
        status = store_open(path, STORE_READ_ONLY, &store, fault);
    if (status == OK)
        status = make(store, common, &request, fault);
    enum status closed = store_close(store, status == OK ? fault : NULL);
    return fault_exit_code(status != OK ? status : closed);
}

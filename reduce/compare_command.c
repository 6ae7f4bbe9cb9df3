/* compare_command.c - `lapwing compare`; see compare_command.h. */
#include "reduce/compare_command.h"

#include <stdio.h>
#include <string.h>

#include "reduce/compare_table.h"
#include "reduce/season_open.h"
#include "reduce/what_if_print.h"
#include "reduce/what_if_steps.h"
#include "schema/file_write.h"

static enum status read_format(const char *text, enum compare_format *format, struct fault *fault)
{
    static const char *const words[] = {[COMPARE_TEXT] = "text",
                                        [COMPARE_CSV] = "csv",
                                        [COMPARE_JSON] = "json",
                                        [COMPARE_HTML] = "html"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strcmp(text, words[i]) == 0) {
            *format = (enum compare_format)i;
            return OK;
        }
    return FAIL(fault, BAD_INPUT, "--format '%s' is none of text, csv, json and html", text);
}

static enum status read_name(const char *text, struct compare_request *request, struct fault *fault)
{
    if (request->second != NULL)
        return FAIL(fault, BAD_INPUT, "compare takes two configurations at most, '%s' is a third",
                    text);
    if (request->first == NULL)
        request->first = text;
    else
        request->second = text;
    return OK;
}

static int is_option(const char *word)
{
    static const char *const options[] = {"--format",  "--metric", "--entry",  "--attitude",
                                          "--without", "--family", "--output", "--redact-key"};
    for (size_t i = 0; i < sizeof options / sizeof options[0]; i++)
        if (strcmp(word, options[i]) == 0)
            return 1;
    return 0;
}

static enum status take_option(const char *option, const char *value, struct comparison *arguments,
                               struct fault *fault)
{
    struct compare_request *request = &arguments->request;
    if (strcmp(option, "--without") == 0)
        return what_if_step_read(value, &arguments->without, fault);
    if (strcmp(option, "--format") == 0)
        return read_format(value, &request->format, fault);
    if (strcmp(option, "--metric") == 0)
        request->metric = value;
    else if (strcmp(option, "--entry") == 0)
        request->entry = value;
    else if (strcmp(option, "--family") == 0)
        request->family = value;
    else if (strcmp(option, "--redact-key") == 0)
        arguments->key_file = value;
    else if (strcmp(option, "--output") == 0)
        arguments->output = strcmp(value, "-") == 0 ? NULL : value;
    else
        request->attitude = value;
    return OK;
}

static enum status read_words(int argc, char **argv, struct comparison *arguments,
                              struct fault *fault)
{
    enum status status = OK;
    for (int i = 1; status == OK && i < argc; i++) {
        int takes_value = is_option(argv[i]);
        if (takes_value && i + 1 == argc)
            return FAIL(fault, BAD_INPUT, "%s needs a value; see `lapwing compare --help`",
                        argv[i]);
        if (takes_value) {
            status = take_option(argv[i], argv[i + 1], arguments, fault);
            i++;
        } else if (strcmp(argv[i], "--redact") == 0) {
            arguments->is_redacted = 1;
        } else if (argv[i][0] == '-' && argv[i][1] == '-' && argv[i][2] != '\0') {
            return FAIL(fault, BAD_INPUT,
                        "compare has no option '%s'; see `lapwing compare --help`", argv[i]);
        } else if (strcmp(argv[i], "--") != 0) {
            status = read_name(argv[i], &arguments->request, fault);
        }
    }
    return status;
}

/* Ids for names, in what is given away. */
static enum status check_redaction(const struct comparison *arguments, struct fault *fault)
{
    if (arguments->key_file != NULL && !arguments->is_redacted)
        return FAIL(fault, BAD_INPUT,
                    "--redact-key explains ids, and names have none without --redact: give both");
    if (arguments->is_redacted && arguments->without != 0)
        return FAIL(fault, BAD_INPUT, "--without is not written without names; leave --redact out");
    if (arguments->is_redacted && arguments->request.format == COMPARE_TEXT)
        return FAIL(fault, BAD_INPUT, "--redact wants --format csv, json or html");
    return OK;
}

/* What goes together. */
static enum status check_arguments(const struct comparison *arguments, struct fault *fault)
{
    enum compare_format format = arguments->request.format;
    if (arguments->without != 0 && format != COMPARE_TEXT && format != COMPARE_CSV)
        return FAIL(fault, BAD_INPUT, "--without is written as text or csv only");
    if (arguments->output != NULL && format == COMPARE_TEXT)
        return FAIL(fault, BAD_INPUT,
                    "--output '%s' wants --format csv, json or html; text goes to the terminal",
                    arguments->output);
    return check_redaction(arguments, fault);
}

static enum status read_arguments(int argc, char **argv, struct comparison *arguments,
                                  struct fault *fault)
{
    enum status status = read_words(argc, argv, arguments, fault);
    return status == OK ? check_arguments(arguments, fault) : status;
}

/* The attitude that decides, unless another one or all are asked for. */
static void set_attitude(const struct campaign *campaign, struct compare_request *request)
{
    if (request->attitude == NULL)
        request->attitude = campaign->main_attitude;
    else if (strcmp(request->attitude, "all") == 0)
        request->attitude = NULL;
}

/* A file is there whole or not at all. */
static enum status save(const char *path, const struct key_text *text, struct fault *fault)
{
    struct file_writer *writer = NULL;
    enum status status = file_writer_open(path, &writer, fault);
    if (status != OK)
        return status;
    status = file_writer_write(writer, text->text, text->length, fault);
    if (status != OK) {
        file_writer_abandon(writer);
        return status;
    }
    return file_writer_commit(writer, fault);
}

static enum status put(const struct comparison *arguments, const struct key_text *text,
                       struct fault *fault)
{
    if (text->text == NULL)
        return OK;
    if (arguments->output != NULL)
        return save(arguments->output, text, fault);
    (void)fputs(text->text, stdout); /* whether it arrived is asked once, at the end */
    return OK;
}

/* Entries by their ids all have only the rows that were asked for. */
static enum status write_table(const struct comparison *made, struct store *store,
                               struct fault *fault)
{
    struct key_text text = {NULL, 0, 0, 0};
    struct compare_request request = made->request;
    if (made->is_redacted)
        request.entry = "all";
    enum status status = compare_format(store, &request, &text, fault);
    if (status == OK)
        status = put(made, &text, fault);
    key_text_end(&text);
    return status;
}

static enum status write_without(struct comparison *asked, struct fault *fault)
{
    const struct season *season = &asked->season;
    struct what_if made;
    struct key_text text = {NULL, 0, 0, 0};
    enum status status = what_if_make(season->store, season->campaign, &asked->request,
                                      asked->without, &made, fault);
    if (status == OK) {
        int is_csv = asked->request.format == COMPARE_CSV;
        (is_csv ? what_if_print_csv : what_if_print_text)(&made, season->campaign->count, &text);
        status = key_text_status(&text, fault);
    }
    if (status == OK)
        status = put(asked, &text, fault);
    asked->flips = what_if_count_flips(&made.deltas);
    key_text_end(&text);
    what_if_end(&made);
    return status;
}

enum status compare_begin(const struct common_options *common, int argc, char **argv,
                          struct comparison *made, struct fault *fault)
{
    *made = (struct comparison){.flips = 0};
    enum status status = read_arguments(argc, argv, made, fault);
    /* What is made without a step is rolled back, but SQLite calls that writing. */
    if (status == OK)
        status = season_open(common->folder, made->without == 0 ? STORE_READ_ONLY : STORE_EXISTING,
                             &made->season, fault);
    if (status != OK)
        return status;
    made->request.campaign = made->season.campaign;
    set_attitude(made->season.campaign, &made->request);
    return made->without == 0 ? compare_ask(made->season.store, &made->request, fault) : OK;
}

enum status compare_write(struct comparison *made, struct store *store, struct fault *fault)
{
    return made->without == 0 ? write_table(made, store, fault) : write_without(made, fault);
}

enum status compare_end(struct comparison *made, enum status status, struct fault *fault)
{
    if (made->season.store == NULL && made->season.campaign == NULL)
        return status;
    return season_close(&made->season, status, fault);
}

const char compare_usage[] =
    "usage: lapwing [-C DIR] compare [A [B] | --family NAME] [--attitude NAME|all]\n"
    "                                [--entry NAME|all] [--metric NAME] [--without STEP]...\n"
    "                                [--format text|csv|json|html] [--output FILE]\n"
    "                                [--redact] [--redact-key FILE]\n"
    "\n"
    "Prints the deltas that `lapwing reduce` left in season.sqlite for the latest entry, at the\n"
    "attitude of the main measure: all of them, or those of the configurations A and B; of a\n"
    "baseline alone, its whole family. Every delta is configuration minus baseline, downforce\n"
    "positive. Of A and B that are both no baseline A minus B is told too, with an interval that\n"
    "knows what both share; nobody declared it before the night, so it is exploratory.\n"
    "Below: how each judged delta was found, by which method and noise, and how firm it stands;\n"
    "the change of CL for that of CD; deltas at the baseline's balance (trim: of campaign.yaml);\n"
    "packages against the sum of their parts (column parts of configurations.csv).\n"
    "\n"
    "  --family NAME    the family of the baseline NAME\n"
    "  --attitude NAME  another attitude: a target's name, weighted, or all\n"
    "  --entry NAME     another entry of the run sheet, FACILITY/NAME where two share a name, or\n"
    "                   all\n"
    "  --metric NAME    one metric of campaign.yaml, or one quantity: CL, CD, CLF, balance, L/D "
    "...\n"
    "  --format csv     one row a delta with all numbers, the columns of report/deltas.csv\n"
    "  --format json    all that is told below as well, and what it was made by\n"
    "  --format html    a page of its own about what is asked, and nothing else of the season\n"
    "  --output FILE    csv, json or html into a file, whole or not at all; - is standard output\n"
    "  --redact         csv, json or html with ids for names, as in `lapwing report --redact`;\n"
    "                   --redact-key FILE makes the ids and says which is which name\n"
    "  --without STEP   beside each delta what it is with that step left out of every point of "
    "the\n"
    "                   entry, and which verdicts flip. Again for several; all for every one at\n"
    "                   once. Nothing of it stays in the season. STEP is weight_tare, belt_tare,\n"
    "                   support_tare, interference, buoyancy, blockage, flow_angularity, Reynolds\n"
    "                   or to_target\n"
    "\n"
    "\"mounted 3/4\" means three mountings of the configuration and four of the baseline. The\n"
    "interval of the main measure is simultaneous over all configurations of the family; all\n"
    "others stand alone and are exploratory.\n"
    "\n"
    "Exit status: 0 done, and no verdict flips; 1 done, and --without flips one; 2 the request or\n"
    "the campaign is wrong, or the season is not up to date; 3 storage, memory or internal\n"
    "failure.\n";

/* compare_command.c - `lapwing compare`; see compare_command.h. */
#include "reduce/compare_command.h"

#include <stdio.h>
#include <string.h>

#include "reduce/compare_table.h"
#include "reduce/season_open.h"
#include "reduce/what_if_print.h"
#include "reduce/what_if_steps.h"

struct compare_arguments {
    struct compare_request request;
    unsigned without; /* steps, as in what_if_steps.h; 0: the deltas as they stand */
};

static enum status read_format(const char *text, enum compare_format *format, struct fault *fault)
{
    if (strcmp(text, "text") == 0)
        *format = COMPARE_TEXT;
    else if (strcmp(text, "csv") == 0)
        *format = COMPARE_CSV;
    else
        return FAIL(fault, BAD_INPUT, "--format '%s' is neither text nor csv", text);
    return OK;
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
    static const char *const options[] = {"--format", "--metric", "--entry", "--attitude",
                                          "--without"};
    for (size_t i = 0; i < sizeof options / sizeof options[0]; i++)
        if (strcmp(word, options[i]) == 0)
            return 1;
    return 0;
}

static enum status take_option(const char *option, const char *value,
                               struct compare_arguments *arguments, struct fault *fault)
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
    else
        request->attitude = value;
    return OK;
}

static enum status read_arguments(int argc, char **argv, struct compare_arguments *arguments,
                                  struct fault *fault)
{
    enum status status = OK;
    memset(arguments, 0, sizeof *arguments);
    for (int i = 1; status == OK && i < argc; i++) {
        int takes_value = is_option(argv[i]);
        if (takes_value && i + 1 == argc)
            return FAIL(fault, BAD_INPUT, "%s needs a value; see `lapwing compare --help`",
                        argv[i]);
        if (takes_value) {
            status = take_option(argv[i], argv[i + 1], arguments, fault);
            i++;
        } else if (argv[i][0] == '-' && argv[i][1] == '-' && argv[i][2] != '\0') {
            return FAIL(fault, BAD_INPUT,
                        "compare has no option '%s'; see `lapwing compare --help`", argv[i]);
        } else if (strcmp(argv[i], "--") != 0) {
            status = read_name(argv[i], &arguments->request, fault);
        }
    }
    return status;
}

/* The attitude that decides, unless another one or all are asked for. */
static void set_attitude(const struct campaign *campaign, struct compare_request *request)
{
    if (request->attitude == NULL)
        request->attitude = campaign->main_attitude;
    else if (strcmp(request->attitude, "all") == 0)
        request->attitude = NULL;
}

static enum status print_table(const struct season *season, const struct compare_request *request,
                               struct fault *fault)
{
    struct key_text text = {NULL, 0, 0, 0};
    enum status status = compare_table(season->store, request, &text, fault);
    if (status == OK)
        (void)fputs(text.text, stdout);
    key_text_end(&text);
    return status;
}

static enum status print_without(const struct season *season,
                                 const struct compare_arguments *arguments, size_t *flips,
                                 struct fault *fault)
{
    struct what_if made;
    struct key_text text = {NULL, 0, 0, 0};
    enum status status = what_if_make(season->store, season->campaign, &arguments->request,
                                      arguments->without, &made, fault);
    if (status == OK) {
        int is_csv = arguments->request.format == COMPARE_CSV;
        (is_csv ? what_if_print_csv : what_if_print_text)(&made, season->campaign->count, &text);
        status = key_text_status(&text, fault);
    }
    if (status == OK)
        (void)fputs(text.text, stdout);
    *flips = what_if_count_flips(&made.deltas);
    key_text_end(&text);
    what_if_end(&made);
    return status;
}

/* What is made without a step is rolled back, but SQLite calls that writing. */
static int run(const struct common_options *common, int argc, char **argv, struct fault *fault)
{
    struct compare_arguments arguments;
    struct season season;
    size_t flips = 0;
    enum status status = read_arguments(argc, argv, &arguments, fault);
    if (status == OK)
        status =
            season_open(common->folder, arguments.without == 0 ? STORE_READ_ONLY : STORE_EXISTING,
                        &season, fault);
    if (status != OK)
        return fault_exit_code(status);
    set_attitude(season.campaign, &arguments.request);
    status = arguments.without == 0 ? print_table(&season, &arguments.request, fault)
                                    : print_without(&season, &arguments, &flips, fault);
    status = season_close(&season, status, fault);
    return status == OK && flips > 0 ? 1 : fault_exit_code(status);
}

const struct command compare_command = {
    "compare", "deltas between configurations, with intervals and verdicts",
    "usage: lapwing [-C DIR] compare [A [B]] [--attitude NAME|all] [--entry NAME|all]\n"
    "                                [--metric NAME] [--without STEP]... [--format text|csv]\n"
    "\n"
    "Prints the deltas that `lapwing reduce` left in season.sqlite for the latest entry, at the\n"
    "attitude of the main measure: all of them, or those of the configurations A and B; of a\n"
    "baseline alone, its whole family. Every delta is configuration minus baseline, downforce\n"
    "positive.\n"
    "\n"
    "  --attitude NAME  another attitude: a target's name, weighted, or all\n"
    "  --entry NAME     another entry of the run sheet, FACILITY/NAME where two share a name, or\n"
    "                   all\n"
    "  --metric NAME    one metric of campaign.yaml, or one quantity: CL, CD, CLF, balance, L/D "
    "...\n"
    "  --format csv     one row a delta with all numbers, the columns of report/deltas.csv\n"
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
    "failure.\n",
    run};

/* compare_command.c - `lapwing compare`; see compare_command.h. */
#include "reduce/compare_command.h"

#include <stdio.h>
#include <string.h>

#include "reduce/compare_table.h"
#include "reduce/season_open.h"

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
    static const char *const options[] = {"--format", "--metric", "--entry", "--attitude"};
    for (size_t i = 0; i < sizeof options / sizeof options[0]; i++)
        if (strcmp(word, options[i]) == 0)
            return 1;
    return 0;
}

static enum status take_option(const char *option, const char *value,
                               struct compare_request *request, struct fault *fault)
{
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

static enum status read_arguments(int argc, char **argv, struct compare_request *request,
                                  struct fault *fault)
{
    enum status status = OK;
    memset(request, 0, sizeof *request);
    for (int i = 1; status == OK && i < argc; i++) {
        int takes_value = is_option(argv[i]);
        if (takes_value && i + 1 == argc)
            return FAIL(fault, BAD_INPUT, "%s needs a value; see `lapwing compare --help`",
                        argv[i]);
        if (takes_value) {
            status = take_option(argv[i], argv[i + 1], request, fault);
            i++;
        } else if (argv[i][0] == '-' && argv[i][1] == '-' && argv[i][2] != '\0') {
            return FAIL(fault, BAD_INPUT,
                        "compare has no option '%s'; see `lapwing compare --help`", argv[i]);
        } else if (strcmp(argv[i], "--") != 0) {
            status = read_name(argv[i], request, fault);
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

static int run(const struct common_options *common, int argc, char **argv, struct fault *fault)
{
    struct compare_request request;
    struct season season;
    struct key_text text = {NULL, 0, 0, 0};
    enum status status = read_arguments(argc, argv, &request, fault);
    if (status == OK)
        status = season_open(common->folder, STORE_READ_ONLY, &season, fault);
    if (status != OK)
        return fault_exit_code(status);
    set_attitude(season.campaign, &request);
    status = compare_table(season.store, &request, &text, fault);
    if (status == OK)
        (void)fputs(text.text, stdout);
    key_text_end(&text);
    return fault_exit_code(season_close(&season, status, fault));
}

const struct command compare_command = {
    "compare", "deltas between configurations, with intervals and verdicts",
    "usage: lapwing [-C DIR] compare [A [B]] [--attitude NAME|all] [--entry NAME|all]\n"
    "                                [--metric NAME] [--format text|csv]\n"
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
    "\n"
    "\"mounted 3/4\" means three mountings of the configuration and four of the baseline. The\n"
    "interval of the main measure is simultaneous over all configurations of the family; all\n"
    "others stand alone and are exploratory.\n",
    run};

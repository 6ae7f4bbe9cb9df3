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

static enum status read_arguments(int argc, char **argv, struct compare_request *request,
                                  struct fault *fault)
{
    enum status status = OK;
    memset(request, 0, sizeof *request);
    for (int i = 1; status == OK && i < argc; i++) {
        int is_format = strcmp(argv[i], "--format") == 0;
        int is_metric = strcmp(argv[i], "--metric") == 0;
        int is_entry = strcmp(argv[i], "--entry") == 0;
        if ((is_format || is_metric || is_entry) && i + 1 == argc)
            return FAIL(fault, BAD_INPUT, "%s needs a value; see `lapwing compare --help`",
                        argv[i]);
        if (is_format)
            status = read_format(argv[++i], &request->format, fault);
        else if (is_metric)
            request->metric = argv[++i];
        else if (is_entry)
            request->entry = argv[++i];
        else if (argv[i][0] == '-' && argv[i][1] == '-' && argv[i][2] != '\0')
            return FAIL(fault, BAD_INPUT,
                        "compare has no option '%s'; see `lapwing compare --help`", argv[i]);
        else if (strcmp(argv[i], "--") != 0)
            status = read_name(argv[i], request, fault);
    }
    return status;
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
    status = compare_table(season.store, &request, &text, fault);
    if (status == OK)
        (void)fputs(text.text, stdout);
    key_text_end(&text);
    return fault_exit_code(season_close(&season, status, fault));
}

const struct command compare_command = {
    "compare", "deltas between configurations, with intervals and verdicts",
    "usage: lapwing compare [A [B]] [--entry NAME|all] [--metric NAME] [--format text|csv]\n"
    "\n"
    "Prints the deltas that `lapwing reduce` left in season.sqlite for the latest entry: all of\n"
    "them, or those of the configurations A and B. Every delta is configuration minus baseline, "
    "downforce positive.\n"
    "\n"
    "  --entry NAME    another entry of the run sheet, FACILITY/NAME where two share a name, or "
    "all\n"
    "  --metric NAME   one metric of campaign.yaml, or one quantity: CL, CD, CLF, balance, L/D "
    "...\n"
    "  --format csv    one row a delta with all numbers; text by default\n"
    "\n"
    "\"mounted 3/4\" means three mountings of the configuration and four of the baseline. The\n"
    "interval of the main measure is simultaneous over all configurations of the family; all\n"
    "others stand alone and are exploratory.\n",
    run};

/* plan_options.c - see plan_options.h. */
#include "ingest/plan_options.h"

#include <string.h>

#include "schema/number.h"

const char plan_usage[] =
    "usage: lapwing [-C DIR] plan [options]\n\n"
    "Plans the night that comes by the section plan of campaign.yaml: which configuration is run "
    "when,\n"
    "how often each is mounted, what the night takes, and the least delta of every metric that it "
    "will\n"
    "find, before it is run. How well a number repeats comes from the season's own entries, and "
    "from\n"
    "repeatability: of campaign.yaml. A plan that can't find what is worthwhile in its hours is "
    "refused\n"
    "with the hours that would, and so is an order that tells no drift from a difference.\n\n"
    "  --hours H            hours that there are, in place of available:\n"
    "  --start T            its start, like 2026-03-11T19:00:00+01:00\n"
    "  --facility NAME, --entry NAME\n"
    "  --configurations A,B,C  which are run against their baseline\n"
    "  --repeats N          mountings of each; left out: as few as find what matters\n"
    "  --scheme bracketed|abba  a return to the baseline after at most three, or A B B A\n"
    "  --order base,A,base  an order of your own, judged\n"
    "  --seed N             draws the order inside brackets; same seed, same bytes\n"
    "  --format text|csv|json  csv: the run sheet, the columns of runs.csv\n"
    "  --output FILE        writes the run sheet; - is standard output. An existing file stays as "
    "it is\n"
    "                       unless --force is given\n"
    "  --anyway             writes a plan that would be refused, marked\n\n"
    "Exit status: 0 planned; 2 the request or the campaign is wrong, or the plan is refused; 3 "
    "storage,\n"
    "memory or internal failure.\n";

static enum status read_number(const char *option, const char *text, double least, double most,
                               double *value, struct fault *fault)
{
    if (number_parse(text, strlen(text), '.', value, NULL) == NUMBER_OK && *value >= least &&
        *value <= most)
        return OK;
    return FAIL(fault, BAD_INPUT, "%s '%.40s' is out of its range; limit: %g to %g", option, text,
                least, most);
}

static enum status read_whole(const char *option, const char *text, double least, double most,
                              double *value, struct fault *fault)
{
    if (text[strspn(text, "0123456789")] == '\0' && text[0] != '\0')
        return read_number(option, text, least, most, value, fault);
    return FAIL(fault, BAD_INPUT, "%s '%.40s' is no whole number; limit: %g to %g", option, text,
                least, most);
}

static enum status read_scheme(const char *text, struct plan_options *options, struct fault *fault)
{
    int is_abba = strcmp(text, "abba") == 0;
    if (!is_abba && strcmp(text, "bracketed") != 0)
        return FAIL(
            fault, BAD_INPUT,
            "--scheme '%.40s'; limit: bracketed or abba; --order gives an order of your own", text);
    options->scheme = is_abba ? PLAN_ABBA : PLAN_BRACKETED;
    return OK;
}

static enum status read_format(const char *text, struct plan_options *options, struct fault *fault)
{
    static const char *const names[] = {
        [PLAN_TEXT] = "text", [PLAN_CSV] = "csv", [PLAN_JSON] = "json"};
    for (unsigned i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(names[i], text) == 0) {
            options->format = (enum plan_format)i;
            return OK;
        }
    return FAIL(fault, BAD_INPUT, "--format '%.40s'; limit: text, csv or json", text);
}

static enum status read_value(const char *option, const char *value, struct plan_options *options,
                              struct fault *fault)
{
    double number = 0;
    enum status status = OK;
    if (strcmp(option, "--hours") == 0)
        return read_number(option, value, 0.1, 1000, &options->hours, fault);
    if (strcmp(option, "--scheme") == 0)
        return read_scheme(value, options, fault);
    if (strcmp(option, "--format") == 0)
        return read_format(value, options, fault);
    if (strcmp(option, "--seed") == 0) {
        status = read_whole(option, value, 0, 4294967295.0, &number, fault);
        options->seed = status == OK ? (long)number : -1;
    } else if (strcmp(option, "--repeats") == 0) {
        status = read_whole(option, value, 1, 100, &number, fault);
        options->repeats = status == OK ? (unsigned)number : 0;
    }
    return status;
}

/* Options whose value is a text; NULL: none of them. */
static const char **text_option(const char *option, struct plan_options *options)
{
    const struct {
        const char *name;
        const char **value;
    } texts[] = {
        {"--facility", &options->facility}, {"--entry", &options->entry},
        {"--start", &options->start},       {"--configurations", &options->configurations},
        {"--order", &options->order},       {"--output", &options->output},
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        if (strcmp(texts[i].name, option) == 0)
            return texts[i].value;
    return NULL;
}

static int takes_value(const char *option, struct plan_options *options)
{
    static const char *const others[] = {"--hours", "--scheme", "--format", "--seed", "--repeats"};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++)
        if (strcmp(others[i], option) == 0)
            return 1;
    return text_option(option, options) != NULL;
}

static enum status read_option(const char *option, const char *value, struct plan_options *options,
                               struct fault *fault)
{
    const char **text = text_option(option, options);
    if (value == NULL || value[0] == '\0')
        return FAIL(fault, BAD_INPUT, "%s needs a value; see `lapwing plan --help`", option);
    if (text == NULL)
        return read_value(option, value, options, fault);
    *text = value;
    return OK;
}

enum status plan_options_read(const struct common_options *common, int argc, char **argv,
                              struct plan_options *options, struct fault *fault)
{
    enum status status = OK;
    *options = (struct plan_options){
        .folder = common->folder, .scheme = -1, .seed = -1, .quiet = common->quiet};
    for (int i = 1; i < argc && status == OK; i++) {
        if (strcmp(argv[i], "--force") == 0)
            options->force = 1;
        else if (strcmp(argv[i], "--anyway") == 0)
            options->anyway = 1;
        else if (takes_value(argv[i], options)) {
            status = read_option(argv[i], i + 1 < argc ? argv[i + 1] : NULL, options, fault);
            i++;
        } else
            return FAIL(fault, BAD_INPUT, "plan has no option '%.60s'; see `lapwing plan --help`",
                        argv[i]);
    }
    if (status == OK && options->order != NULL && (options->scheme >= 0 || options->repeats > 0))
        return FAIL(fault, BAD_INPUT,
                    "--order is an order of your own, and --scheme and --repeats make one; choose");
    return status;
}

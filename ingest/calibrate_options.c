/* calibrate_options.c - see calibrate_options.h. */
#include "ingest/calibrate_options.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/iso_time.h"
#include "ingest/loading_sheet.h"
#include "schema/campaign.h"

const char calibrate_usage[] =
    "usage: lapwing [-C DIR] calibrate LOADINGS [options]\n\n"
    "Fits a balance's calibration to raw loadings, says how good it is, and which loading is "
    "missing\n"
    "where a term can't be told. LOADINGS is a CSV sheet: a column for each load that was applied\n"
    "(Fx Fy Fz Mx My Mz, balance axes) and as many outputs (R1 .. R6), a row of units, and if "
    "wanted\n"
    "  series       loadings that share an unknown tare (hanger, fixture); one row of each series "
    "is\n"
    "               without load, outputs are from the natural zero. The tares are found by "
    "iteration.\n"
    "               Without this column the loads are whole, and an intercept is fitted.\n"
    "  direction    up or down: hysteresis is what the fit of the others misses of down\n"
    "  check        yes: held out of the fit; their error is the accuracy\n"
    "  temperature  terms dT, dT*dT and Fx*dT .. (R1*dT ..), where it varies\n\n"
    "  --form iterative|direct  outputs from loads (iterative, the default), or loads from "
    "outputs\n"
    "  --terms 6|27|84|96       which terms are tried; 27 by default, at most 27 with direct\n"
    "  --keep-all               keep all of them; else terms with |t| < 4 or a variance inflation "
    "above\n"
    "                           10 are dropped one by one, never a linear one\n"
    "  --rated 'Fx 1500 N'      rated load; once for each load of the sheet\n"
    "  --balance NAME           take rated loads and unit of outputs from campaign.yaml\n"
    "  --valid-from T, --valid-until T   dates with zone, kept in the file\n"
    "  --write PREFIX           write PREFIX.csv, the calibration file, PREFIX_card.html and\n"
    "                           PREFIX_card.csv; nothing that exists is overwritten\n\n"
    "Exit status: 0 done; 2 the request or the loadings are wrong; 3 memory or internal failure.\n";

static enum status read_form(const char *text, struct calibrate_request *request,
                             struct fault *fault)
{
    int is_direct = strcmp(text, "direct") == 0;
    if (!is_direct && strcmp(text, "iterative") != 0)
        return FAIL(fault, BAD_INPUT, "--form '%.60s'; limit: iterative or direct", text);
    request->form = is_direct ? CALIBRATION_DIRECT : CALIBRATION_ITERATIVE;
    return OK;
}

static enum status read_terms(const char *text, struct calibrate_request *request,
                              struct fault *fault)
{
    static const size_t sizes[] = {6, 27, 84, 96};
    char name[24];
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        (void)snprintf(name, sizeof name, "%zu", sizes[i]);
        if (strcmp(name, text) == 0) {
            request->terms = sizes[i];
            return OK;
        }
    }
    return FAIL(fault, BAD_INPUT, "--terms '%.60s'; limit: 6, 27, 84 or 96", text);
}

static enum status read_rated(const char *text, struct units *units,
                              struct calibrate_request *request, struct fault *fault)
{
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        if (strncmp(text, calibration_load_name(i), 2) != 0)
            continue;
        enum status status = units_quantity(units, text + 2 + strspn(text + 2, " ="),
                                            calibration_load_unit(i), &request->rated[i], fault);
        if (status == OK && !(request->rated[i] > 0))
            status = FAIL(fault, BAD_INPUT, "the rated load must be above 0");
        fault_where(fault, "--rated '%.60s'", text);
        return status;
    }
    return FAIL(fault, BAD_INPUT, "--rated '%.60s' names no load; limit: 'Fx 1500 N'", text);
}

static enum status read_date(const char *text, const char **date, struct fault *fault)
{
    struct iso_time time;
    const char *wrong = iso_time_parse(text, &time);
    if (wrong != NULL)
        return FAIL(fault, BAD_INPUT, "'%.60s': %s; limit: YYYY-MM-DDTHH:MM and a zone", text,
                    wrong);
    *date = text;
    return OK;
}

static enum status read_option(const char *name, const char *value, struct units *units,
                               struct calibrate_request *request, struct fault *fault)
{
    if (value == NULL)
        return FAIL(fault, BAD_INPUT,
                    "calibrate has no option '%.60s', or it lacks its value; see "
                    "`lapwing calibrate --help`",
                    name);
    if (strcmp(name, "--form") == 0)
        return read_form(value, request, fault);
    if (strcmp(name, "--terms") == 0)
        return read_terms(value, request, fault);
    if (strcmp(name, "--rated") == 0)
        return read_rated(value, units, request, fault);
    if (strcmp(name, "--valid-from") == 0)
        return read_date(value, &request->valid_from, fault);
    if (strcmp(name, "--valid-until") == 0)
        return read_date(value, &request->valid_until, fault);
    if (strcmp(name, "--balance") == 0)
        request->balance = value;
    else if (strcmp(name, "--write") == 0)
        request->prefix = value;
    else
        return FAIL(fault, BAD_INPUT,
                    "calibrate has no option '%.60s'; see `lapwing calibrate --help`", name);
    return OK;
}

static enum status read_request(int argc, char **argv, struct units *units,
                                struct calibrate_request *request, struct fault *fault)
{
    enum status status = OK;
    for (int i = 1; i < argc && status == OK; i++) {
        if (strcmp(argv[i], "--keep-all") == 0)
            request->keep_all = 1;
        else if (argv[i][0] == '-') {
            status = read_option(argv[i], i + 1 < argc ? argv[i + 1] : NULL, units, request, fault);
            i++;
        } else if (request->path != NULL)
            status = FAIL(fault, BAD_INPUT, "calibrate takes one sheet; '%.60s' is a second one",
                          argv[i]);
        else
            request->path = argv[i];
    }
    if (status != OK)
        return status;
    if (request->path == NULL)
        return FAIL(fault, BAD_INPUT,
                    "calibrate needs a sheet of loadings; see "
                    "`lapwing calibrate --help`");
    if (request->form == CALIBRATION_DIRECT && request->terms > CALIBRATION_TERMS)
        return FAIL(fault, BAD_INPUT,
                    "a direct calibration has 6 or 27 terms, not %zu; take "
                    "--form iterative, or fewer terms",
                    request->terms);
    return OK;
}

/* A rated load of the command line stands before the campaign's. */
static enum status take_balance(const struct common_options *common,
                                struct calibrate_request *request, struct fault *fault)
{
    struct campaign *campaign = NULL;
    if (request->balance[0] == '\0')
        return OK;
    enum status status = campaign_read(common->folder, &campaign, NULL, NULL, fault);
    if (status != OK)
        return status;
    const struct balance *balance = campaign_balance(campaign, request->balance);
    if (balance == NULL)
        status = FAIL(fault, BAD_INPUT, "balance '%.60s' is not in campaign.yaml; correct the name",
                      request->balance);
    for (size_t i = 0; balance != NULL && i < LOAD_COUNT; i++)
        request->rated[i] = request->rated[i] > 0 ? request->rated[i] : balance->rated[i];
    if (balance != NULL)
        (void)snprintf(request->output_unit, sizeof request->output_unit, "%.60s",
                       balance->output_unit);
    campaign_free(campaign);
    return status;
}

static void print_problem(void *context, const struct fault *problem)
{
    char line[1024];
    fault_line(problem, line, sizeof line);
    (void)fprintf(context, "%s\n", line);
}

/* What the sheet and the request must agree on. */
static enum status check_request(const struct calibrate_request *request,
                                 const struct loadings *loadings, struct fault *fault)
{
    for (size_t i = 0; i < LOAD_COUNT; i++)
        if (loadings->is_present[i] && !(request->rated[i] > 0))
            return FAIL(fault, BAD_INPUT,
                        "nothing says the rated %s; limit: every load of the sheet; give --rated "
                        "'%s 1000 %s', or --balance NAME of campaign.yaml",
                        calibration_load_name(i), calibration_load_name(i),
                        calibration_load_unit(i));
    if (request->output_unit[0] != '\0' && strcmp(request->output_unit, loadings->output_unit) != 0)
        return FAIL(fault, BAD_INPUT,
                    "%.200s has outputs in '%s', balance '%.60s' of campaign.yaml in '%s'; limit: "
                    "one unit; correct one",
                    loadings->name, loadings->output_unit, request->balance, request->output_unit);
    return OK;
}

enum status calibrate_read(const struct common_options *common, int argc, char **argv,
                           struct calibrate_request *request, struct loadings *loadings,
                           struct fault *fault)
{
    struct units *units = NULL;
    struct problems problems = problems_to(print_problem, stderr);
    *request = (struct calibrate_request){.form = CALIBRATION_ITERATIVE,
                                          .terms = CALIBRATION_TERMS,
                                          .balance = "",
                                          .valid_from = "",
                                          .valid_until = ""};
    memset(loadings, 0, sizeof *loadings);
    enum status status = units_open(&units, fault);
    if (status == OK)
        status = read_request(argc, argv, units, request, fault);
    if (status == OK)
        status = take_balance(common, request, fault);
    if (status == OK)
        status = loading_sheet_read(request->path, units, &problems, loadings, fault);
    if (status == OK && problems.n > 0)
        status = FAIL(fault, BAD_INPUT, "%.200s is wrong, as told above; nothing was done",
                      request->path);
    if (status == OK)
        status = check_request(request, loadings, fault);
    units_close(units);
    return status;
}

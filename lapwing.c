/* lapwing.c - the program: table of commands, options common to all, exit status.
 *
 * Data flows one way: ingest -> schema -> reduce -> schema -> report. Commands that need more than
 * one room (batch) are composed here of one call into each. Only this file reads the clock.         */
#include <errno.h>
#include <gsl/gsl_errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "ingest/calibrate_options.h"
#include "ingest/calibration_files.h"
#include "ingest/check_command.h"
#include "ingest/ingest_command.h"
#include "ingest/plan_options.h"
#include "ingest/plan_sheets.h"
#include "ingest/sniff_command.h"
#include "reduce/calibrate.h"
#include "reduce/calibration_make.h"
#include "reduce/compare_command.h"
#include "reduce/explain_command.h"
#include "reduce/glance.h"
#include "reduce/plan.h"
#include "reduce/recipe_check.h"
#include "reduce/reduce_command.h"
#include "report/calibration_report.h"
#include "report/compare_report.h"
#include "report/export_command.h"
#include "report/glance_report.h"
#include "report/redacted_folder.h"
#include "report/redacted_season.h"
#include "report/report_command.h"
#include "schema/campaign.h"
#include "schema/command.h"
#include "schema/init_command.h"
#include "schema/store_check.h"
#include "schema/version.h"

static void print_problem(void *context, const struct fault *problem)
{
    char line[1024];
    fault_line(problem, line, sizeof line);
    (void)fprintf(context, "%s\n", line);
}

/* The telling of calibrations that can be read, but not used. */
struct calibration_check {
    FILE *out;
    int found;
};

static void check_calibration(void *context, const struct balance *balance,
                              const struct calibration *calibration)
{
    struct calibration_check *check = context;
    struct balance_calibration made;
    struct fault problem = {.status = OK};
    if (calibration_make(calibration, balance->name, &made, &problem) == OK)
        return;
    fault_where(&problem, "%s", balance->file);
    print_problem(check->out, &problem);
    check->found = 1;
}

/* What only reduce knows of the campaign, told on out. A campaign that cannot be read is the business
 * of whoever reads it next. */
static int corrections_are_wrong(const struct common_options *common, FILE *out)
{
    struct campaign *campaign = NULL;
    if (campaign_read(common->folder, &campaign, NULL, NULL, NULL) != OK)
        return 0;
    struct calibration_check check = {out, recipe_check(campaign, print_problem, out, NULL) != OK};
    /* Without memory or units ingest fails next, and says so. */
    (void)calibration_files_each(common->folder, campaign, check_calibration, &check, NULL);
    campaign_free(campaign);
    return check.found;
}

static int run_check(const struct common_options *common, int argc, char **argv,
                     struct fault *fault)
{
    int code = check_command.run(common, argc, argv, fault);
    return code < 3 && corrections_are_wrong(common, stdout) ? 2 : code;
}

static const struct command check_all_command = {
    .name = "check",
    .summary = "read everything, report every problem, change nothing",
    .usage = check_usage,
    .run = run_check,
};

/* The night's three commands in the order of the data. A quarantined run (1) does not stop the night;
 * anything worse does. */
static int run_batch(const struct common_options *common, int argc, char **argv,
                     struct fault *fault)
{
    static const struct command *const steps[] = {&ingest_command, &reduce_command,
                                                  &report_command};
    int worst = 0;
    if (argc > 1)
        return fault_exit_code(FAIL(
            fault, BAD_INPUT, "batch takes no argument '%s'; see `lapwing batch --help`", argv[1]));
    if (corrections_are_wrong(common, stderr))
        return fault_exit_code(
            FAIL(fault, BAD_INPUT,
                 "the campaign's corrections are wrong, as told above; nothing was done"));
    for (size_t i = 0; i < sizeof steps / sizeof steps[0] && worst < 2; i++) {
        int code = steps[i]->run(common, argc, argv, fault);
        worst = code > worst ? code : worst;
    }
    return worst;
}

static const struct command batch_command = {
    .name = "batch",
    .summary = "ingest, reduce and report: only what changed",
    .usage =
        "usage: lapwing [-C DIR] batch\n\n"
        "Runs ingest, reduce and report in this order. What has not changed is neither read nor\n"
        "reduced again; a run that cannot be read is quarantined and the night goes on.\n\n"
        "Exit status: 0 all done, flags included; 1 done, but some runs are quarantined or\n"
        "without a number; 2 the campaign is wrong, nothing done; 3 storage, memory or internal "
        "failure.\n",
    .run = run_batch,
};

/* glance RUN [--html FILE] [--text], in any order. */
static enum status read_glance(int argc, char **argv, const char **run,
                               struct glance_output *output, struct fault *fault)
{
    for (int i = 1; i < argc; i++) {
        int is_page = strcmp(argv[i], "--html") == 0;
        if (strcmp(argv[i], "--text") == 0)
            output->no_page = 1;
        else if (is_page && i + 1 == argc)
            return FAIL(fault, BAD_INPUT, "--html needs a file; see `lapwing glance --help`");
        else if (is_page)
            output->page = argv[++i];
        else if (argv[i][0] == '-')
            return FAIL(fault, BAD_INPUT, "glance has no option '%s'; see `lapwing glance --help`",
                        argv[i]);
        else if (*run != NULL)
            return FAIL(fault, BAD_INPUT,
                        "glance takes one run, not also '%s'; see `lapwing glance --help`",
                        argv[i]);
        else
            *run = argv[i];
    }
    if (*run == NULL)
        return FAIL(fault, BAD_INPUT, "glance takes a run; see `lapwing glance --help`");
    if (output->no_page && output->page != NULL)
        return FAIL(fault, BAD_INPUT, "--text writes no page and --html names one; choose");
    return OK;
}

/* One call into each room, in the order of the data; only what ingest read stays in the season. */
static int run_glance(const struct common_options *common, int argc, char **argv,
                      struct fault *fault)
{
    struct glance_output output = {.folder = common->folder, .quiet = common->quiet};
    struct night_result read;
    struct glance glance = {.n_points = 0};
    const char *run = NULL;
    enum status status = read_glance(argc, argv, &run, &output, fault);
    if (status == OK && output.page != NULL)
        status = redacted_folder_names(common->folder, output.page, fault);
    if (status == OK && corrections_are_wrong(common, stderr))
        status = FAIL(fault, BAD_INPUT,
                      "the campaign's corrections are wrong, as told above; nothing was done");
    if (status == OK)
        status = ingest_one_run(common, run, &read, fault);
    if (status == OK)
        status = glance_run(common->folder, run, &glance, fault);
    if (status == OK)
        status = glance_report(&glance, &output, fault);
    int code = glance.verdict == GLANCE_USABLE ? 0 : 1;
    glance_end(&glance);
    return status == OK ? code : fault_exit_code(status);
}

static const struct command glance_command = {
    .name = "glance",
    .summary = "one run, right after it: usable, or repeat it now",
    .usage = "usage: lapwing [-C DIR] glance RUN [--html FILE] [--text]\n\n"
             "Reads the run's logs when they are new or changed, and those of the zeros and weight "
             "tares\n"
             "that it may need; reduces the run on trial, and says what to do about it:\n"
             "  usable                nothing speaks against it\n"
             "  usable, look at: ...  it has its numbers; something wants a pair of eyes\n"
             "  repeat now: ...       the main measure will not get a number, or not one to trust\n"
             "Then each reason with its place, its size and the next thing to do, the table of the "
             "points,\n"
             "and the targets that are missing. The logs of other runs need not exist yet. A zero "
             "after\n"
             "the run that is still to come is a note. Nothing but what was read stays in the "
             "season: a\n"
             "later batch gives the same bytes.\n\n"
             "  --html FILE  the page with its two plots; by default DIR/report/glance_RUN.html\n"
             "  --text       no page\n"
             "With --quiet the verdict's line alone is printed.\n\n"
             "Exit status: 0 usable; 1 look at it, or repeat it; 2 the request or the campaign is "
             "wrong;\n"
             "3 storage, memory or internal failure.\n",
    .run = run_glance,
};

/* One call into each room. */
static int run_calibrate(const struct common_options *common, int argc, char **argv,
                         struct fault *fault)
{
    struct calibrate_request request;
    struct loadings loadings;
    struct calibration_card card = {.n_fit = 0};
    enum status status = calibrate_read(common, argc, argv, &request, &loadings, fault);
    if (status == OK)
        status = calibrate(&loadings, &request, &card, fault);
    if (status == OK)
        status = calibration_report(&card, common->quiet, fault);
    calibration_card_free(&card);
    loadings_free(&loadings);
    return fault_exit_code(status);
}

static const struct command calibrate_command = {
    .name = "calibrate",
    .summary = "a balance's calibration from raw loadings, with its card",
    .usage = calibrate_usage,
    .run = run_calibrate,
};

/* One call into each room that it needs. */
static int run_plan(const struct common_options *common, int argc, char **argv, struct fault *fault)
{
    struct plan_input input;
    enum status status = plan_read(common, argc, argv, &input, fault);
    if (status == OK)
        status = plan_run(&input, fault);
    plan_input_end(&input);
    return fault_exit_code(status);
}

static const struct command plan_command = {
    .name = "plan",
    .summary = "the night that comes: order, clock, and what it will be able to tell",
    .usage = plan_usage,
    .run = run_plan,
};

/* What was asked, written from the season or from its copy without names. */
static enum status write_comparison(const struct common_options *common, struct comparison *made,
                                    struct fault *fault)
{
    struct report_options options = {.key_file = made->key_file};
    struct redacted_season season;
    enum status status = OK;
    if (made->is_redacted)
        options.redaction = REDACT_NAMES;
    else if (made->output != NULL)
        status = redacted_folder_names(common->folder, made->output, fault);
    if (status == OK)
        status =
            redacted_season_open(made->season.store, common->folder, &options, 1, &season, fault);
    if (status != OK)
        return status;
    status = compare_write(made, season.store, fault);
    if (status == OK && made->request.format == COMPARE_HTML)
        status = compare_report(season.store, made->output, fault);
    return redacted_season_end(&season, status, fault);
}

/* What is asked is reduce's; leaving out names and the page are report's. */
static int run_compare(const struct common_options *common, int argc, char **argv,
                       struct fault *fault)
{
    struct comparison made;
    enum status status = compare_begin(common, argc, argv, &made, fault);
    if (status == OK)
        status = write_comparison(common, &made, fault);
    size_t flips = made.flips;
    status = compare_end(&made, status, fault);
    return status == OK && flips > 0 ? 1 : fault_exit_code(status);
}

static const struct command compare_command = {
    .name = "compare",
    .summary = "deltas between configurations, with intervals and verdicts",
    .usage = compare_usage,
    .run = run_compare,
};

struct command_group {
    const char *title;
    const struct command *const *commands; /* ends with NULL */
};

static const struct command *const begin_commands[] = {&init_command, &sniff_command,
                                                       &check_all_command, NULL};
static const struct command *const night_commands[] = {
    &ingest_command, &reduce_command, &report_command, &batch_command, &glance_command, NULL};
static const struct command *const decide_commands[] = {&compare_command, &plan_command, NULL};
static const struct command *const trust_commands[] = {&explain_command, &calibrate_command,
                                                       &export_command, NULL};

static const struct command_group groups[] = {
    {"begin", begin_commands},
    {"night", night_commands},
    {"decide", decide_commands},
    {"trust", trust_commands},
};

enum { GROUPS = sizeof groups / sizeof groups[0] };

static void print_help(FILE *out)
{
    (void)fputs(
        "lapwing: raw wind-tunnel logs of race cars to corrected coefficients and deltas\n\n"
        "usage: lapwing [-C DIR] [--quiet] [--threads N] COMMAND [arguments]\n"
        "       lapwing help [COMMAND]\n\n"
        "  -C DIR        the campaign folder; this folder by default\n"
        "  --quiet       say only what went wrong\n"
        "  --threads N   threads that read logs; by default one a processor, at least 2\n\n",
        out);
    for (size_t g = 0; g < GROUPS; g++) {
        (void)fprintf(out, "%s\n", groups[g].title);
        for (const struct command *const *c = groups[g].commands; *c != NULL; c++)
            (void)fprintf(out, "  %-9s %s\n", (*c)->name, (*c)->summary);
    }
    (void)fputs(
        "\n`lapwing COMMAND --help` tells more. Data flows one way:\n"
        "ingest -> schema (season.sqlite) -> reduce -> schema -> report.\n"
        "Exit status: 0 all done; 1 done, some runs quarantined or without a number; 2 the\n"
        "request or the campaign is wrong, nothing done; 3 storage, memory or internal failure.\n",
        out);
}

static const struct command *find_command(const char *name)
{
    for (size_t g = 0; g < GROUPS; g++)
        for (const struct command *const *c = groups[g].commands; *c != NULL; c++)
            if (strcmp((*c)->name, name) == 0)
                return *c;
    return NULL;
}

static int read_threads(const char *text, int *threads)
{
    char *end = NULL;
    errno = 0;
    long n = strtol(text, &end, 10);
    if (errno != 0 || end == text || *end != '\0' || n < 1 || n > 256)
        return 0;
    *threads = (int)n;
    return 1;
}

/* Takes the common options out of argv, wherever they stand before a "--"; the rest moves up. */
static enum status take_common(int *argc, char **argv, struct common_options *common,
                               struct fault *fault)
{
    int kept = 1;
    int open = 1;
    for (int i = 1; i < *argc; i++) {
        if (open && strcmp(argv[i], "--") == 0)
            open = 0;
        int takes_value = open && (strcmp(argv[i], "-C") == 0 || strcmp(argv[i], "--threads") == 0);
        if (takes_value && i + 1 >= *argc)
            return FAIL(fault, BAD_INPUT, "%s needs a value; see `lapwing --help`", argv[i]);
        if (takes_value && argv[i][1] == 'C') {
            common->folder = argv[++i];
        } else if (takes_value) {
            if (!read_threads(argv[++i], &common->threads))
                return FAIL(fault, BAD_INPUT, "--threads '%s' is not a number from 1 to 256",
                            argv[i]);
        } else if (open && (strcmp(argv[i], "--quiet") == 0 || strcmp(argv[i], "-q") == 0)) {
            common->quiet = 1;
        } else {
            argv[kept++] = argv[i];
        }
    }
    argv[kept] = NULL;
    *argc = kept;
    return OK;
}

static int asks_help(int argc, char **argv)
{
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++)
        if (strcmp(argv[i], "--help") == 0 || strcmp(argv[i], "-h") == 0)
            return 1;
    return 0;
}

/* What is written on top of a damaged page may be wrong without anybody seeing it. A glance at a run is
 * kept for no longer than the next batch, and is to be quick. */
static int rests_on_season(const struct command *command)
{
    return command == &ingest_command || command == &reduce_command || command == &batch_command;
}

static int run_command(const struct common_options *common, int argc, char **argv,
                       struct fault *fault)
{
    if (argc < 2) {
        print_help(stderr);
        return 2;
    }
    if (strcmp(argv[1], "--version") == 0) {
        (void)printf("lapwing %s\n", version_text());
        return 0;
    }
    int is_help = strcmp(argv[1], "help") == 0;
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0 ||
        (is_help && (argc == 2 || strcmp(argv[2], "help") == 0 || asks_help(2, argv + 1)))) {
        print_help(stdout);
        return 0;
    }
    const char *name = is_help ? argv[2] : argv[1];
    const struct command *command = name != NULL ? find_command(name) : NULL;
    if (command == NULL)
        return fault_exit_code(FAIL(fault, BAD_INPUT, "no %s '%s'; `lapwing help` lists them",
                                    name != NULL && name[0] == '-' ? "option" : "command",
                                    name != NULL ? name : ""));
    if (is_help || asks_help(argc - 1, argv + 1)) {
        (void)fputs(command->usage, stdout);
        return 0;
    }
    if (rests_on_season(command)) {
        enum status status = store_check_folder(common->folder, fault);
        if (status != OK)
            return fault_exit_code(status);
    }
    return command->run(common, argc - 1, argv + 1, fault);
}

/* The clock, once: it only decides whether a file's stamp is old enough to be trusted. */
static long long now_ns(void)
{
    struct timespec now;
    if (clock_gettime(CLOCK_REALTIME, &now) != 0)
        return 0;
    return (long long)now.tv_sec * 1000000000LL + now.tv_nsec;
}

/* A pipe that closed and a file that may not grow are write errors with a status of ours, not deaths. */
static void ignore_write_signals(void)
{
    (void)signal(SIGPIPE, SIG_IGN);
    (void)signal(SIGXFSZ, SIG_IGN);
}

int main(int argc, char **argv)
{
    struct common_options common = {.folder = ".", .quiet = 0, .threads = 0, .now_ns = now_ns()};
    struct fault fault = {.status = OK, .where = "", .text = "", .source = ""};

    ignore_write_signals();
    (void)gsl_set_error_handler_off(); /* the default one aborts; statuses are checked instead */
    int code = fault_exit_code(take_common(&argc, argv, &common, &fault));
    if (code == 0)
        code = run_command(&common, argc, argv, &fault);
    /* A full disk is not success: what was printed must have arrived. */
    if (fflush(stdout) != 0 || ferror(stdout)) {
        if (fault.status == OK)
            (void)FAIL(&fault, WRITE_FAILED, "standard output: %s", strerror(errno));
        code = 3;
    }
    if (fault.status != OK) {
        char line[1024];
        fault_line(&fault, line, sizeof line);
        (void)fprintf(stderr, "lapwing: %s\n", line);
        if (code == 3)
            (void)fprintf(stderr, "lapwing: (at %s)\n", fault.source);
    }
    return code;
}

/* plan_sheets.c - see plan_sheets.h. */
#include "ingest/plan_sheets.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "ingest/configuration_sheet.h"
#include "ingest/plan_options.h"
#include "ingest/run_sheet.h"
#include "ingest/season_sheets.h"

static void print_problem(void *context, const struct fault *problem)
{
    char line[1024];
    fault_line(problem, line, sizeof line);
    (void)fprintf(context, "%s\n", line);
}

static enum status copy_configurations(const struct configuration_sheet *sheet,
                                       struct plan_input *input, struct fault *fault)
{
    input->configurations = calloc(sheet->n + 1, sizeof *input->configurations);
    if (input->configurations == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for configurations.csv");
    for (size_t i = 0; i < sheet->n; i++) {
        const struct configuration *from = &sheet->items[i];
        struct plan_configuration *to = &input->configurations[i];
        *to = (struct plan_configuration){
            .name = strdup(from->name),
            .change = strdup(from->change),
            .parent = from->parent_index == SIZE_MAX ? PLAN_NO_PARENT : (long)from->parent_index,
            .baseline = from->baseline_index,
            .change_time = from->change_time};
        input->n_configurations = i + 1;
        if (to->name == NULL || to->change == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for configurations.csv");
    }
    return OK;
}

static enum status read_configurations(const char *path, struct plan_input *input,
                                       struct fault *fault)
{
    struct problems problems = problems_to(print_problem, stderr);
    struct configuration_sheet *sheet = NULL;
    enum status status = configuration_sheet_read(path, &problems, &sheet, fault);
    if (status == OK && problems.n > 0)
        status = FAIL(fault, BAD_INPUT,
                      "configurations.csv is wrong, as told above; nothing was planned");
    if (status == OK)
        status = copy_configurations(sheet, input, fault);
    configuration_sheet_free(sheet);
    return status;
}

/* The first number in a name: 14 of "Z14A". */
static size_t number_in(const char *name)
{
    size_t number = 0;
    name += strcspn(name, "0123456789");
    for (int i = 0; i < 6 && *name >= '0' && *name <= '9'; i++, name++)
        number = 10 * number + (size_t)(*name - '0');
    return number;
}

/* What is wrong with runs.csv is the business of whoever reads it next; only names are asked for here. */
static enum status read_runs(const char *path, struct plan_input *input, struct fault *fault)
{
    struct problems problems = problems_to(NULL, NULL);
    struct run_sheet *sheet = NULL;
    input->first_number = 1;
    if (access(path, F_OK) != 0)
        return OK;
    enum status status = run_sheet_read(path, &problems, &sheet, fault);
    for (size_t i = 0; status == OK && i < sheet->n; i++) {
        size_t next = number_in(sheet->runs[i].name) + 1;
        input->first_number = next > input->first_number ? next : input->first_number;
    }
    run_sheet_free(sheet);
    return status;
}

static enum status read_below(struct plan_input *input, const char *name,
                              enum status (*read)(const char *, struct plan_input *,
                                                  struct fault *),
                              struct fault *fault)
{
    char *path = season_path(input->options.folder, name);
    if (path == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the path of %s", name);
    enum status status = read(path, input, fault);
    free(path);
    return status;
}

static enum status read_start(struct plan_input *input, struct fault *fault)
{
    const char *option = input->options.start;
    const char *text = option != NULL ? option : input->campaign->plan.start;
    struct iso_time time;
    if (text == NULL)
        return FAIL(fault, BAD_INPUT,
                    "nothing says when the night begins; give --start "
                    "2026-03-11T19:00:00+01:00, or plan: start in campaign.yaml");
    const char *wrong = iso_time_parse(text, &time);
    if (wrong != NULL) {
        fault_set(fault, BAD_INPUT, __FILE__, __LINE__,
                  "start '%.60s': %s; limit: like 2026-03-11T19:00:00+01:00; correct it", text,
                  wrong);
        fault_where(fault, "%s", option != NULL ? "--start" : "campaign.yaml, plan");
        return BAD_INPUT;
    }
    input->start = time.seconds;
    input->zone = time.zone;
    return OK;
}

enum status plan_read(const struct common_options *common, int argc, char **argv,
                      struct plan_input *input, struct fault *fault)
{
    *input = (struct plan_input){.campaign = NULL};
    enum status status = plan_options_read(common, argc, argv, &input->options, fault);
    if (status == OK)
        status = campaign_read(common->folder, &input->campaign, print_problem, stderr, fault);
    if (status == OK && !input->campaign->plan.given)
        status = FAIL(fault, BAD_INPUT,
                      "campaign.yaml has no section plan, which says what a night takes; add it; "
                      "`lapwing init` in a new folder shows one");
    if (status == OK)
        status = read_below(input, "configurations.csv", read_configurations, fault);
    if (status == OK)
        status = read_below(input, "runs.csv", read_runs, fault);
    if (status == OK)
        status = read_start(input, fault);
    return status;
}

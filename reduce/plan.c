/* plan.c - see plan.h. */
#include "reduce/plan.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "reduce/plan_choice.h"
#include "reduce/plan_csv.h"
#include "reduce/plan_json.h"
#include "reduce/plan_judge.h"
#include "reduce/plan_noise.h"
#include "reduce/plan_text.h"
#include "schema/file_write.h"

static int is_standard_output(const struct plan_options *options)
{
    return options->output != NULL && strcmp(options->output, "-") == 0;
}

/* Asked before anything is printed. */
static enum status check_output(const struct plan_options *options, struct fault *fault)
{
    if (options->output == NULL || is_standard_output(options) || options->force ||
        access(options->output, F_OK) != 0)
        return OK;
    return FAIL(fault, BAD_INPUT,
                "%.200s exists already and stays as it is; give --force to replace it, or another "
                "--output",
                options->output);
}

static enum status write_sheet(const char *path, const struct key_text *sheet, struct fault *fault)
{
    struct file_writer *writer = NULL;
    enum status status = file_writer_open(path, &writer, fault);
    if (status != OK)
        return status;
    status = file_writer_write(writer, sheet->text, sheet->length, fault);
    if (status == OK)
        return file_writer_commit(writer, fault);
    file_writer_abandon(writer);
    return status;
}

static enum status print_plan(const struct planned_night *night, const struct plan_sheet *sheet,
                              struct key_text *text, struct fault *fault)
{
    enum status status = OK;
    if (night->input->options.format == PLAN_JSON)
        status = plan_json_print(night, sheet, text, fault);
    else if (night->input->options.format == PLAN_TEXT)
        status = plan_text_print(night, sheet, text, fault);
    return status == OK ? key_text_status(text, fault) : status;
}

static enum status tell(const struct planned_night *night, const struct plan_sheet *sheet,
                        struct fault *fault)
{
    const struct plan_options *options = &night->input->options;
    struct key_text rows = {NULL, 0, 0, 0}, text = {NULL, 0, 0, 0};
    int is_rows = options->format == PLAN_CSV || is_standard_output(options);
    plan_csv_print(night, sheet, &rows);
    enum status status = key_text_status(&rows, fault);
    if (status == OK && !is_rows)
        status = print_plan(night, sheet, &text, fault);
    if (status == OK && options->output != NULL && !is_standard_output(options))
        status = write_sheet(options->output, &rows, fault);
    if (status == OK &&
        !(options->quiet && options->output != NULL && !is_standard_output(options)))
        (void)fputs(is_rows ? rows.text : text.text, stdout);
    key_text_end(&rows);
    key_text_end(&text);
    return status;
}

enum status plan_run(const struct plan_input *input, struct fault *fault)
{
    struct planned_night night = {.input = input};
    struct plan_sheet sheet = {.rows = NULL};
    enum status status = check_output(&input->options, fault);
    if (status == OK)
        status = plan_choose(input, &night, fault);
    if (status == OK)
        status = plan_noise_read(&night, fault);
    if (status == OK)
        status = plan_judge(&night, fault);
    if (status == OK)
        status = plan_sheet_make(&night, &sheet, fault);
    if (status == OK)
        status = tell(&night, &sheet, fault);
    plan_sheet_end(&sheet);
    planned_night_end(&night);
    return status;
}

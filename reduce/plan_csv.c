/* plan_csv.c - see plan_csv.h. */
#include "reduce/plan_csv.h"

#include <string.h>

/* Quoted where it has to be (RFC 4180, 2.6). */
static void say_cell(struct key_text *text, const char *cell, const char *after)
{
    int is_quoted = strpbrk(cell, ",\"\r\n") != NULL;
    key_text_say(text, "%s", is_quoted ? "\"" : "");
    for (const char *c = cell; *c != '\0'; c++)
        key_text_say(text, "%s%c", *c == '"' ? "\"" : "", *c);
    key_text_say(text, "%s%s", is_quoted ? "\"" : "", after);
}

/* RUN in the pattern becomes the run's name. */
static void say_logs(struct key_text *text, const char *pattern, const char *run)
{
    struct key_text logs = {NULL, 0, 0, 0};
    for (const char *next = pattern; *next != '\0';) {
        const char *mark = strstr(next, "RUN");
        int length = mark != NULL ? (int)(mark - next) : (int)strlen(next);
        key_text_say(&logs, "%.*s%s", length, next, mark != NULL ? run : "");
        next += mark != NULL ? length + 3 : length;
    }
    text->failed |= logs.failed;
    say_cell(text, logs.text != NULL ? logs.text : "", ",");
    key_text_end(&logs);
}

static const char *pattern_of(const struct planned_night *night, enum plan_row_kind kind)
{
    const char *const patterns[] = {[ROW_ZERO] = night->zero_logs,
                                    [ROW_WEIGHT_TARE] = night->tare_logs,
                                    [ROW_BELT_TARE] = night->belt_logs,
                                    [ROW_WIND_ON] = night->logs};
    return patterns[kind];
}

static void say_row(const struct planned_night *night, const struct plan_row *row,
                    struct key_text *text)
{
    char start[48];
    plan_time(row->start, night->input->zone, start, sizeof start);
    say_cell(text, row->name, ",");
    say_cell(text, night->facility->name, ",");
    say_cell(text, night->entry, ",");
    say_cell(text, start, ",");
    say_cell(text,
             row->kind == ROW_WIND_ON ? plan_name(night, night->plan.order.configuration[row->run])
                                      : "",
             ",");
    say_cell(text, plan_row_word(row->kind), ",");
    say_cell(text, night->balance, ",");
    say_logs(text, pattern_of(night, row->kind), row->name);
    say_cell(text, row->zero, ",");
    say_cell(text, row->tare, ",");
    say_cell(text, row->mounting, ",");
    say_cell(text, row->note, "\n");
}

void plan_csv_print(const struct planned_night *night, const struct plan_sheet *sheet,
                    struct key_text *text)
{
    key_text_say(text, "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,"
                       "mounting,note\n");
    for (size_t i = 0; i < sheet->n; i++)
        say_row(night, &sheet->rows[i], text);
}

/* decision_sheet.c - see decision_sheet.h. */
#include "ingest/decision_sheet.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/iso_time.h"
#include "ingest/near_name.h"

enum { RUN, POINT, DECISION, WHO, WHEN, WHY, COLUMNS };

static const struct sheet_column columns[COLUMNS] = {{"run", 1}, {"point", 1}, {"decision", 1},
                                                     {"who", 1}, {"when", 1},  {"why", 1}};

void decision_sheet_free(struct decision_sheet *sheet)
{
    if (sheet == NULL)
        return;
    free(sheet->items);
    sheet_free(sheet->sheet);
    free(sheet);
}

/* The run of the sheet that is nearly this one, and how the two differ; NULL: none. */
static const char *nearest_run(const struct run_sheet *runs, const char *name, size_t *index)
{
    for (size_t i = 0; i < runs->n; i++) {
        const char *seen = runs->runs[i].name;
        const char *difference = near_name_difference(name, strlen(name), seen, strlen(seen));
        *index = i;
        if (difference != NULL)
            return difference;
    }
    return NULL;
}

static void unknown_run(const struct decision_sheet *sheet, size_t i, const struct run_sheet *runs,
                        struct problems *problems)
{
    const struct sheet_row *row = &sheet->sheet->rows[i];
    const char *name = sheet->items[i].run;
    size_t near = 0;
    const char *difference = nearest_run(runs, name, &near);
    if (difference == NULL)
        sheet_problem(sheet->sheet, row, RUN, problems,
                      "run '%.80s' is not in runs.csv; correct the name or take the row out", name);
    else
        sheet_problem(
            sheet->sheet, row, RUN, problems,
            "run '%.80s' is not in runs.csv; it differs from '%.80s' %s; correct the name", name,
            runs->runs[near].name, difference);
}

/* What to do instead about a run with the wind off. */
static void check_kind(const struct decision_sheet *sheet, size_t i, const struct run_entry *run,
                       struct problems *problems)
{
    const char *cell = strcmp(run->kind, "zero") == 0 ? "zero" : "tare";
    if (strcmp(run->kind, "belt_tare") == 0)
        sheet_problem(
            sheet->sheet, &sheet->sheet->rows[i], RUN, problems,
            "run '%.80s' is a belt_tare run; limit: decisions are on wind-on runs; take its "
            "row out of runs.csv to leave it out",
            run->name);
    if (strcmp(run->kind, "zero") != 0 && strcmp(run->kind, "weight_tare") != 0)
        return;
    sheet_problem(
        sheet->sheet, &sheet->sheet->rows[i], RUN, problems,
        "run '%.80s' is a %s run; limit: decisions are on wind-on runs; to use another one, "
        "name it in the %s column of runs.csv",
        run->name, run->kind, cell);
}

static void check_run(const struct decision_sheet *sheet, size_t i, const struct run_sheet *runs,
                      struct problems *problems)
{
    const char *name = sheet->items[i].run;
    const struct run_entry *run = run_find(runs, name, strlen(name));
    if (name[0] == '\0')
        sheet_problem(sheet->sheet, &sheet->sheet->rows[i], RUN, problems,
                      "the row names no run; name one");
    else if (run == NULL)
        unknown_run(sheet, i, runs, problems);
    else
        check_kind(sheet, i, run, problems);
}

static void check_words(const struct decision_sheet *sheet, size_t i, struct problems *problems)
{
    const struct sheet_row *row = &sheet->sheet->rows[i];
    const struct user_decision *item = &sheet->items[i];
    if (strcmp(item->decision, "exclude") != 0 && strcmp(item->decision, "restore") != 0)
        sheet_problem(sheet->sheet, row, DECISION, problems,
                      "decision '%.80s' is unknown; limit: exclude or restore; correct it",
                      item->decision);
    const char *wrong = iso_day_or_time_check(item->when);
    if (wrong != NULL)
        sheet_problem(sheet->sheet, row, WHEN, problems,
                      "when '%.80s': %s; limit: like 2026-02-12 or 2026-02-12T08:30:00+01:00; "
                      "correct it",
                      item->when, wrong);
}

/* Who and why are what makes a decision one: neither may be empty, and both are printed whole. */
static void check_texts(const struct decision_sheet *sheet, size_t i, struct problems *problems)
{
    static const struct {
        int column;
        size_t most;
        const char *missing;
    } texts[] = {{WHO, DECISION_WHO_MAX, "nobody stands for the decision; say who decided"},
                 {WHY, DECISION_WHY_MAX, "the decision has no reason; say why"},
                 {POINT, DECISION_NAME_MAX, NULL}};
    const struct sheet_row *row = &sheet->sheet->rows[i];
    for (size_t k = 0; k < sizeof texts / sizeof texts[0]; k++) {
        size_t column = (size_t)texts[k].column;
        const char *text = row->cells[column];
        size_t length = strlen(text);
        if (strspn(text, " \t") == length && texts[k].missing != NULL)
            sheet_problem(sheet->sheet, row, column, problems, "%s", texts[k].missing);
        if (length > texts[k].most)
            sheet_problem(sheet->sheet, row, column, problems,
                          "%s has %zu bytes; limit: %zu; shorten it", columns[column].name, length,
                          texts[k].most);
        sheet_check_name(sheet->sheet, row, column, columns[column].name, problems);
    }
}

static int is_same_place(const struct user_decision *a, const struct user_decision *b)
{
    return strcmp(a->run, b->run) == 0 && strcmp(a->point, b->point) == 0;
}

static void check_second(const struct decision_sheet *sheet, size_t i, struct problems *problems)
{
    const struct user_decision *item = &sheet->items[i];
    for (size_t k = 0; k < i; k++) {
        const struct user_decision *before = &sheet->items[k];
        if (!is_same_place(before, item))
            continue;
        sheet_problem(sheet->sheet, &sheet->sheet->rows[i], item->point[0] == '\0' ? RUN : POINT,
                      problems,
                      "%s%s%.80s of run '%.80s' is on line %zu already, where it is to %s; limit: "
                      "one decision each; take one row out",
                      item->point[0] == '\0' ? "the whole" : "point '", item->point,
                      item->point[0] == '\0' ? "" : "'", item->run, before->line, before->decision);
        return;
    }
}

static void check_rows(const struct decision_sheet *sheet, const struct run_sheet *runs,
                       struct problems *problems)
{
    for (size_t i = 0; i < sheet->n; i++) {
        check_run(sheet, i, runs, problems);
        check_second(sheet, i, problems);
        check_words(sheet, i, problems);
        check_texts(sheet, i, problems);
    }
}

static enum status make_items(struct decision_sheet *sheet, struct fault *fault)
{
    sheet->n = sheet->sheet->n_rows;
    sheet->items = calloc(sheet->n + 1, sizeof *sheet->items);
    if (sheet->items == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for decisions.csv");
    for (size_t i = 0; i < sheet->n; i++) {
        const struct sheet_row *row = &sheet->sheet->rows[i];
        sheet->items[i] = (struct user_decision){.run = row->cells[RUN],
                                                 .point = row->cells[POINT],
                                                 .decision = row->cells[DECISION],
                                                 .who = row->cells[WHO],
                                                 .when = row->cells[WHEN],
                                                 .why = row->cells[WHY],
                                                 .line = row->line};
    }
    return OK;
}

enum status decision_sheet_read(const char *path, const struct run_sheet *runs,
                                struct problems *problems, struct decision_sheet **out,
                                struct fault *fault)
{
    struct decision_sheet *sheet = calloc(1, sizeof *sheet);
    *out = NULL;
    if (sheet == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for decisions.csv");
    enum status status =
        sheet_read(path, "decisions.csv", columns, COLUMNS, problems, &sheet->sheet, fault);
    if (status == OK)
        status = make_items(sheet, fault);
    if (status != OK) {
        decision_sheet_free(sheet);
        return status;
    }
    check_rows(sheet, runs, problems);
    *out = sheet;
    return OK;
}

/* A label of the log that is nearly the wanted one is kept for the message. */
static void see_near(struct user_decision *item, const struct log_record *record)
{
    for (size_t i = 0; i < record->n_points && item->near[0] == '\0'; i++) {
        const char *label = record->points[i].label;
        size_t length = strlen(label);
        if (length <= DECISION_NAME_MAX &&
            near_name_difference(item->point, strlen(item->point), label, length) != NULL)
            memcpy(item->near, label, length + 1);
    }
}

void decision_sheet_see(struct decision_sheet *sheet, const char *run,
                        const struct log_record *record)
{
    for (size_t i = 0; sheet != NULL && i < sheet->n; i++) {
        struct user_decision *item = &sheet->items[i];
        if (strcmp(item->run, run) != 0 || item->point[0] == '\0')
            continue;
        if (log_record_point(record, item->point, strlen(item->point)) != NULL)
            item->is_point_seen = 1;
        else
            see_near(item, record);
    }
}

void decision_sheet_check_points(const struct decision_sheet *sheet, const char *run,
                                 struct problems *problems)
{
    for (size_t i = 0; sheet != NULL && i < sheet->n; i++) {
        const struct user_decision *item = &sheet->items[i];
        if (strcmp(item->run, run) != 0 || item->point[0] == '\0' || item->is_point_seen)
            continue;
        sheet_problem(
            sheet->sheet, &sheet->sheet->rows[i], POINT, problems,
            "run '%.80s' has no point '%.80s'%s%s%s; correct the label or take the row out", run,
            item->point, item->near[0] == '\0' ? "" : ", but has '", item->near,
            item->near[0] == '\0' ? "" : "'");
    }
}

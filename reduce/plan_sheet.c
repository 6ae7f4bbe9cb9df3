/* plan_sheet.c - see plan_sheet.h. */
#include "reduce/plan_sheet.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

/* The sheet while it is filled. */
struct filling {
    const struct planned_night *night;
    struct plan_sheet *sheet;
    double clock;     /* s */
    double change;    /* of the mounting that the next row comes after */
    size_t sweeps;    /* made */
    char sweep[32];   /* name of the last weight sweep */
    char mounted[32]; /* name of the first run of the mounting */
    int has_labels;   /* 1: mountings need names */
    struct fault *fault;
    enum status status; /* a failure is kept, and the rest skipped */
};

const char *plan_row_word(enum plan_row_kind kind)
{
    static const char *const words[] = {[ROW_ZERO] = "zero",
                                        [ROW_WEIGHT_TARE] = "weight_tare",
                                        [ROW_BELT_TARE] = "belt_tare",
                                        [ROW_WIND_ON] = "wind_on"};
    return words[kind];
}

void plan_sheet_end(struct plan_sheet *sheet)
{
    free(sheet->rows);
    *sheet = (struct plan_sheet){.rows = NULL};
}

static struct plan_row *add(struct filling *filling, enum plan_row_kind kind, double duration)
{
    static struct plan_row lost;
    struct plan_sheet *sheet = filling->sheet;
    void *array = sheet->rows;
    if (filling->status == OK)
        filling->status = array_reserve(&array, &sheet->capacity, sheet->n + 1, sizeof *sheet->rows,
                                        filling->fault);
    sheet->rows = array;
    if (filling->status != OK)
        return &lost;
    struct plan_row *row = &sheet->rows[sheet->n++];
    *row = (struct plan_row){
        .kind = kind, .start = filling->clock, .duration = duration, .change = filling->change};
    filling->clock += duration;
    filling->change = 0;
    return row;
}

static const char *reference_name(const struct planned_night *night)
{
    return night->input->campaign->attitudes.targets[night->attitudes.visit[0]].name;
}

/* which: 'A' before, 'B' after. */
static void add_zero(struct filling *filling, const char *of, char which)
{
    if (!(filling->night->clock.zero > 0))
        return;
    struct plan_row *row = add(filling, ROW_ZERO, filling->night->clock.zero);
    (void)snprintf(row->name, sizeof row->name, "Z%.24s%c", of[0] == 'R' ? of + 1 : of, which);
    (void)snprintf(row->note, sizeof row->note, "wind off, at %.80s, %s %.24s",
                   reference_name(filling->night), which == 'A' ? "before" : "after", of);
}

static size_t next_number(const struct filling *filling)
{
    return filling->night->input->first_number + filling->sweeps;
}

static void add_sweeps(struct filling *filling, const char *what)
{
    const struct plan_clock *clock = &filling->night->clock;
    char name[32];
    if (!(clock->weight_sweep > 0) && !(clock->belt_sweep > 0))
        return;
    (void)snprintf(name, sizeof name, "T%02zu", next_number(filling));
    add_zero(filling, name, 'A');
    if (clock->weight_sweep > 0) {
        struct plan_row *row = add(filling, ROW_WEIGHT_TARE, clock->weight_sweep);
        (void)snprintf(row->name, sizeof row->name, "%s", name);
        (void)snprintf(row->note, sizeof row->note, "wind-off sweep of all attitudes%.100s", what);
        (void)snprintf(filling->sweep, sizeof filling->sweep, "%s", name);
    }
    if (clock->belt_sweep > 0) {
        struct plan_row *row = add(filling, ROW_BELT_TARE, clock->belt_sweep);
        (void)snprintf(row->name, sizeof row->name, "B%02zu", next_number(filling));
        (void)snprintf(row->note, sizeof row->note, "belt on, wind off, all attitudes%.100s", what);
    }
    add_zero(filling, name, 'B');
    filling->sweeps++;
}

void plan_sheet_what(const struct planned_night *night, size_t run, char *text, size_t size)
{
    const struct planned_order *order = &night->plan.order;
    size_t configuration = order->configuration[run];
    const struct plan_configuration *c =
        &night->input->configurations[night->chosen[configuration]];
    const char *what = c->change[0] != '\0' ? c->change : c->name;
    if (run > 0 && !planned_order_changes(order, run))
        (void)snprintf(text, size, "not touched");
    else if (run > 0 && order->configuration[run - 1] == configuration)
        (void)snprintf(text, size, "taken off and fitted again");
    else if (configuration == 0)
        (void)snprintf(text, size, run == 0 ? "mounted before the night" : "back to %.80s",
                       c->name);
    else
        (void)snprintf(text, size, "%.150s", what);
}

static void add_run(struct filling *filling, size_t run)
{
    const struct planned_night *night = filling->night;
    char name[32];
    (void)snprintf(name, sizeof name, "R%02zu", night->input->first_number + run);
    add_zero(filling, name, 'A');
    struct plan_row *row = add(filling, ROW_WIND_ON, night->clock.run);
    row->run = run;
    memcpy(row->name, name, sizeof name);
    if (run == 0 || planned_order_changes(&night->plan.order, run))
        memcpy(filling->mounted, name, sizeof name);
    if (filling->has_labels)
        memcpy(row->mounting, filling->mounted, sizeof row->mounting);
    if (night->facility->zero == ZERO_NAMED)
        (void)snprintf(row->zero, sizeof row->zero, "Z%s%c+Z%s%c", name + 1, 'A', name + 1, 'B');
    if (night->has_heavy && night->clock.weight_sweep > 0)
        memcpy(row->tare, filling->sweep, sizeof row->tare);
    plan_sheet_what(night, run, row->note, sizeof row->note);
    add_zero(filling, name, 'B');
}

/* Without a name, a configuration that follows itself counts as one mounting. */
static int needs_labels(const struct planned_order *order)
{
    for (size_t i = 1; i < order->n; i++)
        if (order->configuration[i] == order->configuration[i - 1])
            return 1;
    return 0;
}

/* In the file itself, where whoever runs it reads it. */
static void mark_first(const struct planned_night *night, struct plan_sheet *sheet)
{
    char note[200];
    if (night->mark[0] == '\0' || sheet->n == 0)
        return;
    (void)snprintf(note, sizeof note, "PLANNED ANYWAY: %.120s. %.50s", night->mark,
                   sheet->rows[0].note);
    memcpy(sheet->rows[0].note, note, sizeof note);
}

enum status plan_sheet_make(const struct planned_night *night, struct plan_sheet *sheet,
                            struct fault *fault)
{
    const struct planned_order *order = &night->plan.order;
    struct filling filling = {.night = night,
                              .sheet = sheet,
                              .clock = night->input->start,
                              .has_labels = needs_labels(order),
                              .fault = fault,
                              .status = OK};
    *sheet = (struct plan_sheet){.rows = NULL};
    for (size_t run = 0; run < order->n; run++) {
        if (planned_order_changes(order, run))
            filling.change = night->change[order->configuration[run]];
        filling.clock += filling.change;
        if (planned_order_sweeps(order, night->is_heavy, run))
            add_sweeps(&filling, run == 0 ? "" : ", after a mass change");
        add_run(&filling, run);
    }
    add_sweeps(&filling, ", at the end");
    if (filling.status == OK)
        mark_first(night, sheet);
    return filling.status;
}

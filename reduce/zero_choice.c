/* zero_choice.c - choosing and reading wind-off zeros; see zero_choice.h. */
#include "reduce/zero_choice.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

static int is_zero_for(const struct run_row *zero, const struct run_row *run)
{
    return zero != run && zero->usable && strcmp(zero->kind, "zero") == 0 &&
           run_same_entry(zero, run) && strcmp(zero->balance, run->balance) == 0;
}

/* A zero between the run's points is on neither side of all of them. */
static int is_before(const struct run_row *zero, const struct run_row *run)
{
    return zero->first_point <= run->earliest;
}

static int is_after(const struct run_row *zero, const struct run_row *run)
{
    return zero->first_point >= run->latest;
}

static int is_on_any_side(const struct run_row *zero, const struct run_row *run)
{
    (void)zero;
    (void)run;
    return 1;
}

/* The zero run nearest to a time among those on one side of the run, but for one that is taken
 * already; NULL when there is none. */
static const struct run_row *nearest_zero(const struct night *night, const struct run_row *run,
                                          int (*is_on_side)(const struct run_row *zero,
                                                            const struct run_row *run),
                                          double time, const struct run_row *taken)
{
    const struct run_row *nearest = NULL;
    for (size_t i = 0; i < night->n_runs; i++) {
        const struct run_row *zero = &night->runs[i];
        if (zero == taken || !is_zero_for(zero, run) || !is_on_side(zero, run))
            continue;
        if (nearest == NULL || fabs(zero->first_point - time) < fabs(nearest->first_point - time))
            nearest = zero;
    }
    return nearest;
}

static void set_missing(struct zero_choice *choice, const char *before, const char *name,
                        const char *after)
{
    choice->kind = ZERO_KIND_MISSING;
    (void)snprintf(choice->missing, sizeof choice->missing, "%s %.80s %s", before, name, after);
}

static void choose_by_time(const struct night *night, const struct run_row *run,
                           struct zero_choice *choice)
{
    const struct run_row *before = nearest_zero(night, run, is_before, run->earliest, NULL);
    const struct run_row *after = nearest_zero(night, run, is_after, run->latest, before);
    if (before != NULL && after != NULL) {
        choice->kind = ZERO_KIND_LINEAR;
        choice->before.run = before;
        choice->after.run = after;
        return;
    }
    const struct run_row *only = before != NULL ? before : after;
    if (only == NULL)
        only = nearest_zero(night, run, is_on_any_side, (run->earliest + run->latest) / 2, NULL);
    if (only == NULL) {
        set_missing(choice, "there is no usable zero run in entry", run->entry,
                    "of the same facility and balance");
        return;
    }
    choice->kind = ZERO_KIND_CONSTANT;
    choice->before.run = only;
    choice->after_missing = 1;
}

/* What keeps a named run from being the zero of this one; NULL when nothing does. */
static const char *what_is_wrong(const struct run_row *zero, const struct run_row *run)
{
    if (zero == NULL)
        return "is not in the run sheet";
    if (!zero->usable)
        return "is quarantined";
    if (strcmp(zero->kind, "zero") != 0)
        return "is not of kind zero";
    return run_differs(zero, run);
}

/* One name of the cell, "RUN" or "RUN/POINT", length characters of text; a run's name holds no slash,
 * a point's may. */
static enum status read_end(const struct night *night, const struct run_row *run, const char *text,
                            size_t length, struct zero_choice *choice, struct zero_end *end,
                            struct fault *fault)
{
    char *name = strndup(text, length);
    if (name == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a zero's name");
    enum status status = OK;
    char *slash = strchr(name, '/');
    if (slash != NULL) {
        *slash = '\0';
        status = text_copy(slash + 1, &end->point, fault);
    }
    end->run = night_run(night, name);
    const char *wrong = what_is_wrong(end->run, run);
    if (wrong != NULL)
        set_missing(choice, "the zero", name, wrong);
    free(name);
    return status;
}

static enum status choose_by_name(const struct night *night, const struct run_row *run,
                                  struct zero_choice *choice, struct fault *fault)
{
    const char *plus = strchr(run->zero, '+');
    choice->kind = plus == NULL ? ZERO_KIND_CONSTANT : ZERO_KIND_LINEAR;
    size_t length = plus == NULL ? strlen(run->zero) : (size_t)(plus - run->zero);
    enum status status = read_end(night, run, run->zero, length, choice, &choice->before, fault);
    if (status == OK && plus != NULL)
        status = read_end(night, run, plus + 1, strlen(plus + 1), choice, &choice->after, fault);
    return status;
}

enum status zero_choose(const struct night *night, const struct run_row *run,
                        struct zero_choice *choice, struct fault *fault)
{
    memset(choice, 0, sizeof *choice);
    const struct facility *facility = campaign_facility(night->campaign, run->facility);
    if (strcmp(run->zero, "none") == 0)
        return OK;
    if (run->zero[0] != '\0') {
        enum status status = choose_by_name(night, run, choice, fault);
        if (status != OK)
            zero_choice_end(choice);
        return status;
    }
    if (facility == NULL || facility->zero == ZERO_NONE)
        return OK;
    if (facility->zero == ZERO_NAMED)
        set_missing(choice, "facility", facility->name, "wants every run to name its zero");
    else
        choose_by_time(night, run, choice);
    return OK;
}

void zero_choice_end(struct zero_choice *choice)
{
    free(choice->before.point);
    free(choice->after.point);
    memset(choice, 0, sizeof *choice);
}

static enum status read_reading(const struct night *night, struct zero_choice *choice,
                                const struct zero_end *end, struct zero_reading *reading,
                                struct fault *fault)
{
    enum status status = run_data_read(night, end->run->run, &reading->data, fault);
    if (status != OK)
        return status;
    if (end->point != NULL)
        reading->point = run_data_point(&reading->data, end->point);
    else if (reading->data.n_points > 0)
        reading->point = &reading->data.points[0];
    if (reading->point == NULL)
        set_missing(choice, "the zero run", end->run->run, "has no such point");
    return OK;
}

enum status zeros_read(const struct night *night, const struct run_row *run, struct zeros *zeros,
                       struct fault *fault)
{
    memset(zeros, 0, sizeof *zeros);
    struct zero_choice *choice = &zeros->choice;
    enum status status = zero_choose(night, run, choice, fault);
    if (status == OK && choice->kind >= ZERO_KIND_CONSTANT)
        status = read_reading(night, choice, &choice->before, &zeros->before, fault);
    if (status == OK && choice->kind == ZERO_KIND_LINEAR)
        status = read_reading(night, choice, &choice->after, &zeros->after, fault);
    if (status != OK)
        zeros_end(zeros);
    return status;
}

void zeros_end(struct zeros *zeros)
{
    zero_choice_end(&zeros->choice);
    run_data_end(&zeros->before.data);
    run_data_end(&zeros->after.data);
    memset(zeros, 0, sizeof *zeros);
}

double zeros_fraction(const struct zeros *zeros, double time)
{
    if (zeros->choice.kind != ZERO_KIND_LINEAR)
        return 0;
    double span = zeros->after.point->time - zeros->before.point->time;
    return span == 0 ? 0 : (time - zeros->before.point->time) / span;
}

double zeros_worst_fraction(const struct zeros *zeros, const struct run_data *data)
{
    double worst = 0;
    double distance = 0;
    for (size_t i = 0; i < data->n_points; i++) {
        double fraction = zeros_fraction(zeros, data->points[i].time);
        double outside = fmax(-fraction, fraction - 1);
        if (outside <= distance)
            continue;
        distance = outside;
        worst = fraction;
    }
    return worst;
}

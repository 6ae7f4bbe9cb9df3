/* plan_text.c - see plan_text.h. */
#include "reduce/plan_text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/compare_print.h"
#include "reduce/plan_finds.h"
#include "reduce/plan_notes.h"
#include "reduce/rows.h"

enum { BAR = 48 };

static void say_head(const struct planned_night *night, struct key_text *text)
{
    const struct night_plan *plan = &night->plan;
    char start[48];
    plan_time(night->input->start, night->input->zone, start, sizeof start);
    key_text_say(text, "%sfacility %s, entry %s: %zu runs from %s, %.1f h of %.1f h\n",
                 night->mark[0] != '\0' ? "PLANNED ANYWAY\n" : "", night->facility->name,
                 night->entry, plan->order.n, start, plan->duration.whole / 3600,
                 night->request.available / 3600);
    if (night->given != NULL)
        key_text_say(text, "an order of your own\n\n");
    else
        key_text_say(text, "%s, each configuration mounted %zu times, seed %lu\n\n",
                     night->request.order.scheme == SCHEME_ABBA
                         ? "A B B A"
                         : "bracketed by returns to the baseline",
                     plan->repeats, night->request.order.seed);
}

/* Zeros stand in the line of their run. */
static const struct plan_row *zero_of(const struct plan_sheet *sheet, size_t at, int is_after)
{
    size_t i = is_after ? at + 1 : at - 1;
    if ((!is_after && at == 0) || i >= sheet->n || sheet->rows[i].kind != ROW_ZERO)
        return NULL;
    return &sheet->rows[i];
}

static void say_row(const struct planned_night *night, const struct plan_sheet *sheet, size_t at,
                    struct key_text *text)
{
    const struct plan_row *row = &sheet->rows[at];
    const struct plan_row *before = zero_of(sheet, at, 0), *after = zero_of(sheet, at, 1);
    double change = row->change + (before != NULL ? before->change : 0);
    double from = (before != NULL ? before->start : row->start) - change;
    int is_run = row->kind == ROW_WIND_ON;
    char changed[16] = "", clock[16], zeros[80] = "", what[200];
    plan_time_of_day(row->start, night->input->zone, clock, sizeof clock);
    if (change > 0)
        plan_time_of_day(from, night->input->zone, changed, sizeof changed);
    if (before != NULL && after != NULL)
        (void)snprintf(zeros, sizeof zeros, "%s %s", before->name, after->name);
    (void)snprintf(what, sizeof what, "%s", is_run ? "" : row->note);
    if (is_run)
        plan_sheet_what(night, row->run, what, sizeof what);
    size_t configuration = is_run ? night->plan.order.configuration[row->run] : 0;
    key_text_say(text, "%-6s %-6s %-6s %-20s %-16s %s%s\n", changed, clock, row->name,
                 !is_run ? "-" : plan_name(night, configuration), zeros, what,
                 is_run && configuration == 0 ? " (baseline due)" : "");
}

static void say_order(const struct planned_night *night, const struct plan_sheet *sheet,
                      struct key_text *text)
{
    const struct target *targets = night->input->campaign->attitudes.targets;
    key_text_say(text, "%-6s %-6s %-6s %-20s %-16s %s\n", "change", "begins", "run",
                 "configuration", "zeros due", "what to do");
    for (size_t i = 0; i < sheet->n; i++)
        if (sheet->rows[i].kind != ROW_ZERO)
            say_row(night, sheet, i, text);
    key_text_say(text, "Zeros at %s, wind off, before and after.\n",
                 targets[night->attitudes.visit[0]].name);
}

static void say_visits(const struct planned_night *night, const size_t *visit,
                       struct key_text *text)
{
    for (size_t i = 0; i < night->attitudes.n; i++)
        key_text_say(text, "%s%s", i > 0 ? ", " : "",
                     night->input->campaign->attitudes.targets[visit[i]].name);
    key_text_say(text, "\n");
}

static enum status say_attitudes(const struct planned_night *night, struct key_text *text,
                                 struct fault *fault)
{
    const struct plan_attitudes *attitudes = &night->attitudes;
    void *array = NULL;
    if (!attitudes->is_random) {
        key_text_say(text, "\nattitudes of every run: ");
        say_visits(night, attitudes->visit, text);
        return OK;
    }
    enum status status = array_make(&array, attitudes->n, sizeof *attitudes->visit, fault);
    key_text_say(text, "\nattitudes, drawn for every run:\n");
    for (size_t run = 0; status == OK && run < night->plan.order.n; run++) {
        status = plan_attitudes_of_run(attitudes, night->request.order.seed, run, array, fault);
        if (status != OK)
            break;
        key_text_say(text, "R%02zu: ", night->input->first_number + run);
        say_visits(night, array, text);
    }
    free(array);
    return status;
}

static void say_finds(const struct planned_night *night, struct key_text *text)
{
    key_text_say(text,
                 "\nleast delta that this night finds (power %g %%, confidence %g %%)\n"
                 "%-20s %-12s %-8s %8s %8s %8s %8s %4s  %s\n",
                 100 * night->request.assurance.power,
                 100 * (1 - night->request.assurance.significance), "configuration", "metric",
                 "quantity", "finds", "+/-", "matters", "noise sd", "df", "the noise is");
    for (size_t c = 0; c < night->n; c++)
        for (size_t m = 0; m < night->n_metrics; m++) {
            const struct plan_metric *metric = &night->metrics[m];
            const char *quantity = metric->metric->quantity;
            struct plan_find find = plan_find(night, metric, c);
            char least[64], half[64], matters[64], noise[64], freedom[32] = "n/a";
            compare_print_number(quantity, find.least, 0, least, sizeof least);
            compare_print_number(quantity, find.half_width, 0, half, sizeof half);
            compare_print_number(quantity, metric->metric->worthwhile, 0, matters, sizeof matters);
            compare_print_number(quantity, find.noise, 0, noise, sizeof noise);
            if (isfinite(find.freedom))
                (void)snprintf(freedom, sizeof freedom, "%.0f", find.freedom);
            key_text_say(text, "%-20s %-12s %-8s %8s %8s %8s %8s %4s  %s%s%s\n",
                         plan_name(night, c + 1), metric->metric->name, quantity, least, half,
                         matters, noise, freedom, find.source,
                         find.least > metric->metric->worthwhile ? "; TOO COARSE" : "",
                         metric->is_main ? "; main, for all at once" : "");
        }
}

static void say_repeats(const struct planned_night *night, struct key_text *text)
{
    const struct plan_metric *main = plan_main_metric(night);
    key_text_say(
        text,
        "\nwhat repeats buy: least delta of %s from n pairs alone, without drift, as a multiple of "
        "the noise sd\n%-6s %-32s %s\n",
        main->metric->quantity, "pairs", "noise known from before",
        "noise from the pairs themselves");
    for (size_t i = 0; i < PLAN_PAIR_ROWS; i++) {
        struct plan_pairs pairs = plan_pairs(night, i);
        char before[40], own[40];
        (void)snprintf(before, sizeof before, "%.2f (df %.0f)", pairs.before, main->before.freedom);
        (void)snprintf(own, sizeof own, "%.2f", pairs.own);
        key_text_say(text, "%-6zu %-32s %s\n", pairs.n, before, isnan(pairs.own) ? "-" : own);
    }
}

static void say_bar(struct key_text *text, const char *name, double time, double whole)
{
    char bar[BAR + 1];
    long n = lround(fmin(fmax(time / whole, 0), 1) * BAR);
    memset(bar, '#', sizeof bar);
    bar[n] = '\0';
    key_text_say(text, "  %-14s %6.0f min  %s\n", name, time / 60, bar);
}

static void say_hours(const struct planned_night *night, struct key_text *text)
{
    const struct plan_duration *duration = &night->plan.duration;
    double there = night->request.available, whole = fmax(there, duration->whole);
    double zeros = 2 * night->clock.zero * (double)night->plan.order.n;
    key_text_say(text, "\nwhat takes the hours\n");
    say_bar(text, "wind on", duration->runs - zeros, whole);
    say_bar(text, "zeros", zeros, whole);
    say_bar(text, "changes", duration->changes, whole);
    say_bar(text, "weight sweeps", duration->sweeps, whole);
    say_bar(text, duration->whole > there ? "too long by" : "left", fabs(there - duration->whole),
            whole);
}

static void say_tree(const struct planned_night *night, struct key_text *text)
{
    const struct plan_configuration *all = night->input->configurations;
    key_text_say(text, "\nconfigurations\n  %s (baseline)\n", plan_name(night, 0));
    for (size_t c = 1; c <= night->n; c++) {
        const struct plan_configuration *one = &all[night->chosen[c]];
        key_text_say(text, "  %s, from %s: %s (%.0f min to mount)\n", one->name,
                     all[one->parent].name, one->change, night->change[c] / 60);
    }
}

enum status plan_text_print(const struct planned_night *night, const struct plan_sheet *sheet,
                            struct key_text *text, struct fault *fault)
{
    void *array = NULL;
    say_head(night, text);
    say_order(night, sheet, text);
    enum status status = say_attitudes(night, text, fault);
    say_tree(night, text);
    say_finds(night, text);
    say_repeats(night, text);
    say_hours(night, text);
    if (status == OK)
        status = array_make(&array, 1, sizeof(struct plan_notes), fault);
    if (status != OK)
        return status;
    struct plan_notes *notes = array;
    plan_notes_make(night, sheet, notes);
    key_text_say(text, "\nnotes\n");
    for (size_t i = 0; i < notes->n; i++)
        key_text_say(text, "- %s\n", notes->text[i]);
    key_text_say(text, "\n%s", plan_safety);
    free(notes);
    return OK;
}

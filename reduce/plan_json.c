/* plan_json.c - see plan_json.h. */
#include "reduce/plan_json.h"

#include <math.h>
#include <stdlib.h>

#include "reduce/plan_finds.h"
#include "reduce/plan_notes.h"
#include "reduce/rows.h"
#include "schema/number.h"

static void say_text(struct key_text *text, const char *name, const char *value, const char *after)
{
    key_text_say(text, "\"%s\": \"", name);
    for (const char *c = value; *c != '\0'; c++)
        if (*c == '"' || *c == '\\')
            key_text_say(text, "\\%c", *c);
        else if ((unsigned char)*c < 0x20)
            key_text_say(text, "\\u%04x", (unsigned)*c);
        else
            key_text_say(text, "%c", *c);
    key_text_say(text, "\"%s", after);
}

static void say_value(struct key_text *text, double value, const char *after)
{
    char number[48] = "null";
    if (isfinite(value))
        (void)number_print(value, number, sizeof number);
    key_text_say(text, "%s%s", number, after);
}

static void say_number(struct key_text *text, const char *name, double value, const char *after)
{
    key_text_say(text, "\"%s\": ", name);
    say_value(text, value, after);
}

static void say_head(const struct planned_night *night, struct key_text *text)
{
    const struct night_plan *plan = &night->plan;
    char start[48];
    plan_time(night->input->start, night->input->zone, start, sizeof start);
    key_text_say(text, "{\n  ");
    say_text(text, "facility", night->facility->name, ", ");
    say_text(text, "entry", night->entry, ", ");
    say_text(text, "start", start, ",\n  ");
    say_text(text, "scheme",
             night->given != NULL                         ? "given"
             : night->request.order.scheme == SCHEME_ABBA ? "abba"
                                                          : "bracketed",
             ", ");
    say_number(text, "seed", (double)night->request.order.seed, ", ");
    say_number(text, "repeats", night->given != NULL ? (double)NAN : (double)plan->repeats,
               ",\n  ");
    say_text(text, "planned_anyway", night->mark, ",\n  ");
    say_number(text, "drift_degree", (double)plan->degree, ", ");
    say_number(text, "tonight_degrees_of_freedom", plan->freedom, ", ");
    say_number(text, "simultaneous_multiplier", plan->simultaneous, ", ");
    say_number(text, "power", night->request.assurance.power, ", ");
    say_number(text, "confidence", 1 - night->request.assurance.significance, ",\n");
}

static void say_duration(const struct planned_night *night, struct key_text *text)
{
    const struct plan_duration *duration = &night->plan.duration;
    double zeros = 2 * night->clock.zero * (double)night->plan.order.n;
    key_text_say(text, "  \"duration_s\": {");
    say_number(text, "available", night->request.available, ", ");
    say_number(text, "whole", duration->whole, ", ");
    say_number(text, "wind_on", duration->runs - zeros, ", ");
    say_number(text, "zeros", zeros, ", ");
    say_number(text, "changes", duration->changes, ", ");
    say_number(text, "weight_sweeps", duration->sweeps, "},\n");
}

static enum status say_visits(const struct planned_night *night, size_t run, size_t *visit,
                              struct key_text *text, struct fault *fault)
{
    const struct target *targets = night->input->campaign->attitudes.targets;
    enum status status =
        plan_attitudes_of_run(&night->attitudes, night->request.order.seed, run, visit, fault);
    key_text_say(text, ", \"attitudes\": [");
    for (size_t i = 0; status == OK && i < night->attitudes.n; i++) {
        key_text_say(text, "%s{", i > 0 ? ", " : "");
        say_text(text, "target", targets[visit[i]].name, "}");
    }
    key_text_say(text, "]");
    return status;
}

static enum status say_runs(const struct planned_night *night, const struct plan_sheet *sheet,
                            struct key_text *text, struct fault *fault)
{
    void *visit = NULL;
    enum status status = array_make(&visit, night->attitudes.n, sizeof(size_t), fault);
    key_text_say(text, "  \"runs\": [\n");
    for (size_t i = 0; status == OK && i < sheet->n; i++) {
        const struct plan_row *row = &sheet->rows[i];
        char start[48];
        plan_time(row->start, night->input->zone, start, sizeof start);
        key_text_say(text, "    {");
        say_text(text, "run", row->name, ", ");
        say_text(text, "start", start, ", ");
        say_number(text, "duration_s", row->duration, ", ");
        say_number(text, "change_s", row->change, ", ");
        say_text(text, "kind", plan_row_word(row->kind), ", ");
        say_text(text, "note", row->note, "");
        if (row->kind == ROW_WIND_ON) {
            key_text_say(text, ", ");
            say_text(text, "configuration",
                     plan_name(night, night->plan.order.configuration[row->run]), "");
            status = say_visits(night, row->run, visit, text, fault);
        }
        key_text_say(text, "}%s\n", i + 1 < sheet->n ? "," : "");
    }
    key_text_say(text, "  ],\n");
    free(visit);
    return status;
}

static void say_finds(const struct planned_night *night, struct key_text *text)
{
    key_text_say(text, "  \"finds\": [\n");
    for (size_t c = 0; c < night->n; c++)
        for (size_t m = 0; m < night->n_metrics; m++) {
            const struct plan_metric *metric = &night->metrics[m];
            struct plan_find find = plan_find(night, metric, c);
            key_text_say(text, "    {");
            say_text(text, "configuration", plan_name(night, c + 1), ", ");
            say_text(text, "metric", metric->metric->name, ", ");
            say_text(text, "quantity", metric->metric->quantity, ", ");
            key_text_say(text, "\"is_main\": %s, ", metric->is_main ? "true" : "false");
            say_number(text, "least_delta", find.least, ", ");
            say_number(text, "expected_half_width", find.half_width, ", ");
            say_number(text, "worthwhile", metric->metric->worthwhile, ", ");
            say_number(text, "variance_factor", night->plan.factor[c], ", ");
            say_number(text, "noise_standard_deviation", find.noise, ", ");
            say_number(text, "degrees_of_freedom", find.freedom, ", ");
            say_text(text, "noise_source", find.source, "}");
            key_text_say(text, "%s\n", c + 1 < night->n || m + 1 < night->n_metrics ? "," : "");
        }
    key_text_say(text, "  ],\n");
}

static void say_pairs(const struct planned_night *night, struct key_text *text)
{
    key_text_say(text, "  \"pairs\": [");
    for (size_t i = 0; i < PLAN_PAIR_ROWS; i++) {
        struct plan_pairs pairs = plan_pairs(night, i);
        key_text_say(text, "%s\n    {", i > 0 ? "," : "");
        say_number(text, "pairs", (double)pairs.n, ", ");
        say_number(text, "noise_from_before", pairs.before, ", ");
        say_number(text, "noise_from_pairs", pairs.own, "}");
    }
    key_text_say(text, "\n  ],\n");
}

enum status plan_json_print(const struct planned_night *night, const struct plan_sheet *sheet,
                            struct key_text *text, struct fault *fault)
{
    void *array = NULL;
    enum status status = array_make(&array, 1, sizeof(struct plan_notes), fault);
    if (status != OK)
        return status;
    struct plan_notes *notes = array;
    say_head(night, text);
    say_duration(night, text);
    status = say_runs(night, sheet, text, fault);
    say_finds(night, text);
    say_pairs(night, text);
    plan_notes_make(night, sheet, notes);
    key_text_say(text, "  \"notes\": [\n");
    for (size_t i = 0; i < notes->n; i++) {
        key_text_say(text, "    {");
        say_text(text, "note", notes->text[i], "}");
        key_text_say(text, "%s\n", i + 1 < notes->n ? "," : "");
    }
    key_text_say(text, "  ]\n}\n");
    free(notes);
    return status;
}

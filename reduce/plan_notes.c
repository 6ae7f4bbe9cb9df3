/* plan_notes.c - see plan_notes.h. */
#include "reduce/plan_notes.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "reduce/compare_print.h"
#include "reduce/plan_judge.h"

/* Common practice, no source. */
static const double BRACKET_MAX = 5400; /* s between two returns to the baseline */
static const double FREEDOM_FAIR = 20;  /* a standard deviation is then known to some 30 % */
static const double CHEAP_CHANGE = 0.1; /* of the time of a run */

const char plan_safety[] =
    "Safety (common practice, no source; the facility's own rules and the word of its people come "
    "first):\n"
    "nobody in the working section before the wind or the belt is on, and the section looked "
    "through "
    "and\nlocked; check the model's restraint and the balance's rating before raising speed; after "
    "every change\nlook for loose parts and tools. At low ride heights the car can strike the "
    "belt, and "
    "downforce can\ncollapse suddenly: come down in steps, and no lower than what was cleared.\n";

static void note(struct plan_notes *notes, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void note(struct plan_notes *notes, const char *format, ...)
{
    va_list arguments;
    if (notes->n == PLAN_NOTES_MAX)
        return;
    va_start(arguments, format);
    (void)vsnprintf(notes->text[notes->n], sizeof notes->text[0], format, arguments);
    va_end(arguments);
    notes->n++;
}

/* Intervals that are looked at without the cover of the simultaneous one, at the attitude of the main
 * measure. */
static size_t count_exploratory(const struct planned_night *night)
{
    return night->n * (night->n_metrics - 1);
}

static void note_noise(const struct planned_night *night, struct plan_notes *notes)
{
    const struct plan_metric *main = plan_main_metric(night);
    size_t entries = main->known.level_entries[VARIANCE_REFITTED];
    int is_declared = main->known.declared[VARIANCE_REFITTED] != 0;
    char limit[64], larger[64];
    note(notes,
         "The noise is of one mounting, refitted, at %.60s, attitude %.60s: from %zu %s of the "
         "season%s.",
         night->facility->name, night->input->campaign->main_attitude, entries,
         entries == 1 ? "entry" : "entries", is_declared ? " and what campaign.yaml declares" : "");
    if (main->before.freedom >= FREEDOM_FAIR)
        return;
    double most = night_plan_noise_limit(main->before, 0.95);
    double ratio = most / sqrt(main->before.variance);
    compare_print_number(main->metric->quantity, most, 0, limit, sizeof limit);
    compare_print_number(main->metric->quantity, ratio * night->plan.detectable, 0, larger,
                         sizeof larger);
    note(notes,
         "That noise has %.0f degrees of freedom: 95 %% sure is that it is no larger than %s, and "
         "the "
         "least delta of %s would then be %s.",
         main->before.freedom, limit, main->metric->quantity, larger);
}

static void note_drift(const struct planned_night *night, struct plan_notes *notes)
{
    static const char *const words[] = {"no drift at all", "a straight drift only",
                                        "a straight and a bent drift"};
    if (night->plan.degree < 2)
        note(
            notes,
            "So few runs bear %s; a drift of another shape goes into the deltas. More repeats bear "
            "more.",
            words[night->plan.degree]);
    else
        note(notes,
             "Counted with %s in the model, as the morning does; tonight's own noise has %g "
             "degrees of freedom.",
             words[night->plan.degree], night->plan.freedom);
}

static void note_false_gains(const struct planned_night *night, struct plan_notes *notes)
{
    double alpha = night->request.assurance.significance;
    size_t targets = night->input->campaign->attitudes.n_targets;
    size_t here = count_exploratory(night), all = night->n * night->n_metrics * targets;
    note(notes,
         "The main measure's intervals hold for all configurations (%zu) at once: in %g %% of "
         "nights "
         "one of them is wrong. Of the others, if nothing were different, %zu here would give %.2g "
         "false differences (m x alpha = %zu x %g) and %zu at single attitudes %.2g, half of them "
         "gains: they are exploratory.",
         night->n, 100 * alpha, here, (double)here * alpha, here, alpha, all, (double)all * alpha);
}

static void note_plots(const struct planned_night *night, struct plan_notes *notes)
{
    for (size_t c = 1; c <= night->n; c++)
        if (night->is_hard[c])
            note(notes,
                 "Whole plot: %.60s is hard to change and is mounted once, its runs side by side. "
                 "They count as one mounting however many there are: no verdict word, and a delta "
                 "that rests on the scatter of the others' mountings. A second mounting costs %.0f "
                 "min.",
                 plan_name(night, c), night->change[c] / 60);
}

static void note_parents(const struct planned_night *night, struct plan_notes *notes)
{
    const struct plan_input *input = night->input;
    for (size_t c = 1; c <= night->n; c++) {
        long parent = input->configurations[night->chosen[c]].parent;
        if (parent != (long)night->chosen[0])
            note(notes,
                 "%.60s was made from %.60s, and is bracketed by and compared with the family's "
                 "baseline %.60s.",
                 plan_name(night, c), input->configurations[parent].name, plan_name(night, 0));
    }
}

/* From the begin of one return's wind to the next one's. */
static double longest_bracket(const struct planned_night *night, const struct plan_sheet *sheet)
{
    double last = (double)NAN, longest = 0;
    for (size_t i = 0; i < sheet->n; i++) {
        const struct plan_row *row = &sheet->rows[i];
        if (row->kind != ROW_WIND_ON || night->plan.order.configuration[row->run] != 0)
            continue;
        longest = row->start - last > longest ? row->start - last : longest;
        last = row->start;
    }
    return longest;
}

static void note_brackets(const struct planned_night *night, const struct plan_sheet *sheet,
                          struct plan_notes *notes)
{
    double longest = longest_bracket(night, sheet);
    if (longest > BRACKET_MAX)
        note(notes,
             "Up to %.0f min pass from one return to the baseline to the next; common practice: 60 "
             "to "
             "90. A smaller group: shortens it.",
             longest / 60);
}

/* Where changes are cheap, A B B A gives more evidence a run. */
static void note_abba(const struct planned_night *night, struct plan_notes *notes)
{
    struct night_plan abba;
    char here[64], there[64];
    const char *quantity = plan_main_metric(night)->metric->quantity;
    for (size_t c = 0; c <= night->n; c++)
        if (night->change[c] > CHEAP_CHANGE * night->clock.run)
            return;
    if (night->given != NULL || night->request.order.scheme == SCHEME_ABBA ||
        plan_judge_scheme(night, SCHEME_ABBA, &abba) != OUTCOME_OK ||
        abba.answer == PLAN_DOES_NOT_FIT)
        return;
    compare_print_number(quantity, night->plan.detectable, 0, here, sizeof here);
    compare_print_number(quantity, abba.detectable, 0, there, sizeof there);
    note(notes,
         "Changes cost next to nothing here: --scheme abba (A B B A) finds %s in %.1f h, this plan "
         "%s in %.1f h.",
         there, plan_hours(abba.duration.whole), here, plan_hours(night->plan.duration.whole));
}

static void note_approach(const struct planned_night *night, struct plan_notes *notes)
{
    int is_above = night->attitudes.approach == APPROACH_FROM_ABOVE;
    note(
        notes,
        "Approach every ride height from %s: go %s it first, then to it. The reference attitude is "
        "first and last in every run.",
        is_above ? "above" : "below", is_above ? "above" : "below");
}

void plan_notes_make(const struct planned_night *night, const struct plan_sheet *sheet,
                     struct plan_notes *notes)
{
    notes->n = 0;
    if (night->mark[0] != '\0')
        note(notes, "PLANNED ANYWAY: %.180s.", night->mark);
    note_noise(night, notes);
    note_drift(night, notes);
    note_plots(night, notes);
    note_parents(night, notes);
    note_brackets(night, sheet, notes);
    note_abba(night, notes);
    note_false_gains(night, notes);
    note(notes, "Every repeat is a mounting: what follows itself is taken off and fitted again.");
    note_approach(night, notes);
    note(notes, "The clock stays in the zone of the start; it does not follow a change to or from "
                "summer time in between.");
}

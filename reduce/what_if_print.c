/* what_if_print.c - see what_if_print.h. */
#include "reduce/what_if_print.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/compare_print.h"
#include "reduce/what_if_steps.h"
#include "schema/delta_columns.h"
#include "schema/number.h"
#include "schema/quantity.h"

static const struct csv_column columns[] = {
    {"configuration", "", CSV_TEXT},
    {"baseline", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"quantity", "", CSV_TEXT},
    {"unit", "", CSV_TEXT},
    {"target", "", CSV_TEXT},
    {"is_main", "1", CSV_NUMBER},
    {"without", "", CSV_TEXT},
    {"delta", "see unit", CSV_NUMBER},
    {"half_width", "see unit", CSV_NUMBER},
    {"verdict", "", CSV_TEXT},
    {"delta_without", "see unit", CSV_NUMBER},
    {"half_width_without", "see unit", CSV_NUMBER},
    {"verdict_without", "", CSV_TEXT},
    {"change", "see unit", CSV_NUMBER},
    {"change_counts", "counts", CSV_NUMBER},
    {"verdict_flips", "1", CSV_NUMBER},
};

enum { COLUMNS = sizeof columns / sizeof columns[0] };

static double change_of(const struct what_if_delta *delta)
{
    return delta->side[WHAT_IF_WITHOUT].delta - delta->side[WHAT_IF_STANDS].delta;
}

/* NAN for a quantity that is not counted in counts. */
static double counts_of(const struct what_if_delta *delta, double count)
{
    enum quantity quantity = quantity_from_symbol(delta->quantity);
    int is_counted = quantity != QUANTITY_COUNT && quantity_row(quantity)->in_counts && count > 0;
    return is_counted ? change_of(delta) / count : (double)NAN;
}

static const char *unit_of(const struct what_if_delta *delta)
{
    enum quantity quantity = quantity_from_symbol(delta->quantity);
    return quantity == QUANTITY_COUNT ? "" : quantity_row(quantity)->unit;
}

static void say_change(const struct what_if_delta *delta, double count, char *out, size_t size)
{
    char number[64];
    double counts = counts_of(delta, count);
    if (!isfinite(counts)) {
        int is_plain = strcmp(unit_of(delta), "1") == 0 || !isfinite(change_of(delta));
        compare_print_number(delta->quantity, change_of(delta), 1, number, sizeof number);
        (void)snprintf(out, size, "%s%s%s", number, is_plain ? "" : " ",
                       is_plain ? "" : unit_of(delta));
        return;
    }
    (void)number_print_fixed(counts, 1, number, sizeof number);
    (void)snprintf(out, size, "%s%s counts", number[0] == '-' ? "" : "+", number);
}

static void say_numbers(const struct what_if_delta *delta, enum what_if_side side,
                        struct key_text *text)
{
    char number[64];
    char half[64];
    const struct what_if_reading *reading = &delta->side[side];
    compare_print_number(delta->quantity, reading->delta, 1, number, sizeof number);
    compare_print_number(delta->quantity, reading->half_width, 0, half, sizeof half);
    key_text_say(text, " %10s +/- %-9s", number, half);
}

static void say_reading(const struct what_if_delta *delta, enum what_if_side side,
                        struct key_text *text)
{
    const char *reason = delta->side[side].reason;
    key_text_say(text, "%s", what_if_verdict(delta, side));
    if (reason != NULL && reason[0] != '\0')
        key_text_say(text, " (%s)", reason);
}

static void say_row(const struct what_if_delta *delta, double count, struct key_text *text)
{
    char change[96];
    say_change(delta, count, change, sizeof change);
    key_text_say(text, "%-20s %-8s %-3s %-16s", delta->configuration, delta->quantity,
                 unit_of(delta), delta->target);
    say_numbers(delta, WHAT_IF_STANDS, text);
    say_numbers(delta, WHAT_IF_WITHOUT, text);
    key_text_say(text, " %14s  ", change);
    if (delta->is_main) {
        key_text_say(text, "main: ");
        say_reading(delta, WHAT_IF_STANDS, text);
        key_text_say(text, "; without: ");
        say_reading(delta, WHAT_IF_WITHOUT, text);
        key_text_say(text, "%s", what_if_flips(delta) ? "; FLIPS" : "");
    }
    key_text_say(text, "\n");
}

static void say_head(const struct what_if *made, const struct what_if_delta *delta,
                     struct key_text *text)
{
    key_text_say(text,
                 "%sfacility %s, entry %s: delta = configuration - baseline %s, as it stands "
                 "and without ",
                 text->length == 0 ? "" : "\n", delta->facility, delta->entry, delta->baseline);
    what_if_steps_say(made->steps, ", ", text);
    key_text_say(text, "\n%-20s %-8s %-3s %-16s %10s +/- %-9s %10s +/- %-9s %14s  %s\n",
                 "configuration", "quantity", "in", "attitude", "stands", "interval", "without",
                 "interval", "change", "verdict (main measure; others exploratory)");
}

static int is_same_family(const struct what_if_delta *a, const struct what_if_delta *b)
{
    return strcmp(a->facility, b->facility) == 0 && strcmp(a->entry, b->entry) == 0 &&
           strcmp(a->baseline, b->baseline) == 0;
}

static void say_end(const struct what_if *made, struct key_text *text)
{
    const struct what_if_deltas *deltas = &made->deltas;
    size_t flips = what_if_count_flips(deltas);
    size_t verdicts = 0;
    for (size_t i = 0; i < deltas->n; i++)
        verdicts += what_if_has_verdict(&deltas->items[i]) != 0;
    key_text_say(text, "\nwithout ");
    what_if_steps_say(made->steps, ", ", text);
    if (verdicts == 0)
        key_text_say(text, ": no delta of this table has a verdict that could flip\n");
    else if (flips == 0)
        key_text_say(text, ": no verdict flips (%zu looked at)\n", verdicts);
    else
        key_text_say(text, ": %zu of %zu verdict%s flip%s\n", flips, verdicts,
                     verdicts == 1 ? "" : "s", flips == 1 ? "s" : "");
    for (size_t i = 0; i < deltas->n; i++) {
        const struct what_if_delta *delta = &deltas->items[i];
        if (what_if_flips(delta))
            key_text_say(text, "  %s, %s at %s (%s, %s): %s as it stands, %s without\n",
                         delta->configuration, delta->quantity, delta->target, delta->facility,
                         delta->entry, what_if_verdict(delta, WHAT_IF_STANDS),
                         what_if_verdict(delta, WHAT_IF_WITHOUT));
    }
}

void what_if_print_text(const struct what_if *made, double count, struct key_text *text)
{
    for (size_t i = 0; i < made->deltas.n; i++) {
        const struct what_if_delta *delta = &made->deltas.items[i];
        if (i == 0 || !is_same_family(delta, &made->deltas.items[i - 1]))
            say_head(made, delta, text);
        say_row(delta, count, text);
    }
    if (made->contained != 0) {
        key_text_say(text, "\nin the facility's own numbers, if at all, and so on both sides: ");
        what_if_steps_say(made->contained, ", ", text);
        key_text_say(text, "\n");
    }
    say_end(made, text);
}

static void say_csv_number(double value, struct key_text *text)
{
    char number[48] = "";
    if (isfinite(value))
        (void)number_print(value, number, sizeof number);
    key_text_say(text, ",%s", number);
}

static void say_csv_reading(const struct what_if_reading *reading, struct key_text *text)
{
    say_csv_number(reading->delta, text);
    say_csv_number(reading->half_width, text);
    key_text_say(text, ",");
    compare_print_csv_text(text, reading->verdict == NULL ? "" : reading->verdict);
}

static void say_csv_row(const struct what_if_delta *delta, const char *steps, double count,
                        struct key_text *text)
{
    const char *const names[] = {delta->configuration, delta->baseline, delta->facility,
                                 delta->entry,         delta->quantity, unit_of(delta),
                                 delta->target};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        key_text_say(text, "%s", i > 0 ? "," : "");
        compare_print_csv_text(text, names[i]);
    }
    key_text_say(text, ",%d,", delta->is_main);
    compare_print_csv_text(text, steps);
    say_csv_reading(&delta->side[WHAT_IF_STANDS], text);
    say_csv_reading(&delta->side[WHAT_IF_WITHOUT], text);
    say_csv_number(change_of(delta), text);
    say_csv_number(counts_of(delta, count), text);
    key_text_say(text, ",%d\n", what_if_flips(delta));
}

void what_if_print_csv(const struct what_if *made, double count, struct key_text *text)
{
    struct key_text steps = {NULL, 0, 0, 0};
    what_if_steps_say(made->steps, "; ", &steps);
    compare_print_csv_titles(columns, COLUMNS, text);
    for (size_t i = 0; i < made->deltas.n; i++)
        say_csv_row(&made->deltas.items[i], steps.text == NULL ? "" : steps.text, count, text);
    text->failed |= steps.failed;
    key_text_end(&steps);
}

/* compare_derived.c - see compare_derived.h. */
#include "reduce/compare_derived.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/compare_print.h"
#include "reduce/rows.h"

enum { NUMBER = 64, WORDS = 600 };

static const char *text_of(struct statement *row, int column)
{
    const char *text = statement_text(row, column);
    return text == NULL ? "" : text;
}

/* Columns: configuration, target, ratio, kind, lower, upper, reason. */
static void say_ratio(struct statement *row, struct key_text *text)
{
    const char *kind = text_of(row, 3);
    double ratio = statement_real(row, 2);
    double lower = statement_real(row, 4);
    double upper = statement_real(row, 5);
    char words[WORDS];
    int used = snprintf(words, sizeof words, "%s, %s: ", text_of(row, 0), text_of(row, 1));
    if (used < 0 || used >= WORDS)
        return;
    size_t room = sizeof words - (size_t)used;
    if (strcmp(kind, "interval") == 0)
        (void)snprintf(words + used, room, "%+.2f, from %+.2f to %+.2f", ratio, lower, upper);
    else if (strcmp(kind, "outside") == 0)
        (void)snprintf(words + used, room, "%+.2f, below %+.2f or above %+.2f; %s", ratio, lower,
                       upper, text_of(row, 6));
    else if (isfinite(ratio))
        (void)snprintf(words + used, room, "%+.2f; %s", ratio, text_of(row, 6));
    else
        (void)snprintf(words + used, room, "no ratio; %s", text_of(row, 6));
    compare_print_wrapped(text, 2, words);
}

/* Columns: configuration, target, quantity, device, delta, half width, setting change, its unit, reason. */
static void say_trimmed(struct statement *row, struct key_text *text)
{
    char words[WORDS];
    char delta[NUMBER];
    char half[NUMBER];
    const char *quantity = text_of(row, 2);
    compare_print_number(quantity, statement_real(row, 4), 1, delta, sizeof delta);
    compare_print_number(quantity, statement_real(row, 5), 0, half, sizeof half);
    if (text_of(row, 8)[0] != '\0')
        (void)snprintf(words, sizeof words, "%s %s, %s: none; %s", text_of(row, 0), quantity,
                       text_of(row, 1), text_of(row, 8));
    else
        (void)snprintf(words, sizeof words, "%s %s, %s: %s +/- %s with %s %+.3g %s",
                       text_of(row, 0), quantity, text_of(row, 1), delta, half, text_of(row, 3),
                       statement_real(row, 6), text_of(row, 7));
    compare_print_wrapped(text, 2, words);
}

/* What parts do to each other, by the metric's direction. */
static const char *interaction_words(double interaction, const char *better)
{
    int is_known = strcmp(better, "higher") == 0 || strcmp(better, "lower") == 0;
    if (!is_known)
        return "they change each other by";
    return (interaction > 0) == (strcmp(better, "higher") == 0) ? "they give each other"
                                                                : "they cost each other";
}

/* Columns: configuration, target, quantity, parts, package, sum, interaction, half width, reason, better,
 * lower, upper. */
static void say_package(struct statement *row, struct key_text *text)
{
    char words[WORDS + 1000];
    char package[NUMBER];
    char sum[NUMBER];
    char size[NUMBER];
    char half[NUMBER];
    const char *quantity = text_of(row, 2);
    const char *better = text_of(row, 9);
    double interaction = statement_real(row, 6);
    int has_direction = strcmp(better, "higher") == 0 || strcmp(better, "lower") == 0;
    compare_print_number(quantity, statement_real(row, 4), 1, package, sizeof package);
    compare_print_number(quantity, statement_real(row, 5), 1, sum, sizeof sum);
    compare_print_number(quantity, has_direction ? fabs(interaction) : interaction, !has_direction,
                         size, sizeof size);
    compare_print_number(quantity, statement_real(row, 7), 0, half, sizeof half);
    int is_chance = statement_real(row, 10) <= 0 && statement_real(row, 11) >= 0;
    if (!isfinite(interaction))
        (void)snprintf(words, sizeof words, "%s %s, %s: package %s; %s", text_of(row, 0), quantity,
                       text_of(row, 1), package, text_of(row, 8));
    else
        (void)snprintf(words, sizeof words,
                       "%s %s, %s: package %s, its parts (%.300s) add up to %s: %s %s +/- %s%s%s%s",
                       text_of(row, 0), quantity, text_of(row, 1), package, text_of(row, 3), sum,
                       interaction_words(interaction, better), size, half,
                       is_chance ? ", which may be chance" : "",
                       text_of(row, 8)[0] != '\0' ? "; " : "", text_of(row, 8));
    compare_print_wrapped(text, 2, words);
}

struct section {
    const char *title, *sql;
    void (*say)(struct statement *row, struct key_text *text);
};

static const struct section sections[] = {
    {"change of CL for change of CD",
     "SELECT configuration, target, ratio, kind, lower, upper, reason FROM asked_ratio WHERE "
     "facility = ?1 AND entry = ?2 ORDER BY rowid",
     say_ratio},
    {"at the baseline's balance",
     "SELECT configuration, target, quantity, device, delta, half_width, setting_change, "
     "setting_unit, reason FROM asked_equal_balance WHERE facility = ?1 AND entry = ?2 ORDER BY "
     "rowid",
     say_trimmed},
    {"packages against the sum of their parts",
     "SELECT configuration, target, quantity, parts, package, sum_of_parts, interaction, "
     "half_width, "
     "reason, coalesce((SELECT better FROM metric AS m WHERE m.quantity = p.quantity ORDER BY "
     "m.sequence LIMIT 1), ''), lower, upper FROM asked_package AS p WHERE facility = ?1 AND entry "
     "= "
     "?2 ORDER BY rowid",
     say_package},
};

static enum status say_section(struct store *store, const struct season_entry *entry,
                               const struct section *section, struct key_text *text,
                               struct fault *fault)
{
    const char *const texts[] = {entry->facility, entry->entry};
    struct statement *row = NULL;
    size_t n = 0;
    int more = 0;
    enum status status = rows_open(store, section->sql, texts, 2, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        if (n++ == 0)
            key_text_say(text, "\n%s (each alone, exploratory):\n", section->title);
        section->say(row, text);
    }
    statement_free(row);
    return status;
}

enum status compare_say_derived(struct store *store, const struct season_entry *entry,
                                struct key_text *text, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < sizeof sections / sizeof sections[0]; i++)
        status = say_section(store, entry, &sections[i], text, fault);
    return status;
}

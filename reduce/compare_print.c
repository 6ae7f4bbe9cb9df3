/* compare_print.c - one delta as text or CSV; see compare_print.h. */
#include "reduce/compare_print.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/csv_cell.h"
#include "schema/delta_columns.h"
#include "schema/number.h"
#include "schema/quantity.h"

const char compare_print_columns[] =
    "SELECT x.configuration, x.baseline, x.facility, x.entry, x.quantity, NULL, x.target, "
    "x.is_main, x.delta, x.half_width, x.lower, x.upper, x.standard_uncertainty, "
    "x.degrees_of_freedom, x.multiplier, x.mountings, x.baseline_mountings, x.verdict, "
    "x.real_but_small, x.reason, x.method, x.noise_source, x.beside_delta, "
    "x.beside_standard_uncertainty, x.beside_degrees_of_freedom, x.disagrees, x.pairs_needed, "
    "x.shrunk, x.shrunk_standard_uncertainty ";

const char compare_print_rows[] =
    "FROM delta AS x "
    "LEFT JOIN target AS t ON t.target = x.target "
    "LEFT JOIN configuration AS c ON c.configuration = x.configuration "
    "LEFT JOIN configuration AS b ON b.configuration = x.baseline "
    "WHERE (?1 = '' OR x.configuration = ?1 OR x.configuration = ?2 "
    "OR (?2 = '' AND x.baseline = ?1)) "
    "AND (?3 = '' OR x.quantity = ?3 OR x.quantity = (SELECT quantity FROM metric WHERE metric = "
    "?3)) AND x.facility = ?4 AND x.entry = ?5 AND (?6 = '' OR x.target = ?6) "
    "ORDER BY b.sequence, x.baseline, x.is_main DESC, coalesce((SELECT min(sequence) FROM metric "
    "AS m WHERE m.quantity = x.quantity), 1000), x.quantity, "
    "t.sequence IS NOT NULL, t.sequence, x.target, c.sequence, x.configuration";

static const char *text_of(struct statement *row, int column)
{
    const char *text = statement_text(row, column);
    return text == NULL ? "" : text;
}

/* Decimals that show a tenth of a count of a coefficient, a hundredth of a percent. */
static int decimals_of(const char *quantity)
{
    return quantity_from_symbol(quantity) == QUANTITY_BALANCE ? 2 : 4;
}

static void fixed(double value, int decimals, int sign, char *out, size_t size)
{
    char number[48];
    if (!isfinite(value)) {
        (void)snprintf(out, size, "n/a");
        return;
    }
    (void)number_print_fixed(value, decimals, number, sizeof number);
    (void)snprintf(out, size, "%s%s", sign && number[0] != '-' ? "+" : "", number);
}

void compare_print_number(const char *quantity, double value, int with_sign, char *out, size_t size)
{
    fixed(value, decimals_of(quantity), with_sign, out, size);
}

const char *compare_print_baseline(struct statement *row)
{
    return text_of(row, DELTA_BASELINE);
}

/* The unit is no column of the query: the table of quantities knows it. */
static const char *cell_text(struct statement *row, enum delta_column column)
{
    if (column != DELTA_UNIT)
        return text_of(row, (int)column);
    enum quantity quantity = quantity_from_symbol(text_of(row, DELTA_QUANTITY));
    return quantity == QUANTITY_COUNT ? "" : quantity_row(quantity)->unit;
}

void compare_print_csv_text(struct key_text *text, const char *cell)
{
    key_text_say(text, "\"%s", csv_is_formula(cell) ? "'" : "");
    for (const char *c = cell; *c != '\0'; c++)
        key_text_say(text, "%s%c", *c == '"' ? "\"" : "", *c);
    key_text_say(text, "\"");
}

void compare_print_csv_titles(const struct csv_column *columns, size_t n, struct key_text *text)
{
    for (size_t i = 0; i < n; i++)
        key_text_say(text, "%s%s", i > 0 ? "," : "", columns[i].name);
    key_text_say(text, "\n");
    for (size_t i = 0; i < n; i++) {
        key_text_say(text, "%s", i > 0 ? "," : "");
        compare_print_csv_text(text, columns[i].unit);
    }
    key_text_say(text, "\n");
}

void compare_print_csv_head(struct key_text *text)
{
    compare_print_csv_titles(delta_columns, DELTA_COLUMNS, text);
}

enum { NUMBERS = 75 }; /* width of a row before its words */

static void print_titles(const char *last, struct key_text *text)
{
    key_text_say(text, "%-18s %-8s %-3s %-12s %9s +/- %-8s %s%s\n", "configuration", "quantity",
                 "in", "attitude", "delta", "interval", "mounted", last);
}

void compare_print_family(struct statement *row, struct key_text *text)
{
    key_text_say(text,
                 "%sfacility %s, entry %s: delta = configuration - baseline %s;\nCL, CLF, CLR "
                 "downforce positive, CD aft positive, balance in %% of downforce on the front "
                 "axle;\nonly main: is judged, by intervals that hold together\n",
                 text->length == 0 ? "" : "\n", text_of(row, DELTA_FACILITY),
                 text_of(row, DELTA_ENTRY), text_of(row, DELTA_BASELINE));
    print_titles(" verdict", text);
}

void compare_print_pair(struct statement *row, struct key_text *text)
{
    key_text_say(text,
                 "\n%s minus %s, not declared before the night: exploratory, unadjusted, no "
                 "verdict\n",
                 text_of(row, DELTA_CONFIGURATION), text_of(row, DELTA_BASELINE));
    print_titles("", text);
}

/* The numbers of a row, up to its words. */
static int print_numbers(struct statement *row, char *out, size_t size)
{
    char delta[64];
    char half[64];
    const char *quantity = text_of(row, DELTA_QUANTITY);
    enum quantity known = quantity_from_symbol(quantity);
    int decimals = decimals_of(quantity);
    fixed(statement_real(row, DELTA_DELTA), decimals, 1, delta, sizeof delta);
    fixed(statement_real(row, DELTA_HALF_WIDTH), decimals, 0, half, sizeof half);
    return snprintf(
        out, size, "%-18s %-8s %-3s %-12s %9s +/- %-8s %3d/%d", text_of(row, DELTA_CONFIGURATION),
        quantity, known == QUANTITY_COUNT ? "" : quantity_row(known)->unit,
        text_of(row, DELTA_TARGET), delta, half, (int)statement_integer(row, DELTA_MOUNTINGS),
        (int)statement_integer(row, DELTA_BASELINE_MOUNTINGS));
}

/* A reason that would make the row too long goes below it. */
void compare_print_text(struct statement *row, struct key_text *text)
{
    char numbers[400];
    char words[100];
    const char *verdict = text_of(row, DELTA_VERDICT);
    const char *reason = text_of(row, DELTA_REASON);
    int length = print_numbers(row, numbers, sizeof numbers);
    length = length < NUMBERS ? NUMBERS : length;
    length += snprintf(words, sizeof words, "%s%s%s",
                       statement_integer(row, DELTA_IS_MAIN) ? " main: " : " ", verdict,
                       statement_integer(row, DELTA_REAL_BUT_SMALL) ? " (real, but small)" : "");
    const char *joint = verdict[0] != '\0' && reason[0] != '\0' ? "; " : "";
    int is_long = (size_t)length + strlen(joint) + strlen(reason) > COMPARE_LINE;
    int has_words =
        verdict[0] != '\0' || statement_integer(row, DELTA_IS_MAIN) || reason[0] != '\0';
    key_text_say(text, "%-*s%s%s%s\n", has_words ? NUMBERS : 0, numbers, has_words ? words : "",
                 is_long ? "" : joint, is_long ? "" : reason);
    if (is_long)
        compare_print_wrapped(text, 4, reason);
}

void compare_print_pair_row(struct statement *row, struct key_text *text)
{
    char numbers[400];
    (void)print_numbers(row, numbers, sizeof numbers);
    key_text_say(text, "%s\n", numbers);
    if (statement_is_null(row, DELTA_HALF_WIDTH))
        compare_print_wrapped(text, 4, text_of(row, DELTA_REASON));
}

void compare_print_wrapped(struct key_text *text, int indent, const char *words)
{
    const char *at = words;
    while (*at != '\0') {
        size_t room = (size_t)(COMPARE_LINE - indent);
        size_t length = strlen(at);
        if (length > room) {
            length = room;
            while (length > 0 && at[length] != ' ')
                length--;
            if (length == 0)
                length = strcspn(at, " ");
        }
        key_text_say(text, "%*s%.*s\n", indent, "", (int)length, at);
        at += length;
        at += strspn(at, " ");
    }
}

void compare_print_csv(struct statement *row, struct key_text *text)
{
    for (int i = 0; i < DELTA_COLUMNS; i++) {
        char number[48] = "";
        key_text_say(text, "%s", i > 0 ? "," : "");
        if (delta_columns[i].kind == CSV_TEXT) {
            compare_print_csv_text(text, cell_text(row, (enum delta_column)i));
            continue;
        }
        if (!statement_is_null(row, i))
            (void)number_print(statement_real(row, i), number, sizeof number);
        key_text_say(text, "%s", number);
    }
    key_text_say(text, "\n");
}

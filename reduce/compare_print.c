/* compare_print.c - one delta as text or CSV; see compare_print.h. */
#include "reduce/compare_print.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/number.h"
#include "schema/quantity.h"

const char compare_print_sql[] =
    "SELECT x.facility, x.entry, x.configuration, x.baseline, x.quantity, x.target, x.verdict, "
    "x.reason, x.delta, x.standard_uncertainty, x.degrees_of_freedom, x.half_width, x.lower, "
    "x.upper, x.is_main, x.mountings, x.baseline_mountings, x.real_but_small FROM delta AS x "
    "LEFT JOIN target AS t ON t.target = x.target "
    "LEFT JOIN configuration AS c ON c.configuration = x.configuration "
    "LEFT JOIN configuration AS b ON b.configuration = x.baseline "
    "WHERE (?1 = '' OR x.configuration = ?1 OR x.configuration = ?2) "
    "AND (?3 = '' OR x.quantity = ?3 OR x.quantity = (SELECT quantity FROM metric WHERE metric = "
    "?3)) AND x.facility = ?4 AND x.entry = ?5 "
    "ORDER BY b.sequence, x.baseline, x.is_main DESC, coalesce((SELECT min(sequence) FROM metric "
    "AS m WHERE m.quantity = x.quantity), 1000), x.quantity, "
    "t.sequence IS NOT NULL, t.sequence, x.target, c.sequence, x.configuration";

enum {
    FACILITY,
    ENTRY,
    CONFIGURATION,
    BASELINE,
    QUANTITY,
    TARGET,
    VERDICT,
    REASON,
    TEXTS
};
enum {
    DELTA = TEXTS,
    UNCERTAINTY,
    FREEDOM,
    HALF_WIDTH,
    LOWER,
    UPPER,
    REALS
};
enum {
    IS_MAIN = REALS,
    MOUNTINGS,
    BASELINE_MOUNTINGS,
    REAL_BUT_SMALL
};

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

const char *compare_print_baseline(struct statement *row)
{
    return text_of(row, BASELINE);
}

void compare_print_csv_head(struct key_text *text)
{
    key_text_say(text, "facility,entry,configuration,baseline,quantity,attitude,verdict,reason,"
                       "delta,standard_uncertainty,degrees_of_freedom,half_width,lower,upper,"
                       "is_main,mountings,baseline_mountings,real_but_small\n");
}

void compare_print_family(struct statement *row, struct key_text *text)
{
    key_text_say(text,
                 "%sfacility %s, entry %s: delta = configuration - baseline %s; CL, CLF, CLR "
                 "downforce positive, CD aft positive, balance in %% of downforce on the front "
                 "axle\n"
                 "%-20s %-8s %-3s %-16s %10s +/- %-9s %-7s %s\n",
                 text->length == 0 ? "" : "\n", text_of(row, FACILITY), text_of(row, ENTRY),
                 text_of(row, BASELINE), "configuration", "quantity", "in", "attitude", "delta",
                 "interval", "mounted",
                 "verdict (main measure, simultaneous interval; others exploratory)");
}

void compare_print_text(struct statement *row, struct key_text *text)
{
    char delta[64];
    char half[64];
    const char *quantity = text_of(row, QUANTITY);
    enum quantity known = quantity_from_symbol(quantity);
    const char *verdict = text_of(row, VERDICT);
    const char *reason = text_of(row, REASON);
    int decimals = decimals_of(quantity);
    fixed(statement_real(row, DELTA), decimals, 1, delta, sizeof delta);
    fixed(statement_real(row, HALF_WIDTH), decimals, 0, half, sizeof half);
    key_text_say(text, "%-20s %-8s %-3s %-16s %10s +/- %-9s %3d/%-3d %s%s%s%s\n",
                 text_of(row, CONFIGURATION), quantity,
                 known == QUANTITY_COUNT ? "" : quantity_row(known)->unit, text_of(row, TARGET),
                 delta, half, (int)statement_integer(row, MOUNTINGS),
                 (int)statement_integer(row, BASELINE_MOUNTINGS),
                 statement_integer(row, IS_MAIN) ? "main: " : "", verdict,
                 statement_integer(row, REAL_BUT_SMALL) ? " (real, but small)" : "", reason);
}

static void add_csv_text(struct key_text *text, const char *cell)
{
    if (strpbrk(cell, ",\"\r\n") == NULL) {
        key_text_say(text, "%s,", cell);
        return;
    }
    key_text_say(text, "\"");
    for (const char *c = cell; *c != '\0'; c++)
        key_text_say(text, "%s%c", *c == '"' ? "\"" : "", *c);
    key_text_say(text, "\",");
}

void compare_print_csv(struct statement *row, struct key_text *text)
{
    static const int texts[] = {FACILITY, ENTRY,  CONFIGURATION, BASELINE,
                                QUANTITY, TARGET, VERDICT,       REASON};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        add_csv_text(text, text_of(row, texts[i]));
    for (int i = DELTA; i < REALS; i++) {
        char number[48] = "";
        if (!statement_is_null(row, i))
            (void)number_print(statement_real(row, i), number, sizeof number);
        key_text_say(text, "%s,", number);
    }
    for (int i = IS_MAIN; i < REAL_BUT_SMALL; i++)
        key_text_say(text, "%d,", (int)statement_integer(row, i));
    key_text_say(text, "%d\n", (int)statement_integer(row, REAL_BUT_SMALL));
}

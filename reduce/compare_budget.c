/* compare_budget.c - see compare_budget.h. */
#include "reduce/compare_budget.h"

#include <math.h>

#include "reduce/rows.h"

static const char sql[] =
    "SELECT DISTINCT b.configuration, b.quantity, b.target, b.standard_configuration, "
    "b.standard_delta, b.predicted_scatter, b.observed_scatter, c.sequence FROM budget AS b "
    "LEFT JOIN configuration AS c ON c.configuration = b.configuration "
    "WHERE b.is_main = 1 AND b.facility = ?1 AND b.entry = ?2 "
    "AND (?3 = '' OR b.configuration = ?3 OR b.configuration = ?4 OR (?4 = '' AND b.baseline = "
    "?3)) "
    "AND (?5 = '' OR b.quantity = ?5 OR b.quantity = (SELECT quantity FROM metric WHERE metric = "
    "?5)) AND (?6 = '' OR b.target = ?6) ORDER BY c.sequence, b.configuration";

static void say_head(struct key_text *text, struct statement *row)
{
    key_text_say(
        text,
        "\nstandard uncertainties of %s at %s by the budget of sources;\none must not be used "
        "for the other:\n%-16s %12s %12s\n",
        statement_text(row, 1), statement_text(row, 2), "configuration", "of its value",
        "of its delta");
}

static void say_row(struct key_text *text, struct statement *row)
{
    key_text_say(text, "%-16s %12.2g %12.2g", statement_text(row, 0), statement_real(row, 3),
                 statement_real(row, 4));
    if (!statement_is_null(row, 6))
        key_text_say(text, "   a mounting scatters by %.2g, the budget says %.2g",
                     statement_real(row, 6), statement_real(row, 5));
    key_text_say(text, "\n");
}

static const char *or_empty(const char *text)
{
    return text != NULL ? text : "";
}

enum status compare_budget(struct store *store, const struct compare_request *request,
                           const struct season_entry *entry, struct key_text *text,
                           struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0, n = 0;
    const char *const texts[] = {entry->facility,           entry->entry,
                                 or_empty(request->first),  or_empty(request->second),
                                 or_empty(request->metric), or_empty(request->attitude)};
    enum status status = rows_open(store, sql, texts, 6, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        if (n++ == 0)
            say_head(text, row);
        say_row(text, row);
    }
    statement_free(row);
    return status;
}

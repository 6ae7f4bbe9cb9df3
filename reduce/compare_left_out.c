/* compare_left_out.c - see compare_left_out.h. */
#include "reduce/compare_left_out.h"

#include <stdio.h>
#include <string.h>

#include "reduce/compare_print.h"
#include "reduce/rows.h"

enum { POINTS_LISTED = 12 };

/* A run that was excluded whole is one line. */
static const char points_sql[] =
    "SELECT l.place, l.configuration, l.state, l.rules, l.who, l.decided, l.why, min(p.sequence) "
    "FROM left_out AS l JOIN run AS r ON r.run = l.run "
    "JOIN point AS p ON p.run = l.run AND p.point = l.point "
    "WHERE l.facility = ?1 AND l.entry = ?2 GROUP BY l.run, l.place "
    "ORDER BY r.sequence, min(p.sequence), l.place";

static const char effects_sql[] =
    "SELECT x.configuration, x.quantity, x.target, x.basis, x.delta_with, x.half_width_with, "
    "x.verdict_with, x.delta_without, x.half_width_without, x.verdict_without, x.verdict_differs, "
    "x.points, x.runs FROM exclusion AS x LEFT JOIN target AS t ON t.target = x.target "
    "LEFT JOIN configuration AS c ON c.configuration = x.configuration "
    "WHERE x.facility = ?1 AND x.entry = ?2 AND (?3 = '' OR x.target = ?3) "
    "AND (?4 = '' OR x.configuration IN (?4, ?5) OR (?5 = '' AND x.baseline = ?4)) "
    "AND (x.quantity = ?6 OR x.quantity IN (SELECT quantity FROM metric WHERE metric = ?6) "
    "OR (?6 = '' AND NOT EXISTS (SELECT 1 FROM metric WHERE is_main = 1 AND quantity <> "
    "x.quantity))) "
    "ORDER BY x.is_main DESC, coalesce((SELECT min(sequence) FROM metric AS m WHERE "
    "m.quantity "
    "= x.quantity), 1000), x.quantity, t.sequence IS NOT NULL, t.sequence, x.target, c.sequence, "
    "x.configuration, x.basis";

static void say_point(struct statement *row, struct key_text *text)
{
    int is_run = strchr(statement_text(row, 0), '/') == NULL;
    key_text_say(text, "  %s (%s%s) %s", statement_text(row, 0), statement_text(row, 1),
                 is_run ? ", whole run" : "", statement_text(row, 2));
    if (statement_text(row, 3)[0] != '\0' &&
        strcmp(statement_text(row, 2), statement_text(row, 3)) != 0)
        key_text_say(text, " (rule: %s)", statement_text(row, 3));
    if (statement_text(row, 4)[0] != '\0')
        key_text_say(text, " by %s on %s: %s", statement_text(row, 4), statement_text(row, 5),
                     statement_text(row, 6));
    key_text_say(text, "\n");
}

static enum status say_points(struct store *store, const struct season_entry *entry,
                              struct key_text *text, size_t *n, struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    *n = 0;
    enum status status = rows_open(
        store, points_sql, (const char *const[]){entry->facility, entry->entry}, 2, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        if (*n == 0)
            key_text_say(text, "\nleft out or taken in, and what that changes (%s, %s):\n",
                         entry->facility, entry->entry);
        if (*n < POINTS_LISTED)
            say_point(row, text);
        (*n)++;
    }
    if (*n > POINTS_LISTED)
        key_text_say(text, "  and %zu more; see the view left_out\n", *n - POINTS_LISTED);
    statement_free(row);
    return status;
}

static void say_side(struct statement *row, int column, const char *quantity, struct key_text *text)
{
    char delta[64];
    char half[64];
    const char *verdict = statement_text(row, column + 2);
    compare_print_number(quantity, statement_real(row, column), 1, delta, sizeof delta);
    compare_print_number(quantity, statement_real(row, column + 1), 0, half, sizeof half);
    key_text_say(text, " %s +/- %s%s%s", delta, half, verdict == NULL ? "" : " ",
                 verdict == NULL ? "" : verdict);
}

static void say_effect(struct statement *row, struct key_text *text)
{
    int is_all_in = strcmp(statement_text(row, 3), "all in") == 0;
    const char *quantity = statement_text(row, 1);
    key_text_say(text, "  %-20s %-8s %-16s as it stands", statement_text(row, 0), quantity,
                 statement_text(row, 2));
    say_side(row, 4, quantity, text);
    key_text_say(text, "; %s", is_all_in ? "nothing left out" : "without the decisions");
    say_side(row, 7, quantity, text);
    key_text_say(text, "%s\n", statement_integer(row, 10) ? "  (the verdict differs)" : "");
}

static enum status say_effects(struct store *store, const struct compare_request *request,
                               const struct season_entry *entry, struct key_text *text,
                               struct fault *fault)
{
    const char *const texts[] = {entry->facility,
                                 entry->entry,
                                 request->attitude == NULL ? "" : request->attitude,
                                 request->family != NULL  ? request->family
                                 : request->first == NULL ? ""
                                                          : request->first,
                                 request->second == NULL ? "" : request->second,
                                 request->metric == NULL ? "" : request->metric};
    struct statement *row = NULL;
    size_t n = 0;
    int more = 0;
    enum status status = rows_open(store, effects_sql, texts, 6, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        say_effect(row, text);
        n++;
    }
    if (status == OK && n == 0)
        key_text_say(text, "  no delta of this table changes; report/exclusions.csv has all\n");
    statement_free(row);
    return status;
}

enum status compare_left_out(struct store *store, const struct compare_request *request,
                             const struct season_entry *entry, struct key_text *text,
                             struct fault *fault)
{
    size_t n = 0;
    enum status status = say_points(store, entry, text, &n, fault);
    if (status != OK || n == 0)
        return status;
    return say_effects(store, request, entry, text, fault);
}

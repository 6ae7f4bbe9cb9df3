/* explain_ending.c - the number itself, its target, flags and key; see explain.h. */
#include "reduce/explain.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/decisions.h"
#include "reduce/explain_budget.h"
#include "reduce/groups.h"
#include "reduce/rows.h"

/* Two columns of a result table, by the quantity's name there; the name is ours, never the user's. */
static enum status open_result(const struct explanation *explanation, const char *format,
                               const char *const *texts, size_t n, struct statement **row,
                               struct fault *fault)
{
    static const enum quantity with_uncertainty[] = {QUANTITY_CD,  QUANTITY_CY,  QUANTITY_CL,
                                                     QUANTITY_CLF, QUANTITY_CLR, QUANTITY_BALANCE};
    const char *column = quantity_row(explanation->quantity)->column;
    const char *suffix = NULL;
    char sql[512];
    for (size_t i = 0; i < sizeof with_uncertainty / sizeof with_uncertainty[0]; i++)
        if (with_uncertainty[i] == explanation->quantity)
            suffix = "_u";
    (void)snprintf(sql, sizeof sql, "SELECT t.%s, %s%s%s, %s", column, suffix == NULL ? "" : "t.",
                   suffix == NULL ? "NULL" : column, suffix == NULL ? "" : suffix, format);
    return rows_open(explanation->work.night->store, sql, texts, n, row, fault);
}

/* added: what the uncertainty is, said only when there is one. */
static void say_value(struct key_text *text, struct statement *row, const char *unit,
                      const char *added)
{
    if (statement_is_null(row, 0)) {
        key_text_say(text, "no number");
        return;
    }
    explain_say_number(text, statement_real(row, 0), 10, unit);
    if (!statement_is_null(row, 1))
        key_text_say(text, ", standard uncertainty %.2g %s", statement_real(row, 1), added);
}

/* Whether the point has a flag that a condition of SQL is true for; the first goes to text. */
static enum status find_flag(const struct explanation *explanation, const char *condition,
                             struct key_text *text, int *found, struct fault *fault)
{
    char sql[400];
    struct statement *row = NULL;
    (void)snprintf(sql, sizeof sql,
                   "SELECT rule, detail FROM flag WHERE run = ?1 AND (point = ?2 OR point = '') "
                   "AND %s ORDER BY point DESC, rule LIMIT 1",
                   condition);
    const char *const texts[] = {explanation->work.run->run, explanation->point->point};
    enum status status = rows_open(explanation->work.night->store, sql, texts, 2, &row, fault);
    if (status == OK)
        status = statement_step(row, found, fault);
    if (status == OK && *found && text != NULL)
        key_text_say(text, "%s: %s", statement_text(row, 0), statement_text(row, 1));
    statement_free(row);
    return status;
}

enum status explain_refusal(const struct explanation *explanation, struct fault *fault)
{
    int found = 0;
    key_text_say(explanation->text, "the point is refused by ");
    enum status status = find_flag(
        explanation, "state = 'refused' AND rule NOT IN ('target-refused', 'unbracketed')",
        explanation->text, &found, fault);
    if (status == OK)
        key_text_say(explanation->text, "%s\n", found ? "" : "a flag that is listed below");
    return status;
}

static const char result_sql[] = "t.state, t.q_ratio, t.rule_state FROM point_result AS t JOIN "
                                 "reduction AS d ON d.reduction = t.reduction "
                                 "AND d.is_current = 1 WHERE t.run = ?1 AND t.point = ?2";

static int is_refused(struct statement *row)
{
    return statement_is_null(row, 0) && strcmp(statement_text(row, 2), "refused") == 0;
}

/* *refused is set when the point has no numbers at all. */
static enum status say_result(const struct explanation *explanation, int *refused,
                              struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    const char *const texts[] = {explanation->work.run->run, explanation->point->point};
    struct key_text *text = explanation->text;
    enum status status = open_result(explanation, result_sql, texts, 2, &row, fault);
    if (status == OK)
        status = statement_step(row, &more, fault);
    if (status == OK && more) {
        *refused = is_refused(row);
        key_text_say(text, "\nResult at the attained attitude\n  ");
    }
    if (status == OK && more && *refused) {
        key_text_say(text, "no number: ");
        status = explain_refusal(explanation, fault);
    } else if (status == OK && more) {
        say_value(text, row, quantity_row(explanation->quantity)->unit,
                  "(random, within the point)");
        if (!statement_is_null(row, 3) && statement_real(row, 3) != 1)
            key_text_say(text, "; q_c/q %.8g", statement_real(row, 3));
        key_text_say(text, "; state %s", statement_text(row, 2));
        if (strcmp(statement_text(row, 2), statement_text(row, 4)) != 0)
            key_text_say(text, " (by the rules alone: %s)", statement_text(row, 4));
        key_text_say(text, "\n");
    }
    statement_free(row);
    return status;
}

static enum status say_no_target(const struct explanation *explanation, int refused,
                                 struct fault *fault)
{
    int found = 0;
    enum status status =
        refused ? OK : find_flag(explanation, "rule = 'no-target'", NULL, &found, fault);
    const char *why = "  the point is not brought to a target\n";
    if (refused)
        why = "  none: the point is refused\n";
    else if (found)
        why = "  the point belongs to no declared target\n";
    key_text_say(explanation->text, "%s", why);
    return status;
}

static enum status say_target(const struct explanation *explanation, int refused,
                              struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    const char *const texts[] = {explanation->work.run->run, explanation->point->point};
    struct key_text *text = explanation->text;
    enum status status =
        open_result(explanation,
                    "t.target, t.method, t.is_used, t.reason FROM target_result AS t JOIN "
                    "reduction AS d ON d.reduction "
                    "= t.reduction AND d.is_current = 1 WHERE t.run = ?1 AND t.point = ?2",
                    texts, 2, &row, fault);
    if (status == OK)
        status = statement_step(row, &more, fault);
    key_text_say(text, "\nTarget\n");
    if (status == OK && !more)
        status = say_no_target(explanation, refused, fault);
    if (status == OK && more) {
        key_text_say(text, "  %s, %s: ", statement_text(row, 2), statement_text(row, 3));
        say_value(text, row, quantity_row(explanation->quantity)->unit, "added by the step");
        key_text_say(text, "; %s",
                     statement_integer(row, 4) ? "compared there" : "not compared there");
        if (statement_text(row, 5)[0] != '\0')
            key_text_say(text, ": %s", statement_text(row, 5));
        key_text_say(text, "\n");
    }
    statement_free(row);
    return status;
}

/* The decision that holds for the point; nothing is said where nobody decided. */
static void say_decision(const struct explanation *explanation)
{
    const struct decision_row *decision = decision_for(
        &explanation->work.night->decisions, explanation->work.run->run, explanation->point->point);
    if (decision == NULL)
        return;
    key_text_say(explanation->text, "\nDecision\n  %s%s, by %s on %s: %s\n",
                 decision_name(decision->decision),
                 decision->point[0] == '\0' ? " the whole run" : "", decision->who,
                 decision->decided, decision->why);
}

static enum status say_flags(const struct explanation *explanation, struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    size_t n = 0;
    const char *const texts[] = {explanation->work.run->run, explanation->point->point};
    struct key_text *text = explanation->text;
    enum status status =
        rows_open(explanation->work.night->store,
                  "SELECT state, rule, subject, detail, point FROM flag WHERE run = ?1 AND "
                  "(point = ?2 OR point = '') ORDER BY point, rule, subject, detail",
                  texts, 2, &row, fault);
    key_text_say(text, "\nFlags of the point and its run\n");
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        key_text_say(text, "  %s %s%s%s: %s%s\n", statement_text(row, 0), statement_text(row, 1),
                     statement_text(row, 2)[0] == '\0' ? "" : " ", statement_text(row, 2),
                     statement_text(row, 4)[0] == '\0' ? "(whole run) " : "",
                     statement_text(row, 3));
        n++;
    }
    if (status == OK && n == 0)
        key_text_say(text, "  none\n");
    statement_free(row);
    return status;
}

/* The inputs line by line: a piece of text of any length must not be cut. */
static void say_lines(struct key_text *text, const char *lines)
{
    while (*lines != '\0') {
        size_t length = strcspn(lines, "\n");
        key_text_say(text, "  %.*s\n", (int)length, lines);
        lines += length + (lines[length] == '\n');
    }
}

static enum status say_key(const struct explanation *explanation, struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    key_text_say(explanation->text, "\nReduction key %s\n", explanation->key);
    if (!explanation->with_inputs) {
        key_text_say(explanation->text, "  --inputs prints everything it is the SHA-256 of\n");
        return OK;
    }
    key_text_say(explanation->text, "is the SHA-256 of these inputs:\n");
    enum status status =
        statement_prepare(explanation->work.night->store,
                          "SELECT inputs FROM reduction WHERE reduction = ?1", &row, fault);
    if (status == OK)
        status = statement_bind_integer(row, 1, explanation->reduction, fault);
    if (status == OK)
        status = statement_step(row, &more, fault);
    if (status == OK && more && statement_text(row, 0) != NULL)
        say_lines(explanation->text, statement_text(row, 0));
    statement_free(row);
    return status;
}

enum status explain_ending(const struct explanation *explanation, struct fault *fault)
{
    enum status status = OK;
    int refused = 0;
    if (explanation->tap == NULL) {
        status = say_result(explanation, &refused, fault);
        if (status == OK)
            status = say_target(explanation, refused, fault);
        if (status == OK && !refused)
            status = explain_budget(explanation, fault);
    }
    if (status == OK) {
        say_decision(explanation);
        status = say_flags(explanation, fault);
    }
    return status == OK ? say_key(explanation, fault) : status;
}

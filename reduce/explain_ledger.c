/* explain_ledger.c - the steps of a number with their formulas; see explain.h. */
#include "reduce/explain.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/rows.h"

/* Load and freestream steps are shown whole; of the coefficients the ones the number is made of. */
static int is_shown(const struct explanation *explanation, const char *quantity)
{
    static const struct {
        enum quantity of;
        const char *parts[3];
    } made_of[] = {
        {QUANTITY_BALANCE, {"balance", "CL", "CLF"}}, {QUANTITY_LD, {"L/D", "CL", "CD"}},
        {QUANTITY_CDA, {"CDA", "CD", "CD"}},          {QUANTITY_CLA, {"CLA", "CL", "CL"}},
        {QUANTITY_CLF, {"CLF", "CL", "CPM"}},         {QUANTITY_CLR, {"CLR", "CL", "CPM"}},
    };
    if (quantity_from_symbol(quantity) == QUANTITY_COUNT)
        return 1;
    if (explanation->tap != NULL)
        return 0;
    for (size_t i = 0; i < sizeof made_of / sizeof made_of[0]; i++)
        for (int k = 0; made_of[i].of == explanation->quantity && k < 3; k++)
            if (strcmp(made_of[i].parts[k], quantity) == 0)
                return 1;
    return strcmp(quantity_row(explanation->quantity)->symbol, quantity) == 0;
}

static void say_change(struct key_text *text, double change)
{
    if (change == 0)
        key_text_say(text, "   no change");
    else
        key_text_say(text, "   change %+.6g", change);
}

static void say_row(const struct explanation *explanation, struct statement *row)
{
    struct key_text *text = explanation->text;
    key_text_say(text, "    %-8s ", statement_text(row, 1));
    explain_say_number(text, statement_is_null(row, 3) ? (double)NAN : statement_real(row, 3), 10,
                       statement_text(row, 2));
    if (!statement_is_null(row, 4) && !statement_is_null(row, 3))
        say_change(text, statement_real(row, 3) - statement_real(row, 4));
    key_text_say(text, "\n");
}

static const char ledger_sql[] =
    "SELECT l.step, l.quantity, l.unit, l.value, "
    "(SELECT b.value FROM ledger_row AS b WHERE b.reduction = l.reduction AND b.point = l.point "
    " AND b.quantity = l.quantity AND b.sequence < l.sequence ORDER BY b.sequence DESC LIMIT 1) "
    "FROM ledger_row AS l WHERE l.reduction = ?1 AND l.point = ?2 "
    "ORDER BY l.sequence, l.quantity";

/* Corrections that the steps above do not hold, and why. */
static void say_not_applied(const struct explanation *explanation)
{
    const struct facility *facility = explanation->work.recipe.facility;
    struct key_text *text = explanation->text;
    if (!explanation->has_recipe)
        return;
    if (facility->corrected == CORRECTED_YES)
        key_text_say(text, "  already corrected by the facility: buoyancy and blockage not "
                           "applied\n");
    else if (facility->corrected == CORRECTED_UNKNOWN)
        key_text_say(text, "  already_corrected is unknown: buoyancy and blockage not applied\n");
    if (facility->corrected != CORRECTED_NO)
        return;
    if (facility->buoyancy == BUOYANCY_NONE)
        key_text_say(text, "  buoyancy: declared none\n");
    if (facility->blockage == NULL || strcmp(facility->blockage, "none") == 0)
        key_text_say(text, "  blockage: declared none\n");
}

/* How far a boundary correction is known to hold, and what of it is not verified. */
static enum status say_evidence(const struct explanation *explanation, const char *step,
                                struct fault *fault)
{
    const char *const texts[] = {explanation->work.run->facility, step};
    struct key_text *text = explanation->text;
    struct statement *row = NULL;
    int more = 0;
    enum status status =
        rows_open(explanation->work.night->store,
                  "SELECT evidence, source, not_verified, found FROM correction_method "
                  "WHERE facility = ?1 AND step = ?2",
                  texts, 2, &row, fault);
    if (status == OK)
        status = statement_step(row, &more, fault);
    if (status == OK && more) {
        key_text_say(text, "    known to hold for: %s\n    source: %s\n", statement_text(row, 0),
                     statement_text(row, 1));
        if (statement_text(row, 2)[0] != '\0')
            key_text_say(text, "    not verified against the paper: %s\n", statement_text(row, 2));
        if (statement_text(row, 3)[0] != '\0')
            key_text_say(text, "    found: %s\n", statement_text(row, 3));
    }
    statement_free(row);
    return status;
}

static enum status say_steps(const struct explanation *explanation, struct statement *row,
                             struct fault *fault)
{
    enum status status = OK;
    char step[64] = "";
    char formula[700];
    int more = 0;
    while ((status = statement_step(row, &more, fault)) == OK && more) {
        const char *name = statement_text(row, 0);
        if (!is_shown(explanation, statement_text(row, 1)))
            continue;
        if (strcmp(step, name) != 0) {
            explain_formula(explanation, name, formula, sizeof formula);
            key_text_say(explanation->text, "  %s: %s\n", name, formula);
            status = say_evidence(explanation, name, fault);
        }
        if (status != OK)
            return status;
        (void)snprintf(step, sizeof step, "%s", name);
        say_row(explanation, row);
    }
    if (status == OK && step[0] == '\0')
        key_text_say(explanation->text, "  none was done\n");
    return status;
}

enum status explain_ledger(const struct explanation *explanation, struct fault *fault)
{
    struct statement *row = NULL;
    enum status status = statement_prepare(explanation->work.night->store, ledger_sql, &row, fault);
    if (status == OK)
        status = statement_bind_integer(row, 1, explanation->reduction, fault);
    if (status == OK)
        status = statement_bind_text(row, 2, explanation->point->point, fault);
    key_text_say(explanation->text, "\nSteps\n");
    if (status == OK)
        status = say_steps(explanation, row, fault);
    if (status == OK)
        say_not_applied(explanation);
    statement_free(row);
    return status;
}

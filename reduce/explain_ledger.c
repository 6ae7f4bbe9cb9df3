/* explain_ledger.c - the steps of a number with their formulas; see explain.h. */
#include "reduce/explain.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/rows.h"

/* What each step does, in words. */
static const struct {
    const char *step;
    const char *formula;
} formulas[] = {
    {"zero", "output minus its zero, the zero linear in time between before and after"},
    {"balance", "loads from outputs, F_i = sum A_ij R_j + sum B_ijk R_j R_k, balance axes"},
    {"weight tare", "minus the loads of the weight tare at this attitude"},
    {"transfer", "to car axes and to the ground at mid-wheelbase, M_O = M_P + r x F"},
    {"freestream", "M^2 = 5 [(p0/p)^(2/7) - 1], q = 0.7 p M^2, rho of moist air (CIPM-2007)"},
    {"raw", "C = F/(q A), moments also by the wheelbase; CL = -Fz/(q A); CLF = CL/2 - CPM, "
            "CLR = CL/2 + CPM"},
    {"buoyancy", "minus the drag of the section's pressure gradient, -(dCp/dx) G V/A"},
    {"blockage", "divided by q_c/q of the blockage family"},
    {"corrected", "balance = 100 CLF/CL, L/D = CL/CD, CDA = CD A, CLA = CL A"},
};

static const char *formula_of(const char *step)
{
    for (size_t i = 0; i < sizeof formulas / sizeof formulas[0]; i++)
        if (strcmp(formulas[i].step, step) == 0)
            return formulas[i].formula;
    return "";
}

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

static void say_row(const struct explanation *explanation, struct statement *row)
{
    struct key_text *text = explanation->text;
    key_text_say(text, "    %-8s", statement_text(row, 1));
    if (statement_is_null(row, 3))
        key_text_say(text, " n/a");
    else
        key_text_say(text, " %.10g %s", statement_real(row, 3), statement_text(row, 2));
    if (!statement_is_null(row, 4) && !statement_is_null(row, 3))
        key_text_say(text, "   change %+.6g", statement_real(row, 3) - statement_real(row, 4));
    key_text_say(text, "\n");
}

static const char ledger_sql[] =
    "SELECT l.step, l.quantity, l.unit, l.value, "
    "(SELECT b.value FROM ledger_row AS b WHERE b.reduction = l.reduction AND b.point = l.point "
    " AND b.quantity = l.quantity AND b.sequence < l.sequence ORDER BY b.sequence DESC LIMIT 1) "
    "FROM ledger_row AS l WHERE l.reduction = ?1 AND l.point = ?2 "
    "ORDER BY l.sequence, l.quantity";

enum status explain_ledger(const struct explanation *explanation, struct fault *fault)
{
    struct statement *row = NULL;
    char step[64] = "";
    int more = 0;
    enum status status = statement_prepare(explanation->work.night->store, ledger_sql, &row, fault);
    if (status == OK)
        status = statement_bind_integer(row, 1, explanation->reduction, fault);
    if (status == OK)
        status = statement_bind_text(row, 2, explanation->point->point, fault);
    key_text_say(explanation->text, "\nSteps\n");
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        const char *name = statement_text(row, 0);
        if (strcmp(step, name) != 0)
            key_text_say(explanation->text, "  %s: %s\n", name, formula_of(name));
        (void)snprintf(step, sizeof step, "%s", name);
        if (is_shown(explanation, statement_text(row, 1)))
            say_row(explanation, row);
    }
    statement_free(row);
    return status;
}

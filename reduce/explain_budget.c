/* explain_budget.c - see explain_budget.h. */
#include "reduce/explain_budget.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/budget_rows.h"
#include "reduce/point_quantities.h"
#include "reduce/rows.h"

struct told {
    const struct explanation *explanation;
    size_t output;
    struct budget_list list;
    struct point_budget budget;
    struct budget_sum sum;
};

static const char total_sql[] =
    "SELECT u.standard, u.degrees_of_freedom, u.repeatability, u.method, b.contributions, b.untold "
    "FROM point_uncertainty AS u JOIN point_budget AS b ON b.reduction = u.reduction AND b.run = "
    "u.run AND b.point = u.point JOIN reduction AS d ON d.reduction = u.reduction AND d.is_current "
    "= 1 WHERE u.run = ?1 AND u.point = ?2 AND u.quantity = ?3";

/* "0.0123", and "(12.3 counts)" where the quantity is counted. */
static void say_size(const struct explanation *explanation, double value)
{
    const struct quantity_row *row = quantity_row(explanation->quantity);
    explain_say_number(explanation->text, value, 2, row->unit);
    if (row->in_counts)
        key_text_say(explanation->text, " (%.2g counts)",
                     value / count_size(explanation->work.night->campaign));
}

static void say_total(const struct explanation *explanation, struct statement *row)
{
    struct key_text *text = explanation->text;
    key_text_say(text, "\nUncertainty by the budget of sources\n  standard uncertainty ");
    say_size(explanation, statement_real(row, 0));
    if (statement_is_null(row, 1))
        key_text_say(text, ", all of it known");
    else
        key_text_say(text, ", %.3g degrees of freedom", statement_real(row, 1));
    key_text_say(text, ", by %s; of it the next run would draw anew ", statement_text(row, 3));
    say_size(explanation, statement_real(row, 2));
    key_text_say(text, "\n  This is of the number itself. A delta shares much of it with its "
                       "baseline: see the view budget, never this.\n");
}

static int is_same_source(const struct budget_list *list, size_t a, size_t b)
{
    return strcmp(list->source[a].name, list->source[b].name) == 0 &&
           list->source[a].reach == list->source[b].reach;
}

static void say_source(const struct told *told, size_t first, double variance)
{
    const struct budget_list *list = &told->list;
    struct key_text *text = told->explanation->text;
    double own = 0, net = 0, least = (double)INFINITY;
    for (size_t i = 0; i < first; i++)
        if (is_same_source(list, i, first))
            return;
    for (size_t i = first; i < BUDGET_PLACES; i++) {
        if (!is_same_source(list, first, i))
            continue;
        own += told->sum.own[i];
        net += told->sum.net[i];
        if (told->sum.own[i] > 0)
            least = fmin(least, told->budget.freedom[i]);
    }
    if (!(own > 0))
        return;
    key_text_say(text, "    %-32.60s %-13s ", list->source[first].name,
                 budget_reach_word(first, list->source[first].reach));
    say_size(told->explanation, sqrt(own));
    key_text_say(text, ", share %.1f %%", variance > 0 ? 100 * net / variance : 0);
    if (isfinite(least))
        key_text_say(text, ", %.3g degrees of freedom", least);
    key_text_say(text, "\n");
}

static void say_sources(struct told *told)
{
    double column[BUDGET_PLACES], variance = 0;
    told->sum =
        budget_sum_begin(told->list.term, budget_list_correlation(&told->list), BUDGET_PLACES);
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        column[i] = told->budget.contribution[i][told->output];
    budget_sum_add(&told->sum, column, told->budget.freedom);
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        variance += told->sum.net[i];
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        say_source(told, i, variance);
}

static enum status say_row(struct told *told, struct statement *row, struct fault *fault)
{
    size_t size = 0;
    say_total(told->explanation, row);
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        told->budget.freedom[i] = (double)INFINITY;
    const void *bytes = statement_blob(row, 4, &size);
    enum status status = budget_blob_read(bytes, size, &told->budget, fault);
    if (status != OK)
        return status;
    say_sources(told);
    if (statement_text(row, 5) != NULL && statement_text(row, 5)[0] != '\0')
        key_text_say(told->explanation->text, "    not in it, no effect is told here: %s\n",
                     statement_text(row, 5));
    return OK;
}

enum status explain_budget(const struct explanation *explanation, struct fault *fault)
{
    struct told told = {.explanation = explanation};
    const struct run_work *work = &explanation->work;
    struct statement *row = NULL;
    int found = 0;
    told.output = uncertain_output(explanation->quantity);
    if (explanation->tap != NULL || told.output == UNCERTAIN_OUTPUTS)
        return OK;
    budget_list_begin(work->night->campaign, work->run->facility, &told.list);
    const char *const texts[] = {work->run->run, explanation->point->point,
                                 quantity_row(explanation->quantity)->symbol};
    enum status status = rows_open(work->night->store, total_sql, texts, 3, &row, fault);
    if (status == OK)
        status = statement_step(row, &found, fault);
    if (status == OK && found)
        status = say_row(&told, row, fault);
    statement_free(row);
    return status;
}

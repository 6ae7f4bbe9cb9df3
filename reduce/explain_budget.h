/* explain_budget.h - what one number is uncertain by, source by source; a part of explain.h. */
#ifndef LAPWING_EXPLAIN_BUDGET_H
#define LAPWING_EXPLAIN_BUDGET_H

#include "reduce/explain.h"

/* Appends the budget that the uncertainty stage left of the point; nothing for a tap, for a quantity that has no
 * budget, or for a point that has none. */
enum status explain_budget(const struct explanation *explanation, struct fault *fault);

#endif

/* compare_budget.h - absolute and delta uncertainty side by side, below the deltas of an entry. */
#ifndef LAPWING_COMPARE_BUDGET_H
#define LAPWING_COMPARE_BUDGET_H

#include "reduce/compare_table.h"

/* Appends a line a configuration with the two standard uncertainties of the main measure by the budget of sources,
 * and that neither stands for the other; nothing where the request leaves the main measure out, or there is no
 * budget. */
enum status compare_budget(struct store *store, const struct compare_request *request,
                           const struct season_entry *entry, struct key_text *text,
                           struct fault *fault);

#endif

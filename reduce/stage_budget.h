/* stage_budget.h - absolute and delta uncertainty of one family side by side, source by source, and whether what
 * the budget says of one mounting is like what mountings scatter by. After the comparison, whose noise it
 * reads. Writes delta_uncertainty, delta_budget and the flag budget-unlike-scatter.                 */
#ifndef LAPWING_STAGE_BUDGET_H
#define LAPWING_STAGE_BUDGET_H

#include "reduce/groups.h"

enum status stage_budget(const struct night *night, const struct run_group *group, int *fresh,
                         struct fault *fault);

#endif

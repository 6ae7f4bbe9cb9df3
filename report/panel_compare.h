/* panel_compare.h - the parts of a comparison's page that read the tables of schema/asked.h. */
#ifndef LAPWING_REPORT_PANEL_COMPARE_H
#define LAPWING_REPORT_PANEL_COMPARE_H

#include "report/panel_derived.h"

/* What was found, in a sentence or a few. */
enum status compare_headline(struct html *page, const struct derived_scope *scope,
                             struct fault *fault);
/* Every delta with its interval drawn, by quantity on one scale. */
enum status compare_deltas(struct html *page, const struct derived_scope *scope,
                           struct fault *fault);
/* The judged deltas without some of the night. */
enum status compare_variants(struct html *page, const struct derived_scope *scope,
                             struct fault *fault);
/* The deltas that would be others with everything taken in, or by the rules alone. */
enum status compare_left_out_panel(struct html *page, const struct derived_scope *scope,
                                   struct fault *fault);
/* Signs, rules and what it was made by. */
enum status compare_method(struct html *page, const struct derived_scope *scope,
                           struct fault *fault);

#endif

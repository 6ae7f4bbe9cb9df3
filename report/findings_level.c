/* findings_level.c - where the baselines stand in the main measure; see findings.h. */
#include "report/findings.h"

#include <string.h>

static enum status take_level(struct statement *row, void *context, struct fault *fault)
{
    struct findings *findings = context;
    const char *baseline = statement_text(row, 0);

    (void)fault;
    for (size_t i = 0; i < findings->n_configurations; i++)
        if (strcmp(findings->configurations[i].baseline, baseline) == 0)
            findings->configurations[i].baseline_level = statement_real(row, 1);
    return OK;
}

enum status findings_read_levels(struct store *store, struct findings *findings,
                                 struct fault *fault)
{
    const char *texts[] = {findings->n_metrics > 0 ? findings->metrics[0].quantity : "",
                           findings->target, NULL};

    return query_each(store,
                      "SELECT o.configuration, avg(o.value) FROM observation AS o JOIN "
                      "page_reduction AS d USING (reduction) WHERE o.quantity = ?1 AND o.target = "
                      "?2 GROUP BY o.configuration ORDER BY o.configuration",
                      texts, take_level, findings, fault);
}

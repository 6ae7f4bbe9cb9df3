/* findings.c - order and looks; see findings.h. Reading is in findings_read.c. */
#include "report/findings.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const struct finding_configuration *findings_configuration(const struct findings *findings,
                                                           const char *name)
{
    for (size_t i = 0; i < findings->n_configurations; i++)
        if (strcmp(findings->configurations[i].name, name) == 0)
            return &findings->configurations[i];
    return NULL;
}

const struct finding_configuration *findings_baseline(const struct findings *findings)
{
    for (size_t i = 0; i < findings->n_leading; i++)
        if (findings->configurations[i].is_baseline)
            return &findings->configurations[i];
    return NULL;
}

struct finding_points findings_points(const struct findings *findings)
{
    struct finding_points points = {0, 0};

    for (size_t i = 0; i < findings->n_configurations; i++) {
        points.all += findings->configurations[i].points.all;
        points.refused += findings->configurations[i].points.refused;
    }
    return points;
}

const char *findings_hangs_on(const struct finding_configuration *configuration)
{
    if (configuration->variants == 0 || configuration->deltas[0].verdict[0] == '\0')
        return "";
    if (configuration->all_in_differs)
        return "what was left out";
    return 2 * configuration->variants_same < configuration->variants ? "single runs" : "";
}

int findings_has_others(const struct findings *findings)
{
    for (size_t i = 0; i < findings->n_configurations; i++)
        if (!findings->configurations[i].is_baseline)
            return 1;
    return 0;
}

/* Without a direction of "better" the reading orders, then the size. */
static double score_by_verdict(const struct finding_delta *delta)
{
    double size = fabs(delta->delta);

    if (strcmp(delta->verdict, "loss") == 0)
        return -size;
    return size;
}

/* By how much the goal is nearer than it is to the baseline: a larger change may overshoot it. */
static double nearer_by(const struct finding_metric *metric, const struct finding_configuration *at)
{
    double from = at->baseline_level - metric->toward;

    return fabs(from) - fabs(from + at->deltas[0].delta);
}

double findings_score(const struct findings *findings,
                      const struct finding_configuration *configuration)
{
    const struct finding_delta *delta = &configuration->deltas[0];
    const char *better = findings->n_metrics > 0 ? findings->metrics[0].better : "";

    if (configuration->is_baseline)
        return 0;
    if (!delta->is_there || !isfinite(delta->delta))
        return -INFINITY;
    if (strcmp(better, "higher") == 0)
        return delta->delta;
    if (strcmp(better, "lower") == 0)
        return -delta->delta;
    if (strcmp(better, "toward") == 0 && isfinite(configuration->baseline_level))
        return nearer_by(&findings->metrics[0], configuration);
    return score_by_verdict(delta);
}

const char *findings_target_words(const struct findings *findings)
{
    if (strcmp(findings->target, "weighted") == 0)
        return "the weighted mean of the attitudes";
    return findings->target;
}

void findings_end(struct findings *findings)
{
    text_pool_free(&findings->texts);
    entries_end(&findings->entries);
    free(findings->configurations);
    *findings = (struct findings){0};
}

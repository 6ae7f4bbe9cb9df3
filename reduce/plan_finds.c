/* plan_finds.c - see plan_finds.h. */
#include "reduce/plan_finds.h"

#include <math.h>

#include "reduce/statistics/student.h"

struct plan_find plan_find(const struct planned_night *night, const struct plan_metric *metric,
                           size_t configuration)
{
    static const char *const sources[] = {[VARIANCE_NOBODYS] = "not known",
                                          [VARIANCE_TONIGHTS] = "tonight's own",
                                          [VARIANCE_SEASONS] = "the season's"};
    struct variance_estimate used;
    struct plan_find find = {(double)NAN, (double)NAN,         (double)NAN,
                             (double)NAN, night->plan.freedom, sources[VARIANCE_NOBODYS]};
    if (!(metric->before.freedom > 0))
        return find;
    find.source = sources[night_plan_noise(&night->plan, metric->before, &used)];
    find.freedom = used.freedom;
    find.noise = sqrt(used.variance);
    find.least = night_plan_detectable(&night->plan, configuration, metric->before, metric->is_main,
                                       night->request.assurance);
    double multiplier =
        metric->is_main
            ? night->plan.simultaneous
            : student_multiplier(1 - night->request.assurance.significance, used.freedom);
    find.half_width = multiplier * find.noise * sqrt(night->plan.factor[configuration]);
    return find;
}

struct plan_pairs plan_pairs(const struct planned_night *night, size_t row)
{
    static const size_t pairs[PLAN_PAIR_ROWS] = {1, 2, 3, 4, 5, 6, 8, 10};
    size_t n = pairs[row];
    struct variance_estimate before = {1, plan_main_metric(night)->before.freedom};
    struct variance_estimate own = {1, (double)n - 1};
    return (struct plan_pairs){
        n, detectable_difference(before, 2 / (double)n, night->request.assurance),
        detectable_difference(own, 2 / (double)n, night->request.assurance)};
}

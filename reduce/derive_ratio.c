/* derive_ratio.c - what a change of drag brings in downforce: delta CL over delta CD. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "reduce/derive_work.h"
#include "reduce/statistics/fieller.h"
#include "reduce/statistics/student.h"

static const char *kind_word(enum fieller_kind kind)
{
    static const char *const words[] = {[FIELLER_INTERVAL] = "interval",
                                        [FIELLER_OUTSIDE] = "outside",
                                        [FIELLER_EVERYTHING] = "everything",
                                        [FIELLER_NONE] = "none"};
    return words[kind];
}

/* Said where there is no single interval. */
static const char *kind_reason(enum fieller_kind kind)
{
    static const char *const words[] = {
        [FIELLER_INTERVAL] = "",
        [FIELLER_OUTSIDE] = "only what lies between is excluded: the change of CD may be 0",
        [FIELLER_EVERYTHING] = "any ratio is possible: the change of CD may be 0",
        [FIELLER_NONE] = "no interval: the correlation of both changes is not known"};
    return words[kind];
}

static enum status write_ratio(struct derive_work *work, size_t configuration,
                               const struct fieller *ratio, double correlation, double multiplier,
                               double freedom, const char *reason, struct fault *fault)
{
    const struct family *family = &work->family;
    const char *const texts[] = {family->configurations[configuration], family->configurations[0],
                                 family->measures[work->measuring.measure], kind_word(ratio->kind),
                                 reason};
    const double reals[] = {ratio->ratio, ratio->lower, ratio->upper,
                            correlation,  freedom,      multiplier};
    return derive_write(work, work->ratio, texts, 5, reals, 6, fault);
}

/* Two deltas without an interval still have a ratio. */
static enum status write_bare(struct derive_work *work, size_t configuration,
                              const struct delta_reading *up, const struct delta_reading *down,
                              struct fault *fault)
{
    const double nothing = (double)NAN;
    struct fieller bare = {FIELLER_NONE, nothing, nothing, nothing};
    const char *reason = up->reason[0] != '\0' ? up->reason : down->reason;
    if (isfinite(up->delta) && isfinite(down->delta) && down->delta != 0)
        bare.ratio = up->delta / down->delta;
    return write_ratio(work, configuration, &bare, nothing, nothing, nothing, reason, fault);
}

static enum status write_row(struct derive_work *work, const struct measured_deltas *up,
                             const struct measured_deltas *down, const double *crossed,
                             size_t configuration, struct fault *fault)
{
    size_t at = configuration * up->n + configuration;
    const struct delta_reading *a = &up->readings[configuration];
    const struct delta_reading *b = &down->readings[configuration];
    if (isnan(a->delta) && isnan(b->delta))
        return OK;
    if (!measured_delta_is_known(up, configuration) ||
        !measured_delta_is_known(down, configuration))
        return write_bare(work, configuration, a, b, fault);
    double freedom = fmin(a->degrees_of_freedom, b->degrees_of_freedom);
    double multiplier = student_multiplier(work->measuring.confidence, freedom);
    double covariance = crossed[at] / 2;
    struct fieller ratio = fieller_interval(a->delta, b->delta, up->covariance[at],
                                            down->covariance[at], covariance, multiplier);
    if (ratio.kind == FIELLER_NONE && b->delta != 0)
        ratio.ratio = a->delta / b->delta;
    double correlation = covariance / (a->standard_uncertainty * b->standard_uncertainty);
    return write_ratio(work, configuration, &ratio, correlation, multiplier, freedom,
                       kind_reason(ratio.kind), fault);
}

enum status derive_ratios(struct derive_work *work, struct fault *fault)
{
    const struct measured_deltas *up = NULL;
    const struct measured_deltas *down = NULL;
    double *crossed = NULL;
    enum status status = derive_deltas(work, QUANTITY_CL, &up, fault);
    if (status == OK)
        status = derive_deltas(work, QUANTITY_CD, &down, fault);
    if (status == OK)
        status = measured_deltas_cross(&work->measuring, QUANTITY_CL, QUANTITY_CD, up, down,
                                       &crossed, fault);
    for (size_t i = 1; status == OK && i < work->family.n_configurations; i++)
        status = write_row(work, up, down, crossed, i, fault);
    free(crossed);
    return status;
}

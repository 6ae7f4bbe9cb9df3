/* point_budget.c - see point_budget.h. */
#include "reduce/point_budget.h"

#include <math.h>
#include <string.h>

#include "reduce/budget_scatter.h"
#include "reduce/statistics/uncertainty_trials.h"

const unsigned long budget_seed = 1;

enum {
    SOURCES_MAX = UNCERTAINTY_SOURCES_MAX,
    BASICS = 5, /* CD CY CL CLF CLR */
    OUT_CD = 0,
    OUT_CL = 2,
    OUT_CLF = 3,
    OUT_BALANCE = 5,
    OUT_LD,
    OUT_CDA,
    OUT_CLA
};

/* A channel that adds less than this share of the largest's variance says nothing of the freedom. */
static const double COUNTS = 0.01;

/* All sources of one point: those with a place, then the channels. */
struct errors {
    struct error_source source[SOURCES_MAX];
    size_t place[SOURCES_MAX]; /* of those before placed */
    size_t placed, n;
    double contribution[SOURCES_MAX * UNCERTAIN_OUTPUTS], bend[SOURCES_MAX * UNCERTAIN_OUTPUTS];
    double correlation[SOURCES_MAX * SOURCES_MAX];
    struct scatter_list scatter;
};

void budget_derive(const double value[UNCERTAIN_OUTPUTS], double area,
                   double contribution[UNCERTAIN_OUTPUTS])
{
    double cd = value[OUT_CD], cl = value[OUT_CL], clf = value[OUT_CLF];
    double of_cd = contribution[OUT_CD], of_cl = contribution[OUT_CL];
    contribution[OUT_BALANCE] =
        value[OUT_BALANCE] == 0 ? 0 : 100 * (contribution[OUT_CLF] / cl - clf * of_cl / (cl * cl));
    contribution[OUT_LD] = value[OUT_LD] == 0 ? 0 : of_cl / cd - cl * of_cd / (cd * cd);
    contribution[OUT_CDA] = area * of_cd;
    contribution[OUT_CLA] = area * of_cl;
}

/* One source alone, or all of them. */
static enum outcome step(const struct uncertain_point *point, const struct error_source *sources,
                         size_t n, double *contribution, double *bend)
{
    const struct measured_point measured = {uncertain_point_find, point, UNCERTAIN_INPUTS,
                                            UNCERTAIN_OUTPUTS};
    const struct error_budget budget = {sources, n, NULL};
    return uncertainty_contributions(&measured, point->nominal, &budget, contribution, bend);
}

static enum outcome list_errors(const struct budget_request *request, struct errors *errors,
                                struct point_budget *made)
{
    const struct uncertain_point *point = request->point;
    for (size_t i = 0; i < BUDGET_PLACES; i++) {
        const struct budget_source *from = &request->list->source[i];
        if (!(from->standard > 0))
            continue;
        made->is_untold[i] = !point->is_there[from->input];
        if (made->is_untold[i])
            continue;
        if (errors->n + SCATTER_CHANNELS_MAX > SOURCES_MAX)
            return OUTCOME_SINGULAR;
        errors->place[errors->n] = i;
        errors->source[errors->n++] =
            (struct error_source){(size_t)from->input, from->standard, from->is_relative,
                                  from->freedom,       from->reach,    from->shape};
    }
    errors->placed = errors->n;
    scatter_list_make(request->work, request->row, point, &errors->scatter);
    for (size_t i = 0; i < errors->scatter.n; i++)
        errors->source[errors->n++] = errors->scatter.source[i];
    return OUTCOME_OK;
}

/* A step without an answer leaves out its own source and no other. */
static void step_each(const struct uncertain_point *point, struct errors *errors,
                      struct point_budget *made)
{
    size_t n = 0, placed = 0, channels = 0;
    for (size_t i = 0; i < errors->n; i++) {
        size_t at = n * UNCERTAIN_OUTPUTS;
        int is_placed = i < errors->placed;
        if (step(point, &errors->source[i], 1, &errors->contribution[at], &errors->bend[at]) !=
            OUTCOME_OK) {
            if (is_placed)
                made->is_untold[errors->place[i]] = 1;
            continue;
        }
        if (is_placed)
            errors->place[placed++] = errors->place[i];
        else
            errors->scatter.channel[channels++] = errors->scatter.channel[i - errors->placed];
        errors->source[n++] = errors->source[i];
    }
    errors->n = n;
    errors->placed = placed;
    errors->scatter.n = channels;
}

static enum outcome collect(const struct budget_request *request, struct errors *errors,
                            struct point_budget *made)
{
    enum outcome outcome = list_errors(request, errors, made);
    if (outcome == OUTCOME_OK && step(request->point, errors->source, errors->n,
                                      errors->contribution, errors->bend) != OUTCOME_OK)
        step_each(request->point, errors, made);
    return outcome;
}

static double correlation_of(const struct budget_request *request, const struct errors *errors,
                             size_t i, size_t j)
{
    size_t placed = errors->placed;
    if (i == j)
        return 1;
    if (i < placed && j < placed)
        return request->list->correlation[errors->place[i] * BUDGET_PLACES + errors->place[j]];
    if (i < placed || j < placed)
        return 0;
    return scatter_correlation(request->work, request->row, &errors->scatter, i - placed,
                               j - placed);
}

static void correlate(const struct budget_request *request, struct errors *errors)
{
    for (size_t i = 0; i < errors->n; i++)
        for (size_t j = 0; j < errors->n; j++)
            errors->correlation[i * errors->n + j] = correlation_of(request, errors, i, j);
}

/* Independent parts whose sums of squares and products are the covariance; what rounding makes negative
 * is 0. */
static void factor(double covariance[BASICS][BASICS], double part[BASICS][BASICS])
{
    for (size_t k = 0; k < BASICS; k++) {
        double pivot = covariance[k][k];
        if (!(pivot > 0))
            continue;
        for (size_t i = k; i < BASICS; i++)
            part[k][i] = covariance[i][k] / sqrt(pivot);
        for (size_t i = k; i < BASICS; i++)
            for (size_t j = k; j < BASICS; j++)
                covariance[i][j] -= part[k][i] * part[k][j];
    }
}

static double scatter_freedom(const struct errors *errors)
{
    double largest = 0, least = (double)INFINITY;
    for (size_t i = errors->placed; i < errors->n; i++)
        largest = fmax(largest, fabs(errors->contribution[i * UNCERTAIN_OUTPUTS + OUT_CL]));
    for (size_t i = errors->placed; i < errors->n; i++) {
        double own = errors->contribution[i * UNCERTAIN_OUTPUTS + OUT_CL];
        if (own * own > COUNTS * largest * largest)
            least = fmin(least, errors->source[i].freedom);
    }
    return least;
}

static void keep_scatter(const struct budget_request *request, const struct errors *errors,
                         struct point_budget *made)
{
    double covariance[BASICS][BASICS] = {{0}}, part[BASICS][BASICS] = {{0}};
    double freedom = scatter_freedom(errors);
    for (size_t i = errors->placed; i < errors->n; i++)
        for (size_t j = errors->placed; j < errors->n; j++)
            for (size_t a = 0; a < BASICS; a++)
                for (size_t b = 0; b < BASICS; b++)
                    covariance[a][b] += errors->contribution[i * UNCERTAIN_OUTPUTS + a] *
                                        errors->correlation[i * errors->n + j] *
                                        errors->contribution[j * UNCERTAIN_OUTPUTS + b];
    factor(covariance, part);
    for (size_t k = 0; k < BASICS; k++) {
        double *contribution = made->contribution[BUDGET_SCATTER + k];
        memcpy(contribution, part[k], sizeof part[k]);
        budget_derive(request->point->value, request->point->recipe->reference_area, contribution);
        made->freedom[BUDGET_SCATTER + k] = freedom;
    }
}

/* Carried values are the eight coefficients, then the balance. That of L/D is the sum of both parts, whose signs
 * are not known. */
static void keep_step(const struct budget_request *request, struct point_budget *made)
{
    double *added = made->contribution[BUDGET_STEP];
    const double *value = request->point->value;
    made->freedom[BUDGET_STEP] =
        request->step_freedom > 0 ? request->step_freedom : (double)INFINITY;
    if (request->step_u == NULL)
        return;
    for (size_t i = 0; i < BASICS; i++)
        added[i] = isfinite(request->step_u[i]) ? request->step_u[i] : 0;
    budget_derive(value, request->point->recipe->reference_area, added);
    added[OUT_BALANCE] =
        isfinite(request->step_u[CARRIED_BALANCE]) ? request->step_u[CARRIED_BALANCE] : 0;
    if (value[OUT_LD] != 0)
        added[OUT_LD] = (added[OUT_CL] + fabs(value[OUT_LD]) * added[OUT_CD]) / value[OUT_CD];
}

static void keep(const struct budget_request *request, const struct errors *errors,
                 struct point_budget *made)
{
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        made->freedom[i] = request->list->source[i].freedom;
    for (size_t i = 0; i < errors->placed; i++)
        memcpy(made->contribution[errors->place[i]], &errors->contribution[i * UNCERTAIN_OUTPUTS],
               sizeof made->contribution[0]);
    keep_scatter(request, errors, made);
    keep_step(request, made);
}

static int repeats(const struct budget_request *request, size_t place)
{
    return place != BUDGET_STEP && request->list->source[place].reach <= REACH_RUN;
}

static void total(const struct budget_request *request, size_t output, struct point_budget *made)
{
    double column[BUDGET_PLACES], anew = 0;
    struct budget_sum sum = budget_sum_begin(request->list->term,
                                             budget_list_correlation(request->list), BUDGET_PLACES);
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        column[i] = made->contribution[i][output];
    budget_sum_add(&sum, column, made->freedom);
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        if (repeats(request, i))
            anew += sum.net[i];
    made->total[output] = budget_sum_total(&sum);
    made->repeatability[output] = sqrt(fmax(anew, 0));
    if (request->point->is_missing[output]) {
        made->total[output] = (struct combined){(double)NAN, (double)NAN};
        made->repeatability[output] = (double)NAN;
    }
}

/* The step to the target is no input: its part is added to what is drawn. */
static enum outcome draw(const struct budget_request *request, const struct errors *errors,
                         size_t output, struct point_budget *made)
{
    const struct measured_point measured = {uncertain_point_find, request->point, UNCERTAIN_INPUTS,
                                            UNCERTAIN_OUTPUTS};
    const struct error_budget budget = {errors->source, errors->n, errors->correlation};
    const struct trial_request trials = {&measured, &budget, request->point->nominal, NULL,
                                         SHARE_RUN, output,  BUDGET_TRIALS,           budget_seed};
    struct trial_result result;
    enum outcome outcome = uncertainty_draw(&trials, &result);
    if (outcome == OUTCOME_NO_MEMORY)
        return outcome;
    if (outcome != OUTCOME_OK)
        return OUTCOME_OK; /* too few trials have an answer: the steps stand, and are told as bent */
    made->total[output].standard =
        hypot(result.first.standard, made->contribution[BUDGET_STEP][output]);
    made->by_trials[output] = 1;
    return OUTCOME_OK;
}

static enum outcome find_bent(const struct budget_request *request, const struct errors *errors,
                              struct point_budget *made)
{
    const struct error_budget budget = {errors->source, errors->n, errors->correlation};
    enum outcome outcome = OUTCOME_OK;
    for (size_t i = 0; outcome == OUTCOME_OK && i < UNCERTAIN_OUTPUTS; i++) {
        if (request->point->is_missing[i] || errors->n == 0)
            continue;
        made->is_bent[i] =
            uncertainty_is_bent(&budget, errors->contribution, errors->bend, UNCERTAIN_OUTPUTS, i);
        if (made->is_bent[i] && request->wants_trials[i])
            outcome = draw(request, errors, i, made);
    }
    return outcome;
}

enum outcome point_budget_make(const struct budget_request *request, struct point_budget *made)
{
    struct errors errors = {.n = 0};
    memset(made, 0, sizeof *made);
    enum outcome outcome = collect(request, &errors, made);
    if (outcome != OUTCOME_OK)
        return outcome;
    correlate(request, &errors);
    keep(request, &errors, made);
    for (size_t i = 0; i < UNCERTAIN_OUTPUTS; i++)
        total(request, i, made);
    return find_bent(request, &errors, made);
}

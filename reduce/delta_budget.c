/* delta_budget.c - see delta_budget.h. */
#include "reduce/delta_budget.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/budget_rows.h"
#include "reduce/rows.h"

typedef double unit[BUDGET_PLACES][UNCERTAIN_OUTPUTS];

static const char points_sql[] =
    "SELECT b.run, t.target, b.contributions FROM point_budget AS b "
    "JOIN reduction AS d ON d.reduction = b.reduction AND d.is_current = 1 "
    "JOIN target_result AS t ON t.run = b.run AND t.point = b.point AND t.is_used = 1 "
    "JOIN reduction AS e ON e.reduction = t.reduction AND e.is_current = 1 "
    "WHERE d.stage = 'uncertainty' AND d.subject = ?1 ORDER BY b.run, b.point";

static enum status take_point(struct family_budget *made, size_t run, size_t target,
                              struct statement *row, struct fault *fault)
{
    size_t size = 0, targets = made->night->campaign->attitudes.n_targets;
    void *array = made->points;
    enum status status =
        array_reserve(&array, &made->capacity, made->n + 2, sizeof *made->points, fault);
    made->points = array;
    if (status != OK)
        return status;
    if (made->n == 0)
        made->n = 1; /* place 0 is none */
    struct budget_point *point = &made->points[made->n];
    memset(point, 0, sizeof *point);
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        point->budget.freedom[i] = (double)INFINITY;
    const void *bytes = statement_blob(row, 2, &size);
    status = budget_blob_read(bytes, size, &point->budget, fault);
    point->next = made->first[run * targets + target];
    made->first[run * targets + target] = made->n++;
    return status;
}

static enum status read_points(struct family_budget *made, const char *subject, struct fault *fault)
{
    const struct attitudes *attitudes = &made->night->campaign->attitudes;
    const struct family *family = made->family;
    struct statement *row = NULL;
    int more = 0;
    enum status status = rows_open(made->night->store, points_sql, &subject, 1, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        const char *run = statement_text(row, 0), *target = statement_text(row, 1);
        size_t i = 0, k = 0;
        while (i < family->n_runs && strcmp(family->runs[i].run->run, run) != 0)
            i++;
        while (k < attitudes->n_targets && strcmp(attitudes->targets[k].name, target) != 0)
            k++;
        if (i < family->n_runs && k < attitudes->n_targets)
            status = take_point(made, i, k, row, fault);
    }
    statement_free(row);
    return status;
}

enum status family_budget_read(const struct night *night, const struct run_group *group,
                               const struct family *family, struct family_budget *made,
                               struct fault *fault)
{
    void *first = NULL;
    memset(made, 0, sizeof *made);
    made->night = night;
    made->family = family;
    budget_list_begin(night->campaign, group->runs[0]->facility, &made->list);
    enum status status = array_make(&first, family->n_runs * night->campaign->attitudes.n_targets,
                                    sizeof *made->first, fault);
    made->first = first;
    for (size_t i = 0; status == OK && i < family->n_configurations; i++) {
        char *subject = NULL;
        status = group_subject(group->runs[0], family->configurations[i], &subject, fault);
        if (status == OK)
            status = read_points(made, subject, fault);
        free(subject);
    }
    if (status != OK)
        family_budget_end(made);
    return status;
}

void family_budget_end(struct family_budget *made)
{
    free(made->points);
    free(made->first);
    made->points = NULL;
    made->first = NULL;
}

static double weight_at(const struct family_budget *data, size_t measure, size_t target)
{
    const struct attitudes *attitudes = &data->night->campaign->attitudes;
    if (measure < attitudes->n_targets)
        return measure == target;
    return attitudes->targets[target].weight;
}

static void add_scaled(const struct point_budget *from, double scale, unit to)
{
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        for (size_t k = 0; k < UNCERTAIN_OUTPUTS; k++)
            to[i][k] += scale * from->contribution[i][k];
}

/* Means of the quantities that the derivatives of ratios are taken at. */
static void mean_values(const struct family_budget *data, size_t configuration, size_t measure,
                        double value[UNCERTAIN_OUTPUTS])
{
    const struct family *family = data->family;
    for (size_t k = 0; k < UNCERTAIN_OUTPUTS; k++) {
        size_t n = 0;
        value[k] = 0;
        for (size_t i = 0; i < family->n_runs; i++) {
            double one = family_value(family, i, measure, uncertain_outputs[k]);
            if (family->runs[i].configuration != configuration || !isfinite(one))
                continue;
            value[k] += one;
            n++;
        }
        value[k] = n > 0 ? value[k] / (double)n : 0;
    }
}

struct column_of {
    size_t output;
    double value[UNCERTAIN_OUTPUTS];
    double area;
};

/* One output of a unit, sources outside the reaches left out. Ratios go by the averaged coefficients. */
static void take_column(const struct column_of *of, const struct budget_list *list, unit from,
                        enum error_reach least, enum error_reach most, double column[BUDGET_PLACES])
{
    int is_ratio = uncertain_outputs[of->output] == QUANTITY_BALANCE ||
                   uncertain_outputs[of->output] == QUANTITY_LD;
    for (size_t i = 0; i < BUDGET_PLACES; i++) {
        enum error_reach reach = list->source[i].reach;
        column[i] = 0;
        if (i == BUDGET_STEP || reach < least || reach > most)
            continue;
        if (is_ratio)
            budget_derive(of->value, of->area, from[i]);
        column[i] = from[i][of->output];
    }
}

/* The step's own parts all have the sign of an upper bound, so that a ratio's is not a difference. */
static double take_step(const struct column_of *of, unit from)
{
    return from[BUDGET_STEP][of->output];
}

struct run_sums {
    const struct family_budget *data;
    const struct column_of *of;
    struct configuration_budget *made;
    double shares; /* of a run in the mean */
};

/* The scatter of a run's points, each by itself. */
static void add_points(const struct run_sums *sums, size_t run, size_t target, double weight,
                       struct budget_sum *sum, unit mean)
{
    const struct family_budget *data = sums->data;
    size_t targets = data->night->campaign->attitudes.n_targets, n = 0;
    size_t first = data->first[run * targets + target];
    for (size_t at = first; at != 0; at = data->points[at].next)
        n++;
    for (size_t at = first; at != 0; at = data->points[at].next) {
        const struct point_budget *point = &data->points[at].budget;
        unit one = {{0}};
        double column[BUDGET_PLACES];
        add_scaled(point, weight / (double)n, one);
        add_scaled(point, weight / (double)n, mean);
        take_column(sums->of, &data->list, one, REACH_POINT, REACH_POINT, column);
        budget_sum_add(sum, column, point->freedom);
        sums->made->freedom[BUDGET_STEP] =
            fmin(sums->made->freedom[BUDGET_STEP], point->freedom[BUDGET_STEP]);
    }
}

static void scale_sum(struct budget_sum *sum, double factor)
{
    double square = factor * factor;
    for (size_t i = 0; i < sum->n; i++) {
        sum->own[i] *= square;
        sum->net[i] *= square;
        sum->group[i] *= square;
    }
    sum->spread *= square * square;
}

static double variance_of(const struct budget_sum *sum)
{
    double standard = budget_sum_total(sum).standard;
    return standard * standard;
}

/* Gives the variance of the run's own value that the next run would draw anew. */
static double add_run(const struct run_sums *sums, size_t run, size_t measure)
{
    const struct family_budget *data = sums->data;
    struct configuration_budget *made = sums->made;
    struct budget_sum own =
        budget_sum_begin(data->list.term, budget_list_correlation(&data->list), BUDGET_PLACES);
    unit mean = {{0}};
    double column[BUDGET_PLACES];
    for (size_t k = 0; k < data->night->campaign->attitudes.n_targets; k++) {
        double weight = weight_at(data, measure, k);
        if (weight > 0)
            add_points(sums, run, k, weight, &own, mean);
    }
    made->step[BUDGET_STEP] += sums->shares * take_step(sums->of, mean);
    take_column(sums->of, &data->list, mean, REACH_RUN, REACH_RUN, column);
    budget_sum_add(&own, column, made->freedom);
    double anew = variance_of(&own);
    scale_sum(&own, sums->shares);
    budget_sum_join(&made->own, &own);
    take_column(sums->of, &data->list, mean, REACH_ENTRY, REACH_ALWAYS, column);
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        made->shared[i] += sums->shares * column[i];
    return anew;
}

static int counts(const struct family_budget *data, size_t run, size_t configuration,
                  size_t measure, size_t output)
{
    return data->family->runs[run].configuration == configuration &&
           isfinite(family_value(data->family, run, measure, uncertain_outputs[output]));
}

/* Runs of a mounting stand beside each other or not; its value is their mean. */
static void add_mountings(const struct family_budget *data, const double *anew,
                          size_t configuration, struct configuration_budget *made)
{
    const struct family *family = data->family;
    for (size_t mounting = 1; mounting <= family->n_runs; mounting++) {
        double sum = 0;
        size_t n = 0;
        for (size_t i = 0; i < family->n_runs; i++)
            if (family->runs[i].configuration == configuration &&
                family->runs[i].mounting == mounting && anew[i] >= 0) {
                sum += anew[i];
                n++;
            }
        if (n == 0)
            continue;
        made->mounting_variance += sum / (double)(n * n);
        made->mountings++;
    }
    if (made->mountings > 0)
        made->mounting_variance /= (double)made->mountings;
}

void configuration_budget_make(const struct family_budget *data, size_t configuration,
                               size_t measure, size_t output, struct configuration_budget *made)
{
    const struct family *family = data->family;
    struct column_of of = {.output = output, .area = data->night->campaign->car.reference_area};
    double *anew = calloc(family->n_runs + 1, sizeof *anew);
    memset(made, 0, sizeof *made);
    made->own =
        budget_sum_begin(data->list.term, budget_list_correlation(&data->list), BUDGET_PLACES);
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        made->freedom[i] = data->list.source[i].freedom;
    mean_values(data, configuration, measure, of.value);
    for (size_t i = 0; i < family->n_runs; i++)
        made->runs += counts(data, i, configuration, measure, output) ? 1U : 0U;
    struct run_sums sums = {data, &of, made, made->runs > 0 ? 1 / (double)made->runs : 0};
    for (size_t i = 0; anew != NULL && i < family->n_runs; i++)
        anew[i] = counts(data, i, configuration, measure, output) ? add_run(&sums, i, measure) : -1;
    if (anew != NULL)
        add_mountings(data, anew, configuration, made);
    else
        made->runs = 0;
    free(anew);
}

struct budget_sum budget_absolute(const struct configuration_budget *of)
{
    struct budget_sum sum = of->own;
    budget_sum_add(&sum, of->shared, of->freedom);
    budget_sum_add(&sum, of->step, of->freedom);
    return sum;
}

struct budget_sum budget_delta(const struct configuration_budget *of,
                               const struct configuration_budget *baseline)
{
    struct budget_sum sum = of->own;
    double shared[BUDGET_PLACES];
    budget_sum_join(&sum, &baseline->own);
    for (size_t i = 0; i < BUDGET_PLACES; i++)
        shared[i] = of->shared[i] - baseline->shared[i];
    budget_sum_add(&sum, shared, of->freedom);
    budget_sum_add(&sum, of->step, of->freedom);
    budget_sum_add(&sum, baseline->step, baseline->freedom);
    return sum;
}

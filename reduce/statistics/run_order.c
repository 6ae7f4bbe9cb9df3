/* run_order.c - see run_order.h. */
#include "reduce/statistics/run_order.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>

/* A straight drift may cost this much: that of A B A B is 1.25, that of A A B B is 5. */
static const double BLOCKS_FROM = 2;

static size_t count_of(const size_t *order, size_t n, size_t configuration)
{
    size_t count = 0;

    for (size_t i = 0; i < n; i++)
        count += order[i] == configuration;
    return count;
}

/* Columns are made orthogonal one after another; what is left of the difference's own column when all
 * others are taken out of it has the length 1 / sqrt(factor). */
struct columns {
    size_t n, kept;
    double *column; /* kept x n, of length one */
};

static double take_out(const struct columns *columns, double *column)
{
    double length = 0, before = 0;

    for (size_t i = 0; i < columns->n; i++)
        before += column[i] * column[i];
    /* twice, so that rounding of the first time goes too */
    for (int time = 0; time < 2; time++)
        for (size_t k = 0; k < columns->kept; k++) {
            const double *other = columns->column + k * columns->n;
            double share = 0;
            for (size_t i = 0; i < columns->n; i++)
                share += other[i] * column[i];
            for (size_t i = 0; i < columns->n; i++)
                column[i] -= share * other[i];
        }
    for (size_t i = 0; i < columns->n; i++)
        length += column[i] * column[i];
    return length > 1e-18 * before ? length : 0;
}

static int keep(struct columns *columns)
{
    double *column = columns->column + columns->kept * columns->n;
    double length = take_out(columns, column);

    if (!(length > 0))
        return 0;
    for (size_t i = 0; i < columns->n; i++)
        column[i] /= sqrt(length);
    columns->kept++;
    return 1;
}

static void fill_power(struct columns *columns, size_t power)
{
    double *column = columns->column + columns->kept * columns->n;

    for (size_t i = 0; i < columns->n; i++)
        column[i] = pow(2 * (double)i / (double)(columns->n - 1) - 1, (double)power);
}

static void fill_configuration(struct columns *columns, const size_t *order, size_t configuration)
{
    double *column = columns->column + columns->kept * columns->n;

    for (size_t i = 0; i < columns->n; i++)
        column[i] = order[i] == configuration;
}

/* Drift columns that depend on what is there already are what makes an order impossible. */
static enum outcome find_worth(struct columns *columns, const size_t *order, size_t configuration,
                               size_t degree, struct order_worth *worth)
{
    size_t unknowns = 2 + degree;

    fill_power(columns, 0);
    (void)keep(columns);
    for (size_t i = 0; i < columns->n; i++) {
        if (order[i] == 0 || order[i] == configuration || count_of(order, i, order[i]) > 0)
            continue;
        fill_configuration(columns, order, order[i]);
        if (!keep(columns))
            return OUTCOME_SINGULAR;
        unknowns++;
    }
    if (columns->n < unknowns)
        return degree > 0 ? OUTCOME_SINGULAR : OUTCOME_TOO_FEW;
    for (size_t power = 1; power <= degree; power++) {
        fill_power(columns, power);
        if (!keep(columns))
            return OUTCOME_SINGULAR;
    }
    fill_configuration(columns, order, configuration);
    double length = take_out(columns, columns->column + columns->kept * columns->n);
    if (!(length > 0))
        return OUTCOME_SINGULAR;
    *worth = (struct order_worth){1 / length, (double)(columns->n - unknowns)};
    return OUTCOME_OK;
}

enum outcome order_worth(const size_t *order, size_t n, size_t configuration, size_t degree,
                         struct order_worth *worth)
{
    *worth = (struct order_worth){NAN, NAN};
    if (n > RUN_ORDER_MAX || configuration == 0 || degree > ORDER_DEGREE_MAX)
        return OUTCOME_SINGULAR;
    if (n < 2 || count_of(order, n, 0) == 0 || count_of(order, n, configuration) == 0)
        return OUTCOME_TOO_FEW;
    struct columns columns = {n, 0, calloc((n + degree + 2) * n, sizeof(double))};
    if (columns.column == NULL)
        return OUTCOME_NO_MEMORY;
    enum outcome outcome = find_worth(&columns, order, configuration, degree, worth);
    free(columns.column);
    return outcome;
}

static int is_bracketed(const size_t *order, size_t n, size_t at)
{
    return count_of(order, at, 0) > 0 && count_of(order + at, n - at, 0) > 0;
}

enum order_verdict order_judge(const size_t *order, size_t n, size_t *configuration)
{
    *configuration = 0;
    if (count_of(order, n, 0) == n)
        return ORDER_NOT_BRACKETED;
    for (size_t i = 0; i < n; i++) {
        struct order_worth steady, straight;
        if (order[i] == 0 || count_of(order, i, order[i]) > 0)
            continue;
        *configuration = order[i];
        if (order_worth(order, n, order[i], 0, &steady) != OUTCOME_OK)
            return ORDER_NOT_BRACKETED;
        if (order_worth(order, n, order[i], 1, &straight) == OUTCOME_OK &&
            straight.factor > BLOCKS_FROM * steady.factor)
            return ORDER_IN_BLOCKS;
    }
    for (size_t i = 0; i < n; i++) {
        *configuration = order[i];
        if (order[i] != 0 && !is_bracketed(order, n, i))
            return ORDER_NOT_BRACKETED;
    }
    *configuration = 0;
    return ORDER_SOUND;
}

static void draw_round(gsl_rng *random, size_t *round, size_t configurations)
{
    for (size_t c = 0; c < configurations; c++)
        round[c] = c + 1;
    gsl_ran_shuffle(random, round, configurations, sizeof *round);
}

static size_t groups_of(const struct order_request *request)
{
    return (request->configurations + request->group - 1) / request->group;
}

/* Groups of a round differ by one at most. A round ends with a return, so that no configuration stands
 * twice in one bracket across the seam. */
static void put_bracketed(const struct order_request *request, gsl_rng *random, size_t *round,
                          size_t *order, size_t *n)
{
    size_t groups = groups_of(request), others = request->configurations;

    order[(*n)++] = 0;
    for (size_t repeat = 0; repeat < request->repeats; repeat++) {
        draw_round(random, round, others);
        for (size_t c = 0; c < others; c++) {
            order[(*n)++] = round[c];
            if ((c + 1) * groups / others != c * groups / others)
                order[(*n)++] = 0;
        }
    }
}

static void put_abba(const struct order_request *request, gsl_rng *random, size_t *round,
                     size_t *order, size_t *n)
{
    for (size_t pair = 0; pair < (request->repeats + 1) / 2; pair++) {
        draw_round(random, round, request->configurations);
        for (size_t c = 0; c < request->configurations; c++) {
            const size_t four[] = {0, round[c], round[c], 0};
            for (size_t i = 0; i < 4; i++)
                order[(*n)++] = four[i];
        }
    }
}

/* Runs that a request comes to. */
static size_t runs_of(const struct order_request *request)
{
    return request->scheme == SCHEME_ABBA
               ? (request->repeats + 1) / 2 * 4 * request->configurations
               : 1 + request->repeats * (request->configurations + groups_of(request));
}

enum outcome order_make(const struct order_request *request, size_t *order, size_t *n)
{
    *n = 0;
    if (request->configurations == 0 || request->repeats == 0 || request->group == 0)
        return OUTCOME_TOO_FEW;
    if (request->configurations > RUN_ORDER_MAX || request->repeats > RUN_ORDER_MAX ||
        runs_of(request) > RUN_ORDER_MAX)
        return OUTCOME_SINGULAR;
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    size_t *round = calloc(request->configurations, sizeof *round);
    enum outcome outcome = OUTCOME_NO_MEMORY;
    if (random != NULL && round != NULL) {
        gsl_rng_set(random, request->seed);
        if (request->scheme == SCHEME_ABBA)
            put_abba(request, random, round, order, n);
        else
            put_bracketed(request, random, round, order, n);
        outcome = OUTCOME_OK;
    }
    free(round);
    if (random != NULL)
        gsl_rng_free(random);
    return outcome;
}

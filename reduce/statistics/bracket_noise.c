/* bracket_noise.c - see bracket_noise.h. */
#include "reduce/statistics/bracket_noise.h"

#include <math.h>
#include <stdlib.h>

enum { WINDOW_MAX = 4 };

/* From this many returns on, windows of four give at least two contrasts. */
enum { RETURNS_FOR_FOUR = 5 };

struct contrasts {
    const struct observation *observations;
    size_t n;    /* observations, weights in a row */
    double *row; /* capacity of 2 n rows: one a mounting, one a window of returns */
    size_t rows;
};

/* Scales the row just filled to length one and keeps it; a row of zeros is not kept. */
static void keep_row(struct contrasts *contrasts)
{
    double *row = contrasts->row + contrasts->rows * contrasts->n;
    double square = 0;

    for (size_t i = 0; i < contrasts->n; i++)
        square += row[i] * row[i];
    if (!(square > 0))
        return;
    for (size_t i = 0; i < contrasts->n; i++)
        row[i] /= sqrt(square);
    contrasts->rows++;
}

static int is_bracketed_mounting(const struct contrasts *contrasts, const double *bracketed,
                                 size_t i, size_t configuration)
{
    return contrasts->observations[i].configuration == configuration &&
           bracketed[i * contrasts->n + i] > 0;
}

/* The mountings of one configuration about their mean. */
static void add_mountings(struct contrasts *contrasts, const double *bracketed,
                          size_t configuration)
{
    size_t n = contrasts->n;
    double mean[BRACKET_OBSERVATIONS_MAX] = {0};
    size_t mountings = 0;

    for (size_t i = 0; i < n; i++) {
        if (!is_bracketed_mounting(contrasts, bracketed, i, configuration))
            continue;
        mountings++;
        for (size_t j = 0; j < n; j++)
            mean[j] += bracketed[i * n + j];
    }
    if (mountings < 2)
        return;
    for (size_t i = 0; i < n; i++) {
        if (!is_bracketed_mounting(contrasts, bracketed, i, configuration))
            continue;
        double *row = contrasts->row + contrasts->rows * n;
        for (size_t j = 0; j < n; j++)
            row[j] = bracketed[i * n + j] - mean[j] / (double)mountings;
        keep_row(contrasts);
    }
}

/* Baseline returns in order of time; gives their number. Few enough for insertion. */
static size_t order_returns(const struct observation *observations, size_t n, size_t *order)
{
    size_t count = 0;

    for (size_t i = 0; i < n; i++) {
        if (observations[i].configuration != 0)
            continue;
        size_t place = count++;
        for (; place > 0 && observations[order[place - 1]].time > observations[i].time; place--)
            order[place] = order[place - 1];
        order[place] = i;
    }
    return count;
}

/* Divided difference over a window of returns; weights 1 / prod (t_i - t_k). Times are taken in
 * spans of the window, so that they cannot overflow. Returns at one time leave no contrast. */
static void add_window(struct contrasts *contrasts, const size_t *window, size_t size)
{
    const struct observation *observations = contrasts->observations;
    double *row = contrasts->row + contrasts->rows * contrasts->n;
    double span = observations[window[size - 1]].time - observations[window[0]].time;

    for (size_t i = 0; i + 1 < size; i++)
        if (!(observations[window[i + 1]].time - observations[window[i]].time > 1e-9 * span))
            return;
    for (size_t j = 0; j < contrasts->n; j++)
        row[j] = 0;
    for (size_t i = 0; i < size; i++) {
        double product = 1;
        for (size_t k = 0; k < size; k++)
            if (k != i)
                product *= (observations[window[i]].time - observations[window[k]].time) / span;
        row[window[i]] = 1 / product;
    }
    keep_row(contrasts);
}

static void add_returns(struct contrasts *contrasts)
{
    size_t order[BRACKET_OBSERVATIONS_MAX];
    size_t returns = order_returns(contrasts->observations, contrasts->n, order);
    size_t size = returns >= RETURNS_FOR_FOUR ? WINDOW_MAX : WINDOW_MAX - 1;

    for (size_t first = 0; first + size <= returns; first++)
        add_window(contrasts, order + first, size);
}

/* tr(Q^2) is the sum of squares of all inner products of rows. */
static void pool(const struct contrasts *contrasts, struct bracket_noise *noise)
{
    double sum_of_squares = 0;
    double trace_of_square = 0;
    double m = (double)contrasts->rows;

    noise->standard_deviation = NAN;
    noise->degrees_of_freedom = 0;
    if (contrasts->rows == 0)
        return;
    for (size_t a = 0; a < contrasts->rows; a++) {
        const double *row = contrasts->row + a * contrasts->n;
        double value = 0;
        for (size_t i = 0; i < contrasts->n; i++)
            value += row[i] * contrasts->observations[i].value;
        sum_of_squares += value * value;
        for (size_t b = 0; b < contrasts->rows; b++) {
            const double *other = contrasts->row + b * contrasts->n;
            double product = 0;
            for (size_t i = 0; i < contrasts->n; i++)
                product += row[i] * other[i];
            trace_of_square += product * product;
        }
    }
    noise->standard_deviation = sqrt(sum_of_squares / m);
    noise->degrees_of_freedom = m * m / trace_of_square;
}

enum outcome bracket_noise_estimate(const struct observation *observations, size_t n,
                                    const double *bracketed, size_t n_configurations,
                                    struct bracket_noise *noise)
{
    struct contrasts contrasts = {observations, n, NULL, 0};

    contrasts.row = calloc(2 * n * n + 1, sizeof *contrasts.row);
    if (contrasts.row == NULL)
        return OUTCOME_NO_MEMORY;
    for (size_t configuration = 1; configuration < n_configurations; configuration++)
        add_mountings(&contrasts, bracketed, configuration);
    add_returns(&contrasts);
    pool(&contrasts, noise);
    free(contrasts.row);
    return OUTCOME_OK;
}

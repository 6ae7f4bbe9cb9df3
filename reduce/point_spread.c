/* point_spread.c - uncertainty of a point's means; see point_spread.h. */
#include "reduce/point_spread.h"

#include <math.h>

#include "reduce/physics/freestream.h"

double point_standard_error(const struct channel_statistics *channel, int *is_guess)
{
    double samples = channel->n_effective;
    if (channel->sd == 0)
        return 0;
    if (!isfinite(samples) || samples <= 0) {
        samples = 1;
        if (is_guess != NULL && isfinite(channel->sd))
            *is_guess = 1;
    }
    return channel->sd / sqrt(samples);
}

/* Channels that can be varied, and whether the uncertainty is worth nothing without them. */
static const struct {
    enum role role;
    enum tunnel_varied varied;
    int is_needed;
} scalars[] = {
    {ROLE_TOTAL_PRESSURE, VARIED_TOTAL_PRESSURE, 1},
    {ROLE_STATIC_PRESSURE, VARIED_STATIC_PRESSURE, 0},
    {ROLE_TOTAL_MINUS_STATIC, VARIED_TOTAL_MINUS_STATIC, 1},
    {ROLE_CONTRACTION_DROP, VARIED_DROP, 1},
    {ROLE_DYNAMIC_PRESSURE, VARIED_DYNAMIC_PRESSURE, 1},
    {ROLE_AIR_SPEED, VARIED_SPEED, 1},
    {ROLE_TOTAL_TEMPERATURE, VARIED_TOTAL_TEMPERATURE, 0},
    {ROLE_STATIC_TEMPERATURE, VARIED_STATIC_TEMPERATURE, 0},
    {ROLE_RELATIVE_HUMIDITY, VARIED_HUMIDITY, 0},
};

enum { SCALARS = sizeof scalars / sizeof scalars[0] };

struct varied_list {
    enum tunnel_varied varied[VARIED_COUNT];
    int channel[VARIED_COUNT];
    double error[VARIED_COUNT];
    size_t n;
};

static void add_channel(const struct run_work *work, struct reduced_point *made, enum role role,
                        enum tunnel_varied varied, int is_needed, struct varied_list *list)
{
    int channel = run_data_channel(&work->data, role);
    if (channel < 0)
        return;
    int guess = 0;
    double error = point_standard_error(&made->point->channels[channel], &guess);
    if (!isfinite(error) && is_needed)
        made->spread_unknown = 1;
    made->spread_is_guess |= guess && is_needed;
    list->varied[list->n] = varied;
    list->channel[list->n] = channel;
    list->error[list->n] = isfinite(error) ? error : 0;
    list->n++;
}

static void list_channels(const struct run_work *work, struct reduced_point *made,
                          struct varied_list *list)
{
    enum load_source source = work->recipe.tunnel.source;
    int is_coefficients = source == LOADS_AS_COEFFICIENTS;
    if (source == LOADS_NONE)
        return;
    int first = (int)recipe_first_role(source);
    int base = is_coefficients ? (int)VARIED_COEFFICIENT_1 : (int)VARIED_OUTPUT_1;
    for (int i = 0; i < (is_coefficients ? (int)COEFFICIENTS : 6); i++)
        add_channel(work, made, (enum role)(first + i), (enum tunnel_varied)(base + i), 1, list);
    for (int i = 0; i < WHEEL_CELLS; i++)
        if (work->recipe.tunnel.cell_added[i])
            add_channel(work, made, recipe_cell_role((enum wheel_cell)i),
                        (enum tunnel_varied)((int)VARIED_CELL_1 + i), 1, list);
    for (size_t i = 0; i < SCALARS; i++)
        add_channel(work, made,
                    scalars[i].role == ROLE_CONTRACTION_DROP ? work->recipe.drop_role
                                                             : scalars[i].role,
                    scalars[i].varied, scalars[i].is_needed && !is_coefficients, list);
}

double point_correlation(const struct run_work *work, const struct point_row *point, int a, int b)
{
    int row = work->data.channels[a].covariance_position;
    int column = work->data.channels[b].covariance_position;
    size_t n = work->data.n_covariance;
    if (a == b)
        return 1;
    if (point->covariance == NULL || row < 0 || column < 0)
        return 0;
    double product = point->covariance[(size_t)row * n + (size_t)row] *
                     point->covariance[(size_t)column * n + (size_t)column];
    double value = point->covariance[(size_t)row * n + (size_t)column] / sqrt(product);
    return isfinite(value) ? value : 0;
}

static void forget(struct tunnel_uncertainty *spread)
{
    for (int i = 0; i < COEFFICIENTS; i++)
        spread->coefficient[i] = (double)NAN;
    spread->balance = (double)NAN;
    spread->lift_to_drag = (double)NAN;
}

void point_spread_fill(const struct run_work *work, struct reduced_point *made)
{
    struct varied_list list = {.n = 0};
    double covariance[VARIED_COUNT * VARIED_COUNT];
    forget(&made->spread);
    list_channels(work, made, &list);
    for (size_t i = 0; i < list.n; i++)
        for (size_t j = 0; j < list.n; j++)
            covariance[i * list.n + j] =
                point_correlation(work, made->point, list.channel[i], list.channel[j]) *
                list.error[i] * list.error[j];
    if (made->spread_unknown)
        return;
    enum outcome outcome = tunnel_uncertainty(&work->recipe.tunnel, &made->inputs, list.varied,
                                              list.n, covariance, &made->spread);
    if (outcome == OUTCOME_OK)
        return;
    forget(&made->spread);
    made->spread_unknown = 1;
}

double point_sum_error(const struct run_work *work, const struct point_row *point,
                       const int *channel, const double *weight, size_t n)
{
    double variance = 0;
    for (size_t i = 0; i < n; i++) {
        double a = point_standard_error(&point->channels[channel[i]], NULL);
        for (size_t j = 0; isfinite(a) && j < n; j++) {
            double b = point_standard_error(&point->channels[channel[j]], NULL);
            if (isfinite(b))
                variance += weight[i] * a * weight[j] * b *
                            point_correlation(work, point, channel[i], channel[j]);
        }
    }
    return sqrt(fmax(0, variance));
}

/* Total and static pressure measured apart: the difference's spread needs their correlation. */
static struct wind_spread difference_spread(const struct run_work *work,
                                            const struct point_row *point)
{
    struct wind_spread spread = {(double)NAN, (double)NAN};
    int total = run_data_channel(&work->data, ROLE_TOTAL_PRESSURE);
    int still = run_data_channel(&work->data, ROLE_STATIC_PRESSURE);
    if (total < 0 || still < 0)
        return spread;
    const struct channel_statistics *p0 = &point->channels[total];
    const struct channel_statistics *p = &point->channels[still];
    double shared = 2 * point_correlation(work, point, total, still);
    double e0 = point_standard_error(p0, NULL);
    double e = point_standard_error(p, NULL);
    spread.deviation = sqrt(fmax(0, p0->sd * p0->sd + p->sd * p->sd - shared * p0->sd * p->sd)) /
                       (p0->mean - p->mean);
    spread.error = sqrt(fmax(0, e0 * e0 + e * e - shared * e0 * e)) / (p0->mean - p->mean);
    return spread;
}

/* What q makes of a relative movement of its channel: all of it, but twice that of the speed, and for
 * a pressure drop what its polynomial makes, which need not go through zero nor be straight. */
static double share_in_q(const struct tunnel_recipe *recipe, double mean)
{
    if (recipe->q_source == Q_FROM_SPEED)
        return 2 / fabs(mean);
    if (recipe->q_source != Q_FROM_DROP)
        return 1 / fabs(mean);
    return fabs(freestream_drop_slope(recipe->drop_polynomial, mean) /
                freestream_of_drop(recipe->drop_polynomial, mean));
}

struct wind_spread point_wind_spread(const struct run_work *work, const struct point_row *point)
{
    static const enum role roles[] = {
        [Q_FROM_TOTAL_AND_STATIC] = ROLE_TOTAL_MINUS_STATIC,
        [Q_FROM_DROP] = ROLE_CONTRACTION_DROP, /* or that of its method */
        [Q_GIVEN] = ROLE_DYNAMIC_PRESSURE,
        [Q_FROM_SPEED] = ROLE_AIR_SPEED,
    };
    const struct tunnel_recipe *recipe = &work->recipe.tunnel;
    int channel =
        run_data_channel(&work->data, recipe->q_source == Q_FROM_DROP ? work->recipe.drop_role
                                                                      : roles[recipe->q_source]);
    if (channel < 0)
        return difference_spread(work, point);
    const struct channel_statistics *wind = &point->channels[channel];
    double share = share_in_q(recipe, wind->mean);
    struct wind_spread spread = {wind->sd * share, point_standard_error(wind, NULL) * share};
    return spread;
}

/* budget_scatter.c - see budget_scatter.h. */
#include "reduce/budget_scatter.h"

#include <math.h>

#include "reduce/point_spread.h"

static const struct {
    enum role role;
    enum uncertain_input input;
} scalars[] = {
    {ROLE_TOTAL_PRESSURE, UNCERTAIN_TOTAL_PRESSURE},
    {ROLE_STATIC_PRESSURE, UNCERTAIN_STATIC_PRESSURE},
    {ROLE_TOTAL_MINUS_STATIC, UNCERTAIN_TOTAL_MINUS_STATIC},
    {ROLE_CONTRACTION_DROP, UNCERTAIN_DROP},
    {ROLE_DYNAMIC_PRESSURE, UNCERTAIN_DYNAMIC_PRESSURE},
    {ROLE_AIR_SPEED, UNCERTAIN_AIR_SPEED},
    {ROLE_TOTAL_TEMPERATURE, UNCERTAIN_TOTAL_TEMPERATURE},
    {ROLE_STATIC_TEMPERATURE, UNCERTAIN_STATIC_TEMPERATURE},
    {ROLE_RELATIVE_HUMIDITY, UNCERTAIN_HUMIDITY},
};

static double error_of(const struct channel_statistics *channel)
{
    double error = point_standard_error(channel, NULL);
    if (!isfinite(error))
        error = 0;
    if (isfinite(channel->resolution) && channel->sd < channel->resolution)
        error = hypot(error, channel->resolution / sqrt(12));
    return error;
}

static double freedom_of(const struct channel_statistics *channel)
{
    double samples = channel->n_effective;
    return isfinite(samples) && samples > 2 ? samples - 1 : 1;
}

static void add(const struct run_work *work, const struct point_row *row, enum role role, int input,
                const struct uncertain_point *point, struct scatter_list *list)
{
    int channel = run_data_channel(&work->data, role);
    if (channel < 0 || !point->is_there[input] || list->n == SCATTER_CHANNELS_MAX)
        return;
    double error = error_of(&row->channels[channel]);
    if (!(error > 0))
        return;
    list->channel[list->n] = channel;
    list->source[list->n++] = (struct error_source){
        (size_t)input, error, 0, freedom_of(&row->channels[channel]), REACH_POINT, SHAPE_NORMAL};
}

void scatter_list_make(const struct run_work *work, const struct point_row *row,
                       const struct uncertain_point *point, struct scatter_list *list)
{
    static const int firsts[] = {[LOADS_FROM_OUTPUTS] = UNCERTAIN_OUTPUT_1,
                                 [LOADS_READY] = UNCERTAIN_LOAD_1,
                                 [LOADS_AS_COEFFICIENTS] = UNCERTAIN_CD};
    enum load_source source = work->recipe.tunnel.source;
    list->n = 0;
    if (source == LOADS_NONE)
        return;
    int n = source == LOADS_AS_COEFFICIENTS ? UNCERTAIN_CLR - UNCERTAIN_CD + 1 : 6;
    for (int i = 0; i < n; i++)
        add(work, row, (enum role)((int)recipe_first_role(source) + i), firsts[source] + i, point,
            list);
    for (int i = 0; i < WHEEL_CELLS; i++)
        if (work->recipe.tunnel.cell_added[i])
            add(work, row, recipe_cell_role((enum wheel_cell)i), UNCERTAIN_CELL_1 + i, point, list);
    for (size_t i = 0; i < sizeof scalars / sizeof scalars[0]; i++)
        add(work, row,
            scalars[i].role == ROLE_CONTRACTION_DROP ? work->recipe.drop_role : scalars[i].role,
            (int)scalars[i].input, point, list);
}

double scatter_correlation(const struct run_work *work, const struct point_row *row,
                           const struct scatter_list *list, size_t a, size_t b)
{
    return point_correlation(work, row, list->channel[a], list->channel[b]);
}

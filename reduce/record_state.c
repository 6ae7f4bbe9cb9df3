/* record_state.c - see record_state.h. */
#include "reduce/record_state.h"

#include <math.h>
#include <stdlib.h>

#include "reduce/record_frozen.h"
#include "reduce/rows.h"

static const double still_points_most = 0.25;

static int is_load(const struct run_work *work, enum role role)
{
    enum load_source source = work->recipe.tunnel.source;
    int first = (int)recipe_first_role(source);
    int count = source == LOADS_AS_COEFFICIENTS ? (int)COEFFICIENTS : 6;
    return ((int)role >= first && (int)role < first + count) ||
           (role >= ROLE_WHEEL_DRAG_FRONT_LEFT && role <= ROLE_BELT_LOAD);
}

static int is_height_sensor(enum role role)
{
    return role >= ROLE_HEIGHT_SENSOR_1 && role <= ROLE_HEIGHT_SENSOR_8;
}

static int is_wind(const struct run_work *work, enum role role)
{
    if (work->recipe.tunnel.source == LOADS_AS_COEFFICIENTS)
        return 0;
    switch (work->recipe.tunnel.q_source) {
    case Q_FROM_DROP:
        return role == work->recipe.drop_role;
    case Q_GIVEN:
        return role == ROLE_DYNAMIC_PRESSURE;
    case Q_FROM_SPEED: /* of a declared density */
        return role == ROLE_AIR_SPEED;
    case Q_FROM_TOTAL_AND_STATIC:
        break;
    }
    return role == ROLE_TOTAL_MINUS_STATIC || role == ROLE_STATIC_PRESSURE ||
           role == ROLE_TOTAL_PRESSURE;
}

static int is_named_by_a_target(const struct attitudes *attitudes, enum role role)
{
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++) {
        enum role coordinate = attitude_axis_role((enum attitude_axis)axis);
        int is_height = coordinate == ROLE_FRONT_RIDE_HEIGHT || coordinate == ROLE_REAR_RIDE_HEIGHT;
        if (coordinate != role && !(is_height && is_height_sensor(role)))
            continue;
        for (size_t i = 0; i < attitudes->n_targets; i++)
            if (attitudes->targets[i].given[axis])
                return 1;
    }
    return 0;
}

int record_is_needed(const struct run_work *work, enum role role)
{
    return is_load(work, role) || is_wind(work, role) ||
           (role == ROLE_YAW && work->recipe.tunnel.stays_with_tunnel) ||
           is_named_by_a_target(&work->night->campaign->attitudes, role);
}

int record_is_position(enum role role)
{
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++)
        if (attitude_axis_role((enum attitude_axis)axis) == role)
            return 1;
    return role == ROLE_BELT_SPEED || is_height_sensor(role);
}

void record_series(const struct run_data *data, size_t channel, struct channel_statistics *series)
{
    for (size_t i = 0; i < data->n_points; i++)
        series[i] = data->points[i].channels[channel];
}

struct record_judgement record_stuck_at(enum role role, const struct record_shares *shares,
                                        const struct channel_statistics *point)
{
    double share = record_repeat_share(shares, point);
    if (record_is_position(role) && record_constant_share(shares, point) > still_points_most)
        share = (double)NAN;
    return record_stuck(point, share);
}

static enum flag_state state_of(enum role role, const struct record_shares *shares,
                                const struct channel_statistics *point)
{
    const struct record_judgement judgements[] = {record_stuck_at(role, shares, point),
                                                  record_clipped(point), record_spiked(point)};
    enum flag_state worst = FLAG_INFO;
    for (size_t i = 0; i < sizeof judgements / sizeof judgements[0]; i++) {
        if (judgements[i].spoilt)
            return FLAG_FAILED;
        if (judgements[i].raised)
            worst = FLAG_FLAGGED;
    }
    return worst;
}

enum status record_states(const struct run_work *work, enum flag_state **states,
                          struct fault *fault)
{
    const struct run_data *data = &work->data;
    void *made = NULL;
    void *series = NULL;
    *states = NULL;
    enum status status =
        array_make(&series, data->n_points, sizeof(struct channel_statistics), fault);
    if (status == OK)
        status = array_make(&made, data->n_points, sizeof **states, fault); /* FLAG_INFO is 0 */
    enum flag_state *list = made;
    for (size_t c = 0; status == OK && c < data->n_channels; c++) {
        enum role role = data->channels[c].role;
        if (!record_is_needed(work, role))
            continue;
        const struct channel_statistics *of_channel = series;
        record_series(data, c, series);
        struct record_shares shares = record_shares_of(of_channel, data->n_points);
        for (size_t i = 0; i < data->n_points; i++) {
            enum flag_state state = state_of(role, &shares, &of_channel[i]);
            list[i] = state > list[i] ? state : list[i];
        }
    }
    size_t frozen = 0;
    if (status == OK)
        status = record_frozen_count(work->night, work->run, &frozen, fault);
    for (size_t i = 0; status == OK && frozen > 0 && i < data->n_points; i++)
        list[i] = FLAG_FAILED;
    free(series);
    *states = list;
    return status;
}

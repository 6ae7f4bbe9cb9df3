/* sensed_heights.c - see sensed_heights.h. */
#include "reduce/sensed_heights.h"

#include <math.h>
#include <string.h>

enum height_model height_model_of(const struct facility *facility)
{
    int is_line = 1;
    for (size_t i = 0; i < facility->n_height_sensors; i++)
        is_line &= facility->height_sensors[i].y == 0;
    return is_line || facility->roll_is_zero ? HEIGHT_LINE : HEIGHT_PLANE;
}

static void add_sensor(const struct height_sensor *sensor, const struct run_data *data,
                       const struct point_row *point, struct sensed_heights *heights)
{
    int channel = run_data_channel(data, sensor->role);
    double reading = channel < 0 ? (double)NAN : point->channels[channel].mean;
    if (!isfinite(reading)) {
        if (heights->n_silent++ == 0)
            heights->silent = sensor->role;
        return;
    }
    heights->role[heights->n] = sensor->role;
    heights->channel[heights->n] = channel;
    heights->place[heights->n] = (struct height_place){sensor->x, sensor->y};
    heights->height[heights->n] = reading + sensor->offset;
    heights->n++;
}

void sensed_heights_make(const struct campaign *campaign, const struct facility *facility,
                         const struct run_data *data, const struct point_row *point,
                         struct sensed_heights *heights)
{
    memset(heights, 0, sizeof *heights);
    heights->outcome = OUTCOME_TOO_FEW;
    if (facility == NULL || facility->n_height_sensors == 0)
        return;
    for (size_t i = 0; i < facility->n_height_sensors && i < HEIGHT_PLACES_MAX; i++)
        add_sensor(&facility->height_sensors[i], data, point, heights);
    heights->model = height_model_of(facility);
    heights->outcome = height_plane_fit(heights->model, heights->place, heights->height, heights->n,
                                        campaign->car.wheelbase, &heights->plane);
}

double sensed_coordinate(const struct sensed_heights *heights, enum attitude_axis axis,
                         const double **form)
{
    const struct height_plane *plane = &heights->plane;
    const struct {
        double value;
        const double *form;
    } told[ATTITUDE_COUNT] = {
        [ATTITUDE_FRONT_RIDE_HEIGHT] = {plane->front, plane->front_of},
        [ATTITUDE_REAR_RIDE_HEIGHT] = {plane->rear, plane->rear_of},
        [ATTITUDE_ROLL] = {plane->roll, plane->roll_of},
        [ATTITUDE_PITCH] = {plane->pitch, plane->pitch_of},
    };
    int is_told =
        heights->outcome == OUTCOME_OK && told[axis].form != NULL && isfinite(told[axis].value);
    if (form != NULL)
        *form = is_told ? told[axis].form : NULL;
    return is_told ? told[axis].value : (double)NAN;
}

static void take_sensed(const struct facility *facility, const struct sensed_heights *heights,
                        double attitude[ATTITUDE_COUNT])
{
    static const enum attitude_axis fixed[] = {ATTITUDE_FRONT_RIDE_HEIGHT,
                                               ATTITUDE_REAR_RIDE_HEIGHT, ATTITUDE_PITCH};
    for (size_t i = 0; i < sizeof fixed / sizeof fixed[0]; i++)
        attitude[fixed[i]] = sensed_coordinate(heights, fixed[i], NULL);
    if (heights->model == HEIGHT_PLANE)
        attitude[ATTITUDE_ROLL] = sensed_coordinate(heights, ATTITUDE_ROLL, NULL);
    else if (facility->roll_is_zero)
        attitude[ATTITUDE_ROLL] = 0;
}

void attitude_by_heights(const struct facility *facility, const struct sensed_heights *heights,
                         const struct run_data *data, const struct point_row *point,
                         double attitude[ATTITUDE_COUNT])
{
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++)
        attitude[axis] = run_data_mean(data, point, attitude_axis_role((enum attitude_axis)axis));
    if (facility != NULL && facility->ride_height == HEIGHT_FROM_SENSORS)
        take_sensed(facility, heights, attitude);
}

void attained_attitude(const struct campaign *campaign, const struct facility *facility,
                       const struct run_data *data, const struct point_row *point,
                       double attitude[ATTITUDE_COUNT])
{
    struct sensed_heights heights;
    sensed_heights_make(campaign, facility, data, point, &heights);
    attitude_by_heights(facility, &heights, data, point, attitude);
}

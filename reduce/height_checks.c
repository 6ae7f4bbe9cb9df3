/* height_checks.c - what height sensors of a point say against each other; see point_checks.h. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/point_checks.h"
#include "reduce/point_spread.h"

enum { HEIGHT_UNCERTAINTIES = 3 };

static const double mm = 1e3;

static int is_from_sensors(const struct run_work *work)
{
    return work->recipe.facility->ride_height == HEIGHT_FROM_SENSORS;
}

static int is_placed(const struct run_work *work)
{
    return work->recipe.facility->n_height_sensors > 0;
}

static struct flag_note begin(enum flag_rule rule, const struct run_work *work,
                              const struct reduced_point *made, const char *subject)
{
    return flag_note_make(rule, work->run->run, made->point->point, subject);
}

int check_heights_missing(const struct run_work *work, const struct reduced_point *made,
                          struct flag_note *note)
{
    const struct sensed_heights *heights = &made->heights;
    if (!is_from_sensors(work) || heights->outcome == OUTCOME_OK)
        return 0;
    *note = begin(FLAG_RIDE_HEIGHTS_MISSING, work, made,
                  attitude_axis_name(ATTITUDE_FRONT_RIDE_HEIGHT));
    (void)snprintf(note->detail, sizeof note->detail,
                   "%zu of %zu height sensors have samples%s%s: %s", heights->n,
                   heights->n + heights->n_silent, heights->n_silent > 0 ? ", not " : "",
                   heights->n_silent > 0 ? role_name(heights->silent) : "",
                   outcome_sentence(heights->outcome));
    return 1;
}

/* One that is placed and silent; where it leaves the heights open, that is the flag. */
int check_height_silent(const struct run_work *work, const struct reduced_point *made,
                        struct flag_note *note)
{
    const struct sensed_heights *heights = &made->heights;
    if (!is_placed(work) || heights->n_silent == 0 ||
        (is_from_sensors(work) && heights->outcome != OUTCOME_OK))
        return 0;
    *note = begin(FLAG_HEIGHT_SENSOR_SILENT, work, made, role_name(heights->silent));
    if (!is_from_sensors(work))
        note->state = FLAG_INFO; /* the sensors are a check only */
    (void)snprintf(note->detail, sizeof note->detail,
                   "%s has no samples; the plane is made of %zu of %zu sensors",
                   role_name(heights->silent), heights->n, heights->n + heights->n_silent);
    return 1;
}

static double limit_of(const struct run_work *work, double error)
{
    return fmax(work->night->campaign->limits.height_residual, HEIGHT_UNCERTAINTIES * error);
}

static size_t worst_sensor(const struct height_plane *plane)
{
    size_t worst = 0;
    for (size_t i = 1; i < plane->n; i++)
        if (fabs(plane->residual[i]) > fabs(plane->residual[worst]))
            worst = i;
    return worst;
}

/* What the front ride height would be without one sensor; NAN when the others do not fix it. */
static double front_without(const struct run_work *work, const struct sensed_heights *heights,
                            size_t without)
{
    struct height_place place[HEIGHT_PLACES_MAX];
    double height[HEIGHT_PLACES_MAX];
    struct height_plane plane;
    size_t n = 0;
    for (size_t i = 0; i < heights->n; i++) {
        if (i == without)
            continue;
        place[n] = heights->place[i];
        height[n++] = heights->height[i];
    }
    enum outcome outcome = height_plane_fit(heights->model, place, height, n,
                                            work->night->campaign->car.wheelbase, &plane);
    return outcome == OUTCOME_OK ? plane.front : (double)NAN;
}

static void describe_residual(const struct run_work *work, const struct sensed_heights *heights,
                              size_t worst, struct flag_note *note)
{
    double front = front_without(work, heights, worst);
    size_t used = 0;
    used += (size_t)snprintf(note->detail, sizeof note->detail,
                             "%s is %+.3f mm off the %s through all %zu sensors, limit %.3f mm; ",
                             role_name(heights->role[worst]), mm * note->value,
                             heights->model == HEIGHT_PLANE ? "plane" : "line", heights->n,
                             mm * note->limit);
    if (isnan(front))
        used += (size_t)snprintf(note->detail + used, sizeof note->detail - used,
                                 "without it the ride heights are not fixed");
    else
        used += (size_t)snprintf(note->detail + used, sizeof note->detail - used,
                                 "without it the front ride height is %.3f mm instead of %.3f mm",
                                 mm * front, mm * heights->plane.front);
    if (heights->plane.spare == 1)
        (void)snprintf(note->detail + used, sizeof note->detail - used,
                       "; one sensor to spare tells that one is off, not which");
}

int check_height_residual(const struct run_work *work, const struct reduced_point *made,
                          struct flag_note *note)
{
    const struct sensed_heights *heights = &made->heights;
    const struct height_plane *plane = &heights->plane;
    if (heights->outcome != OUTCOME_OK || plane->spare == 0)
        return 0;
    size_t worst = worst_sensor(plane);
    double limit = limit_of(work, point_sum_error(work, made->point, heights->channel,
                                                  plane->residual_of[worst], heights->n));
    if (!(fabs(plane->residual[worst]) > limit))
        return 0;
    *note = begin(FLAG_HEIGHTS_DISAGREE, work, made, role_name(heights->role[worst]));
    note->value = plane->residual[worst];
    note->limit = limit;
    note->unit = "m";
    describe_residual(work, heights, worst, note);
    return 1;
}

/* One coordinate both logged and sensed. */
struct twice {
    enum attitude_axis axis;
    double logged, sensed;
    double apart; /* m: as a height at the axle or at the outermost sensor */
    double limit; /* m */
};

/* Heights are compared as they are, angles by the height they make: pitch at the axle, roll at the
 * sensor farthest from the centreline. */
static double lever_of(const struct run_work *work, const struct sensed_heights *heights,
                       enum attitude_axis axis)
{
    double farthest = 0;
    for (size_t i = 0; i < heights->n; i++)
        farthest = fmax(farthest, fabs(heights->place[i].y));
    if (axis == ATTITUDE_ROLL)
        return farthest;
    return axis == ATTITUDE_PITCH ? work->night->campaign->car.wheelbase / 2 : 1;
}

static int compare_axis(const struct run_work *work, const struct reduced_point *made,
                        enum attitude_axis axis, struct twice *twice)
{
    int channel[HEIGHT_PLACES_MAX + 1];
    double weight[HEIGHT_PLACES_MAX + 1];
    const struct sensed_heights *heights = &made->heights;
    const double *form = NULL;
    twice->axis = axis;
    twice->sensed = sensed_coordinate(heights, axis, &form);
    twice->logged = run_data_mean(&work->data, made->point, attitude_axis_role(axis));
    if (form == NULL || !isfinite(twice->logged))
        return 0;
    memcpy(channel, heights->channel, sizeof heights->channel);
    memcpy(weight, form, HEIGHT_PLACES_MAX * sizeof *weight);
    channel[heights->n] = run_data_channel(&work->data, attitude_axis_role(axis));
    weight[heights->n] = -1;
    double lever = lever_of(work, heights, axis);
    twice->apart = lever * (twice->logged - twice->sensed);
    twice->limit =
        limit_of(work, lever * point_sum_error(work, made->point, channel, weight, heights->n + 1));
    return fabs(twice->apart) > twice->limit;
}

static void describe_twice(const struct run_work *work, const struct twice *twice,
                           struct flag_note *note)
{
    int is_height = strcmp(attitude_axis_unit(twice->axis), "m") == 0;
    double scale = is_height ? mm : 180 / acos(-1.0);
    (void)snprintf(note->detail, sizeof note->detail,
                   "%s is %.3f %s by the log and %.3f %s by the height sensors: %+.3f mm between "
                   "them%s, limit %.3f mm; taken is the one %s",
                   attitude_axis_words(twice->axis), scale * twice->logged,
                   is_height ? "mm" : "deg", scale * twice->sensed, is_height ? "mm" : "deg",
                   mm * twice->apart,
                   is_height                       ? ""
                   : twice->axis == ATTITUDE_PITCH ? " at the axle"
                                                   : " at the outermost sensor",
                   mm * twice->limit, is_from_sensors(work) ? "by the sensors" : "by the log");
}

int check_height_log(const struct run_work *work, const struct reduced_point *made,
                     struct flag_note *note)
{
    static const enum attitude_axis axes[] = {ATTITUDE_FRONT_RIDE_HEIGHT, ATTITUDE_REAR_RIDE_HEIGHT,
                                              ATTITUDE_PITCH, ATTITUDE_ROLL};
    struct twice worst = {.apart = 0, .limit = 1};
    int found = 0;
    for (size_t i = 0; i < sizeof axes / sizeof axes[0]; i++) {
        struct twice twice;
        if (!compare_axis(work, made, axes[i], &twice) ||
            (found && fabs(twice.apart) / twice.limit <= fabs(worst.apart) / worst.limit))
            continue;
        worst = twice;
        found = 1;
    }
    if (!found)
        return 0;
    *note = begin(FLAG_HEIGHTS_DISAGREE, work, made, attitude_axis_name(worst.axis));
    note->value = worst.apart;
    note->limit = worst.limit;
    note->unit = "m";
    describe_twice(work, &worst, note);
    return 1;
}

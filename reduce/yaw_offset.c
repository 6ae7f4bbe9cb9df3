/* yaw_offset.c - see yaw_offset.h. */
#include "reduce/yaw_offset.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/constants.h"
#include "reduce/physics/flow_angularity.h"
#include "reduce/rows.h"

enum { LEAST_POINTS = 4 };

static const double degree = 180.0 / PI;

enum status yaw_watch_open(const struct run_work *work, struct yaw_watch *watch,
                           struct fault *fault)
{
    void *arrays[4] = {NULL};
    const size_t sizes[4] = {sizeof(double), sizeof(double), sizeof(double), sizeof(double[2])};
    enum status status = OK;
    for (int i = 0; status == OK && i < 4; i++)
        status = array_make(&arrays[i], work->data.n_points, sizes[i], fault);
    *watch = (struct yaw_watch){arrays[0], arrays[1], arrays[2], arrays[3], 0};
    if (status != OK)
        yaw_watch_end(watch);
    return status;
}

void yaw_watch_end(struct yaw_watch *watch)
{
    free(watch->yaw);
    free(watch->side);
    free(watch->drag);
    free(watch->height);
    memset(watch, 0, sizeof *watch);
}

void yaw_watch_add(struct yaw_watch *watch, const struct reduced_point *made)
{
    double yaw = made->attitude[ATTITUDE_YAW], side = made->result.corrected[COEFFICIENT_CY];
    size_t i = watch->n;
    if (!isfinite(yaw) || !isfinite(side))
        return;
    watch->yaw[i] = yaw;
    watch->side[i] = side;
    watch->drag[i] = made->result.corrected[COEFFICIENT_CD];
    watch->height[i][0] = made->attitude[ATTITUDE_FRONT_RIDE_HEIGHT];
    watch->height[i][1] = made->attitude[ATTITUDE_REAR_RIDE_HEIGHT];
    watch->n++;
}

/* Heights that are not logged are alike. */
static int stands_alike(const struct yaw_watch *watch, const struct attitudes *attitudes, size_t a,
                        size_t b)
{
    const double capture[] = {attitudes->capture[ATTITUDE_FRONT_RIDE_HEIGHT],
                              attitudes->capture[ATTITUDE_REAR_RIDE_HEIGHT]};
    for (int i = 0; i < 2; i++)
        if (fabs(watch->height[a][i] - watch->height[b][i]) > capture[i])
            return 0;
    return 1;
}

struct sweep {
    double *yaw, *side, *drag;
    size_t n;
    int to_left, to_right;
};

/* The points about one of them, in the order they were added. */
static void gather(const struct yaw_watch *watch, const struct attitudes *attitudes, size_t about,
                   struct sweep *sweep)
{
    sweep->n = 0;
    sweep->to_left = sweep->to_right = 0;
    for (size_t i = 0; i < watch->n; i++) {
        if (!stands_alike(watch, attitudes, about, i))
            continue;
        sweep->yaw[sweep->n] = watch->yaw[i];
        sweep->side[sweep->n] = watch->side[i];
        sweep->drag[sweep->n++] = watch->drag[i];
        sweep->to_left = sweep->to_left || watch->yaw[i] < 0;
        sweep->to_right = sweep->to_right || watch->yaw[i] > 0;
    }
}

/* Index of the point with the most about it. */
static size_t busiest(const struct yaw_watch *watch, const struct attitudes *attitudes)
{
    size_t most = 0, best = 0;
    for (size_t a = 0; a < watch->n; a++) {
        size_t n = 0;
        for (size_t b = 0; b < watch->n; b++)
            n += (size_t)stands_alike(watch, attitudes, a, b);
        if (n <= most)
            continue;
        most = n;
        best = a;
    }
    return best;
}

static int judge(const struct sweep *sweep, struct flag_note *note)
{
    struct yaw_offset zero, vertex;
    char drag[120] = "";
    if (sweep->n < LEAST_POINTS || !sweep->to_left || !sweep->to_right ||
        flow_yaw_of_zero(sweep->yaw, sweep->side, sweep->n, &zero, NULL) != OUTCOME_OK ||
        !(fabs(zero.yaw) > 2.0 * zero.yaw_u))
        return 0;
    if (flow_yaw_of_vertex(sweep->yaw, sweep->drag, sweep->n, &vertex) == OUTCOME_OK)
        (void)snprintf(drag, sizeof drag, ", the drag has its vertex at %+.3f +- %.3f deg",
                       degree * vertex.yaw, degree * vertex.yaw_u);
    note->value = zero.yaw;
    note->unit = "rad";
    (void)snprintf(
        note->detail, sizeof note->detail,
        "of %zu points at one pair of ride heights the side force is zero at yaw %+.3f +- "
        "%.3f deg%s; not corrected",
        sweep->n, degree * zero.yaw, degree * zero.yaw_u, drag);
    return 1;
}

int yaw_watch_check(const struct yaw_watch *watch, const struct run_work *work,
                    struct flag_note *note)
{
    const struct attitudes *attitudes = &work->night->campaign->attitudes;
    struct sweep sweep = {0};
    double *room = watch->n >= LEAST_POINTS ? calloc(3 * watch->n, sizeof *room) : NULL;
    if (room == NULL) /* too few; or no memory, and then nothing is told */
        return 0;
    sweep.yaw = room;
    sweep.side = room + watch->n;
    sweep.drag = room + 2 * watch->n;
    gather(watch, attitudes, busiest(watch, attitudes), &sweep);
    *note = flag_note_make(FLAG_YAW_OFFSET, work->run->run, "", "CY");
    int is_told = judge(&sweep, note);
    free(room);
    return is_told;
}

/* wind_floor.c - see wind_floor.h. */
#include "reduce/wind_floor.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "reduce/inputs.h"
#include "reduce/physics/tunnel_freestream.h"
#include "reduce/rows.h"
#include "reduce/statistics/robust.h"

static const double lowest_share = 0.01;

double wind_floor_q(const struct run_work *work, const struct run_data *data,
                    const struct point_row *point)
{
    struct tunnel_inputs inputs;
    struct tunnel_freestream wind;
    inputs_fill(&work->recipe, data, point, &work->zeros, &inputs);
    (void)tunnel_freestream(&work->recipe.tunnel, &inputs, &wind);
    return wind.dynamic_pressure > 0 ? wind.dynamic_pressure : (double)NAN;
}

enum status wind_floor_make(const struct run_work *work, struct wind_floor *floor,
                            struct fault *fault)
{
    void *array = NULL;
    *floor = (struct wind_floor){(double)NAN, (double)NAN};
    if (work->recipe.tunnel.source == LOADS_AS_COEFFICIENTS)
        return OK;
    enum status status = array_make(&array, work->data.n_points, sizeof(double), fault);
    if (status != OK)
        return status;
    double *q = array;
    for (size_t i = 0; i < work->data.n_points; i++)
        q[i] = wind_floor_q(work, &work->data, &work->data.points[i]);
    floor->median = robust_of(q, work->data.n_points).median;
    floor->lowest = lowest_share * floor->median;
    free(array);
    return OK;
}

int wind_floor_refuses(const struct wind_floor *floor, const struct run_work *work,
                       const struct reduced_point *made, struct flag_note *note)
{
    double q = made->result.freestream.dynamic_pressure;
    if (!(q < floor->lowest))
        return 0;
    *note = flag_note_make(FLAG_NO_FREESTREAM, work->run->run, made->point->point, "q");
    note->value = q;
    note->limit = floor->lowest;
    note->unit = "Pa";
    (void)snprintf(note->detail, sizeof note->detail,
                   "q is %.3g Pa, the run's median %.4g Pa, limit %g %% of it: the wind was off; "
                   "repeat the point with the wind on, or take its rows out of the log",
                   q, floor->median, 100 * lowest_share);
    return 1;
}

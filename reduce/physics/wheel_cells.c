/* wheel_cells.c - see wheel_cells.h. */
#include "reduce/physics/wheel_cells.h"

#include <math.h>

/* Where each cell acts, in half wheelbases and half tracks, and which way. */
static const struct {
    int is_load;
    int is_belt;
    double x, y;
} cells[WHEEL_CELLS] = {
    [CELL_DRAG_FRONT_LEFT] = {0, 0, -1, -1}, [CELL_DRAG_FRONT_RIGHT] = {0, 0, -1, 1},
    [CELL_DRAG_REAR_LEFT] = {0, 0, 1, -1},   [CELL_DRAG_REAR_RIGHT] = {0, 0, 1, 1},
    [CELL_LOAD_FRONT_LEFT] = {1, 0, -1, -1}, [CELL_LOAD_FRONT_RIGHT] = {1, 0, -1, 1},
    [CELL_LOAD_REAR_LEFT] = {1, 0, 1, -1},   [CELL_LOAD_REAR_RIGHT] = {1, 0, 1, 1},
    [CELL_BELT_DRAG] = {0, 1, 0, 0},         [CELL_BELT_LOAD] = {1, 1, 0, 0},
};

static int lacks_track(const int added[WHEEL_CELLS], const struct cell_geometry *geometry,
                       int is_load)
{
    for (int i = 0; i < WHEEL_CELLS; i++) {
        double track = cells[i].x < 0 ? geometry->track_front : geometry->track_rear;
        if (added[i] && !cells[i].is_belt && cells[i].is_load == is_load && !(track > 0))
            return 1;
    }
    return 0;
}

int wheel_cells_lack_roll(const int added[WHEEL_CELLS], const struct cell_geometry *geometry)
{
    return lacks_track(added, geometry, 1);
}

int wheel_cells_lack_yaw(const int added[WHEEL_CELLS], const struct cell_geometry *geometry)
{
    return lacks_track(added, geometry, 0);
}

static void add_cell(int i, double force, const struct cell_geometry *geometry, double sum[6])
{
    double track = cells[i].x < 0 ? geometry->track_front : geometry->track_rear;
    double x = cells[i].is_belt ? geometry->belt_x : cells[i].x * geometry->wheelbase / 2;
    double y = cells[i].y * track / 2;
    if (!cells[i].is_load) {
        sum[0] += force;
        sum[5] -= y * force;
        return;
    }
    sum[2] -= force;
    sum[3] -= y * force;
    sum[4] += x * force;
}

enum outcome wheel_cells_add(const double loads[6], const double cell[WHEEL_CELLS],
                             const int added[WHEEL_CELLS], const struct cell_geometry *geometry,
                             double total[6])
{
    double sum[6];
    for (int i = 0; i < 6; i++)
        if (isinf(loads[i]))
            return OUTCOME_NOT_FINITE;
    if (!isfinite(geometry->belt_x))
        return OUTCOME_NOT_FINITE;
    if (!(geometry->wheelbase > 0) || !(geometry->track_front >= 0) || !(geometry->track_rear >= 0))
        return OUTCOME_GEOMETRY;
    for (int i = 0; i < 6; i++)
        sum[i] = loads[i];
    for (int i = 0; i < WHEEL_CELLS; i++) {
        if (!added[i])
            continue;
        if (!isfinite(cell[i]))
            return OUTCOME_NOT_FINITE;
        add_cell(i, cell[i], geometry, sum);
    }
    if (wheel_cells_lack_roll(added, geometry))
        sum[3] = (double)NAN;
    if (wheel_cells_lack_yaw(added, geometry))
        sum[5] = (double)NAN;
    for (int i = 0; i < 6; i++)
        total[i] = sum[i];
    return OUTCOME_OK;
}

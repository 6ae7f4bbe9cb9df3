/* wheel_cells.h - loads that wheels and belt carry beside the balance, added to the car's loads.
 *
 * Where the balance holds the body only, cells measure what the wheels and the belt carry. Their axes
 * follow the car, so they are added in car axes, after the balance's loads have come to the car's
 * origin: x aft, y right, z up, ground at mid-wheelbase. Drag is the force on the car, aft positive;
 * load is downforce, positive down. All act on the ground, z = 0:
 *
 *   wheel i at x_i = -W/2 front, W/2 rear;  y_i = -track/2 left, track/2 right;  belt at (x_b, 0)
 *   Fx += D,   Fz -= L,   Mx -= y_i L,   My += x_i L,   Mz -= y_i D
 *
 * Drag at z = 0 has no pitching moment, so it moves no axle load; a load moves its own axle's only.
 * Without a track the rolling moment of loads and the yawing moment of drags are not known: NAN.
 * Source: statics of a rigid body, M = r x F.                                                      */
#ifndef LAPWING_WHEEL_CELLS_H
#define LAPWING_WHEEL_CELLS_H

#include "reduce/physics/outcome.h"

enum wheel_cell {
    CELL_DRAG_FRONT_LEFT,
    CELL_DRAG_FRONT_RIGHT,
    CELL_DRAG_REAR_LEFT,
    CELL_DRAG_REAR_RIGHT,
    CELL_LOAD_FRONT_LEFT,
    CELL_LOAD_FRONT_RIGHT,
    CELL_LOAD_REAR_LEFT,
    CELL_LOAD_REAR_RIGHT,
    CELL_BELT_DRAG,
    CELL_BELT_LOAD,
    WHEEL_CELLS
};

struct cell_geometry {
    double wheelbase;               /* m, positive */
    double track_front, track_rear; /* m; 0 when not given */
    double belt_x;                  /* m, middle of the belt's cells, aft positive */
};

/* Adds the cells that are marked in added to the loads Fx Fy Fz (N) Mx My Mz (N m) at the car's origin,
 * car axes. cell: N, zero and tare taken off; one that is not marked may be NAN. *total may be the same
 * array as loads. A rolling or yawing moment that needs a track that is not there becomes NAN.
 * A load that is NAN, not measured, stays NAN: what is added to it is not all there is of it.
 * OUTCOME_NOT_FINITE: a load is infinite or a marked cell not finite; OUTCOME_GEOMETRY: wheelbase not positive,
 * a track negative. total is written on OUTCOME_OK only. */
enum outcome wheel_cells_add(const double loads[6], const double cell[WHEEL_CELLS],
                             const int added[WHEEL_CELLS], const struct cell_geometry *geometry,
                             double total[6]);

/* 1 when marked wheel loads (wheel drags) need a track that is not there. */
int wheel_cells_lack_roll(const int added[WHEEL_CELLS], const struct cell_geometry *geometry);
int wheel_cells_lack_yaw(const int added[WHEEL_CELLS], const struct cell_geometry *geometry);

#endif

/* test_wheel_cells.c - wheels and belt beside the balance: sums, levers, what a missing track takes.
 *
 * Loads and sizes are invented; what is checked are statics worked by hand and identities.          */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/physics/axes.h"
#include "reduce/physics/wheel_cells.h"
#include "tests/check.h"

static const struct cell_geometry car = {1.4, 0.8, 0.76, 0.05};
static const double body[6] = {310, -12, -1450, 21, -160, 9};

static void axles(const double load[6], double *front, double *rear)
{
    CHECK(axes_axle_split(-load[2], load[4], car.wheelbase, front, rear) == OUTCOME_OK);
}

static void add(const double cell[WHEEL_CELLS], double total[6])
{
    int added[WHEEL_CELLS];
    for (int i = 0; i < WHEEL_CELLS; i++)
        added[i] = 1;
    CHECK(wheel_cells_add(body, cell, added, &car, total) == OUTCOME_OK);
}

static void drag_on_the_ground_moves_no_axle_load(void)
{
    double cell[WHEEL_CELLS] = {[CELL_DRAG_FRONT_LEFT] = 20, [CELL_DRAG_FRONT_RIGHT] = 30};
    double total[6], front, rear, front_before, rear_before;
    add(cell, total);
    axles(body, &front_before, &rear_before);
    axles(total, &front, &rear);
    CHECK_NEAR(total[0], 360, 0, "by hand: 310 + 50 N");
    CHECK_NEAR(front, front_before, 0, "statics: no lever at z = 0");
    CHECK_NEAR(rear, rear_before, 0, "statics");
    CHECK_NEAR(total[3], body[3], 0, "statics: drag has no moment about x");
    CHECK_NEAR(total[5], 9 + 20 * 0.4 - 30 * 0.4, 1e-12, "by hand: Mz = -y D, right is +y");
}

static void a_load_moves_its_own_axle_by_itself(void)
{
    static const struct {
        enum wheel_cell cell;
        double front, rear, roll;
    } loads[] = {{CELL_LOAD_FRONT_LEFT, 100, 0, 40},
                 {CELL_LOAD_FRONT_RIGHT, 100, 0, -40},
                 {CELL_LOAD_REAR_LEFT, 0, 100, 38},
                 {CELL_LOAD_REAR_RIGHT, 0, 100, -38},
                 /* the belt's middle is 0.05 m aft: 100 (1/2 -+ 0.05/1.4) */
                 {CELL_BELT_LOAD, 50 - 100 * 0.05 / 1.4, 50 + 100 * 0.05 / 1.4, 0}};
    double front_before, rear_before;
    axles(body, &front_before, &rear_before);
    for (size_t i = 0; i < sizeof loads / sizeof loads[0]; i++) {
        double cell[WHEEL_CELLS] = {0};
        double total[6], front, rear;
        cell[loads[i].cell] = 100;
        add(cell, total);
        axles(total, &front, &rear);
        CHECK_NEAR(front - front_before, loads[i].front, 1e-10, "by hand: lever of the axle");
        CHECK_NEAR(rear - rear_before, loads[i].rear, 1e-10, "by hand");
        CHECK_NEAR(total[3] - body[3], loads[i].roll, 1e-10, "by hand: Mx = -y L, right is +y");
        CHECK_NEAR(front + rear, -total[2], 1e-10, "identity: axle loads make the total");
        CHECK_NEAR(-total[2], 1550, 1e-10, "by hand: 1450 + 100 N");
        CHECK(total[0] == body[0] && total[1] == body[1] && total[5] == body[5]);
    }
}

static void the_total_is_the_sum_of_its_parts(void)
{
    double cell[WHEEL_CELLS] = {11, 12, 21, 22, 101, 102, 201, 202, 5, 7};
    double total[6];
    add(cell, total);
    CHECK_NEAR(total[0], 310 + 11 + 12 + 21 + 22 + 5, 1e-12, "by hand");
    CHECK_NEAR(total[1], -12, 0, "by hand: no cell has a side force");
    CHECK_NEAR(total[2], -1450 - 101 - 102 - 201 - 202 - 7, 1e-12, "by hand");
    CHECK_NEAR(total[3], 21 + 0.4 * (101 - 102) + 0.38 * (201 - 202), 1e-12, "by hand");
    CHECK_NEAR(total[4], -160 + 0.7 * (201 + 202 - 101 - 102) + 0.05 * 7, 1e-11, "by hand");
    CHECK_NEAR(total[5], 9 + 0.4 * (11 - 12) + 0.38 * (21 - 22), 1e-12, "by hand");
}

/* The same by the general transfer of a force, one contact point after the other. */
static void statics_of_a_force_at_a_point_agree(void)
{
    static const double x[4] = {-0.7, -0.7, 0.7, 0.7}, y[4] = {-0.4, 0.4, -0.38, 0.38};
    double cell[WHEEL_CELLS] = {11, 12, 21, 22, 101, 102, 201, 202, 5, 7};
    double total[6], sum[6];
    memcpy(sum, body, sizeof sum);
    for (int i = 0; i < 5; i++) {
        const double point[3] = {i < 4 ? x[i] : car.belt_x, i < 4 ? y[i] : 0, 0};
        const double force[6] = {i < 4 ? cell[i] : cell[8], 0, -(i < 4 ? cell[4 + i] : cell[9])};
        double moved[6];
        CHECK(axes_transfer(force, point, moved) == OUTCOME_OK);
        for (int k = 0; k < 6; k++)
            sum[k] += moved[k];
    }
    add(cell, total);
    for (int k = 0; k < 6; k++)
        CHECK_NEAR(total[k], sum[k], 1e-11, "axes_transfer(), statics");
}

static void a_missing_track_takes_the_moments_it_is_the_lever_of(void)
{
    static const struct cell_geometry narrow = {1.4, 0, 0, 0};
    static const struct cell_geometry half = {1.4, 0.8, 0, 0};
    double cell[WHEEL_CELLS] = {11, 12, 21, 22, 101, 102, 201, 202, 5, 7};
    int drags[WHEEL_CELLS] = {1, 1, 1, 1}, loads[WHEEL_CELLS] = {0, 0, 0, 0, 1, 1, 1, 1};
    int belt[WHEEL_CELLS] = {0, 0, 0, 0, 0, 0, 0, 0, 1, 1}, none[WHEEL_CELLS] = {0};
    double total[6];
    CHECK(wheel_cells_add(body, cell, drags, &narrow, total) == OUTCOME_OK);
    CHECK(isnan(total[5]) && total[3] == body[3] && total[0] == 376 && total[4] == body[4]);
    CHECK(wheel_cells_add(body, cell, loads, &half, total) == OUTCOME_OK);
    CHECK(isnan(total[3]) && total[5] == body[5] && isfinite(total[4]));
    CHECK(wheel_cells_add(body, cell, belt, &narrow, total) == OUTCOME_OK);
    CHECK(isfinite(total[3]) && isfinite(total[5]));
    CHECK(wheel_cells_add(body, cell, none, &narrow, total) == OUTCOME_OK);
    for (int i = 0; i < 6; i++)
        CHECK(total[i] == body[i]);
    CHECK(wheel_cells_lack_yaw(drags, &narrow) && !wheel_cells_lack_roll(drags, &narrow));
    CHECK(wheel_cells_lack_roll(loads, &half) && !wheel_cells_lack_yaw(loads, &half));
    CHECK(!wheel_cells_lack_roll(belt, &narrow) && !wheel_cells_lack_yaw(belt, &narrow));
}

static void what_cannot_be_added_is_refused(void)
{
    double cell[WHEEL_CELLS] = {11, (double)NAN};
    int added[WHEEL_CELLS] = {1, 1}, first[WHEEL_CELLS] = {1};
    double loads[6] = {310, -12, -1450, 21, -160, 9};
    double total[6] = {77};
    struct cell_geometry wrong = car;
    CHECK(wheel_cells_add(body, cell, added, &car, total) == OUTCOME_NOT_FINITE);
    wrong.wheelbase = 0;
    CHECK(wheel_cells_add(body, cell, first, &wrong, total) == OUTCOME_GEOMETRY);
    wrong = car;
    wrong.track_rear = -1;
    CHECK(wheel_cells_add(body, cell, first, &wrong, total) == OUTCOME_GEOMETRY);
    wrong = car;
    wrong.track_front = (double)NAN;
    CHECK(wheel_cells_add(body, cell, first, &wrong, total) == OUTCOME_GEOMETRY);
    wrong = car;
    wrong.belt_x = (double)INFINITY;
    CHECK(wheel_cells_add(body, cell, first, &wrong, total) == OUTCOME_NOT_FINITE);
    loads[4] = (double)INFINITY;
    CHECK(wheel_cells_add(loads, cell, first, &car, total) == OUTCOME_NOT_FINITE);
    CHECK(total[0] == 77);
    CHECK(wheel_cells_add(body, cell, first, &car, total) ==
          OUTCOME_OK); /* a NAN that is not added */
    CHECK_NEAR(total[0], 321, 0, "by hand");
    loads[4] = (double)NAN; /* not measured by the balance */
    CHECK(wheel_cells_add(loads, cell, first, &car, total) == OUTCOME_OK);
    CHECK(isnan(total[4]) && total[0] == 321 && total[2] == loads[2]);
}

CU_TestInfo wheel_cells_tests[] = {
    {"drag on the ground moves no axle load", drag_on_the_ground_moves_no_axle_load},
    {"a load moves its own axle by itself", a_load_moves_its_own_axle_by_itself},
    {"the total is the sum of its parts", the_total_is_the_sum_of_its_parts},
    {"statics of a force at a point agree", statics_of_a_force_at_a_point_agree},
    {"a missing track takes the moments it is the lever of",
     a_missing_track_takes_the_moments_it_is_the_lever_of},
    {"what cannot be added is refused", what_cannot_be_added_is_refused},
    CU_TEST_INFO_NULL};

/* uncertain_input.c - the table of uncertain inputs; see uncertain_input.h. */
#include "schema/uncertain_input.h"

#include <string.h>

static const struct uncertain_input_row rows[UNCERTAIN_INPUTS] = {
    [UNCERTAIN_OUTPUT_1] = {"balance_output_1", "", "output R1 of the balance"},
    [UNCERTAIN_OUTPUT_1 + 1] = {"balance_output_2", "", "output R2 of the balance"},
    [UNCERTAIN_OUTPUT_1 + 2] = {"balance_output_3", "", "output R3 of the balance"},
    [UNCERTAIN_OUTPUT_1 + 3] = {"balance_output_4", "", "output R4 of the balance"},
    [UNCERTAIN_OUTPUT_1 + 4] = {"balance_output_5", "", "output R5 of the balance"},
    [UNCERTAIN_OUTPUT_1 + 5] = {"balance_output_6", "", "output R6 of the balance"},
    [UNCERTAIN_LOAD_1] = {"force_x", "N", "load Fx of the balance, balance axes"},
    [UNCERTAIN_LOAD_1 + 1] = {"force_y", "N", "load Fy of the balance, balance axes"},
    [UNCERTAIN_LOAD_1 + 2] = {"force_z", "N", "load Fz of the balance, balance axes"},
    [UNCERTAIN_LOAD_1 + 3] = {"moment_x", "N m", "load Mx of the balance, balance axes"},
    [UNCERTAIN_LOAD_1 + 4] = {"moment_y", "N m", "load My of the balance, balance axes"},
    [UNCERTAIN_LOAD_1 + 5] = {"moment_z", "N m", "load Mz of the balance, balance axes"},
    [UNCERTAIN_CELL_1] = {"wheel_drag_front_left", "N", "wheel drag front left cell"},
    [UNCERTAIN_CELL_1 + 1] = {"wheel_drag_front_right", "N", "wheel drag front right cell"},
    [UNCERTAIN_CELL_1 + 2] = {"wheel_drag_rear_left", "N", "wheel drag rear left cell"},
    [UNCERTAIN_CELL_1 + 3] = {"wheel_drag_rear_right", "N", "wheel drag rear right cell"},
    [UNCERTAIN_CELL_1 + 4] = {"wheel_load_front_left", "N", "wheel load front left cell"},
    [UNCERTAIN_CELL_1 + 5] = {"wheel_load_front_right", "N", "wheel load front right cell"},
    [UNCERTAIN_CELL_1 + 6] = {"wheel_load_rear_left", "N", "wheel load rear left cell"},
    [UNCERTAIN_CELL_1 + 7] = {"wheel_load_rear_right", "N", "wheel load rear right cell"},
    [UNCERTAIN_CELL_1 + 8] = {"belt_drag", "N", "belt drag cell"},
    [UNCERTAIN_CELL_1 + 9] = {"belt_load", "N", "belt load cell"},
    [UNCERTAIN_TOTAL_PRESSURE] = {"total_pressure", "Pa", "total pressure"},
    [UNCERTAIN_STATIC_PRESSURE] = {"static_pressure", "Pa", "static pressure"},
    [UNCERTAIN_TOTAL_MINUS_STATIC] = {"total_minus_static", "Pa", "total minus static pressure"},
    [UNCERTAIN_DROP] = {"pressure_drop", "Pa",
                        "pressure drop of the contraction, nozzle or plenum"},
    [UNCERTAIN_DYNAMIC_PRESSURE] = {"dynamic_pressure", "Pa",
                                    "dynamic pressure, however it is found"},
    [UNCERTAIN_AIR_SPEED] = {"air_speed", "m/s", "air speed that q is made of"},
    [UNCERTAIN_TOTAL_TEMPERATURE] = {"total_temperature", "K", "total temperature"},
    [UNCERTAIN_STATIC_TEMPERATURE] = {"static_temperature", "K", "static temperature"},
    [UNCERTAIN_HUMIDITY] = {"relative_humidity", "1", "relative humidity"},
    [UNCERTAIN_ATTITUDE_1] = {"front_ride_height", "m",
                              "front ride height, by the slope of the configuration's own points"},
    [UNCERTAIN_ATTITUDE_1 +
        1] = {"rear_ride_height", "m",
              "rear ride height, by the slope of the configuration's own points"},
    [UNCERTAIN_ATTITUDE_1 + 2] = {"yaw", "rad",
                                  "yaw, by the slope of the configuration's own points"},
    [UNCERTAIN_ATTITUDE_1 + 3] = {"roll", "rad",
                                  "roll, by the slope of the configuration's own points"},
    [UNCERTAIN_ATTITUDE_1 + 4] = {"pitch", "rad",
                                  "pitch, by the slope of the configuration's own points"},
    [UNCERTAIN_ATTITUDE_1 + 5] = {"steer", "rad",
                                  "steer, by the slope of the configuration's own points"},
    [UNCERTAIN_AREA] = {"reference_area", "m2", "reference area"},
    [UNCERTAIN_WHEELBASE] = {"wheelbase", "m", "wheelbase"},
    [UNCERTAIN_ORIGIN_X] = {"balance_origin_x", "m", "place of the balance, aft"},
    [UNCERTAIN_ORIGIN_Y] = {"balance_origin_y", "m", "place of the balance, to the right"},
    [UNCERTAIN_ORIGIN_Z] = {"balance_origin_z", "m", "place of the balance, up"},
    [UNCERTAIN_TURN_X] = {"balance_roll", "rad", "angle of the balance to the car about x aft"},
    [UNCERTAIN_TURN_Y] = {"balance_pitch", "rad", "angle of the balance to the car about y right"},
    [UNCERTAIN_TURN_Z] = {"balance_yaw", "rad", "angle of the balance to the car about z up"},
    [UNCERTAIN_BLOCKAGE] = {"blockage", "1", "blockage increment of velocity, a share of itself"},
    [UNCERTAIN_GRADIENT] = {"pressure_gradient", "1/m", "pressure gradient of the empty section"},
    [UNCERTAIN_VOLUME] = {"volume", "m3", "volume of the car"},
    [UNCERTAIN_CD] = {"drag_coefficient", "1", "CD itself"},
    [UNCERTAIN_CY] = {"side_coefficient", "1", "CY itself"},
    [UNCERTAIN_CL] = {"downforce_coefficient", "1", "CL itself, at the point's own balance"},
    [UNCERTAIN_CLF] = {"downforce_front_coefficient", "1", "CLF itself"},
    [UNCERTAIN_CLR] = {"downforce_rear_coefficient", "1", "CLR itself"},
    [UNCERTAIN_SLOTTED_FACTOR] = {"slotted factor", "1", "factor of the slotted section"},
    [UNCERTAIN_VORTEX_DRAG] = {"vortex drag factor", "1", "K of the vortex drag"},
    [UNCERTAIN_REYNOLDS_1] = {"Reynolds slope of CD", "1", "slope of CD over log10(Re)"},
    [UNCERTAIN_REYNOLDS_1 + 1] = {"Reynolds slope of CL", "1", "slope of CL over log10(Re)"},
    [UNCERTAIN_REYNOLDS_1 + 2] = {"Reynolds slope of CLF", "1", "slope of CLF over log10(Re)"},
};

const struct uncertain_input_row *uncertain_input_row(enum uncertain_input input)
{
    return &rows[input];
}

enum uncertain_input uncertain_input_from_word(const char *word)
{
    for (int i = 0; i < UNCERTAIN_DECLARED; i++)
        if (strcmp(rows[i].word, word) == 0)
            return (enum uncertain_input)i;
    return UNCERTAIN_INPUTS;
}

/* role.c - the table of roles; see role.h. */
#include "schema/role.h"

#include <stddef.h>
#include <string.h>

struct role_row {
    const char *name;
    const char *unit; /* NULL: text, or a unit that the balance or the column declares */
};

static const struct role_row rows[ROLE_COUNT] = {
    [ROLE_TIME] = {"time", "s"},
    [ROLE_CLOCK] = {"clock", "s"},
    [ROLE_POINT] = {"point", NULL},
    [ROLE_RECORDING] = {"recording", NULL},
    [ROLE_SAMPLE_COUNT] = {"sample_count", "1"},
    [ROLE_BALANCE_OUTPUT_1] = {"balance_output_1", NULL},
    [ROLE_BALANCE_OUTPUT_2] = {"balance_output_2", NULL},
    [ROLE_BALANCE_OUTPUT_3] = {"balance_output_3", NULL},
    [ROLE_BALANCE_OUTPUT_4] = {"balance_output_4", NULL},
    [ROLE_BALANCE_OUTPUT_5] = {"balance_output_5", NULL},
    [ROLE_BALANCE_OUTPUT_6] = {"balance_output_6", NULL},
    [ROLE_FORCE_X] = {"force_x", "N"},
    [ROLE_FORCE_Y] = {"force_y", "N"},
    [ROLE_FORCE_Z] = {"force_z", "N"},
    [ROLE_MOMENT_X] = {"moment_x", "N m"},
    [ROLE_MOMENT_Y] = {"moment_y", "N m"},
    [ROLE_MOMENT_Z] = {"moment_z", "N m"},
    [ROLE_DRAG_COEFFICIENT] = {"drag_coefficient", "1"},
    [ROLE_SIDE_COEFFICIENT] = {"side_coefficient", "1"},
    [ROLE_DOWNFORCE_COEFFICIENT] = {"downforce_coefficient", "1"},
    [ROLE_DOWNFORCE_FRONT_COEFFICIENT] = {"downforce_front_coefficient", "1"},
    [ROLE_DOWNFORCE_REAR_COEFFICIENT] = {"downforce_rear_coefficient", "1"},
    [ROLE_ROLL_COEFFICIENT] = {"roll_coefficient", "1"},
    [ROLE_PITCH_COEFFICIENT] = {"pitch_coefficient", "1"},
    [ROLE_YAW_COEFFICIENT] = {"yaw_coefficient", "1"},
    [ROLE_TOTAL_PRESSURE] = {"total_pressure", "Pa"},
    [ROLE_STATIC_PRESSURE] = {"static_pressure", "Pa"},
    [ROLE_TOTAL_MINUS_STATIC] = {"total_minus_static", "Pa"},
    [ROLE_CONTRACTION_DROP] = {"contraction_drop", "Pa"},
    [ROLE_NOZZLE_DROP] = {"nozzle_drop", "Pa"},
    [ROLE_PLENUM_DROP] = {"plenum_drop", "Pa"},
    [ROLE_DYNAMIC_PRESSURE] = {"dynamic_pressure", "Pa"},
    [ROLE_TOTAL_TEMPERATURE] = {"total_temperature", "K"},
    [ROLE_STATIC_TEMPERATURE] = {"static_temperature", "K"},
    [ROLE_RELATIVE_HUMIDITY] = {"relative_humidity", "1"},
    [ROLE_FRONT_RIDE_HEIGHT] = {"front_ride_height", "m"},
    [ROLE_REAR_RIDE_HEIGHT] = {"rear_ride_height", "m"},
    [ROLE_YAW] = {"yaw", "rad"},
    [ROLE_ROLL] = {"roll", "rad"},
    [ROLE_PITCH] = {"pitch", "rad"},
    [ROLE_STEER] = {"steer", "rad"},
    [ROLE_BELT_SPEED] = {"belt_speed", "m/s"},
    [ROLE_AIR_SPEED] = {"air_speed", "m/s"},
    [ROLE_HEIGHT_SENSOR_1] = {"height_sensor_1", "m"},
    [ROLE_HEIGHT_SENSOR_2] = {"height_sensor_2", "m"},
    [ROLE_HEIGHT_SENSOR_3] = {"height_sensor_3", "m"},
    [ROLE_HEIGHT_SENSOR_4] = {"height_sensor_4", "m"},
    [ROLE_HEIGHT_SENSOR_5] = {"height_sensor_5", "m"},
    [ROLE_HEIGHT_SENSOR_6] = {"height_sensor_6", "m"},
    [ROLE_HEIGHT_SENSOR_7] = {"height_sensor_7", "m"},
    [ROLE_HEIGHT_SENSOR_8] = {"height_sensor_8", "m"},
    [ROLE_WHEEL_DRAG_FRONT_LEFT] = {"wheel_drag_front_left", "N"},
    [ROLE_WHEEL_DRAG_FRONT_RIGHT] = {"wheel_drag_front_right", "N"},
    [ROLE_WHEEL_DRAG_REAR_LEFT] = {"wheel_drag_rear_left", "N"},
    [ROLE_WHEEL_DRAG_REAR_RIGHT] = {"wheel_drag_rear_right", "N"},
    [ROLE_WHEEL_LOAD_FRONT_LEFT] = {"wheel_load_front_left", "N"},
    [ROLE_WHEEL_LOAD_FRONT_RIGHT] = {"wheel_load_front_right", "N"},
    [ROLE_WHEEL_LOAD_REAR_LEFT] = {"wheel_load_rear_left", "N"},
    [ROLE_WHEEL_LOAD_REAR_RIGHT] = {"wheel_load_rear_right", "N"},
    [ROLE_BELT_DRAG] = {"belt_drag", "N"},
    [ROLE_BELT_LOAD] = {"belt_load", "N"},
    [ROLE_OTHER] = {"other", NULL},
    [ROLE_BALANCE_TEMPERATURE] = {"balance_temperature", "K"},
    [ROLE_BALANCE_TEMPERATURE_REAR] = {"balance_temperature_rear", "K"},
    [ROLE_SCANNER_TEMPERATURE] = {"scanner_temperature", "K"},
    [ROLE_TAP] = {"tap", "Pa"},
};

const char *role_name(enum role role)
{
    return rows[role].name;
}

const char *role_unit(enum role role)
{
    return rows[role].unit;
}

int role_is_channel(enum role role)
{
    return role > ROLE_SAMPLE_COUNT && role < ROLE_COUNT;
}

enum role role_from_name(const char *name)
{
    for (unsigned i = 0; i < ROLE_COUNT; i++)
        if (strcmp(rows[i].name, name) == 0)
            return (enum role)i;
    return ROLE_COUNT;
}

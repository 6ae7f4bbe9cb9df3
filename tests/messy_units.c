/* messy_units.c - units and signs of the cells; see messy_cases.h. The value is that of the third column
 * of the map, in SI.
 *
 * Factors: NIST Special Publication 811 (2008), appendix B.8: pound-force per square inch from the exact
 * pound 0.45359237 kg, inch 0.0254 m and standard gravity 9.80665 m/s2; mile per hour 0.44704 m/s exactly;
 * degree Fahrenheit (t + 459.67)/1.8 K exactly. */
#include "tests/messy_cases.h"

#define OF(role, more)                                                                     \
    "columns: {t: {role: time, unit: s}, pt: {role: point}, CD: {role: drag_coefficient, " \
    "unit: 1}, X: {role: " role more "}}"
#define LOG(name, cell) "t,pt,CD," name "\n0,A,0.3," cell "\n"
#define PRESSURE OF("static_pressure", "")

const struct messy_case messy_units[] = {
    {"kilopascals", PRESSURE, LOG("X [kPa]", "101.325"), 0, AS_IT_IS, NULL, NULL, 101325, 0},
    {"millibars", PRESSURE, LOG("X [mbar]", "1013.25"), 0, AS_IT_IS, NULL, NULL, 101325, 0},
    {"pounds a square inch", PRESSURE, LOG("X [psi]", "14.5"), 0, AS_IT_IS, NULL, NULL,
     14.5 * 0.45359237 * 9.80665 / (0.0254 * 0.0254), 0},
    {"bar above the air's", PRESSURE, LOG("X [barg]", "0.01"), 0, AS_IT_IS,
     ":1:9: ", "column 'X [barg]', unit in the column's name", 0, 0},
    {"degrees Fahrenheit", OF("static_temperature", ""), LOG("X [degF]", "68"), 0, AS_IT_IS, NULL,
     NULL, 293.15, 0},
    {"degrees Celsius, sign and all", OF("static_temperature", ""),
     LOG("X [\xC2\xB0"
         "C]",
         "20"),
     0, AS_IT_IS, NULL, NULL, 293.15, 0},
    {"per cent", OF("relative_humidity", ""), LOG("X [%]", "45"), 0, AS_IT_IS, NULL, NULL, 0.45, 0},
    {"kilometres an hour", OF("belt_speed", ""), LOG("X [km/h]", "180"), 0, AS_IT_IS, NULL, NULL,
     50, 0},
    {"miles an hour", OF("belt_speed", ""), LOG("X [mph]", "100"), 0, AS_IT_IS, NULL, NULL, 44.704,
     0},
    {"millimetres", OF("front_ride_height", ""), LOG("X [mm]", "20"), 0, AS_IT_IS, NULL, NULL, 0.02,
     0},
    {"inches", OF("front_ride_height", ""), LOG("X [inch]", "1"), 0, AS_IT_IS, NULL, NULL, 0.0254,
     0},
    {"degrees of an angle", OF("yaw", ""), LOG("X [deg]", "-180"), 0, AS_IT_IS, NULL, NULL,
     3.14159265358979323846, 0}, /* yaw_positive: air from left turns the sign */
    {"radians", OF("yaw", ""), LOG("X [rad]", "-0.5"), 0, AS_IT_IS, NULL, NULL, 0.5, 0},
    {"lift positive, sign declared", OF("downforce_coefficient", ", unit: 1, sign: -1"),
     LOG("X", "-1.5"), 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"no unit anywhere", PRESSURE, LOG("X", "101325"), 0, AS_IT_IS,
     ":1:9: ", "unit undeclared: column 'X' has none in the log and none in the channel map", 0, 0},
    {"a unit of another kind", PRESSURE, LOG("X [N]", "101325"), 0, AS_IT_IS,
     ":1:9: ", "column 'X [N]', unit in the column's name", 0, 0},
    {"a unit that is none", PRESSURE, LOG("X [PSIA*]", "14.5"), 0, AS_IT_IS,
     ":1:9: ", "column 'X [PSIA*]', unit in the column's name", 0, 0},
    {"a unit changed between runs", OF("static_pressure", ", unit: kPa"), LOG("X [psi]", "14.5"), 0,
     AS_IT_IS, ":1:9: ", "is 'kPa' in the channel map and 'psi' in the column's name", 0, 0},
    {"a unit changed between runs, in the unit row",
     "unit_row: yes|" OF("static_pressure", ", unit: kPa"), "t,pt,CD,X\ns,,1,hPa\n0,A,0.3,1013\n",
     0, AS_IT_IS, ":2:6: ", "is 'kPa' in the channel map and 'hPa' in the unit row", 0, 0},
};

const size_t messy_units_n = sizeof messy_units / sizeof messy_units[0];

/* csv_points.c - every reduced point of the current reductions. */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"run", "", CSV_TEXT},
    {"point", "", CSV_TEXT},
    {"configuration", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"target", "attitude", CSV_TEXT},
    {"time_utc", "UTC", CSV_TEXT},
    {"front_ride_height_m", "m", CSV_NUMBER},
    {"rear_ride_height_m", "m", CSV_NUMBER},
    {"yaw_rad", "rad, air from the car's right positive", CSV_NUMBER},
    {"roll_rad", "rad, right side down positive", CSV_NUMBER},
    {"pitch_rad", "rad, nose down positive", CSV_NUMBER},
    {"steer_rad", "rad, to the right positive", CSV_NUMBER},
    {"dynamic_pressure_pa", "Pa", CSV_NUMBER},
    {"mach", "1", CSV_NUMBER},
    {"speed_m_s", "m/s", CSV_NUMBER},
    {"density_kg_m3", "kg/m3", CSV_NUMBER},
    {"reynolds", "1, on the wheelbase", CSV_NUMBER},
    {"q_ratio", "1, corrected over measured", CSV_NUMBER},
    {"drag_coefficient", "1, aft positive", CSV_NUMBER},
    {"side_coefficient", "1, to the car's right positive", CSV_NUMBER},
    {"downforce_coefficient", "1, downforce positive", CSV_NUMBER},
    {"downforce_front_coefficient", "1, downforce positive", CSV_NUMBER},
    {"downforce_rear_coefficient", "1, downforce positive", CSV_NUMBER},
    {"roll_coefficient", "1, right-handed about x aft", CSV_NUMBER},
    {"pitch_coefficient", "1, nose up positive", CSV_NUMBER},
    {"yaw_coefficient", "1, right-handed about z up", CSV_NUMBER},
    {"balance_percent", "%, share of the front axle", CSV_NUMBER},
    {"lift_to_drag", "1, downforce over drag", CSV_NUMBER},
    {"drag_area_m2", "m2, aft positive", CSV_NUMBER},
    {"downforce_area_m2", "m2, downforce positive", CSV_NUMBER},
    {"drag_coefficient_u", "1, standard uncertainty within the point", CSV_NUMBER},
    {"downforce_coefficient_u", "1, standard uncertainty within the point", CSV_NUMBER},
    {"downforce_front_coefficient_u", "1, standard uncertainty within the point", CSV_NUMBER},
    {"downforce_rear_coefficient_u", "1, standard uncertainty within the point", CSV_NUMBER},
    {"balance_percent_u", "%, standard uncertainty within the point", CSV_NUMBER},
    {"target_method", "", CSV_TEXT},
    {"target_is_used", "1 yes, 0 no", CSV_NUMBER},
    {"target_drag_coefficient", "1, aft positive", CSV_NUMBER},
    {"target_downforce_coefficient", "1, downforce positive", CSV_NUMBER},
    {"target_downforce_front_coefficient", "1, downforce positive", CSV_NUMBER},
    {"target_downforce_rear_coefficient", "1, downforce positive", CSV_NUMBER},
    {"target_balance_percent", "%, share of the front axle", CSV_NUMBER},
    {"target_lift_to_drag", "1, downforce over drag", CSV_NUMBER},
    {"drag_contains", "parts of the car inside the drag", CSV_TEXT},
    {"downforce_contains", "parts of the car inside the downforce", CSV_TEXT},
    {"state", "", CSV_TEXT},
};

static const char sql[] =
    "SELECT v.run, v.point, v.configuration, v.facility, v.entry, v.target, v.time_utc, "
    "v.front_ride_height_m, v.rear_ride_height_m, v.yaw_rad, v.roll_rad, v.pitch_rad, "
    "v.steer_rad, v.dynamic_pressure_pa, v.mach, v.speed_m_s, v.density_kg_m3, v.reynolds, "
    "v.q_ratio, v.drag_coefficient, v.side_coefficient, v.downforce_coefficient, "
    "v.downforce_front_coefficient, v.downforce_rear_coefficient, v.roll_coefficient, "
    "v.pitch_coefficient, v.yaw_coefficient, v.balance_percent, v.lift_to_drag, "
    "v.drag_area_m2, v.downforce_area_m2, v.drag_coefficient_u, v.downforce_coefficient_u, "
    "v.downforce_front_coefficient_u, v.downforce_rear_coefficient_u, v.balance_percent_u, "
    "v.target_method, v.target_is_used, v.target_drag_coefficient, "
    "v.target_downforce_coefficient, v.target_downforce_front_coefficient, "
    "v.target_downforce_rear_coefficient, v.target_balance_percent, v.target_lift_to_drag, "
    "v.drag_contains, v.downforce_contains, v.state "
    "FROM point_coefficient AS v JOIN run AS r ON r.run = v.run JOIN point AS p ON p.run = v.run "
    "AND p.point = v.point ORDER BY r.sequence, p.sequence";

const struct csv_table csv_points = {"points.csv", sql, columns,
                                     sizeof columns / sizeof columns[0]};

/* csv_loads.c - loads of every point in balance axes and in car axes.
 *
 * Balance axes after the weight tare, or after the balance step where no tare is taken; car axes after
 * the transfer and, where cells of wheels and belt are added, with them. A point whose coefficients came ready-made from the facility has none.              */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"run", "", CSV_TEXT},
    {"point", "", CSV_TEXT},
    {"configuration", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"dynamic_pressure_pa", "Pa", CSV_NUMBER},
    {"balance_force_x_n", "N, balance axes and origin, weight taken off", CSV_NUMBER},
    {"balance_force_y_n", "N, balance axes and origin, weight taken off", CSV_NUMBER},
    {"balance_force_z_n", "N, balance axes and origin, weight taken off", CSV_NUMBER},
    {"balance_moment_x_n_m", "N m, balance axes and origin, weight taken off", CSV_NUMBER},
    {"balance_moment_y_n_m", "N m, balance axes and origin, weight taken off", CSV_NUMBER},
    {"balance_moment_z_n_m", "N m, balance axes and origin, weight taken off", CSV_NUMBER},
    {"car_force_x_n", "N, x aft, y right, z up, about the ground at mid-wheelbase", CSV_NUMBER},
    {"car_force_y_n", "N, x aft, y right, z up, about the ground at mid-wheelbase", CSV_NUMBER},
    {"car_force_z_n", "N, x aft, y right, z up: downforce is negative z", CSV_NUMBER},
    {"car_moment_x_n_m", "N m, x aft, y right, z up, about the ground at mid-wheelbase",
     CSV_NUMBER},
    {"car_moment_y_n_m", "N m, x aft, y right, z up, about the ground at mid-wheelbase",
     CSV_NUMBER},
    {"car_moment_z_n_m", "N m, x aft, y right, z up, about the ground at mid-wheelbase",
     CSV_NUMBER},
};

static const char sql[] =
    "SELECT r.run, p.point, r.configuration, r.facility, r.entry, p.dynamic_pressure_pa, "
    "coalesce(max(CASE WHEN l.step = 'weight tare' AND l.quantity = 'Fx' THEN l.value END), "
    "max(CASE WHEN l.step = 'balance' AND l.quantity = 'Fx' THEN l.value END)), "
    "coalesce(max(CASE WHEN l.step = 'weight tare' AND l.quantity = 'Fy' THEN l.value END), "
    "max(CASE WHEN l.step = 'balance' AND l.quantity = 'Fy' THEN l.value END)), "
    "coalesce(max(CASE WHEN l.step = 'weight tare' AND l.quantity = 'Fz' THEN l.value END), "
    "max(CASE WHEN l.step = 'balance' AND l.quantity = 'Fz' THEN l.value END)), "
    "coalesce(max(CASE WHEN l.step = 'weight tare' AND l.quantity = 'Mx' THEN l.value END), "
    "max(CASE WHEN l.step = 'balance' AND l.quantity = 'Mx' THEN l.value END)), "
    "coalesce(max(CASE WHEN l.step = 'weight tare' AND l.quantity = 'My' THEN l.value END), "
    "max(CASE WHEN l.step = 'balance' AND l.quantity = 'My' THEN l.value END)), "
    "coalesce(max(CASE WHEN l.step = 'weight tare' AND l.quantity = 'Mz' THEN l.value END), "
    "max(CASE WHEN l.step = 'balance' AND l.quantity = 'Mz' THEN l.value END)), "
    "CASE WHEN max(l.step = 'cells') THEN "
    "max(CASE WHEN l.step = 'cells' AND l.quantity = 'Fx' THEN l.value END) ELSE "
    "max(CASE WHEN l.step = 'transfer' AND l.quantity = 'Fx' THEN l.value END) END, "
    "CASE WHEN max(l.step = 'cells') THEN "
    "max(CASE WHEN l.step = 'cells' AND l.quantity = 'Fy' THEN l.value END) ELSE "
    "max(CASE WHEN l.step = 'transfer' AND l.quantity = 'Fy' THEN l.value END) END, "
    "CASE WHEN max(l.step = 'cells') THEN "
    "max(CASE WHEN l.step = 'cells' AND l.quantity = 'Fz' THEN l.value END) ELSE "
    "max(CASE WHEN l.step = 'transfer' AND l.quantity = 'Fz' THEN l.value END) END, "
    "CASE WHEN max(l.step = 'cells') THEN "
    "max(CASE WHEN l.step = 'cells' AND l.quantity = 'Mx' THEN l.value END) ELSE "
    "max(CASE WHEN l.step = 'transfer' AND l.quantity = 'Mx' THEN l.value END) END, "
    "CASE WHEN max(l.step = 'cells') THEN "
    "max(CASE WHEN l.step = 'cells' AND l.quantity = 'My' THEN l.value END) ELSE "
    "max(CASE WHEN l.step = 'transfer' AND l.quantity = 'My' THEN l.value END) END, "
    "CASE WHEN max(l.step = 'cells') THEN "
    "max(CASE WHEN l.step = 'cells' AND l.quantity = 'Mz' THEN l.value END) ELSE "
    "max(CASE WHEN l.step = 'transfer' AND l.quantity = 'Mz' THEN l.value END) END "
    "FROM point_result AS p JOIN reduction AS d ON d.reduction = p.reduction AND d.is_current = 1 "
    "JOIN run AS r ON r.run = p.run JOIN point AS o ON o.run = p.run "
    "AND o.point = p.point LEFT JOIN ledger_row AS l ON l.reduction = p.reduction AND l.point = "
    "p.point "
    "GROUP BY r.sequence, r.run, o.sequence, p.point ORDER BY r.sequence, o.sequence";

const struct csv_table csv_loads = {"loads.csv", sql, columns, sizeof columns / sizeof columns[0]};

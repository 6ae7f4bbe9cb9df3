/* duct_modes.h - a source in a duct by the duct's own modes, for tests: shares nothing with duct.c. */
#ifndef LAPWING_DUCT_MODES_H
#define LAPWING_DUCT_MODES_H

/* Axial speed per unit strength at (x, y, z) of a source at (x0, y0, z0), y from the centre plane and z from
 * the floor, still air upstream:
 *   u = 1/(2C) [1 + sign(x - x0) sum e_m e_n cos cos cos cos exp(-k |x - x0|)],  k = pi (m/B, n/H)
 * e_0 = 1, else 2. Separation of variables of Laplace's equation. |x - x0| 0.2 m or more. */
double duct_modes_speed(double width, double height, const double source[3], const double at[3]);

#endif

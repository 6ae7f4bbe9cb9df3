/* axes.h - every change of axes, sign and moment centre in one place, each with its own test.
 *
 * Six loads are Fx Fy Fz (N) Mx My Mz (N m), or six coefficients. Car axes: x aft, y to the car's
 * right, z up, right-handed; origin on the ground at mid-wheelbase; moments right-handed about them.
 * All functions give OUTCOME_NOT_FINITE for a NAN or infinite argument and then write nothing. The
 * result may be the same array as the argument.                                                    */
#ifndef LAPWING_AXES_H
#define LAPWING_AXES_H

#include "reduce/physics/coefficients.h"
#include "reduce/physics/outcome.h"

/* Balance axes to axes parallel to the car's: each force and moment times its declared sense, +1 or
 * -1; OUTCOME_GEOMETRY for another sense. A balance with left-handed moments differs in moment_sign. */
enum outcome axes_to_car(const double load[6], const double axis_sign[3],
                         const double moment_sign[3], double car[6]);

/* Moves the moment centre from a point to the origin: M_O = M_P + r x F, r the point relative to the
 * origin, m. Source: statics of a rigid body. */
enum outcome axes_transfer(const double load[6], const double point[3], double at_origin[6]);

/* Downforce of the two axles from downforce L and the moment My about the origin:
 *   front = L/2 - My/W,   rear = L/2 + My/W
 * Contact-patch convention: My holds the couple of the drag about the ground, so drag acting above it
 * unloads the front axle. Units N, N m, m, or coefficients with W = 1. OUTCOME_GEOMETRY when the
 * wheelbase is not positive. Source: moments about the two contact lines. */
enum outcome axes_axle_split(double downforce, double pitching_moment, double wheelbase,
                             double *front, double *rear);

/* Car axes to wind axes, turned about z. Yaw, rad, is positive when the air comes from the car's
 * right: drag is along e_D = (cos yaw, -sin yaw), side force along e_S = (sin yaw, cos yaw).
 * Source: rotation about one axis. */
enum outcome axes_to_wind(const double load[6], double yaw, double wind[6]);

/* The other way round: loads in axes that stay with the tunnel, x along the wind, y to the right seen
 * along it, to car axes:
 *   Fx_c = Fx cos yaw + Fy sin yaw,   Fy_c = -Fx sin yaw + Fy cos yaw,   moments alike
 * Yaw, rad, and source as axes_to_wind(). */
enum outcome axes_from_wind(const double wind[6], double yaw, double load[6]);

/* Our eight coefficients in the signs of SAE J1594: lift up-positive (CL, CLF, CLR change sign), roll
 * right side down and yaw nose right positive, which are left-handed about x aft and z up (CRM and
 * CYM change sign); drag, side force and pitch keep theirs.
 * Source: SAE J1594, "Vehicle aerodynamics terminology", 2010, senses of 1987 (from memory). */
enum outcome axes_sae_j1594(const double coefficient[COEFFICIENTS], double sae[COEFFICIENTS]);

#endif

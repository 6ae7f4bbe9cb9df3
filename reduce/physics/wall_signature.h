/* wall_signature.h - blockage from the pressures that the car leaves on the tunnel's walls.
 *
 * Sources stand on the car's axis at given stations; their strengths are found by least squares from
 * the axial speed that they and their images in the walls make at the wall taps,
 *
 *   u_i/U = sqrt(1 - dCp_i) - 1 = sum_j (q_j/U) g_ij,   dCp_i = Cp_i - Cp_i of the empty section
 *
 * g_ij of duct.h. Nothing of the car's shape is assumed: nose and tail show as a source and a sink, the
 * wake as what is left when all are added. At the car's middle the images alone make
 *
 *   eps = sum_j (q_j/U) g'_j,   wake = sum_j (q_j/U)/(2C),   solid = eps - wake,   q_c/q = (1 + eps)^2
 *
 * and the same at nose and tail says how even that is over its length.
 * Evidence: pressures of a real car on real walls; the fit's own residual is its check. Speeds across the
 *           wall are left out (second order), and so is the lift: wall taps in the plane of symmetry of a
 *           lifting car see it, those on both side walls at the car's height cancel it.
 * Source:   Hackett, Wilsden, Lilley, "Estimation of tunnel blockage from wall pressure signatures", NASA
 *           CR-152241, 1979 (title from memory; the method is an outline of it, derived here with duct.h;
 *           its later matrix form, Hackett, Sarver, AIAA, 1980s, from memory).                       */
#ifndef LAPWING_WALL_SIGNATURE_H
#define LAPWING_WALL_SIGNATURE_H

#include <stddef.h>

#include "reduce/physics/duct.h"
#include "reduce/physics/outcome.h"

enum { SIGNATURE_STATIONS_MAX = 6 };

struct wall_layout {
    struct duct duct;
    const struct duct_place *tap; /* n places on walls, floor left out or not */
    size_t n;
    double station[SIGNATURE_STATIONS_MAX]; /* x of the sources, m */
    size_t stations;                        /* 1 .. SIGNATURE_STATIONS_MAX */
    double axis_height;                     /* z of the sources, m */
    int floor_image;           /* 1: the floor is a road, so the mirror image is no wall's doing */
    double nose, middle, tail; /* x where the increment is told */
};

/* What depends on places alone: weights that make strengths and increments of the taps' speeds. */
struct wall_signature {
    double *design; /* n x stations, row-major: g_ij; owned */
    double *solve;  /* stations x n: strengths from speeds; owned */
    size_t n, stations;
    double at_nose[SIGNATURE_STATIONS_MAX], at_middle[SIGNATURE_STATIONS_MAX],
        at_tail[SIGNATURE_STATIONS_MAX];
    double section;         /* C, m2 */
    double condition_limit; /* smallest over largest singular value of the design */
};

struct wall_increment {
    double strength[SIGNATURE_STATIONS_MAX]; /* q_j/U, m2 */
    double nose, middle, tail;               /* increments eps */
    double solid, wake;                      /* of the middle */
    double middle_u;                         /* standard uncertainty from the residual */
    double residual_sd;                      /* of u/U at one tap */
    double largest;                          /* |u/U| at the taps */
};

/* Prepares a layout. On OUTCOME_OK the caller ends *signature with wall_signature_end().
 * Outcomes: OUTCOME_GEOMETRY for a section, station or tap that is none, or no stations;
 * OUTCOME_TOO_FEW below stations + 2 taps; OUTCOME_SINGULAR when the taps can't tell the stations apart
 * (singular values more than 1e6 apart); OUTCOME_NO_MEMORY. */
enum outcome wall_signature_make(const struct wall_layout *layout,
                                 struct wall_signature *signature);
void wall_signature_end(struct wall_signature *signature);

/* Reads n pressures, divided by pressure (q in Pa, or 1 for coefficients), and the coefficients of the
 * empty section.
 * Outcomes: OUTCOME_NOT_FINITE; OUTCOME_NO_WIND when pressure is not positive; OUTCOME_NO_ROOT when a tap has Cp - empty above 1: no speed makes that.
 * *increment is written on OUTCOME_OK only. */
enum outcome wall_signature_read(const struct wall_signature *signature, const double *value,
                                 double pressure, const double *empty,
                                 struct wall_increment *increment);

#endif

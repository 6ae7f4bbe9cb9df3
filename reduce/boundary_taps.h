/* boundary_taps.h - taps that a boundary correction reads: those of the car's base, those of the walls.
 *
 * The surface's name in taps.csv says which they are. All of a surface must be in the run's logs. The
 * empty section's coefficients are the means over the points of the run that the campaign names. Wall
 * taps stand at their x, y, z of taps.csv: from the ground at the middle of the wheelbase, where the car
 * stands straight.                                                                                 */
#ifndef LAPWING_BOUNDARY_TAPS_H
#define LAPWING_BOUNDARY_TAPS_H

#include <stddef.h>

#include "reduce/key_text.h"
#include "reduce/night.h"
#include "reduce/physics/tunnel_point.h"
#include "schema/fault.h"

struct run_work;
struct point_row;

/* One tap: its channel in the run and in its zeros (-1: none). */
struct boundary_tap {
    int here, before, after;
    double weight; /* of the base: its area's share, or 1/n */
};

struct boundary_taps {
    struct boundary_tap *base; /* owned; n_base 0: the base is not read */
    size_t n_base;
    struct boundary_tap *wall; /* owned; n_wall 0: the walls are not read */
    size_t n_wall;
    double *value, *empty; /* n_wall; owned. value is that of the point filled last */
    struct wall_signature signature;
    int are_coefficients; /* 1: the walls' taps, or else the base's, are coefficients */
};

/* Finds the taps that the run's recipe needs; run data, recipe and zeros must have been read. NO_RESULT: a
 * tap or the empty run is missing, or the walls' layout tells nothing; the text belongs into a flag. On OK
 * the caller ends *taps with boundary_taps_end(). */
enum status boundary_taps_read(const struct run_work *work, struct boundary_taps *taps,
                               struct fault *fault);
void boundary_taps_end(struct boundary_taps *taps);

/* Sets base_pressure, base_cp and wall of the point's inputs; they hold until the next call. */
void boundary_taps_fill(const struct run_work *work, const struct point_row *point,
                        struct tunnel_inputs *inputs);

/* Adds what they depend on: the taps of the surfaces, in order. */
enum status boundary_taps_key(const struct night *night, const struct facility *facility,
                              struct key_text *key, struct fault *fault);

/* The empty run of a facility's walls; NULL when none is needed, or it is not in the run sheet. */
const struct run_row *boundary_empty_run(const struct night *night,
                                         const struct facility *facility);

#endif

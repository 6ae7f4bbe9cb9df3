/* tunnel_backwards.h - a tunnel built backwards: from free air to what its instruments would read.
 *
 * Nothing of the program is called. Free-air coefficients are chosen, invented, and everything that
 * the steps of a reduction take off is put on.                                                      */
#ifndef LAPWING_TUNNEL_BACKWARDS_H
#define LAPWING_TUNNEL_BACKWARDS_H

#include "reduce/physics/tunnel_point.h"

struct backwards {
    double free_air[6];                              /* CD CY CL CRM CPM CYM */
    double mach, static_pressure, total_temperature; /* Pa, K */
    double tare[6];                                  /* N, N m, in the balance's senses */
    double zero_before[6], zero_after[6];            /* outputs */
    double zero_fraction;
};

extern const struct backwards backwards;

/* A tunnel with every correction on. */
struct tunnel_recipe backward_recipe(void);

/* What the instruments of that tunnel read when the car has backwards.free_air. */
struct tunnel_inputs backward_reading(const struct tunnel_recipe *recipe);

/* What a tunnel's walls and gradient do to the car: coefficients are multiplied, then added to. */
struct backward_walls {
    double q_ratio;
    double drag, downforce, front; /* CD, CL, CLF of the gradient */
};

/* The same with other walls. */
struct tunnel_inputs backward_reading_between(const struct tunnel_recipe *recipe,
                                              const struct backward_walls *walls);

/* q in the tunnel over q in free air. */
double backward_q_ratio(void);

#endif

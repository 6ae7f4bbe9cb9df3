/* reduced_point.h - one point on its way through the point stage, and the run it belongs to. */
#ifndef LAPWING_REDUCED_POINT_H
#define LAPWING_REDUCED_POINT_H

#include "reduce/boundary_taps.h"
#include "reduce/physics/tunnel_point.h"
#include "reduce/physics/tunnel_uncertainty.h"
#include "reduce/belt_tare.h"
#include "reduce/point_state.h"
#include "reduce/recipe.h"
#include "reduce/run_data.h"
#include "reduce/sensed_heights.h"
#include "reduce/support_table.h"
#include "reduce/tare_choice.h"
#include "reduce/zero_choice.h"
#include "schema/flag.h"

/* All that the points of a run share. */
struct run_work {
    const struct night *night;
    const struct run_row *run;
    struct run_data data;
    struct run_recipe recipe;
    struct zeros zeros;
    struct tare_table tare;
    struct boundary_taps taps; /* of the base, or of the walls */
    struct belt_table belt;
    struct support_table tables[TABLE_KINDS];
};

struct reduced_point {
    const struct point_row *point;
    struct sensed_heights heights; /* of the facility's height sensors */
    double attitude[ATTITUDE_COUNT];
    struct tunnel_inputs inputs;
    double tare_model[6]; /* N, N m: the rigid weight's part of inputs.tare; NAN without a model */
    enum outcome outcome;
    struct tunnel_result result;
    struct tunnel_uncertainty spread; /* random, within the point; NAN where not estimable */
    int spread_is_guess;    /* 1: effective samples not estimable, the sd itself was used */
    int spread_unknown;     /* 1: a load or the wind's pressure has no standard deviation */
    int balance_undefined;  /* 1: downforce too close to zero for a share of it */
    enum flag_state state;  /* worst of its flags */
    enum decision decision; /* on the point, or on its run */
};

#endif

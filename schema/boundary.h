/* boundary.h - what a facility declares for its boundary corrections, as read from campaign.yaml.
 *
 * Blocks below corrections:, each named after the correction it is for. Lists are measurements that a
 * constant is fitted to (reduce/boundary_made.h): the constant itself is never written down by hand where
 * its evidence can be.                                                                             */
#ifndef LAPWING_BOUNDARY_H
#define LAPWING_BOUNDARY_H

#include <stddef.h>

struct number_list {
    double *value; /* owned; NULL when not given */
    size_t n;
};

struct maskell_block {
    char *base_surface;   /* of taps.csv, whose taps tell the base pressure; NULL: none */
    double base_cp;       /* base pressure coefficient as declared; NAN: not given */
    double wake_factor;   /* theta of the split form; 0: not given */
    double attached_drag; /* CD0 of the split form; NAN: not given */
    double vortex_drag;   /* K in CDi = K CL^2; NAN: not given */
    struct number_list sweep_cd, sweep_cl; /* or the sweep that K is fitted to */
};

struct signature_block {
    char *surface;               /* of taps.csv: taps on the walls */
    char *empty_run;             /* run of the empty section */
    double axis_height;          /* m, of the sources */
    struct number_list stations; /* m, x of the sources */
};

struct jet_block {
    double car_distance;                       /* m, nozzle's plane to the car's middle */
    double collector_area, collector_distance; /* m2, m; 0: not given */
    double collector_wake_factor, collector_wake_constant; /* NAN: not given */
    double expansion, nozzle, nozzle_q, collector;         /* weights; 0: off */
};

struct slotted_block {
    double factor;                        /* k; NAN: from the series */
    struct number_list area, coefficient; /* m2; of one shape in several sizes */
};

struct gradients_block {
    struct number_list gradient, cd, cl, clf; /* two each */
};

struct turn_block {
    struct number_list yaw, cy,
        mirrored_cy; /* rad, as the logs count it; reference body and its mirror image */
};

struct reynolds_block {
    double to; /* on the wheelbase, like all of re */
    struct number_list re, cd, cl, clf;
};

enum boundary_block {
    BOUNDARY_MASKELL,
    BOUNDARY_WALL_SIGNATURE,
    BOUNDARY_OPEN_JET,
    BOUNDARY_SLOTTED,
    BOUNDARY_TWO_GRADIENTS,
    BOUNDARY_FLOW_ANGULARITY,
    BOUNDARY_REYNOLDS,
    BOUNDARY_BLOCKS
};

struct boundary {
    int given[BOUNDARY_BLOCKS]; /* 1: the block is there */
    struct maskell_block maskell;
    struct signature_block signature;
    struct jet_block jet;
    struct slotted_block slotted;
    struct gradients_block gradients;
    struct turn_block turn;
    struct reynolds_block reynolds;
};

/* Frees what the lists and texts hold; the struct may be used again. */
void boundary_end(struct boundary *boundary);

#endif

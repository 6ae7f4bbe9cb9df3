/* tunnel_point.h - one tunnel point, from mean outputs to corrected coefficients, as a pure function.
 *
 * tunnel_point_reduce(recipe, inputs, result) is the whole science of a point in the fixed order
 *
 *   zero -> balance -> weight tare -> belt tare -> transfer -> cells -> freestream -> raw coefficients
 *        -> support tare -> interference -> buoyancy -> blockage -> Reynolds -> corrected
 *
 * with everything each step made kept in the result, so that the ledger shows it and an independent
 * test can recompute it. No store, no files, no allocation; cheap enough to be called fifty times a
 * point, which is how uncertainty is propagated. Axes and signs: schema/campaign.h in words - x aft,
 * y right, z up, origin on the ground at mid-wheelbase; downforce positive in coefficients.        */
#ifndef LAPWING_TUNNEL_POINT_H
#define LAPWING_TUNNEL_POINT_H

#include <stddef.h>

#include "reduce/physics/balance.h"
#include "reduce/physics/blockage.h"
#include "reduce/physics/coefficients.h"
#include "reduce/physics/line_fit.h"
#include "reduce/physics/outcome.h"
#include "reduce/physics/wheel_cells.h"

enum load_source {
    LOADS_FROM_OUTPUTS,    /* six bridge or counter outputs through a calibration */
    LOADS_READY,           /* loads made by the facility, balance axes */
    LOADS_AS_COEFFICIENTS, /* coefficients reduced by the facility */
    LOADS_NONE             /* surface pressures only */
};

enum q_source { Q_FROM_TOTAL_AND_STATIC, Q_FROM_DROP, Q_GIVEN, Q_FROM_SPEED };

/* The coefficients that declared measurements carry: the two axles' share follows from CL and CLF. */
enum carried { CARRIED_CD, CARRIED_CL, CARRIED_CLF, CARRIED };

/* Straight lines over log10(Re), of declared speed sweeps. */
struct reynolds_choice {
    double to; /* reference Reynolds number; 0: the step is off */
    struct line_fit fit[CARRIED];
    int has[CARRIED]; /* 1: there is a line for it; else it stays */
};

struct tunnel_recipe {
    enum load_source source;
    struct balance_calibration calibration; /* used with LOADS_FROM_OUTPUTS */
    double origin[3];                       /* m, balance reference point in car axes */
    double axis_sign[3], moment_sign[3];    /* balance axes to car axes, +1 or -1 each */
    int stays_with_tunnel; /* 1: the balance doesn't turn with the car, so its loads are turned by yaw */
    unsigned
        not_measured; /* with LOADS_READY: bit i set where load i has no channel; that load and all
                              that it would enter are NAN, the others stand */
    int taps_are_coefficients; /* with LOADS_NONE: all taps are Cp already, no wind is needed */
    int drag_not_given, downforce_not_given; /* with LOADS_AS_COEFFICIENTS: no channel for it */
    int cell_added
        [WHEEL_CELLS];          /* 1: this cell's force is added to the loads at the car's origin */
    struct cell_geometry cells; /* where they stand; used when any is added */

    enum q_source q_source;
    double drop_polynomial[4]; /* Pa, 1, 1/Pa, ...: q = sum c_k dp^k */
    int dry_air;               /* 1: humidity declared absent */
    double density;   /* kg/m3, of a fluid declared to be of constant density; 0: air, weighed */
    double viscosity; /* Pa s, declared with it; 0: not given, no Reynolds number */

    double reference_area, wheelbase;     /* m2, m, as tested */
    double length, volume;                /* m, m3; 0 when not given */
    double section_width, section_height; /* m */
    int buoyancy;                         /* 1: horizontal buoyancy is taken off */
    double pressure_gradient;             /* dCp/dx, 1/m, empty section */
    double buoyancy_volume_factor;
    int two_gradients; /* 1: instead, the gradient's part by the two-measurement method */
    double gradient_part[CARRIED]; /* to be taken off */
    const char *blockage;          /* family name of reduce/physics/blockage.h */
    double blockage_shape;         /* K of the image sum; 0: from length and area */
    double image_factor;           /* of the section; 0: summed anew at every point */
    int floor_image;
    int section_is_open; /* 1: an open jet */
    struct blockage_constants constants;
    struct reynolds_choice reynolds;
};

/* What an uncertainty's step puts on top of a measurement; 0 in all of a measurement itself. */
struct tunnel_errors {
    double q;        /* share of the dynamic pressure */
    double turn[3];  /* rad, of the balance about the car's x, y, z at its reference point; small */
    double blockage; /* share of the blockage's increment of velocity */
};

struct tunnel_inputs {
    double output[6]; /* mean outputs, or ready loads (N, N m) in balance axes */
    double zero_before[6], zero_after[6];
    double zero_fraction;               /* 0 at the zero before, 1 at the one after */
    double balance_temperature;         /* K; used where the calibration has terms in it */
    double balance_zero_temperature[2]; /* K, in the zero before and after; share zero_fraction */
    double tare[6];      /* N, N m: weight tare loads at this attitude, balance axes */
    double belt_tare[6]; /* N, N m: what the belt alone does, balance axes; 0 where it stands */
    double cell[WHEEL_CELLS]; /* N, mean of those that are added; their zeros share zero_fraction */
    double cell_zero_before[WHEEL_CELLS], cell_zero_after[WHEEL_CELLS];
    double cell_tare[WHEEL_CELLS]; /* N, weight tare at this attitude, 0 when it logs none */
    double yaw; /* rad, air from the right positive; used when the balance stays */
    double support[COEFFICIENTS], interference[COEFFICIENTS]; /* to be taken off; 0: nothing */
    double facility_coefficient[COEFFICIENTS]; /* as given, our signs; NAN where not given */
    double total_pressure;                     /* Pa; NAN when not measured */
    double static_pressure;                    /* Pa, absolute */
    double total_minus_static;                 /* Pa; NAN when not measured: then total - static */
    double drop;                               /* Pa */
    double dynamic_pressure;                   /* Pa, with Q_GIVEN */
    double speed;                              /* m/s, with Q_FROM_SPEED */
    double total_temperature;                  /* K; NAN when static_temperature is given */
    double static_temperature;                 /* K */
    double relative_humidity;                  /* 0..1, at static conditions */
    double base_pressure;     /* Pa above static, mean of the base's taps; NAN when not measured */
    double base_cp;           /* the same where the facility made coefficients; else NAN */
    struct wall_reading wall; /* pressure 0: Pa above static, to be divided by the point's q */
    struct tunnel_errors error;
};

struct tunnel_freestream {
    double static_pressure, static_temperature, density, viscosity;
    double mach, dynamic_pressure, speed, reynolds; /* Reynolds number on the wheelbase */
    double
        stagnation_cp; /* Cp0(M) = (p0 - p)/q; 1 in a fluid of constant density, which has no M */
    int air_in_range;  /* 0: outside CIPM-2007's own range, still used */
};

struct tunnel_result {
    double zero[6];           /* outputs (or loads) minus their zero */
    double balance[6];        /* loads, balance axes, before the weight tare */
    double tared[6];          /* loads, balance axes */
    double belt_tared[6];     /* the same without what the belt alone does */
    double transferred[6];    /* loads at the car's origin, car axes */
    double cell[WHEEL_CELLS]; /* those that are added, zero and tare taken off; NAN for others */
    double with_cells[6];     /* transferred with them; a moment whose lever is not known is NAN */
    struct tunnel_freestream freestream;
    enum outcome
        wind; /* of the freestream; with LOADS_AS_COEFFICIENTS and LOADS_NONE it may be any */
    double raw[COEFFICIENTS];
    double unsupported[COEFFICIENTS]; /* without the support's */
    double undisturbed[COEFFICIENTS]; /* and without its interference */
    double buoyancy[COEFFICIENTS];
    double q_ratio;                         /* q_c / q */
    double solid_blockage, wake_blockage;   /* velocity increments; 0 where a family has none */
    double blockage_piece[BLOCKAGE_PIECES]; /* as the family names them */
    double blocked[COEFFICIENTS];
    double at_reynolds[COEFFICIENTS]; /* carried to the reference Reynolds number */
    int reynolds_unmeasured;          /* 1: outside the sweep, so left at its own Reynolds number */
    double corrected[COEFFICIENTS];
    struct derived_quantities derived; /* balance %, L/D, CdA, ClA of the corrected ones */
    int blockage_beyond_evidence; /* 1: larger than the family's evidence reaches; number stands */
};

/* Gives the first outcome that is not OK; then *result holds the steps done before it and NAN in
 * the rest. Given: recipe and inputs as above. */
enum outcome tunnel_point_reduce(const struct tunnel_recipe *recipe,
                                 const struct tunnel_inputs *inputs, struct tunnel_result *result);

#endif

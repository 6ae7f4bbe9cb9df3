/* blockage.h - the families of blockage correction: name -> function, one file and one row each.
 *
 * The walls make the air pass the car faster than the tunnel's reference says, an open jet slower. A family
 * answers with q_c/q; coefficients are divided by it. Where a family gives a velocity increment eps the
 * ratio is (1 + eps)^2, not 1 + 2 eps. To add one: one file with the function and its sources, one row in
 * blockage.c, one test.
 *
 * Evidence of all families ends near S/C = 0.10 between walls and 0.15 in a jet, or with a car longer than
 * the section is wide where images are used, or where the family says: beyond it the number stands and
 * beyond_evidence is 1. From 0.35 on OUTCOME_BLOCKAGE_RANGE: there the quarter rule says 1.18 and the
 * area ratio 2.37, the answer would be the choice of family and nothing else.                      */
#ifndef LAPWING_BLOCKAGE_H
#define LAPWING_BLOCKAGE_H

#include <stddef.h>

#include "reduce/physics/outcome.h"
#include "reduce/physics/wall_signature.h"

/* Area ratio S/C from which no family answers. */
extern const double BLOCKAGE_REFUSED_FROM;

/* Kinds of section a family holds in; bits of blockage_family.sections. */
enum blockage_section {
    BLOCKAGE_CLOSED = 1,
    BLOCKAGE_OPEN = 2,
    BLOCKAGE_SLOTTED = 4,
    BLOCKAGE_TRACK = 8
};

/* What is declared for the families that need more than sizes. */
struct blockage_constants {
    double base_cp; /* base pressure coefficient as declared; NAN: measured at the point, or none */
    double wake_factor;   /* theta of the split form; 0: from the base pressure */
    double attached_drag; /* CD0 of the split form */
    double vortex_drag;   /* K in CDi = K CL^2 */
    double car_distance;  /* x_M, nozzle's plane to the car's middle, m */
    double collector_area, collector_distance; /* A_C m2, L_TS m */
    double collector_wake_factor,
        collector_wake_constant;                   /* a, b: not verified against the paper */
    double expansion, nozzle, nozzle_q, collector; /* weights of the open jet's pieces; 0: off */
    double facility_factor;                        /* k of a slotted section */
    double facility_share; /* largest S/C that k was measured at; 0: not told */
};

/* Pressures of the wall taps at one point. */
struct wall_reading {
    const struct wall_signature *signature;
    const double *value; /* signature->n: Pa above static, or coefficients */
    const double *empty; /* coefficients of the empty section */
    double pressure;     /* what value is divided by: q, or 1 */
};

struct blockage_input {
    double image_factor;                  /* of tunnel_factor.h at this section; 0: summed anew */
    double area;                          /* S, m2, frontal area as tested */
    double length, volume;                /* m, m3; only families with images need them */
    double section_width, section_height; /* m, of the section or the nozzle */
    double shape;            /* K of the image sum; 0: a spheroid of the car's length and area */
    int floor_image;         /* 1: the floor mirrors the car, the section is taken as B x 2H */
    int is_open;             /* 1: an open jet */
    double drag_coefficient; /* measured, buoyancy taken off */
    double downforce_coefficient;
    double base_cp; /* measured at the point; NAN when not */
    struct blockage_constants constants;
    struct wall_reading wall; /* signature NULL when there is none */
};

enum { BLOCKAGE_PIECES = 5 };

struct blockage_result {
    double q_ratio;                /* q_c/q */
    double solid, wake;            /* velocity increments; 0 where the family does not split them */
    double piece[BLOCKAGE_PIECES]; /* as the family names them, for the ledger */
    int beyond_evidence;           /* 1: larger than the family's evidence reaches */
};

/* Writes *result on OUTCOME_OK only. Outcomes: OUTCOME_NOT_FINITE, OUTCOME_GEOMETRY,
 * OUTCOME_BLOCKAGE_RANGE; OUTCOME_NO_ROOT where the family says. */
typedef enum outcome blockage_method(const struct blockage_input *input,
                                     struct blockage_result *result);

struct blockage_family {
    const char *name; /* as written in the campaign: "image sum" */
    blockage_method *correct;
    unsigned sections;                  /* BLOCKAGE_... bits: where it holds */
    const char *piece[BLOCKAGE_PIECES]; /* names of result.piece; NULL past the last */
    const char *equation;
    const char *source;       /* author, title, year; says "from memory" where it was not read */
    const char *evidence;     /* range in which it is known to hold */
    const char *not_verified; /* what could not be read in its source; "" for nothing */
};

/* The row of that name; NULL when there is none, or name is NULL. */
const struct blockage_family *blockage_family(const char *name);

/* Row i of the table, for listing; NULL past its end. */
const struct blockage_family *blockage_family_at(size_t i);

/* The families, each described in its own file. */
blockage_method blockage_none, blockage_area_ratio, blockage_quarter_rule, blockage_image_sum,
    blockage_maskell, blockage_maskell_split, blockage_wall_signature, blockage_open_jet,
    blockage_slotted;

/* S/C after the checks that every family makes: finite, positive, below 0.35; sets *beyond_evidence above
 * 0.10, in an open jet above 0.15. */
enum outcome blockage_area_share(const struct blockage_input *input, double *share,
                                 int *beyond_evidence);

/* The factor of tunnel_factor.h of a section, m, whose floor mirrors the car or not: what image_factor may
 * hold. */
double blockage_image_factor(double width, double height, int floor_image, int is_open);

/* Solid increment K tau V/C^1.5 of the image sum, without any wake; sets *beyond_evidence (never clears it)
 * for a car longer than the section is wide. Outcomes: OUTCOME_NOT_FINITE, OUTCOME_GEOMETRY. */
enum outcome blockage_solid(const struct blockage_input *input, double *solid,
                            int *beyond_evidence);

#endif

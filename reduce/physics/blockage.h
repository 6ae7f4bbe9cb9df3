/* blockage.h - the families of blockage correction: name -> function, one file and one row each.
 *
 * Solid walls make the air pass the car faster than the tunnel's reference says. A family answers with
 * q_c/q; coefficients are divided by it. Where a family gives a velocity increment eps the ratio is
 * (1 + eps)^2, not 1 + 2 eps. To add one: one file with the function and its sources, one row in
 * blockage.c, one test.
 *
 * Evidence of all closed-section families ends near S/C = 0.10: beyond it, or with a car longer than
 * the section is wide where images are used, the number stands and beyond_evidence is 1. From 0.35 on
 * OUTCOME_BLOCKAGE_RANGE: there the quarter rule says 1.18 and the area ratio 2.37, the answer would be
 * the choice of family and nothing else.                                                           */
#ifndef LAPWING_BLOCKAGE_H
#define LAPWING_BLOCKAGE_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

struct blockage_input {
    double area;                          /* S, m2, frontal area as tested */
    double length, volume;                /* m, m3; only the image sum needs them */
    double section_width, section_height; /* m */
    double shape;            /* K of the image sum; 0: a spheroid of the car's length and area */
    int floor_image;         /* 1: the floor mirrors the car, the section is taken as B x 2H */
    double drag_coefficient; /* measured, buoyancy taken off */
};

struct blockage_result {
    double q_ratio;      /* q_c/q */
    double solid, wake;  /* velocity increments; 0 where the family does not split them */
    int beyond_evidence; /* 1: larger than the family's evidence reaches */
};

/* Writes *result on OUTCOME_OK only. Outcomes: OUTCOME_NOT_FINITE, OUTCOME_GEOMETRY,
 * OUTCOME_BLOCKAGE_RANGE. */
typedef enum outcome blockage_method(const struct blockage_input *input,
                                     struct blockage_result *result);

struct blockage_family {
    const char *name; /* as written in the campaign: "image sum" */
    blockage_method *correct;
    int closed_only; /* 1: holds between solid walls only, not in an open jet */
    const char *equation;
    const char *source; /* author, title, year; says "from memory" where it was not read */
};

/* The row of that name; NULL when there is none, or name is NULL. */
const struct blockage_family *blockage_family(const char *name);

/* Row i of the table, for listing; NULL past its end. */
const struct blockage_family *blockage_family_at(size_t i);

/* The families, each described in its own file. */
blockage_method blockage_none, blockage_area_ratio, blockage_quarter_rule, blockage_image_sum;

/* S/C after the checks that every closed-section family makes: finite, positive, below 0.35; sets
 * *beyond_evidence above 0.10. */
enum outcome blockage_area_share(const struct blockage_input *input, double *share,
                                 int *beyond_evidence);

#endif

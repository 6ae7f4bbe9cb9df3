/* uncertain_input.h - what an elemental error adds to: the inputs of a point that can be uncertain, by the
 * words that campaign.yaml knows them by.
 *
 * Channels have the words of schema/role.h. force_x .. moment_z are the balance's loads in its own axes,
 * made by the facility or by the calibration. dynamic_pressure is q however it is found. The last
 * ones are constants of corrections, which the program knows the uncertainty of and nobody declares. */
#ifndef LAPWING_UNCERTAIN_INPUT_H
#define LAPWING_UNCERTAIN_INPUT_H

enum uncertain_input {
    UNCERTAIN_OUTPUT_1, /* .. _6, in the balance's output unit */
    UNCERTAIN_LOAD_1 = UNCERTAIN_OUTPUT_1 + 6,
    UNCERTAIN_CELL_1 = UNCERTAIN_LOAD_1 + 6, /* .. _10, wheels and belt */
    UNCERTAIN_TOTAL_PRESSURE = UNCERTAIN_CELL_1 + 10,
    UNCERTAIN_STATIC_PRESSURE,
    UNCERTAIN_TOTAL_MINUS_STATIC,
    UNCERTAIN_DROP,
    UNCERTAIN_DYNAMIC_PRESSURE,
    UNCERTAIN_AIR_SPEED,
    UNCERTAIN_TOTAL_TEMPERATURE,
    UNCERTAIN_STATIC_TEMPERATURE,
    UNCERTAIN_HUMIDITY,
    UNCERTAIN_ATTITUDE_1, /* six, as enum attitude_axis */
    UNCERTAIN_AREA = UNCERTAIN_ATTITUDE_1 + 6,
    UNCERTAIN_WHEELBASE,
    UNCERTAIN_ORIGIN_X,
    UNCERTAIN_ORIGIN_Y,
    UNCERTAIN_ORIGIN_Z,
    UNCERTAIN_TURN_X, /* of the balance against the car, about the car's axes at the balance */
    UNCERTAIN_TURN_Y,
    UNCERTAIN_TURN_Z,
    UNCERTAIN_BLOCKAGE, /* relative, of the increment of velocity */
    UNCERTAIN_GRADIENT,
    UNCERTAIN_VOLUME,
    UNCERTAIN_CD, /* of the result itself */
    UNCERTAIN_CY,
    UNCERTAIN_CL,
    UNCERTAIN_CLF,
    UNCERTAIN_CLR,
    UNCERTAIN_DECLARED, /* those above may be declared */
    UNCERTAIN_SLOTTED_FACTOR = UNCERTAIN_DECLARED,
    UNCERTAIN_VORTEX_DRAG,
    UNCERTAIN_REYNOLDS_1, /* .. _3: slopes of CD, CL, CLF over log10(Re) */
    UNCERTAIN_INPUTS = UNCERTAIN_REYNOLDS_1 + 3
};

struct uncertain_input_row {
    const char *word;    /* "dynamic_pressure" */
    const char *unit;    /* SI; "" for a balance output, whose unit is the balance's own */
    const char *meaning; /* "dynamic pressure, however it is found" */
};

const struct uncertain_input_row *uncertain_input_row(enum uncertain_input input);

/* By its word; UNCERTAIN_INPUTS when it is none that may be declared. */
enum uncertain_input uncertain_input_from_word(const char *word);

#endif

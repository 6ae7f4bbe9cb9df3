/* role.h - what a column of a log can mean, and the unit its values are kept in.
 *
 * A role is the meaning; the channel map ties a column to a role. Each role knows its SI unit, so a
 * unit that UDUNITS-2 reads in some other dimension (a milli-phot for "mph") can never pass. Adding
 * a role is one enumerator and one row of the table in role.c.                                      */
#ifndef LAPWING_ROLE_H
#define LAPWING_ROLE_H

enum role {
    ROLE_TIME,             /* s since the run began */
    ROLE_CLOCK,            /* H:M:S of the run's day, kept as s after midnight */
    ROLE_POINT,            /* label of the point a row belongs to */
    ROLE_RECORDING,        /* is the row recorded: 0 or off, else on */
    ROLE_SAMPLE_COUNT,     /* n of an averaged row */
    ROLE_BALANCE_OUTPUT_1, /* bridge or counter outputs, unit as the balance declares */
    ROLE_BALANCE_OUTPUT_2,
    ROLE_BALANCE_OUTPUT_3,
    ROLE_BALANCE_OUTPUT_4,
    ROLE_BALANCE_OUTPUT_5,
    ROLE_BALANCE_OUTPUT_6,
    ROLE_FORCE_X, /* ready-made loads, N and N m, about the balance's reference point in its axes */
    ROLE_FORCE_Y,
    ROLE_FORCE_Z,
    ROLE_MOMENT_X,
    ROLE_MOMENT_Y,
    ROLE_MOMENT_Z,
    ROLE_DRAG_COEFFICIENT, /* coefficients already reduced by the facility */
    ROLE_SIDE_COEFFICIENT,
    ROLE_DOWNFORCE_COEFFICIENT, /* downforce positive; a lift-positive file says sign: -1 */
    ROLE_DOWNFORCE_FRONT_COEFFICIENT,
    ROLE_DOWNFORCE_REAR_COEFFICIENT,
    ROLE_ROLL_COEFFICIENT,
    ROLE_PITCH_COEFFICIENT,
    ROLE_YAW_COEFFICIENT,
    ROLE_TOTAL_PRESSURE,     /* Pa, absolute */
    ROLE_STATIC_PRESSURE,    /* Pa, absolute */
    ROLE_TOTAL_MINUS_STATIC, /* Pa; not q */
    ROLE_CONTRACTION_DROP,   /* Pa; q follows from the facility's polynomial */
    ROLE_NOZZLE_DROP,      /* Pa, settling chamber to nozzle wall; q by the facility's polynomial */
    ROLE_PLENUM_DROP,      /* Pa, settling chamber to plenum; q by the facility's polynomial */
    ROLE_DYNAMIC_PRESSURE, /* Pa; q as the facility made it */
    ROLE_TOTAL_TEMPERATURE,  /* K, settling chamber */
    ROLE_STATIC_TEMPERATURE, /* K, test section */
    ROLE_RELATIVE_HUMIDITY,  /* 0..1 */
    ROLE_FRONT_RIDE_HEIGHT,  /* m */
    ROLE_REAR_RIDE_HEIGHT,   /* m */
    ROLE_YAW,                /* rad; sense as the facility declares */
    ROLE_ROLL,               /* rad, right side down positive */
    ROLE_PITCH,              /* rad, nose down positive */
    ROLE_STEER,              /* rad, to the right positive */
    ROLE_BELT_SPEED,         /* m/s */
    ROLE_AIR_SPEED,          /* m/s */
    ROLE_HEIGHT_SENSOR_1,    /* m; where it is, the facility's height_sensors: says */
    ROLE_HEIGHT_SENSOR_2,
    ROLE_HEIGHT_SENSOR_3,
    ROLE_HEIGHT_SENSOR_4,
    ROLE_HEIGHT_SENSOR_5,
    ROLE_HEIGHT_SENSOR_6,
    ROLE_HEIGHT_SENSOR_7,
    ROLE_HEIGHT_SENSOR_8,
    ROLE_WHEEL_DRAG_FRONT_LEFT, /* N, on the car, aft positive; cells follow the car */
    ROLE_WHEEL_DRAG_FRONT_RIGHT,
    ROLE_WHEEL_DRAG_REAR_LEFT,
    ROLE_WHEEL_DRAG_REAR_RIGHT,
    ROLE_WHEEL_LOAD_FRONT_LEFT, /* N, down positive: downforce */
    ROLE_WHEEL_LOAD_FRONT_RIGHT,
    ROLE_WHEEL_LOAD_REAR_LEFT,
    ROLE_WHEEL_LOAD_REAR_RIGHT,
    ROLE_BELT_DRAG, /* N, on the car, aft positive */
    ROLE_BELT_LOAD, /* N, down positive: downforce */
    ROLE_OTHER,     /* anything else worth keeping, SI unit of its kind; no stage uses it */
    ROLE_BALANCE_TEMPERATURE,      /* K, of the balance's body, its front end if there are two */
    ROLE_BALANCE_TEMPERATURE_REAR, /* K, of its rear end */
    ROLE_SCANNER_TEMPERATURE,      /* K, of the pressure scanner */
    ROLE_TAP,                      /* Pa; which tap is named by taps.csv */
    ROLE_COUNT
};

/* Name as written in the campaign file ("front_ride_height"). */
const char *role_name(enum role role);

/* SI unit its values are kept in ("m", "Pa", "1"); NULL where the balance declares it, where the
 * column's own unit decides (other), or the value is text (point, recording). */
const char *role_unit(enum role role);

/* 1 for what is measured; 0 for time, clock, point, recording and sample count, which order, gather and
 * weigh the rows. */
int role_is_channel(enum role role);

/* Gives ROLE_COUNT when no role has this name. */
enum role role_from_name(const char *name);

#endif

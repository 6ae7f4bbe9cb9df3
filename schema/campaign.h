/* campaign.h - what the user declared in campaign.yaml, as plain values in SI.
 *
 * Axes inside the program: x aft, y to the car's right, z up, right-handed; origin on the ground,
 * mid-wheelbase, centreline; moments right-handed about them. Downforce is positive in every
 * output. Yaw is positive when the air comes from the car's right; pitch positive nose down; roll
 * positive right side down. A facility whose logs count yaw the other way is converted once, at
 * the door, by its yaw_sign; targets in campaign.yaml are always in the program's own sense.
 *
 * The reader (campaign_file.c) goes through the whole file and reports every problem with its line
 * and column; nothing that has a dimension is accepted without a unit.                             */
#ifndef LAPWING_CAMPAIGN_H
#define LAPWING_CAMPAIGN_H

#include <stddef.h>

#include "schema/boundary.h"
#include "schema/declared_uncertainty.h"
#include "schema/fault.h"
#include "schema/plan_section.h"
#include "schema/repeat_section.h"
#include "schema/role.h"

enum { LOAD_COUNT = 6, OUTPUT_COUNT = 6, ATTITUDE_COUNT = 6, POLYNOMIAL_MAX = 4 };

/* The coordinates of an attitude, in this order everywhere. */
enum attitude_axis {
    ATTITUDE_FRONT_RIDE_HEIGHT,
    ATTITUDE_REAR_RIDE_HEIGHT,
    ATTITUDE_YAW,
    ATTITUDE_ROLL,
    ATTITUDE_PITCH,
    ATTITUDE_STEER
};

/* "front_ride_height", ...; the same for a sentence, "front ride height"; its role; its SI unit "m" or
 * "rad". */
const char *attitude_axis_name(enum attitude_axis axis);
const char *attitude_axis_words(enum attitude_axis axis);
enum role attitude_axis_role(enum attitude_axis axis);
const char *attitude_axis_unit(enum attitude_axis axis);

struct car {
    char *name;
    double model_scale;    /* 1 full size, 0.5 half */
    double reference_area; /* m2, of the car as tested */
    char *reference_area_source;
    double wheelbase;               /* m, as tested */
    double length;                  /* m; 0 when not given */
    double track_front, track_rear; /* m, middle of one contact to the other; 0 when not given */
    double volume;                  /* m3; 0 when not given */
};

enum section_kind {
    SECTION_CLOSED,
    SECTION_OPEN_JET,
    SECTION_SLOTTED,
    SECTION_TRACK,
    SECTION_BENCH /* no wind: what is recorded there is kept, and nothing is reduced */
};
enum corrected_already { CORRECTED_NO, CORRECTED_YES, CORRECTED_UNKNOWN };
enum freestream_method {
    FREESTREAM_TOTAL_AND_STATIC, /* p0 and p, or p0 - p and p: compressible relation */
    FREESTREAM_CONTRACTION,      /* q = polynomial of the contraction drop */
    FREESTREAM_NOZZLE,           /* the same of the drop to the nozzle's wall */
    FREESTREAM_PLENUM,           /* the same of the drop to the plenum about the jet */
    FREESTREAM_GIVEN,            /* the log's q is taken as it is */
    FREESTREAM_SPEED             /* q = rho V^2/2 of the log's speed and the declared density */
};
enum zero_rule { ZERO_LINEAR_IN_TIME, ZERO_NAMED, ZERO_NONE };
enum tare_rule {
    TARE_NONE,
    TARE_LOOKUP, /* the tare's point at the same attitude */
    TARE_FIT     /* a rigid weight fitted to the tare, and what it leaves interpolated */
};
enum belt_rule { BELT_TARE_NONE, BELT_TARE_LOOKUP };
enum buoyancy_rule { BUOYANCY_NONE, BUOYANCY_HORIZONTAL, BUOYANCY_TWO_GRADIENTS };
enum target_rule { TARGET_NONE, TARGET_LOCAL_FIT };

/* Where the ride heights of a point come from. Roll and pitch come along where the sensors tell them;
 * yaw and steer are always the log's. */
enum height_source { HEIGHT_FROM_LOG, HEIGHT_FROM_SENSORS };

/* A height sensor: reading + offset is the height of the car's reference plane above the ground at
 * (x, y) of the car. One that falls when the car rises has sign: -1 in its channel map. */
struct height_sensor {
    enum role role;      /* ROLE_HEIGHT_SENSOR_1 .. _8 */
    double x, y;         /* m, from mid-wheelbase on the centreline: aft, to the right */
    double offset;       /* m */
    size_t line, column; /* in campaign.yaml */
};

enum { HEIGHT_SENSORS_MAX = 8 };

/* The families of blockage correction: rows of the table in reduce/physics/blockage.c, by name. */

/* A table of what a support or a neighbour does to the coefficients, to be taken off; file NULL: none. */
struct declared_table {
    char *file;     /* relative to the campaign folder */
    char *contains; /* part of the loads that it takes off: "struts"; NULL: none of those named */
};

/* The two tables of a facility, in the order in which they are taken off. */
enum table_kind { TABLE_SUPPORT, TABLE_INTERFERENCE, TABLE_KINDS };
const char *table_kind_name(enum table_kind kind); /* "support tare", "interference" */

struct facility {
    char *name;
    enum section_kind section;
    double width, height; /* m, test section or nozzle */
    enum corrected_already corrected;
    char *contains;       /* what is inside the log's loads or coefficients: "body, wheels" */
    int contains_balance; /* 1: written as balance_contains, so that cells may be added to it */
    unsigned added_cells; /* CELLS_... of schema/contents.h, added to the balance's loads */
    double belt_centre;   /* m, x of the belt's cells, aft positive; used with the belt's load */
    int stands_on_wheels; /* 1: all of the car's downforce goes through the wheels' load cells */
    enum height_source ride_height;
    struct height_sensor *height_sensors;
    size_t n_height_sensors;
    int roll_is_zero;    /* 1: declared; heights make a line along the car */
    double yaw_sign;     /* +1: log already has air from the right positive, -1 not */
    int humidity_absent; /* 1: declared absent, air is taken as dry */
    enum freestream_method freestream;
    double density;   /* kg/m3, of a fluid of constant density; 0: air, weighed at every point */
    double viscosity; /* Pa s, declared with density; 0 when not given */
    double drop_polynomial[POLYNOMIAL_MAX]; /* q = sum c_k dp^k, Pa, of the drop of its method */
    size_t n_drop_polynomial;
    double pressure_gradient; /* dCp/dx of the empty section, 1/m */

    enum zero_rule zero;
    enum tare_rule weight_tare;
    char *balance_follows;                 /* "pitch, roll, yaw" or "nothing": what it turns with */
    double tare_tolerance[ATTITUDE_COUNT]; /* m or rad; 0 axis not compared */
    double scales_weight;                  /* kg on the balance, from scales; 0 when not given */
    double gravity;                        /* m/s2, where the balance stands */
    enum belt_rule belt_tare;
    double belt_tolerance; /* m/s: how far the belt's speed may be from that of a belt tare */
    struct declared_table tables[TABLE_KINDS];
    enum buoyancy_rule buoyancy;
    double buoyancy_volume_factor; /* G in -(dCp/dx) G V / A; 1 by default */
    char *blockage;                /* family name, "none" */
    double blockage_shape;         /* K of the image sum; 0 = from length and area */
    int floor_image;               /* 1: the floor mirrors the car (duplex section) */
    struct boundary boundary;      /* what single corrections need beside */
    enum target_rule to_target;
};

struct balance {
    char *name;
    char *file;               /* as written, relative to the campaign folder */
    char *output_unit;        /* "mV/V", "count": every output column must have it */
    char *contains;           /* what is inside its loads, where the facility's word is another's */
    double origin[3];         /* m, balance reference point in car axes */
    double axis_sign[3];      /* +1 or -1: sense of the balance's x, y, z against ours */
    double moment_sign[3];    /* the same for its moments */
    double rated[LOAD_COUNT]; /* N, N m; 0 when not given */
    char *axes_text;          /* as declared, for printing */
};

enum map_rows { ROWS_SAMPLES, ROWS_POINTS };
enum map_statistic {
    COLUMN_VALUE,
    COLUMN_SD,
    COLUMN_STANDARD_UNCERTAINTY, /* that the facility states of the value: standard */
    COLUMN_EXPANDED_UNCERTAINTY  /* or expanded, coverage 95 % */
};
enum map_taps { TAPS_RELATIVE, TAPS_ABSOLUTE, TAPS_AS_COEFFICIENT }; /* to static; Cp already */

/* How a channel slower than the rows is written. */
enum map_hold {
    HOLD_NONE,  /* every row holds a sample of its own */
    HOLD_BLANK, /* only some rows hold one, the cell is empty in the others */
    HOLD_REPEAT /* the last one is written again until a new one comes */
};

struct map_column {
    char *column; /* header text to match, exactly, after trimming */
    enum role role;
    enum map_statistic statistic; /* of averaged rows: the value, its sd, or its uncertainty */
    char *unit;                   /* NULL: the log's own unit row or [unit] decides */
    double sign;                  /* +1 or -1 */
    size_t line;                  /* in campaign.yaml */
    enum map_hold hold;           /* of samples */
    char *of; /* column that the statistic is of; only with the role other, else NULL */
};

/* A point is a stretch of rows in one window of an attained coordinate: ingest/sweep_watch.h. */
struct map_sweep {
    enum attitude_axis of;
    double window;     /* m or rad; 0: the map has no sweep */
    double settle;     /* s */
    double least_rows; /* a whole number; stretches of fewer are left out */
};

/* How a log's bytes are written. Left out, UTF-8 and what its first bytes show to be UTF-16 are taken;
 * Windows-1252 looks like nothing in particular and is taken only where it is declared. */
enum map_encoding { ENCODING_BY_MARK, ENCODING_UTF_8, ENCODING_UTF_16, ENCODING_WINDOWS_1252 };

struct channel_map {
    char *name;
    char delimiter;         /* ',' ';' '\t' ' ' '|' or 0: found from the header row */
    char decimal_mark;      /* '.' or ',' */
    unsigned preamble_rows; /* rows to skip before the header */
    unsigned name_rows;     /* 1, or 2 for a two-row header (joined with a blank) */
    char **names; /* of the columns in order, when no row of the log names them; else NULL */
    size_t n_names;
    char *comment;      /* lines that begin with this text are passed over; NULL: none are */
    char *blocks;       /* a line that begins with this text is a block's title; NULL: no blocks */
    int unit_row;       /* 1: the row after the names holds the units */
    enum map_rows rows; /* every row a sample, or every row an averaged point */
    int point_by_row;   /* 1: points are numbered by row, from 1 */
    struct map_sweep sweep;
    double rate;          /* Hz; 0 when a time column tells it or it is not known */
    char **missing_words; /* texts that mean "missing", "" may be one */
    size_t n_missing_words;
    enum map_encoding encoding;
    double *sentinels; /* numbers as written in the log that mean "missing" */
    size_t n_sentinels;
    int clock_wraps;            /* 1: a clock that goes back by half a day has passed midnight */
    int trailing_cells_ignored; /* 1: rows may have empty cells beyond the header's */
    struct map_column *columns;
    size_t n_columns;
    int has_taps;   /* 1: every column named by taps.csv's `column` is a tap */
    char *tap_unit; /* unit of the taps, NULL: the log's own */
    enum map_taps taps_measured;
    enum map_hold tap_hold;
    size_t line; /* in campaign.yaml */
};

struct target {
    char *name;
    double coordinate[ATTITUDE_COUNT];
    int given[ATTITUDE_COUNT]; /* 1 where the campaign names the coordinate */
    double weight;             /* 0 outside the weighted average */
};

struct attitudes {
    double tolerance[ATTITUDE_COUNT]; /* closer than this: at target, no correction is needed */
    double cap[ATTITUDE_COUNT];       /* farther than this: no correction, left at attained */
    double capture[ATTITUDE_COUNT];   /* farther than this: another attitude altogether */
    struct target *targets;
    size_t n_targets;
};

enum better { BETTER_HIGHER, BETTER_LOWER, BETTER_TOWARD, BETTER_UNDECLARED };

struct metric {
    char *name;     /* "downforce" */
    char *quantity; /* a row of schema/quantity.h: "CL" */
    enum better better;
    double toward;     /* in the quantity's own unit */
    double worthwhile; /* the smallest delta worth having, same unit */
};

/* What takes a part's change of balance back: a configuration that differs from its baseline by a
 * device's setting alone. Settings are in any one unit, as the user counts them: degrees, holes. */
struct trim_device {
    char *name; /* "front flap" */
    char *configuration;
    double from, to;    /* settings of the baseline and of the configuration */
    double least, most; /* how far it goes */
    char *unit;         /* of all four, as written */
};

/* What a gain may cost: the team takes one of `metric` (drag) for `worth` of `per` (downforce), both in
 * their quantity's own unit. */
struct trade_section {
    int given;
    char *metric, *per; /* names of metrics */
    double worth;
};

struct limits {
    double zero_drift;        /* flagged above this share of the smallest worthwhile delta; 0.5 */
    double q_unsteady;        /* sd(q)/q; 0.002 */
    double belt_speed;        /* |belt/air - 1|; 0.005 */
    double trend;             /* within a point: flagged above this share, 0.5 */
    double confidence;        /* 0.95 */
    double height_residual;   /* m as tested; 0.3 mm */
    double picture_megabytes; /* 10^6 bytes: most of a picture file that is shown; 4 */
};

/* How well a facility is known to repeat from before the season: one figure, of single measurements. */
struct declared_repeatability {
    char *facility;
    char *quantity;            /* symbol: "CL" */
    char *attitude;            /* target name, "weighted", or "any" */
    int level;                 /* 0 .. 3, in the order of reduce/statistics/variance_levels.h */
    double standard_deviation; /* in the quantity's own unit */
    double degrees_of_freedom; /* that it is worth */
    char *source;
};

struct campaign {
    char *path; /* of campaign.yaml, as opened */
    char *season;
    double count;        /* size of one count of a coefficient */
    char *point_meaning; /* what the team calls a point, as text */
    struct car car;
    struct facility *facilities;
    size_t n_facilities;
    struct balance *balances;
    size_t n_balances;
    struct channel_map *maps;
    size_t n_maps;
    struct attitudes attitudes;
    struct metric *metrics;
    size_t n_metrics;
    char *main_metric;   /* name of a metric */
    char *main_attitude; /* target name, or "weighted" */
    char *map_attitude;  /* target whose tap pressures are drawn; NULL: the main one */
    struct trim_device *trims;
    size_t n_trims;
    struct trade_section trade;
    struct facility_uncertainties *uncertainties; /* of those facilities that declare any */
    size_t n_uncertainties;
    struct limits limits;
    struct plan_section plan;
    struct repeat_section repeats;
    struct text_list keep_samples; /* roles, columns or taps whose traces are kept */
    struct declared_repeatability *repeatability;
    size_t n_repeatability;
    char digest[65]; /* SHA-256 of the file's bytes */
};

/* A way to q that goes by a pressure drop and a polynomial of it. */
struct drop_method {
    enum freestream_method method;
    const char *name; /* as written after freestream: */
    const char *key;  /* of its polynomial */
    enum role role;   /* of the drop */
};
const struct drop_method *campaign_drop_method(enum freestream_method method); /* NULL: none */

/* One problem of the campaign's files, for `check`: where and what, like a fault. */
typedef void campaign_problem(void *context, const struct fault *problem);

/* Reads folder/campaign.yaml. Every problem is handed to report (may be NULL) in file order; when
 * there was any, gives BAD_INPUT with the first one in *fault and *campaign NULL. On OK the caller
 * owns *campaign and ends it with campaign_free(). */
enum status campaign_read(const char *folder, struct campaign **campaign, campaign_problem *report,
                          void *context, struct fault *fault);
void campaign_free(struct campaign *campaign); /* NULL is fine */

/* Look-ups by name; NULL when there is none. */
const struct facility *campaign_facility(const struct campaign *campaign, const char *name);
const struct balance *campaign_balance(const struct campaign *campaign, const char *name);
const struct channel_map *campaign_map(const struct campaign *campaign, const char *name);
const struct metric *campaign_metric(const struct campaign *campaign, const char *name);
const struct facility_uncertainties *campaign_uncertainties(const struct campaign *campaign,
                                                            const char *facility);

/* SI unit that the taps of a map are kept in: "Pa", or "1" where they are coefficients already. */
const char *campaign_tap_unit(const struct channel_map *map);

#endif

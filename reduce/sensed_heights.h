/* sensed_heights.h - the attitude of a point: from the log, or from height sensors on the car.
 *
 * Where the facility places height sensors, reading + offset of each is the height of the car's
 * reference plane at its place, and the plane through them (reduce/physics/height_plane.h) has the
 * ride heights at the axles, the pitch and the roll. The campaign says whose ride heights are taken;
 * the other ones are a check. Sensors all on the centreline, or of a car declared without roll, make
 * a line, which tells no roll: then it is the log's, or 0 where it is declared.                    */
#ifndef LAPWING_SENSED_HEIGHTS_H
#define LAPWING_SENSED_HEIGHTS_H

#include "reduce/physics/height_plane.h"
#include "reduce/run_data.h"
#include "schema/campaign.h"

struct sensed_heights {
    size_t n; /* sensors with samples at the point */
    enum role role[HEIGHT_PLACES_MAX];
    int channel[HEIGHT_PLACES_MAX]; /* of the run's channels */
    struct height_place place[HEIGHT_PLACES_MAX];
    double height[HEIGHT_PLACES_MAX]; /* m: reading + offset */
    size_t n_silent;  /* placed sensors that the run does not log or that read nothing */
    enum role silent; /* the first of them */
    enum height_model model;
    enum outcome outcome;      /* of the plane; OUTCOME_TOO_FEW without sensors */
    struct height_plane plane; /* with OUTCOME_OK */
};

/* The model that a facility's sensors are fitted by; it has one or more. */
enum height_model height_model_of(const struct facility *facility);

/* Plane through the sensors of a point; the facility may be NULL or without any. */
void sensed_heights_make(const struct campaign *campaign, const struct facility *facility,
                         const struct run_data *data, const struct point_row *point,
                         struct sensed_heights *heights);

/* What the sensors say of one coordinate, with the linear form of their heights it is made of, NULL
 * for none; NAN when they do not tell it. */
double sensed_coordinate(const struct sensed_heights *heights, enum attitude_axis axis,
                         const double **form);

/* Attained attitude at a point, campaign order and signs; NAN where it was neither logged nor sensed,
 * as the facility (NULL: the log's) says; by heights that have been made already, or without them. */
void attitude_by_heights(const struct facility *facility, const struct sensed_heights *heights,
                         const struct run_data *data, const struct point_row *point,
                         double attitude[ATTITUDE_COUNT]);
void attained_attitude(const struct campaign *campaign, const struct facility *facility,
                       const struct run_data *data, const struct point_row *point,
                       double attitude[ATTITUDE_COUNT]);

#endif

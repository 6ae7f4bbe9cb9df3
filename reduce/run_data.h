/* run_data.h - channels and point statistics of one run, as ingest left them in the store. */
#ifndef LAPWING_RUN_DATA_H
#define LAPWING_RUN_DATA_H

#include <stddef.h>
#include <stdint.h>

#include "reduce/night.h"
#include "reduce/statistics/channel_lag.h"
#include "schema/fault.h"
#include "schema/point_statistics.h"
#include "schema/role.h"

struct channel_row {
    enum role role;
    char *column;            /* header text in the log */
    char *tap;               /* "" unless role is ROLE_TAP */
    char *unit;              /* unit the values are kept in */
    char *written_unit;      /* unit in the log */
    double sign;             /* that the map turns it with: +1 or -1 */
    enum map_taps measured;  /* of a tap: what its column holds */
    struct channel_lag lag;  /* behind the wind of its log */
    int covariance_position; /* row in the points' covariance, -1 when not in it */
};

struct point_row {
    char *point;
    double time;                         /* s since 1970-01-01T00:00:00Z */
    struct channel_statistics *channels; /* n_channels */
    double *covariance;                  /* n_covariance squared, row-major; NULL when not kept */
};

struct run_data {
    struct channel_row *channels;
    size_t n_channels;
    struct point_row *points; /* in the run's order */
    size_t n_points;
    size_t n_covariance;
};

/* Reads all of a run. A run without channels or points gives empty lists. On OK the caller ends
 * *data with run_data_end(); on any other status nothing is held. BAD_INPUT: a blob does not fit. */
enum status run_data_read(const struct night *night, const char *run, struct run_data *data,
                          struct fault *fault);
void run_data_end(struct run_data *data);

/* First channel with this role, or -1; channel of this tap, or -1; point by name, or NULL. */
int run_data_channel(const struct run_data *data, enum role role);
int run_data_tap(const struct run_data *data, const char *tap);
const struct point_row *run_data_point(const struct run_data *data, const char *point);

/* Mean of a role at a point, SI; NAN when the run has no such channel or the point no samples. */
double run_data_mean(const struct run_data *data, const struct point_row *point, enum role role);

#endif

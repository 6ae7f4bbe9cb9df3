/* log_channel.h - what is known of one measured channel of a log, besides its numbers. */
#ifndef LAPWING_LOG_CHANNEL_H
#define LAPWING_LOG_CHANNEL_H

#include "schema/role.h"

struct log_channel {
    char *column; /* header text */
    enum role role;
    char *tap;          /* name of the tap; NULL for other roles */
    char *unit;         /* the values are kept in: SI, or the balance's output unit */
    char *written_unit; /* in the log */
    double sign;        /* +1 or -1, applied: of the map, and of the facility for yaw */
};

void log_channel_free(struct log_channel *channel); /* frees what it holds */

/* 1 for loads, cells of wheels and belt, the pressures that q is made of, and height sensors: they
 * enter the covariance matrix, because loads over q, sums of loads, the balance and ride heights need
 * it. */
int role_in_covariance(enum role role);

#endif

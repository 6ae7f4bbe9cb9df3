/* log_channel.h - what is known of one measured channel of a log, besides its numbers. */
#ifndef LAPWING_LOG_CHANNEL_H
#define LAPWING_LOG_CHANNEL_H

#include "schema/role.h"

/* How a channel follows the wind of its log; see ingest/lag_watch.h. NAN: not told. */
struct wind_lag {
    double lag;         /* s, positive: later than the wind */
    double correlation; /* at that lag */
    double unlagged;    /* correlation without it */
    double samples;     /* independent ones behind both */
};

struct log_channel {
    char *column; /* header text */
    enum role role;
    char *tap;                    /* name of the tap; NULL for other roles */
    char *unit;                   /* the values are kept in: SI, or the balance's output unit */
    char *written_unit;           /* in the log */
    double sign;                  /* +1 or -1, applied: of the map, and of the facility for yaw */
    int has_stated;               /* 1: the log states the uncertainty of its values */
    struct wind_lag follows_wind; /* once the log is read */
};

void log_channel_free(struct log_channel *channel); /* frees what it holds */

/* 1 for loads, cells of wheels and belt, the pressures that q is made of, and height sensors: they
 * enter the covariance matrix, because loads over q, sums of loads, the balance and ride heights need
 * it. */
int role_in_covariance(enum role role);

#endif

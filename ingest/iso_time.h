/* iso_time.h - a date and time with zone, as text, to seconds since 1970-01-01T00:00:00Z.
 *
 * The zone is required: a night without one cannot be ordered against another facility's. No locale,
 * no time-zone database, no clock.                                                                 */
#ifndef LAPWING_ISO_TIME_H
#define LAPWING_ISO_TIME_H

#include <stddef.h>

struct iso_time {
    double seconds;  /* since 1970-01-01T00:00:00Z */
    double midnight; /* the same, of the beginning of the day in the zone as written */
    double zone;     /* s that the zone as written is ahead of UTC */
};

/* Reads YYYY-MM-DDTHH:MM[:SS[.fff]] and Z, +HH:MM or -HH:MM (the colon may be left out), nothing
 * else. NULL when it is well, else what is wrong: "the zone is missing", "there is no such day" ...
 * Source: ISO 8601-1:2019, extended format; day count of the proleptic Gregorian calendar.         */
const char *iso_time_parse(const char *text, struct iso_time *time);

/* The same for a text that may be a date alone, YYYY-MM-DD: NULL when it is well, else what is wrong. */
const char *iso_day_or_time_check(const char *text);

/* Reads H:M:S[.fff] or H:M as seconds after midnight; 0 when it is not one. */
int clock_parse(const char *text, size_t length, double *seconds);

#endif

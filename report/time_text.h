/* time_text.h - times of the night as the run sheet's clock showed them.
 *
 * No clock and no time-zone table is read: the run sheet writes each start with its own offset, and
 * that offset is used.                                                                             */
#ifndef LAPWING_REPORT_TIME_TEXT_H
#define LAPWING_REPORT_TIME_TEXT_H

struct time_text {
    char text[56];
};

/* Offset in seconds at the end of "2026-02-11T20:05:00+01:00" or "...Z"; 0 when there is none. */
double time_zone_offset(const char *start_text);

/* "UTC+01:00" of an offset, "UTC" of none; what a reader needs beside every clock. */
struct time_text time_zone(double offset);

/* "20:05" of seconds since 1970-01-01T00:00:00Z, at an offset. */
struct time_text time_clock(double seconds, double offset);

/* "11 Feb 2026" of the same. */
struct time_text time_date(double seconds, double offset);

/* Step for clock ticks: the smallest of 5, 10, 15, 30 min, 1, 2, 3, 6, 12, 24 h and whole days that
 * gives at most most ticks over a span of seconds. */
double time_tick_step(double span, int most);

#endif

/* gap_watch.h - are the times of a point's rows evenly spaced?
 *
 * Point by point, since a logger may well rest between two points: steps longer than GAP_RATIO times
 * the point's median step, and times that repeat. Where the median step is zero the clock is coarser
 * than the rows and nothing can be told. A point longer than POINT_SAMPLES_MAX is judged in pieces of
 * that length, so that memory stays flat.                                                          */
#ifndef LAPWING_GAP_WATCH_H
#define LAPWING_GAP_WATCH_H

#include "ingest/log_record.h"
#include "schema/fault.h"

#define GAP_RATIO 1.5 /* common practice, no source */

struct gap_watch {
    double *steps; /* s, of the point */
    size_t n, capacity;
    double previous;         /* NAN before the point's first row */
    double least, most;      /* steps of the point; most NAN before the first */
    size_t line;             /* at the end of the longest */
    struct time_gaps so_far; /* of the log */
};

/* {.previous = NAN} is a watch that is ready; frees what it holds. */
struct gap_watch gap_watch_ready(void);
void gap_watch_free(struct gap_watch *watch);

/* The time of the point's next row, s. */
enum status gap_watch_take(struct gap_watch *watch, double now, size_t line, struct fault *fault);

/* Ends the point. */
void gap_watch_finish(struct gap_watch *watch);

#endif

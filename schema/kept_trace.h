/* kept_trace.h - the kept samples of one channel at one point, read from the season, as pages and `explain`
 * show them; and what they say in a sentence.                                                         */
#ifndef LAPWING_KEPT_TRACE_H
#define LAPWING_KEPT_TRACE_H

#include <stddef.h>

#include "schema/store.h"

struct kept_bin {
    double n, minimum, mean, maximum; /* NAN but n where n is 0 */
};

struct kept_mark {
    size_t first, last; /* rows of the point, from 0 */
};

enum { KEPT_UNIT = 32 };

/* Values are in unit: as people read them, mm for m and deg for rad. */
struct kept_trace {
    char *run, *point, *channel, *reason;
    char unit[KEPT_UNIT];
    double severity; /* NAN: nothing was seen */
    double step;     /* s between rows; NAN: not known */
    double mean, sd, mean_without, peak;
    size_t rows, rows_a_bin, marked_rows, peak_row;
    struct kept_bin *bins;
    size_t n_bins, bins_capacity;
    struct kept_mark *marks;
    size_t n_marks, marks_capacity;
    size_t segment_rows, segments; /* of the spectrum; 0: there is none */
    double degrees_of_freedom, lower_factor, upper_factor;
    double *density; /* at k / (segment_rows step) Hz, unit squared per Hz */
    size_t n_densities, densities_capacity;
};

/* Reads the trace of the channel at a position of the run. NOT_FOUND: none is kept. On OK the caller ends
 * *trace with kept_trace_end(). */
enum status kept_trace_read(struct store *store, const char *run, const char *point,
                            long long position, struct kept_trace *trace, struct fault *fault);
void kept_trace_end(struct kept_trace *trace); /* an all-zero one is fine */

/* `lines` bins or fewer, each of whole ones that follow each other. out is for `lines` of them; gives how many
 * there are, and in *rows how many rows a line has. */
size_t kept_trace_thin(const struct kept_trace *trace, size_t lines, struct kept_bin *out,
                       size_t *rows);

/* Digits behind the point that tell a tenth of the point's scatter. */
int kept_trace_decimals(const struct kept_trace *trace);

enum { KEPT_SENTENCE = 600 };

/* What the samples say: where in the point, how large in its standard deviations, and what that does to the
 * mean. Ends with a full stop. */
void kept_trace_say(const struct kept_trace *trace, char out[KEPT_SENTENCE]);

#endif

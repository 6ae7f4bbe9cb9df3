/* kept_trace.c - reading; see kept_trace.h. */
#include "schema/kept_trace.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char head_sql[] =
    "SELECT t.run, t.point, coalesce(c.tap, c.column_name), t.reason, c.unit, t.severity, "
    "t.step_s, "
    "t.mean, t.sd, t.mean_without, t.peak, t.rows, t.rows_a_bin, t.marked_rows, t.peak_row, "
    "t.segment_rows, t.segments, t.degrees_of_freedom, t.lower_factor, t.upper_factor "
    "FROM trace AS t JOIN channel AS c ON c.run = t.run AND c.position = t.position "
    "WHERE t.run = ?1 AND t.point = ?2 AND t.position = ?3";
static const char bins_sql[] = "SELECT n, minimum, mean, maximum FROM trace_bin WHERE run = ?1 AND "
                               "point = ?2 AND position = ?3 ORDER BY bin";
static const char marks_sql[] = "SELECT first_row, last_row FROM trace_mark WHERE run = ?1 AND "
                                "point = ?2 AND position = ?3 ORDER BY mark";
static const char densities_sql[] = "SELECT density FROM spectrum WHERE run = ?1 AND point = ?2 "
                                    "AND position = ?3 ORDER BY bin";

/* What people read instead of SI. */
static const struct {
    const char *unit, *shown;
    double factor;
} shown[] = {{"m", "mm", 1000}, {"rad", "deg", 57.295779513082323}};

struct reading {
    struct store *store;
    const char *run, *point;
    long long position;
    struct kept_trace *trace;
    double factor;
};

typedef enum status take_row(struct reading *reading, struct statement *row, struct fault *fault);

static enum status each(struct reading *reading, const char *sql, take_row *take,
                        struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    enum status status = statement_prepare(reading->store, sql, &row, fault);
    if (status == OK)
        status = statement_bind_text(row, 1, reading->run, fault);
    if (status == OK)
        status = statement_bind_text(row, 2, reading->point, fault);
    if (status == OK)
        status = statement_bind_integer(row, 3, reading->position, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more)
        status = take(reading, row, fault);
    statement_free(row);
    return status;
}

static enum status keep(struct statement *row, int column, char **text, struct fault *fault)
{
    const char *from = statement_text(row, column);
    *text = strdup(from != NULL ? from : "");
    return *text != NULL ? OK : FAIL(fault, NO_MEMORY, "no memory for a trace");
}

static void take_unit(struct reading *reading, const char *unit)
{
    const char *name = unit;
    reading->factor = 1;
    for (size_t i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        if (strcmp(shown[i].unit, unit) != 0)
            continue;
        reading->factor = shown[i].factor;
        name = shown[i].shown;
    }
    (void)snprintf(reading->trace->unit, KEPT_UNIT, "%s", strcmp(name, "1") == 0 ? "" : name);
}

static enum status take_head(struct reading *reading, struct statement *row, struct fault *fault)
{
    struct kept_trace *trace = reading->trace;
    char **const texts[] = {&trace->run, &trace->point, &trace->channel, &trace->reason};
    enum status status = OK;
    for (int i = 0; i < 4 && status == OK; i++)
        status = keep(row, i, texts[i], fault);
    take_unit(reading, statement_text(row, 4));
    trace->severity = statement_real(row, 5);
    trace->step = statement_real(row, 6);
    trace->mean = reading->factor * statement_real(row, 7);
    trace->sd = reading->factor * statement_real(row, 8);
    trace->mean_without = reading->factor * statement_real(row, 9);
    trace->peak = reading->factor * statement_real(row, 10);
    trace->rows = (size_t)statement_integer(row, 11);
    trace->rows_a_bin = (size_t)statement_integer(row, 12);
    trace->marked_rows = (size_t)statement_integer(row, 13);
    trace->peak_row = (size_t)statement_integer(row, 14);
    trace->segment_rows = (size_t)statement_integer(row, 15);
    trace->segments = (size_t)statement_integer(row, 16);
    trace->degrees_of_freedom = statement_real(row, 17);
    trace->lower_factor = statement_real(row, 18);
    trace->upper_factor = statement_real(row, 19);
    return status;
}

/* Room for one more of *n elements; NULL without memory. */
static void *grow(void *items, size_t n, size_t *capacity, size_t size)
{
    if (n < *capacity)
        return items;
    size_t wanted = *capacity > 0 ? 2 * *capacity : 64;
    void *more = realloc(items, wanted * size);
    if (more != NULL)
        *capacity = wanted;
    return more;
}

static enum status no_memory(struct fault *fault)
{
    return FAIL(fault, NO_MEMORY, "no memory for a trace");
}

static enum status take_bin(struct reading *reading, struct statement *row, struct fault *fault)
{
    struct kept_trace *trace = reading->trace;
    void *bins = grow(trace->bins, trace->n_bins, &trace->bins_capacity, sizeof *trace->bins);
    if (bins == NULL)
        return no_memory(fault);
    trace->bins = bins;
    trace->bins[trace->n_bins++] = (struct kept_bin){
        (double)statement_integer(row, 0), reading->factor * statement_real(row, 1),
        reading->factor * statement_real(row, 2), reading->factor * statement_real(row, 3)};
    return OK;
}

static enum status take_mark(struct reading *reading, struct statement *row, struct fault *fault)
{
    struct kept_trace *trace = reading->trace;
    void *marks = grow(trace->marks, trace->n_marks, &trace->marks_capacity, sizeof *trace->marks);
    if (marks == NULL)
        return no_memory(fault);
    trace->marks = marks;
    trace->marks[trace->n_marks++] =
        (struct kept_mark){(size_t)statement_integer(row, 0), (size_t)statement_integer(row, 1)};
    return OK;
}

static enum status take_density(struct reading *reading, struct statement *row, struct fault *fault)
{
    struct kept_trace *trace = reading->trace;
    void *density = grow(trace->density, trace->n_densities, &trace->densities_capacity,
                         sizeof *trace->density);
    if (density == NULL)
        return no_memory(fault);
    trace->density = density;
    trace->density[trace->n_densities++] =
        reading->factor * reading->factor * statement_real(row, 0);
    return OK;
}

enum status kept_trace_read(struct store *store, const char *run, const char *point,
                            long long position, struct kept_trace *trace, struct fault *fault)
{
    struct reading reading = {store, run, point, position, trace, 1};
    *trace = (struct kept_trace){NULL};
    enum status status = each(&reading, head_sql, take_head, fault);
    if (status == OK && trace->run == NULL)
        return FAIL(fault, NOT_FOUND, "no samples are kept of this channel at run %s point %s", run,
                    point);
    if (status == OK)
        status = each(&reading, bins_sql, take_bin, fault);
    if (status == OK)
        status = each(&reading, marks_sql, take_mark, fault);
    if (status == OK)
        status = each(&reading, densities_sql, take_density, fault);
    if (status != OK)
        kept_trace_end(trace);
    return status;
}

void kept_trace_end(struct kept_trace *trace)
{
    free(trace->run);
    free(trace->point);
    free(trace->channel);
    free(trace->reason);
    free(trace->bins);
    free(trace->marks);
    free(trace->density);
    *trace = (struct kept_trace){NULL};
}

static void merge(struct kept_bin *into, const struct kept_bin *bin)
{
    if (bin->n == 0)
        return;
    if (into->n == 0) {
        *into = *bin;
        return;
    }
    into->mean += (bin->mean - into->mean) * bin->n / (into->n + bin->n);
    into->n += bin->n;
    into->minimum = fmin(into->minimum, bin->minimum);
    into->maximum = fmax(into->maximum, bin->maximum);
}

size_t kept_trace_thin(const struct kept_trace *trace, size_t lines, struct kept_bin *out,
                       size_t *rows)
{
    const double none = (double)NAN;
    size_t each_line = (trace->n_bins + lines - 1) / lines;
    size_t n = 0;
    each_line = each_line > 0 ? each_line : 1;
    for (size_t b = 0; b < trace->n_bins; b++) {
        if (b % each_line == 0)
            out[n++] = (struct kept_bin){0, none, none, none};
        merge(&out[n - 1], &trace->bins[b]);
    }
    *rows = each_line * trace->rows_a_bin;
    return n;
}

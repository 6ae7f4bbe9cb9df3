/* trace_store.c - see trace_store.h. */
#include "ingest/trace_store.h"

#include <math.h>

#include "schema/bind_row.h"

/* The statements, in the order of the table below. */
enum { PUT_TRACE, PUT_BIN, PUT_MARK, PUT_DENSITY };

static const char *const sql[TRACE_STATEMENTS] = {
    [PUT_TRACE] = "INSERT INTO trace (run, point, position, reason, rows, rows_a_bin, marked_rows, "
                  "peak_row, severity, step_s, mean, sd, mean_without, peak, segment_rows, "
                  "segments, degrees_of_freedom, lower_factor, upper_factor) VALUES (?1, ?2, ?3, "
                  "?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19)",
    [PUT_BIN] = "INSERT INTO trace_bin (run, point, position, bin, n, minimum, mean, maximum) "
                "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
    [PUT_MARK] = "INSERT INTO trace_mark (run, point, position, mark, first_row, last_row) "
                 "VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
    [PUT_DENSITY] = "INSERT INTO spectrum (run, point, position, bin, frequency_hz, density) "
                    "VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
};

enum status trace_store_begin(struct store *store, struct trace_store *writer, struct fault *fault)
{
    enum status status = OK;
    *writer = (struct trace_store){{NULL}};
    for (size_t i = 0; i < TRACE_STATEMENTS && status == OK; i++)
        status = statement_prepare(store, sql[i], &writer->statements[i], fault);
    if (status != OK)
        trace_store_end(writer);
    return status;
}

void trace_store_end(struct trace_store *writer)
{
    for (size_t i = 0; i < TRACE_STATEMENTS; i++)
        statement_free(writer->statements[i]);
    *writer = (struct trace_store){{NULL}};
}

/* Run, point and channel: what every row begins with. */
struct place {
    const char *run, *point;
    int64_t position;
};

static enum status bind_place(struct statement *statement, const struct place *place,
                              struct fault *fault)
{
    const char *const texts[] = {place->run, place->point};
    enum status status = bind_texts(statement, 1, texts, 2, fault);
    if (status == OK)
        status = statement_bind_integer(statement, 3, place->position, fault);
    return status;
}

/* Without a spectrum its columns stay NULL. */
static enum status bind_plan(struct statement *statement, const struct log_trace *trace,
                             struct fault *fault)
{
    if (trace->density == NULL)
        return OK;
    double freedom = welch_degrees_of_freedom(&trace->plan);
    struct welch_factors factors = welch_confidence(freedom);
    const int64_t sizes[] = {(int64_t)trace->plan.segment, (int64_t)trace->plan.segments};
    const double reals[] = {freedom, factors.lower, factors.upper};
    enum status status = bind_integers(statement, 15, sizes, 2, fault);
    return status != OK ? status : bind_reals(statement, 17, reals, 3, fault);
}

static enum status put_head(const struct trace_store *writer, const struct place *place,
                            const struct log_trace *trace, struct fault *fault)
{
    struct statement *statement = writer->statements[PUT_TRACE];
    const int64_t numbers[] = {(int64_t)trace->rows, (int64_t)trace->rows_a_bin,
                               (int64_t)trace->marked_rows, (int64_t)trace->peak_row};
    const double reals[] = {trace->severity, trace->step,         trace->mean,
                            trace->sd,       trace->mean_without, trace->peak};
    enum status status = bind_place(statement, place, fault);
    if (status == OK)
        status = statement_bind_text(statement, 4, trace_reason_code(trace->reason), fault);
    if (status == OK)
        status = bind_integers(statement, 5, numbers, 4, fault);
    if (status == OK)
        status = bind_reals(statement, 9, reals, 6, fault);
    if (status == OK)
        status = bind_plan(statement, trace, fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status put_bin(const struct trace_store *writer, const struct place *place, size_t at,
                           const struct trace_bin *bin, struct fault *fault)
{
    struct statement *statement = writer->statements[PUT_BIN];
    const int64_t numbers[] = {(int64_t)at, (int64_t)bin->n};
    const double reals[] = {bin->minimum, bin->mean, bin->maximum};
    enum status status = bind_place(statement, place, fault);
    if (status == OK)
        status = bind_integers(statement, 4, numbers, 2, fault);
    if (status == OK)
        status = bind_reals(statement, 6, reals, 3, fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status put_mark(const struct trace_store *writer, const struct place *place, size_t at,
                            const struct trace_mark *mark, struct fault *fault)
{
    struct statement *statement = writer->statements[PUT_MARK];
    const int64_t numbers[] = {(int64_t)at, (int64_t)mark->first, (int64_t)mark->last};
    enum status status = bind_place(statement, place, fault);
    if (status == OK)
        status = bind_integers(statement, 4, numbers, 3, fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status put_density(const struct trace_store *writer, const struct place *place,
                               size_t at, const struct log_trace *trace, struct fault *fault)
{
    struct statement *statement = writer->statements[PUT_DENSITY];
    double width = 1 / (trace->step * (double)trace->plan.segment);
    const double reals[] = {(double)at * width, trace->density[at]};
    enum status status = bind_place(statement, place, fault);
    if (status == OK)
        status = statement_bind_integer(statement, 4, (int64_t)at, fault);
    if (status == OK)
        status = bind_reals(statement, 5, reals, 2, fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status put_trace(const struct trace_store *writer, const struct place *place,
                             const struct log_trace *trace, struct fault *fault)
{
    enum status status = put_head(writer, place, trace, fault);
    for (size_t i = 0; i < trace->n_bins && status == OK; i++)
        status = put_bin(writer, place, i, &trace->bins[i], fault);
    for (size_t i = 0; i < trace->n_marks && status == OK; i++)
        status = put_mark(writer, place, i, &trace->marks[i], fault);
    for (size_t i = 0; trace->density != NULL && i < trace->plan.n && status == OK; i++)
        status = put_density(writer, place, i, trace, fault);
    return status;
}

enum status trace_store_put(const struct trace_store *writer, const char *run,
                            const struct log_record *record, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; i < record->n_traces && status == OK; i++) {
        const struct log_trace *trace = &record->traces[i];
        const struct place place = {run, record->points[trace->point].label,
                                    (int64_t)trace->channel};
        status = put_trace(writer, &place, trace, fault);
    }
    return status;
}

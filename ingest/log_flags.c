/* log_flags.c - see log_flags.h. */
#include "ingest/log_flags.h"

#include <stdio.h>

static void tell_end(const char *file, const struct read_log *log, struct log_flag *flag)
{
    flag->rule = FLAG_LOG_UNTERMINATED;
    (void)snprintf(flag->detail, sizeof flag->detail,
                   "%.400s ends without a line feed; its last row (line %zu) was %s", file,
                   log->unterminated_line, log->left_out ? "left out" : "used as it stands");
}

static void tell_gaps(const char *file, const struct read_log *log, struct log_flag *flag)
{
    const struct time_gaps *found = &log->gaps;
    /* A point of few rows, or one whose clock is coarse, has its repeats not counted. */
    size_t repeats = found->repeats > found->doubled ? found->repeats : found->doubled;
    int used = 0;
    flag->rule = FLAG_TIME_GAPS;
    used = snprintf(flag->detail, sizeof flag->detail,
                    "%.400s: %zu steps of time longer than 1.5 times the point's median, %zu rows "
                    "with the time of the row before",
                    file, found->gaps, repeats);
    if (found->gaps > 0 && used > 0)
        used += snprintf(flag->detail + used, sizeof flag->detail - (size_t)used,
                         "; the longest, %.6g s in place of %.6g s, ends on line %zu",
                         found->longest, found->usual, found->line);
    if (found->doubled > 0 && used > 0)
        (void)snprintf(flag->detail + used, sizeof flag->detail - (size_t)used,
                       "; %zu rows are the row before over again, in time and every channel",
                       found->doubled);
}

static void tell_outside(const char *file, const struct read_log *log, struct log_flag *flag)
{
    int used = 0;
    flag->rule = FLAG_ROWS_OUTSIDE_POINTS;
    used = snprintf(flag->detail, sizeof flag->detail, "%.400s: %zu of %zu rows are in no point",
                    file, log->rows_outside, log->rows);
    if (log->short_points > 0 && used > 0)
        (void)snprintf(flag->detail + used, sizeof flag->detail - (size_t)used,
                       "; among them %zu point%s left out for having fewer rows than least_rows",
                       log->short_points, log->short_points > 1 ? "s" : "");
}

static void tell_suspect(const char *file, const struct read_log *log, size_t i,
                         struct log_flag *flag)
{
    const struct log_suspect *suspect = &log->suspects[i];
    size_t more = i + 1 == LOG_SUSPECTS_MAX ? log->n_suspects - LOG_SUSPECTS_MAX : 0;
    int used = 0;
    flag->rule = FLAG_SENTINEL_SUSPECTED;
    used = snprintf(flag->detail, sizeof flag->detail,
                    "column '%s' of %.400s is %.7g in %zu of %zu rows; limit: 1 %% of the rows",
                    suspect->column, file, suspect->value, suspect->rows, log->rows_read);
    if (more > 0 && used > 0)
        (void)snprintf(flag->detail + used, sizeof flag->detail - (size_t)used,
                       "; and %zu more like it in this log", more);
}

size_t log_flags_of(const char *file, const struct read_log *log,
                    struct log_flag flags[LOG_FLAGS_MAX])
{
    size_t n = 0;
    if (log->unterminated_line > 0)
        tell_end(file, log, &flags[n++]);
    if (log->gaps.gaps > 0 || log->gaps.repeats > 0 || log->gaps.doubled > 0)
        tell_gaps(file, log, &flags[n++]);
    if (log->rows_outside > 0)
        tell_outside(file, log, &flags[n++]);
    for (size_t i = 0; i < log->n_suspects && i < LOG_SUSPECTS_MAX; i++)
        tell_suspect(file, log, i, &flags[n++]);
    return n;
}

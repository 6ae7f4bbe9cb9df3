/* run_selection.c - see run_selection.h. */
#include "ingest/run_selection.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/near_name.h"
#include "ingest/season_sheets.h"
#include "ingest/wind_off_needs.h"
#include "schema/file_read.h"

static const char wind_on[] = "wind_on";

static int is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Past the zeros that a number begins with; its last digit stays. */
static const char *skip_zeros(const char *begin, const char *at)
{
    if (at > begin && is_digit(at[-1]))
        return at;
    while (*at == '0' && is_digit(at[1]))
        at++;
    return at;
}

/* 1 when the names are the same but for zeros before their numbers, and capitals: r5, R05. */
static int is_same_number(const char *a, const char *b)
{
    const char *x = skip_zeros(a, a);
    const char *y = skip_zeros(b, b);
    while (*x != '\0' && *y != '\0') {
        if (near_name_distance(x, 1, y, 1) != 0)
            return 0;
        x = skip_zeros(a, x + 1);
        y = skip_zeros(b, y + 1);
    }
    return *x == *y;
}

/* At most half of the longer name would have to be another one. */
static int is_near(const char *name, const struct run_entry *run, size_t apart)
{
    size_t a = strlen(name);
    size_t b = strlen(run->name);
    return 2 * apart <= (a > b ? a : b);
}

/* NULL: none is near. Of two runs as near, the later one: a run is looked at when it has just been
 * made. */
static const struct run_entry *nearest_run(const struct run_sheet *runs, const char *name)
{
    const struct run_entry *nearest = NULL;
    size_t least = SIZE_MAX;
    for (size_t i = 0; i < runs->n; i++) {
        const struct run_entry *run = &runs->runs[i];
        if (strcmp(run->kind, wind_on) != 0)
            continue;
        size_t apart = near_name_distance(name, strlen(name), run->name, strlen(run->name));
        if (is_same_number(name, run->name))
            return run;
        if (apart > least || !is_near(name, run, apart))
            continue;
        least = apart;
        nearest = run;
    }
    return nearest;
}

enum status run_selection_check(const struct run_sheet *runs, const char *name, struct fault *fault)
{
    const struct run_entry *run = run_find(runs, name, strlen(name));
    const struct run_entry *nearest = run == NULL ? nearest_run(runs, name) : NULL;
    if (run == NULL && nearest == NULL)
        return FAIL(fault, NOT_FOUND,
                    "no run '%.80s' in runs.csv, and no wind_on run of a name like it; look there "
                    "for its name",
                    name);
    if (run == NULL)
        return FAIL(fault, NOT_FOUND, "no run '%.80s' in runs.csv; the nearest name is '%.80s'",
                    name, nearest->name);
    if (strcmp(run->kind, wind_on) != 0)
        return FAIL(fault, BAD_INPUT,
                    "run '%.80s' is a %s: it has no result of its own; name the wind_on run that "
                    "it belongs to",
                    name, run->kind);
    return OK;
}

static int log_is_missing(const char *folder, const struct run_log *log)
{
    struct file_stamp stamp;
    struct fault ignored;
    char *path = season_path(folder, log->file);
    if (path == NULL)
        return 0;
    int missing = file_stamp_read(path, log->file, &stamp, &ignored) == NOT_FOUND;
    free(path);
    return missing;
}

int run_selection_has(const struct run_sheet *runs, const char *name, const char *folder,
                      const struct run_entry *candidate)
{
    const struct run_entry *run = run_find(runs, name, strlen(name));
    if (candidate == run || run == NULL)
        return candidate == run;
    if (!wind_off_may_serve(candidate, run, "zero") &&
        !wind_off_may_serve(candidate, run, "weight_tare") &&
        !wind_off_may_serve(candidate, run, "belt_tare"))
        return 0;
    for (size_t i = 0; i < candidate->n_logs; i++)
        if (log_is_missing(folder, &candidate->logs[i]))
            return 0;
    return 1;
}

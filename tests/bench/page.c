/* page.c - is the page of a night as large as they come written in under a second, and under 2 MB?
 *
 * Usage: page [TIMES]   7 times. Prints the page's size and the medians of the times that reading the
 * season, making the page and writing it took, and once the whole report: tables, workbook, sheets, index
 * and pages. Ends with 1 when the median is over a second of the processor (what else the machine does is
 * not the page's) or the page over 2 MB; with 2 when something could not be made. The night is that of
 * tests/report_fixture_large.c in a scratch folder. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <time.h>

#include "report/html.h"
#include "report/report_command.h"
#include "report/report_files.h"
#include "tests/scratch.h"
#include "tests/test_report_fixture.h"

enum { TIMES_MOST = 99, PATH = SCRATCH_PATH + 32 };

static const double seconds_most = 1, bytes_most = 2e6;

static double now(clockid_t clock)
{
    struct timespec time;

    (void)clock_gettime(clock, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static int by_size(const void *a, const void *b)
{
    const double *x = a, *y = b;

    return (*x > *y) - (*x < *y);
}

static enum status make_season(const char *path, struct fault *fault)
{
    struct store *store = NULL;

    enum status status = report_fixture_open(path, NULL, &store, fault);
    if (status == OK)
        status = report_fixture_enlarge(store, fault);
    enum status closed = store_close(store, status == OK ? fault : NULL);
    return status != OK ? status : closed;
}

/* As the command does: opened, read, made, written. */
static enum status write_page(const char *season, const char *path, struct fault *fault)
{
    struct store *store = NULL;
    struct html page = {0};

    enum status status = store_open(season, STORE_READ_ONLY, &store, fault);
    if (status == OK)
        status = report_fixture_page(store, &page, fault);
    if (status == OK)
        status = report_save(path, &page.out, fault);
    html_free(&page);
    enum status closed = store_close(store, status == OK ? fault : NULL);
    return status != OK ? status : closed;
}

static enum status write_whole(const char *season, const char *folder, struct fault *fault)
{
    struct store *store = NULL;

    enum status status = store_open(season, STORE_READ_ONLY, &store, fault);
    if (status == OK)
        status = report_write(store, folder, NULL, fault);
    enum status closed = store_close(store, status == OK ? fault : NULL);
    return status != OK ? status : closed;
}

static double size_of(const char *path)
{
    struct stat found;

    return stat(path, &found) == 0 ? (double)found.st_size : (double)NAN;
}

static double median(double *values, int n)
{
    qsort(values, (size_t)n, sizeof *values, by_size);
    return values[n / 2];
}

static enum status measure_page(const char *season, const char *page, int times, int *is_within,
                                struct fault *fault)
{
    double processor[TIMES_MOST] = {0}, wall[TIMES_MOST] = {0};
    enum status status = OK;

    for (int i = 0; status == OK && i < times; i++) {
        double start = now(CLOCK_MONOTONIC), used = now(CLOCK_PROCESS_CPUTIME_ID);
        status = write_page(season, page, fault);
        processor[i] = now(CLOCK_PROCESS_CPUTIME_ID) - used;
        wall[i] = now(CLOCK_MONOTONIC) - start;
    }
    if (status != OK)
        return status;
    double seconds = median(processor, times), bytes = size_of(page);
    *is_within = seconds <= seconds_most && bytes <= bytes_most;
    (void)printf(
        "page          %6.2f s of the processor, %.2f s by the clock: medians of %d; limit "
        "%.0f s\n",
        seconds, median(wall, times), times, seconds_most);
    (void)printf("              %6.0f kB; limit %.0f kB\n", bytes / 1e3, bytes_most / 1e3);
    return OK;
}

static enum status measure(const char *folder, int times, int *is_within, struct fault *fault)
{
    char season[PATH], page[PATH];

    (void)snprintf(season, sizeof season, "%s/season.sqlite", folder);
    (void)snprintf(page, sizeof page, "%s/night.html", folder);
    enum status status = make_season(season, fault);
    if (status != OK)
        return status;
    (void)printf("night of %d runs, %d points each, %d taps: %.0f MB\n", LARGE_RUNS, LARGE_POINTS,
                 LARGE_TAPS, size_of(season) / 1e6);
    status = measure_page(season, page, times, is_within, fault);
    double start = now(CLOCK_MONOTONIC), used = now(CLOCK_PROCESS_CPUTIME_ID);
    if (status == OK)
        status = write_whole(season, folder, fault);
    if (status == OK)
        (void)printf("whole report  %6.2f s of the processor, %.2f s by the clock\n",
                     now(CLOCK_PROCESS_CPUTIME_ID) - used, now(CLOCK_MONOTONIC) - start);
    return status;
}

/* A whole number from 1 to most, the default without text; 0 when it is none. */
static int read_count(const char *text, int usual, int most)
{
    char *end = NULL;

    if (text == NULL)
        return usual;
    long value = strtol(text, &end, 10);
    return *end == '\0' && value >= 1 && value <= most ? (int)value : 0;
}

int main(int argc, char **argv)
{
    char folder[SCRATCH_PATH];
    struct fault fault = {0};
    int is_within = 0;
    int times = read_count(argc > 1 ? argv[1] : NULL, 7, TIMES_MOST);

    if (times == 0 || argc > 2) {
        (void)fprintf(stderr, "usage: page [TIMES]\n");
        return 2;
    }
    if (!scratch_make(folder)) {
        (void)fprintf(stderr, "page: no folder could be made\n");
        return 2;
    }
    enum status status = measure(folder, times, &is_within, &fault);
    scratch_remove(folder);
    if (status != OK)
        (void)fprintf(stderr, "page: %s\n", fault.text);
    else if (!is_within)
        (void)fprintf(stderr, "page: over the limit\n");
    return status != OK ? 2 : !is_within;
}

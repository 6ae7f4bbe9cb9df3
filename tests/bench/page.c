/* page.c - is the page of a night as large as they come written in under a second, and under 2 MB?
 *
 * Usage: page [TIMES [NIGHTS]]   7 times, a season of 1 night. Prints the page's size, the median of the
 * times that reading the season, making the page and writing it took, and once the whole report: tables,
 * workbook, sheets, index and every night's page. Ends with 1 when the median is over a second or the
 * page over 2 MB; with 2 when something could not be made. The night is that of
 * tests/report_fixture_large.c in a scratch folder, and NIGHTS - 1 copies of it as entries before it. */
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

static double now(void)
{
    struct timespec time;

    (void)clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static int by_size(const void *a, const void *b)
{
    const double *x = a, *y = b;

    return (*x > *y) - (*x < *y);
}

static enum status make_season(const char *path, int nights, struct fault *fault)
{
    struct store *store = NULL;

    enum status status = report_fixture_open(path, NULL, &store, fault);
    if (status == OK)
        status = report_fixture_enlarge(store, fault);
    for (int n = 1; status == OK && n < nights; n++) {
        char entry[32], prefix[16];
        (void)snprintf(entry, sizeof entry, "Week %02d", nights - n);
        (void)snprintf(prefix, sizeof prefix, "N%02d-", n);
        const struct report_fixture_entry more = {entry, prefix, 100000 * n, -604800.0 * n,
                                                  1 - 0.02 * n};
        status = report_fixture_add_entry(store, &more, fault);
    }
    enum status closed = store_close(store, fault);
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

static enum status measure(const char *folder, int times, int nights, int *is_within,
                           struct fault *fault)
{
    double seconds[TIMES_MOST];
    char season[PATH], page[PATH];

    (void)snprintf(season, sizeof season, "%s/season.sqlite", folder);
    (void)snprintf(page, sizeof page, "%s/night.html", folder);
    enum status status = make_season(season, nights, fault);
    for (int i = 0; status == OK && i < times; i++) {
        double start = now();
        status = write_page(season, page, fault);
        seconds[i] = now() - start;
    }
    if (status != OK)
        return status;
    qsort(seconds, (size_t)times, sizeof seconds[0], by_size);
    double median = seconds[times / 2], bytes = size_of(page);
    *is_within = median <= seconds_most && bytes <= bytes_most;
    (void)printf("night of %d runs, %d points each, %d taps; season of %d, %.0f MB\n", LARGE_RUNS,
                 LARGE_POINTS, LARGE_TAPS, nights, size_of(season) / 1e6);
    (void)printf("page          %6.2f s, median of %d (%.2f to %.2f); limit %.0f s\n", median,
                 times, seconds[0], seconds[times - 1], seconds_most);
    (void)printf("              %6.0f kB; limit %.0f kB\n", bytes / 1e3, bytes_most / 1e3);
    double start = now();
    status = write_whole(season, folder, fault);
    (void)printf("whole report  %6.2f s\n", now() - start);
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
    int nights = read_count(argc > 2 ? argv[2] : NULL, 1, TIMES_MOST);

    if (times == 0 || nights == 0 || argc > 3) {
        (void)fprintf(stderr, "usage: page [TIMES [NIGHTS]]\n");
        return 2;
    }
    if (!scratch_make(folder)) {
        (void)fprintf(stderr, "page: no folder could be made\n");
        return 2;
    }
    enum status status = measure(folder, times, nights, &is_within, &fault);
    scratch_remove(folder);
    if (status != OK)
        (void)fprintf(stderr, "page: %s\n", fault.text);
    else if (!is_within)
        (void)fprintf(stderr, "page: over the limit\n");
    return status != OK ? 2 : !is_within;
}

/* test_spikes.c - the rule as it is written, without any network, against the program's; how often it
 * is wrong about noise, and what it finds.                                                          */
#include "ingest/spikes.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/sample_statistics.h"
#include "tests/check.h"
#include "tests/noise.h"

enum { RECORD = 1000 };

static struct spikes find(const double *x, size_t n, double resolution, double *clean)
{
    double room[20000];
    double own[20000];
    return spikes_find(x, n, resolution, room, clean != NULL ? clean : own);
}

static int compare(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;
    return (x > y) - (x < y);
}

static double sorted_middle(double *x, size_t n)
{
    qsort(x, n, sizeof *x, compare);
    return x[(n - 1) / 2];
}

/* |x - median| of the window and its median deviation, straight from the header's words. */
static double plain_residual(const double *x, size_t n, size_t i, double *spread)
{
    double w[11];
    size_t half = i < n - 1 - i ? i : n - 1 - i;
    if (half > 5)
        half = 5;
    if (half < 2)
        half = 2;
    size_t first = i < half ? 0 : i - half;
    if (i + half > n - 1)
        first = n - 1 - 2 * half;
    for (size_t k = 0; k <= 2 * half; k++)
        w[k] = x[first + k];
    double median = sorted_middle(w, 2 * half + 1);
    for (size_t k = 0; k <= 2 * half; k++)
        w[k] = fabs(x[first + k] - median);
    *spread = sorted_middle(w, 2 * half + 1);
    return fabs(x[i] - median);
}

static size_t plain_count(const double *x, size_t n, double resolution, double *deviation)
{
    double residual[400];
    double sorted[400];
    double spread[400];
    size_t count = 0;
    for (size_t i = 0; i < n; i++)
        sorted[i] = residual[i] = plain_residual(x, n, i, &spread[i]);
    *deviation = fmax(1.4826 * sorted_middle(sorted, n), resolution);
    for (size_t i = 0; i < n; i++)
        count +=
            residual[i] > 6 * (1 + 20.0 / (double)n) * *deviation && residual[i] > 3.5 * spread[i];
    return count;
}

static void agrees_with_the_rule_as_written(void)
{
    double x[400];
    double deviation = 0;
    uint64_t state = 23;
    size_t together = 0;
    for (size_t n = 11; n <= 400; n += 1 + n / 17) {
        for (size_t i = 0; i < n; i++) {
            double rough = noise_uniform(&state);
            x[i] = floor(4 * noise_normal(&state)) + (rough < 0.05 ? 2000 * (rough - 0.02) : 0);
        }
        struct spikes spikes = find(x, n, 1, NULL);
        CHECK(spikes.count == plain_count(x, n, 1, &deviation));
        CHECK(spikes.count + spikes.clean == n);
        CHECK_NEAR(spikes.local_deviation, deviation, 0, "identity");
        together += spikes.count;
    }
    CHECK(together > 20);
}

static double false_alarms(double phi, size_t n, size_t records, uint64_t state)
{
    double x[RECORD];
    size_t count = 0;
    for (size_t k = 0; k < records; k++) {
        noise_autoregressive(x, n, phi, &state);
        count += find(x, n, NAN, NULL).count;
    }
    return (double)count / (double)(records * n);
}

static void seldom_wrong_about_noise(void)
{
    CHECK(false_alarms(0, RECORD, 400, 1) < 1e-5);
    CHECK(false_alarms(0, 100, 2000, 2) < 1e-4);
    CHECK(false_alarms(0.5, RECORD, 200, 3) < 2e-5);
    CHECK(false_alarms(0.9, RECORD, 200, 4) < 1e-4);
    double slow = false_alarms(0.98, RECORD, 200, 5);
    CHECK(slow > 1e-5 && slow < 2e-4); /* not nothing: the header says so */
}

/* Share of records in which any sample is taken for a spike. */
static double alarmed_records(double phi, size_t n, size_t records, uint64_t state)
{
    double x[RECORD];
    size_t count = 0;
    for (size_t k = 0; k < records; k++) {
        noise_autoregressive(x, n, phi, &state);
        count += find(x, n, NAN, NULL).count > 0;
    }
    return (double)count / (double)records;
}

/* A tap logged ten times a second has 20 to 60 samples a point. Wanted: one record in 200. */
static void short_records_are_seldom_alarmed(void)
{
    static const size_t lengths[] = {11, 20, 40, 60, 100};
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++) {
        CHECK(alarmed_records(0, lengths[i], 20000, 41 + i) < 0.005);
        CHECK(alarmed_records(0.5, lengths[i], 20000, 51 + i) < 0.005);
    }
}

/* Share found of spikes of the given width, 8 standard deviations off, 0.5 % of the samples. */
static double found(double phi, size_t width, uint64_t state)
{
    double x[RECORD];
    double clean[RECORD];
    size_t put = 0;
    size_t left = 0;
    for (size_t k = 0; k < 400; k++) {
        noise_autoregressive(x, RECORD, phi, &state);
        for (size_t spike = 0; spike < 4; spike += width) {
            size_t at = (size_t)(noise_uniform(&state) * (double)(RECORD - width));
            double value = noise_uniform(&state) < 0.5 ? -8 : 8;
            for (size_t i = at; i < at + width; i++) {
                put += fabs(x[i]) < 8;
                x[i] = value;
            }
        }
        struct spikes spikes = find(x, RECORD, NAN, clean);
        for (size_t i = 0; i < spikes.clean; i++)
            left += fabs(clean[i]) == 8;
    }
    return 1 - (double)left / (double)put;
}

static void finds_spikes(void)
{
    CHECK(found(0, 1, 31) >= 0.99);
    CHECK(found(0.5, 1, 32) >= 0.99);
    CHECK(found(0.9, 1, 33) >= 0.99);
    CHECK(found(0, 2, 34) >= 0.99);
    CHECK(found(0.98, 2, 35) >= 0.99);
}

static void smooth_waves_steps_and_flickers_have_none(void)
{
    double x[RECORD];
    for (size_t i = 0; i < RECORD; i++)
        x[i] = sin(0.01 * (double)i);
    CHECK(find(x, RECORD, 1e-9, NULL).count == 0);
    for (size_t i = 0; i < RECORD; i++)
        x[i] = i < 500 ? 10 : 20;
    CHECK(find(x, RECORD, 10, NULL).count == 0);
    for (size_t i = 0; i < RECORD; i++)
        x[i] = i % 70 == 3 ? 11 : 10; /* a set-point that flickers by a bit */
    CHECK(find(x, RECORD, 1, NULL).count == 0);
    for (size_t i = 0; i < RECORD; i++)
        x[i] = 0.1 * (double)i;
    CHECK(find(x, RECORD, 0.1, NULL).count == 0);
    for (size_t i = 0; i < RECORD; i++)
        x[i] = 3;
    struct spikes spikes = find(x, RECORD, NAN, NULL);
    CHECK(spikes.count == 0 && spikes.local_deviation == 0);
}

static void ends_and_short_records(void)
{
    double x[30];
    uint64_t state = 11;
    for (size_t i = 0; i < 30; i++)
        x[i] = 50 + noise_normal(&state);
    static const size_t places[] = {0, 1, 14, 28, 29};
    for (size_t i = 0; i < 5; i++)
        x[places[i]] = 50 + (i % 2 == 0 ? 60 : -60);
    CHECK(find(x, 30, NAN, NULL).count == 5);
    CHECK(find(x, 11, NAN, NULL).count == 2);
    CHECK(find(x, 10, NAN, NULL).count == 0);
    CHECK(isnan(find(x, 10, NAN, NULL).local_deviation));
}

static struct channel_statistics statistics_of(const double *x, size_t n)
{
    static double room[3 * RECORD];
    struct channel_statistics s = {0};
    CHECK(sample_statistics(x, n, (struct channel_range){NAN, NAN}, room, &s) == 1);
    return s;
}

static void the_mean_without_spikes(void)
{
    double x[RECORD];
    double sum = 0;
    uint64_t state = 12;
    for (size_t i = 0; i < RECORD; i++)
        x[i] = 5 + noise_normal(&state);
    struct channel_statistics s = statistics_of(x, RECORD);
    CHECK(s.spiked == 0 && s.mean_without_spikes == s.mean);
    CHECK_RELATIVE(s.local_deviation, 0.89, 0.08, "measured: normal noise about its local median");
    for (size_t i = 0; i < RECORD; i++)
        sum += i % 200 == 7 ? 0 : x[i];
    for (size_t i = 7; i < RECORD; i += 200)
        x[i] = 1e4;
    s = statistics_of(x, RECORD);
    CHECK_NEAR(s.spiked, 5, 0, "identity: as many as were put there");
    CHECK_RELATIVE(s.mean_without_spikes, sum / (RECORD - 5), 1e-12, "identity");
    for (size_t i = 0; i < RECORD; i++)
        x[i] =
            i % 8 == 0 ? 1e4 + (double)i : noise_normal(&state); /* 12.5 %: the rule does not fit */
    s = statistics_of(x, RECORD);
    CHECK(s.spiked > 100 && isnan(s.mean_without_spikes));
    s = statistics_of(x, 10);
    CHECK(s.spiked == 0 && isnan(s.mean_without_spikes) && isnan(s.local_deviation));
}

CU_TestInfo spikes_tests[] = {
    {"agrees with the rule as written", agrees_with_the_rule_as_written},
    {"seldom wrong about noise", seldom_wrong_about_noise},
    {"short records are seldom alarmed", short_records_are_seldom_alarmed},
    {"finds spikes", finds_spikes},
    {"smooth waves, steps and flickers have none", smooth_waves_steps_and_flickers_have_none},
    {"ends and short records", ends_and_short_records},
    {"the mean without spikes", the_mean_without_spikes},
    CU_TEST_INFO_NULL};

/* test_spike_watch.c - spikes judged by the scatter of the whole log; numbers from seeded noise. */
#include "ingest/spike_watch.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>

#include "ingest/sample_statistics.h"
#include "tests/check.h"
#include "tests/noise.h"

enum { POINTS = 24, ROWS_MOST = 1000 };

/* A log of one channel, whose points are filled one by one. */
struct made_log {
    struct log_point points[POINTS];
    struct channel_statistics statistics[POINTS];
    struct log_record record;
    struct spike_watch watch;
};

static double x[ROWS_MOST];
static double room[3 * ROWS_MOST];

static void begin(struct made_log *log)
{
    struct fault fault = {.status = OK};
    *log = (struct made_log){.record = {.n_channels = 1}};
    log->record.points = log->points;
    CHECK_OK(spike_watch_make(&log->watch, 1, &fault), &fault);
}

/* Takes the first n of x as the next point. */
static struct channel_statistics *add(struct made_log *log, size_t n)
{
    struct fault fault = {.status = OK};
    size_t point = log->record.n_points++;
    struct channel_statistics *s = &log->statistics[point];
    log->points[point] = (struct log_point){.rows = n, .statistics = s};
    CHECK(sample_statistics(x, n, (struct channel_range){NAN, NAN}, room, s) == 1);
    CHECK_OK(spike_watch_take(&log->watch, 0, point, room, room + n, s, &fault), &fault);
    return s;
}

static void end(struct made_log *log)
{
    struct fault fault = {.status = OK};
    CHECK_OK(spike_watch_finish_log(&log->watch, &log->record, &fault), &fault);
    spike_watch_free(&log->watch);
}

static void fill(size_t n, double sd, uint64_t *state)
{
    for (size_t i = 0; i < n; i++)
        x[i] = 50 + sd * noise_normal(state);
}

static void short_points_of_noise_have_none(void)
{
    static const size_t rows[] = {40, 200};
    uint64_t state = 1;
    for (size_t k = 0; k < 2; k++) {
        double together = 0;
        for (int trial = 0; trial < 200; trial++) {
            struct made_log log;
            begin(&log);
            for (int p = 0; p < POINTS; p++) {
                fill(rows[k], 1, &state);
                (void)add(&log, rows[k]);
            }
            end(&log);
            for (int p = 0; p < POINTS; p++)
                together += log.statistics[p].spiked;
        }
        CHECK(together <= 1);
    }
}

static void a_spike_in_a_short_point_is_found(void)
{
    uint64_t state = 2;
    double found = 0;
    double expected = 0;
    double alone = 0;
    for (int trial = 0; trial < 100; trial++) {
        struct made_log log;
        double rest[POINTS] = {0};
        begin(&log);
        for (int p = 0; p < POINTS; p++) {
            fill(40, 1, &state);
            size_t at = (size_t)(40 * noise_uniform(&state));
            x[at] = 58; /* 8 standard deviations */
            for (size_t i = 0; i < 40; i++)
                rest[p] += i == at ? 0 : x[i] / 39;
            alone += add(&log, 40)->spiked == 1;
        }
        end(&log);
        for (int p = 0; p < POINTS; p++) {
            found += log.statistics[p].spiked == 1;
            expected++;
            if (log.statistics[p].spiked == 1)
                CHECK_NEAR(log.statistics[p].mean_without_spikes, rest[p], 1e-9,
                           "identity: mean of the others");
        }
    }
    CHECK(found >= 0.99 * expected);
    CHECK(alone < 0.9 * expected); /* what each point says by itself */
}

static void a_point_of_another_scatter_keeps_its_own(void)
{
    struct made_log log;
    uint64_t state = 3;
    begin(&log);
    for (int p = 0; p < 10; p++) {
        fill(200, 1, &state);
        (void)add(&log, 200);
    }
    fill(200, 4, &state);
    struct channel_statistics *loud = add(&log, 200);
    fill(200, 0.2, &state);
    x[77] = 52; /* ten of its own, two of the others' */
    struct channel_statistics *quiet = add(&log, 200);
    fill(200, 1, &state);
    for (size_t i = 60; i < 150; i++)
        x[i] = x[60];
    struct channel_statistics *held = add(&log, 200);
    end(&log);
    CHECK(loud->spiked == 0);
    CHECK(quiet->spiked == 1);
    CHECK(held->spiked == 0); /* though its held half makes the rest look wild */
}

static void few_and_long_points_are_left_as_they_were(void)
{
    struct made_log log;
    uint64_t state = 4;
    begin(&log);
    for (int p = 0; p < SPIKE_POINTS_MIN - 1; p++) {
        fill(40, p == 0 ? 0.01 : 1, &state);
        x[20] = p == 0 ? 51 : x[20];
        (void)add(&log, 40);
    }
    end(&log);
    CHECK(log.statistics[0].spiked == 1); /* its own: three points tell no scatter */
    begin(&log);
    for (int p = 0; p < 6; p++) {
        fill(8, 1, &state);
        struct channel_statistics *s = add(&log, 8);
        CHECK(s->spiked == 0 && isnan(s->mean_without_spikes));
    }
    end(&log);
    CHECK(isnan(log.statistics[0].mean_without_spikes)); /* below the window nothing is known */
}

CU_TestInfo spike_watch_tests[] = {
    {"short points of noise have none", short_points_of_noise_have_none},
    {"a spike in a short point is found", a_spike_in_a_short_point_is_found},
    {"a point of another scatter keeps its own", a_point_of_another_scatter_keeps_its_own},
    {"few and long points are left as they were", few_and_long_points_are_left_as_they_were},
    CU_TEST_INFO_NULL,
};

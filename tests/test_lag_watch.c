/* test_lag_watch.c - the lag behind the wind, of channels made with a known one. */
#include "ingest/lag_watch.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>

#include "reduce/statistics/channel_lag.h"
#include "tests/check.h"
#include "tests/noise.h"

enum { ROWS = 400, MARGIN = 100, CHANNELS = 3 };

static double wind[ROWS + 2 * MARGIN];
static double columns[CHANNELS][ROWS];

struct made_log {
    struct log_channel channels[CHANNELS];
    struct log_record record;
    struct lag_watch watch;
};

static void begin(struct made_log *log, enum role wind_role)
{
    struct fault fault = {.status = OK};
    *log = (struct made_log){.record = {.n_channels = CHANNELS}};
    log->channels[0].role = wind_role;
    log->channels[1].role = ROLE_BALANCE_OUTPUT_1;
    log->channels[2].role = ROLE_BALANCE_OUTPUT_3;
    log->record.channels = log->channels;
    CHECK_OK(lag_watch_make(&log->watch, log->channels, CHANNELS, &fault), &fault);
}

static void take(struct made_log *log, size_t rows, double step)
{
    struct fault fault = {.status = OK};
    double *const all[CHANNELS] = {columns[0], columns[1], columns[2]};
    CHECK_OK(lag_watch_take(&log->watch, all, rows, step, &fault), &fault);
}

static void end(struct made_log *log)
{
    lag_watch_finish_log(&log->watch, &log->record);
    lag_watch_free(&log->watch);
}

/* Channel 0 is wind; channel 1 follows it by `rows`, turned round, with as much noise of its own;
 * channel 2 has nothing to do with it. */
static void fill(long rows, uint64_t *state)
{
    noise_autoregressive(wind, ROWS + 2 * MARGIN, 0.8, state);
    noise_autoregressive(columns[2], ROWS, 0.8, state);
    for (long i = 0; i < ROWS; i++) {
        columns[0][i] = 1500 + wind[MARGIN + i];
        columns[1][i] = 7 - 0.01 * wind[MARGIN + i - rows] + 0.01 * noise_normal(state);
    }
}

static int is_late(const struct wind_lag *lag)
{
    const struct channel_lag judged = {lag->lag, lag->correlation, lag->unlagged, lag->samples};
    return channel_is_late(&judged);
}

static void the_lag_that_was_made_is_found(void)
{
    static const struct {
        long rows;
        double step, lag;
    } cases[] = {{10, 0.05, 0.5}, {-12, 0.05, -0.6}, {0, 0.05, 0},
                 {30, 0.02, 0.6}, {8, 0.1, 0.8},     {60, 0.01, 0.6}};
    uint64_t state = 5;
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        struct made_log log;
        begin(&log, ROLE_TOTAL_MINUS_STATIC);
        for (int point = 0; point < 10; point++) {
            fill(cases[k].rows, &state);
            take(&log, ROWS, cases[k].step);
        }
        end(&log);
        const struct wind_lag *lag = &log.channels[1].follows_wind;
        CHECK_NEAR(lag->lag, cases[k].lag, 0.051, "identity, to a bin");
        CHECK(lag->correlation < -0.5);
        CHECK(is_late(lag) == (fabs(cases[k].lag) > 0.25));
        CHECK(isnan(log.channels[0].follows_wind.lag)); /* the wind itself */
        CHECK(!is_late(&log.channels[2].follows_wind));
    }
}

static void samples_count_for_less_where_both_are_slow(void)
{
    struct made_log log;
    uint64_t state = 6;
    begin(&log, ROLE_DYNAMIC_PRESSURE);
    for (int point = 0; point < 200; point++) {
        fill(0, &state);
        take(&log, ROWS, 0.05);
    }
    end(&log);
    const struct wind_lag *lag = &log.channels[2].follows_wind;
    double terms = 200 * (ROWS - fabs(lag->lag) / 0.05);
    CHECK_RELATIVE(
        lag->samples, terms * (1 - 0.64) / (1 + 0.64), 0.15,
        "Bartlett 1935: autoregressive 0.8 both, (1 + 0.64)/(1 - 0.64) rows for one; the straight "
        "lines taken off 400 rows make them look livelier by a tenth");
}

static void what_moves_alike_by_chance_is_not_late(void)
{
    uint64_t state = 7;
    int alarms = 0;
    for (int trial = 0; trial < 300; trial++) {
        struct made_log log;
        begin(&log, ROLE_CONTRACTION_DROP);
        for (int point = 0; point < 4; point++) {
            fill(0, &state);
            for (int i = 0; i < ROWS; i++) /* both settle at the beginning of each point */
                columns[2][i] += 3 * exp(-i / 40.0) * (point % 2 == 0 ? 1 : -1);
            for (int i = 0; i < ROWS; i++)
                columns[0][i] += 3 * exp(-i / 20.0);
            take(&log, ROWS, 0.02);
        }
        end(&log);
        alarms += is_late(&log.channels[2].follows_wind) + is_late(&log.channels[1].follows_wind);
    }
    CHECK_NEAR(alarms, 0, 0, "of 600");
}

/* Channel 2 is constant, channel 1 has a hole, the log is too slow, too short or has no wind. */
static void where_nothing_can_be_told_nothing_is(void)
{
    struct made_log log;
    uint64_t state = 8;
    begin(&log, ROLE_AIR_SPEED);
    fill(10, &state);
    for (int i = 0; i < ROWS; i++)
        columns[2][i] = 4;
    columns[1][200] = (double)NAN;
    take(&log, ROWS, 0.05);
    end(&log);
    CHECK(isnan(log.channels[2].follows_wind.lag));
    CHECK(isnan(log.channels[1].follows_wind.lag)); /* a bin without a sample */
    static const struct {
        size_t rows;
        double step;
        enum role wind;
    } cases[] = {{ROWS, 0.2, ROLE_AIR_SPEED},
                 {LAG_POINT_BINS - 1, 0.05, ROLE_AIR_SPEED},
                 {ROWS, (double)NAN, ROLE_AIR_SPEED},
                 {ROWS, 0, ROLE_AIR_SPEED},
                 {ROWS, 0.05, ROLE_STATIC_PRESSURE}};
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        begin(&log, cases[k].wind);
        fill(10, &state);
        take(&log, cases[k].rows, cases[k].step);
        end(&log);
        CHECK(isnan(log.channels[1].follows_wind.lag) &&
              isnan(log.channels[1].follows_wind.samples));
    }
    begin(&log, ROLE_AIR_SPEED);
    fill(10, &state);
    take(&log, ROWS, 0.05);
    fill(40, &state); /* of other bins: left out */
    take(&log, ROWS, 0.08);
    end(&log);
    CHECK_NEAR(log.channels[1].follows_wind.lag, 0.5, 1e-9, "the first point alone");
}

CU_TestInfo lag_watch_tests[] = {
    {"the lag that was made is found", the_lag_that_was_made_is_found},
    {"samples count for less where both are slow", samples_count_for_less_where_both_are_slow},
    {"what moves alike by chance is not late", what_moves_alike_by_chance_is_not_late},
    {"where nothing can be told nothing is", where_nothing_can_be_told_nothing_is},
    CU_TEST_INFO_NULL,
};

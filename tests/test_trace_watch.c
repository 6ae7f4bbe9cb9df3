/* test_trace_watch.c - which samples are kept, and what of them; seeded noise, spoilt by hand. */
#include "ingest/trace_watch.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/point_samples.h"
#include "reduce/statistics/record_rules.h"
#include "tests/check.h"
#include "tests/noise.h"

enum { POINTS = 24, ROWS = 1000, CHANNELS = 3, LOAD = 0, WIND = 1, HEIGHT = 2 };

/* A log of a load, the wind and a height. */
struct made_log {
    struct log_channel channels[CHANNELS];
    struct log_record record;
    struct point_samples *samples;
    struct point_watch watch;
    double x[CHANNELS][ROWS];
    uint64_t state;
};

static char column[CHANNELS][8] = {"R1", "dp", "hF"};
static char *kept[] = {column[HEIGHT]};

static void begin(struct made_log *log, const struct text_list *keep)
{
    static const enum role roles[] = {ROLE_BALANCE_OUTPUT_1, ROLE_DYNAMIC_PRESSURE,
                                      ROLE_FRONT_RIDE_HEIGHT};
    struct fault fault = {.status = OK};
    memset(log, 0, sizeof *log);
    log->state = 3;
    for (int c = 0; c < CHANNELS; c++)
        log->channels[c] = (struct log_channel){.column = column[c], .role = roles[c]};
    log->record.n_channels = CHANNELS;
    log->record.points = calloc((size_t)POINTS * 100, sizeof *log->record.points);
    CU_ASSERT_FATAL(log->record.points != NULL);
    CHECK_OK(point_samples_make(CHANNELS, NULL, NULL, 0, POINT_SAMPLES_MAX, &log->samples, &fault),
             &fault);
    CHECK_OK(spike_watch_make(&log->watch.spikes, CHANNELS, &fault), &fault);
    CHECK_OK(trace_watch_make(&log->watch.traces, log->channels, CHANNELS, keep, &fault), &fault);
}

/* Fresh noise in every channel: the wind's is a thousandth of it. */
static void fill(struct made_log *log)
{
    static const double mean[] = {2, 1500, 0.012}, sd[] = {0.1, 1.5, 1e-5};
    for (int c = 0; c < CHANNELS; c++)
        for (size_t i = 0; i < ROWS; i++)
            log->x[c][i] = mean[c] + sd[c] * noise_normal(&log->state);
}

static void add(struct made_log *log)
{
    struct fault fault = {.status = OK};
    size_t p = log->record.n_points++;
    struct log_point *point = &log->record.points[p];
    point->rows = ROWS;
    point->statistics = calloc(CHANNELS, sizeof *point->statistics);
    CU_ASSERT_FATAL(point->statistics != NULL);
    log->watch.point = p;
    log->watch.step = 0.01;
    for (size_t i = 0; i < ROWS; i++) {
        const double row[] = {log->x[0][i], log->x[1][i], log->x[2][i]};
        CHECK_OK(point_samples_add(log->samples, row, &fault), &fault);
    }
    CHECK_OK(point_samples_finish(log->samples, &log->watch, point->statistics, NULL, &fault),
             &fault);
}

static void add_clean(struct made_log *log, int points)
{
    for (int p = 0; p < points; p++) {
        fill(log);
        add(log);
    }
}

static void finish(struct made_log *log)
{
    struct fault fault = {.status = OK};
    CHECK_OK(spike_watch_finish_log(&log->watch.spikes, &log->record, &fault), &fault);
    CHECK_OK(trace_watch_finish_log(&log->watch.traces, &log->record, &fault), &fault);
    log->record.n_traces =
        log_traces_choose(log->record.traces, log->record.n_traces, TRACES_A_RUN);
}

static void end(struct made_log *log)
{
    for (size_t p = 0; p < log->record.n_points; p++)
        free(log->record.points[p].statistics);
    for (size_t t = 0; t < log->record.n_traces; t++)
        log_trace_end(&log->record.traces[t]);
    free(log->record.traces);
    free(log->record.points);
    point_samples_free(log->samples);
    spike_watch_free(&log->watch.spikes);
    trace_watch_free(&log->watch.traces);
}

/* The one trace of the log, which is to be of this channel, point and reason. */
static const struct log_trace *only(const struct made_log *log, size_t channel, size_t point,
                                    enum trace_reason reason)
{
    CU_ASSERT_FATAL(log->record.n_traces == 1);
    const struct log_trace *trace = &log->record.traces[0];
    CHECK(trace->channel == channel && trace->point == point);
    CHECK_TEXT(trace_reason_code(trace->reason), trace_reason_code(reason));
    return trace;
}

static struct made_log made;

static void a_clean_log_keeps_nothing(void)
{
    for (int trial = 0; trial < 10; trial++) {
        begin(&made, NULL);
        made.state = 100 + (uint64_t)trial;
        add_clean(&made, POINTS);
        finish(&made);
        CHECK(made.record.n_traces == 0);
        end(&made);
    }
}

static void spikes_are_marked_and_taken_out_of_a_mean(void)
{
    static const size_t at[] = {17, 400, 983};
    double rest = 0;
    begin(&made, NULL);
    add_clean(&made, 5);
    fill(&made);
    for (int k = 0; k < 3; k++)
        made.x[LOAD][at[k]] = 2.0 + 0.1 * (12 + k);
    for (size_t i = 0; i < ROWS; i++)
        rest += i == at[0] || i == at[1] || i == at[2] ? 0 : made.x[LOAD][i] / (ROWS - 3);
    add(&made);
    add_clean(&made, 8);
    finish(&made);
    const struct log_trace *trace = only(&made, LOAD, 5, TRACE_SPIKES);
    CHECK(trace->n_marks == 3 && trace->marked_rows == 3);
    for (size_t k = 0; k < 3 && k < trace->n_marks; k++)
        CHECK(trace->marks[k].first == at[k] && trace->marks[k].last == at[k]);
    CHECK_NEAR(trace->mean_without, rest, 1e-12, "identity: mean of the others");
    CHECK_NEAR(trace->severity, 3, 1e-12, "identity: 3 of 1000 over 0.001");
    CHECK(trace->peak_row == 983);
    CHECK_NEAR(trace->peak, 3.4, 1e-12, "as put there");
    end(&made);
}

static void a_stuck_stretch_is_marked_from_end_to_end(void)
{
    double rest = 0;
    begin(&made, NULL);
    add_clean(&made, 2);
    fill(&made);
    for (size_t i = 301; i < 360; i++)
        made.x[LOAD][i] = made.x[LOAD][300];
    for (size_t i = 0; i < ROWS; i++)
        rest += i >= 300 && i < 360 ? 0 : made.x[LOAD][i] / (ROWS - 60);
    add(&made);
    finish(&made);
    const struct log_trace *trace = only(&made, LOAD, 2, TRACE_STUCK);
    CHECK(trace->n_marks == 1 && trace->marked_rows == 60);
    CHECK(trace->marks[0].first == 300 && trace->marks[0].last == 359);
    CHECK_NEAR(trace->mean_without, rest, 1e-12, "identity: mean of the others");
    end(&made);
}

static void clipped_samples_are_marked_where_they_are(void)
{
    size_t cut = 0;
    begin(&made, NULL);
    fill(&made);
    for (size_t i = 0; i < ROWS; i++) {
        made.x[LOAD][i] = round(1000 * made.x[LOAD][i]) / 1000;
        if (made.x[LOAD][i] < 2.1)
            continue;
        made.x[LOAD][i] = 2.1;
        cut++;
    }
    add(&made);
    finish(&made);
    const struct log_trace *trace = only(&made, LOAD, 0, TRACE_CLIPPED);
    CHECK(trace->marked_rows == cut && cut > 100);
    CHECK(isnan(trace->mean_without));
    for (size_t k = 0; k < trace->n_marks; k++)
        for (size_t i = trace->marks[k].first; i <= trace->marks[k].last; i++)
            CHECK(made.x[LOAD][i] == 2.1);
    end(&made);
}

static void a_drift_of_a_load_is_kept_and_of_a_height_not(void)
{
    begin(&made, NULL);
    add_clean(&made, 5);
    fill(&made);
    for (size_t i = 0; i < ROWS; i++) {
        made.x[LOAD][i] += 0.5 * (double)i / ROWS;
        made.x[HEIGHT][i] += 5e-5 * (double)i / ROWS;
    }
    add(&made);
    finish(&made);
    const struct log_trace *trace = only(&made, LOAD, 5, TRACE_TREND);
    /* D = 0.5, s = 0.1: halves D/2 apart, sd^2 = s^2 + D^2/12 */
    CHECK_RELATIVE(trace->severity, 0.25 / sqrt(0.01 + 0.25 / 12), 0.05, "identity");
    CHECK(trace->n_marks == 0);
    end(&made);
}

static void a_noisy_point_is_kept_when_the_log_bears_it_out(void)
{
    begin(&made, NULL);
    add_clean(&made, 6);
    fill(&made);
    for (size_t i = 0; i < ROWS; i++)
        made.x[HEIGHT][i] = 0.012 + 5 * (made.x[HEIGHT][i] - 0.012);
    add(&made);
    add_clean(&made, 6);
    finish(&made);
    const struct log_trace *trace = only(&made, HEIGHT, 6, TRACE_NOISE);
    CHECK_RELATIVE(trace->severity, 5.0 / 3, 0.1, "identity: five times the sd, limit three");
    end(&made);
    begin(&made, NULL); /* the same scatter from there on: the first points were the quiet ones */
    add_clean(&made, 5);
    for (int p = 0; p < 12; p++) {
        fill(&made);
        for (size_t i = 0; i < ROWS; i++)
            made.x[HEIGHT][i] = 0.012 + 5 * (made.x[HEIGHT][i] - 0.012);
        add(&made);
    }
    finish(&made);
    CHECK(made.record.n_traces == 0);
    end(&made);
}

/* What looks like spikes by the point alone is none by the log: the other reason is not lost with it. */
static void a_reason_that_goes_leaves_the_others(void)
{
    const struct text_list keep = {kept, 1};
    begin(&made, &keep);
    for (int p = 0; p < 8; p++) {
        fill(&made);
        for (size_t i = 0; i < ROWS; i++) /* quiet and loud by turns of 8 */
            made.x[HEIGHT][i] = 0.012 + (i % 16 < 8 ? 0.1 : 8) * (made.x[HEIGHT][i] - 0.012);
        for (size_t i = 100; p == 5 && i < 150; i++)
            made.x[HEIGHT][i] = made.x[HEIGHT][99];
        add(&made);
    }
    finish(&made);
    size_t stuck = 0;
    for (size_t t = 0; t < made.record.n_traces; t++) {
        const struct log_trace *trace = &made.record.traces[t];
        CHECK(trace->point == t && trace->channel == HEIGHT && trace->is_named);
        stuck += trace->reason == TRACE_STUCK && trace->point == 5 && trace->n_marks == 1;
    }
    CHECK(made.record.n_traces == 8 && stuck == 1);
    end(&made);
}

static void an_unsteady_wind_is_kept_and_a_wind_that_is_off_not(void)
{
    begin(&made, NULL);
    fill(&made);
    for (size_t i = 0; i < ROWS; i++)
        made.x[WIND][i] = 1500 + 4 * (made.x[WIND][i] - 1500);
    add(&made);
    fill(&made);
    for (size_t i = 0; i < ROWS; i++)
        made.x[WIND][i] -= 1500;
    add(&made);
    finish(&made);
    (void)only(&made, WIND, 0, TRACE_UNSTEADY);
    end(&made);
}

static void bins_tell_of_every_sample(void)
{
    const struct text_list keep = {kept, 1};
    double n = 0, sum = 0, low = INFINITY, high = -INFINITY;
    begin(&made, &keep);
    fill(&made);
    made.x[HEIGHT][5] = (double)NAN;
    made.x[HEIGHT][600] = (double)NAN;
    made.x[HEIGHT][601] = (double)NAN;
    made.x[HEIGHT][602] = (double)NAN; /* 600 to 602 are a bin: 1000 rows are 334 of three */
    add(&made);
    finish(&made);
    const struct log_trace *trace = only(&made, HEIGHT, 0, TRACE_KEPT);
    CHECK(isnan(trace->severity) && trace->density == NULL);
    CHECK(trace->n_bins == 334 && trace->rows_a_bin == 3 && trace->bins[333].n == 1);
    CHECK(trace->bins[200].n == 0 && isnan(trace->bins[200].mean));
    for (size_t b = 0; b < trace->n_bins; b++) {
        if (trace->bins[b].n == 0)
            continue;
        n += trace->bins[b].n;
        sum += trace->bins[b].n * trace->bins[b].mean;
        low = fmin(low, trace->bins[b].minimum);
        high = fmax(high, trace->bins[b].maximum);
        CHECK(trace->bins[b].minimum <= trace->bins[b].mean);
        CHECK(trace->bins[b].mean <= trace->bins[b].maximum);
    }
    const struct channel_statistics *s = &made.record.points[0].statistics[HEIGHT];
    CHECK(n == s->n && low == s->minimum && high == s->maximum);
    CHECK_RELATIVE(sum / n, s->mean, 1e-14, "identity: mean of means by their counts");
    end(&made);
}

static void named_channels_are_kept_at_every_point_with_a_spectrum(void)
{
    const struct text_list keep = {kept, 1};
    begin(&made, &keep);
    add_clean(&made, POINTS);
    finish(&made);
    CHECK(made.record.n_traces == POINTS);
    for (size_t t = 0; t < made.record.n_traces; t++) {
        const struct log_trace *trace = &made.record.traces[t];
        CHECK(trace->point == t && trace->channel == HEIGHT && trace->density != NULL);
        double power = 0;
        for (size_t k = 0; trace->density != NULL && k < trace->plan.n; k++)
            power += trace->density[k] * 100 / (double)trace->plan.segment;
        CHECK_RELATIVE(power, trace->sd * trace->sd, 0.25, "identity: the variance, nearly");
    }
    end(&made);
}

static void memory_is_flat_in_the_length_of_a_log(void)
{
    size_t most = 0;
    begin(&made, NULL);
    for (int p = 0; p < 300; p++) {
        fill(&made);
        for (int c = 0; c < CHANNELS; c++)
            for (size_t i = 300; i < 340 + (size_t)(p % 50); i++)
                made.x[c][i] = made.x[c][299];
        add(&made);
        most = made.watch.traces.n_held > most ? made.watch.traces.n_held : most;
    }
    /* what is stuck long enough looks quiet too until the log ends */
    CHECK(most <= (size_t)CHANNELS * TRACES_A_CHANNEL * (TRACE_REASONS - 1));
    finish(&made);
    CHECK(made.record.n_traces == (size_t)CHANNELS * TRACES_A_CHANNEL);
    for (size_t t = 0; t < made.record.n_traces; t++) /* the longest ones, 40 + 49 rows and one */
        CHECK(made.record.traces[t].marked_rows == 90);
    end(&made);
}

/* Many traces of two reasons, in any order: the same ones stay, the worst of each reason first. */
static void the_choice_does_not_depend_on_the_order(void)
{
    enum { MANY = 60, SOME = 7 };
    struct log_trace traces[MANY];
    uint64_t state = 9;
    for (int trial = 0; trial < 20; trial++) {
        size_t order[MANY];
        for (size_t i = 0; i < MANY; i++)
            order[i] = i;
        for (size_t i = MANY - 1; i > 0; i--) {
            size_t k = (size_t)(noise_uniform(&state) * (double)(i + 1));
            size_t moved = order[i];
            order[i] = order[k];
            order[k] = moved;
        }
        memset(traces, 0, sizeof traces);
        for (size_t i = 0; i < MANY; i++)
            traces[i] = (struct log_trace){.point = order[i],
                                           .reason = order[i] < 50 ? TRACE_STUCK : TRACE_SPIKES,
                                           .severity = 1 + (double)(order[i] % 25)};
        CHECK(log_traces_choose(traces, MANY, SOME) == SOME);
        /* spikes: 59 has 10, 58 9 ...; stuck: 24 and 49 have 25, 23 and 48 have 24; spikes go first */
        static const size_t want[SOME] = {23, 24, 49, 56, 57, 58, 59};
        for (size_t i = 0; i < SOME; i++)
            CHECK(traces[i].point == want[i]);
    }
    CHECK(log_traces_choose(NULL, 0, SOME) == 0);
}

static void limits_are_those_of_the_rules(void)
{
    CHECK(trace_spiked_limit == record_spiked_limit);
    CHECK(trace_clipped_limit == record_clipped_limit);
    CHECK(trace_chance_limit == record_chance_limit);
    CHECK(trace_repeat_limit == record_repeat_limit);
}

extern CU_TestInfo trace_watch_tests[];
CU_TestInfo trace_watch_tests[] = {
    {"a clean log keeps nothing", a_clean_log_keeps_nothing},
    {"spikes are marked and taken out of a mean", spikes_are_marked_and_taken_out_of_a_mean},
    {"a stuck stretch is marked from end to end", a_stuck_stretch_is_marked_from_end_to_end},
    {"clipped samples are marked where they are", clipped_samples_are_marked_where_they_are},
    {"a drift of a load is kept and of a height not",
     a_drift_of_a_load_is_kept_and_of_a_height_not},
    {"a noisy point is kept when the log bears it out",
     a_noisy_point_is_kept_when_the_log_bears_it_out},
    {"a reason that goes leaves the others", a_reason_that_goes_leaves_the_others},
    {"an unsteady wind is kept and a wind that is off not",
     an_unsteady_wind_is_kept_and_a_wind_that_is_off_not},
    {"bins tell of every sample", bins_tell_of_every_sample},
    {"named channels are kept at every point with a spectrum",
     named_channels_are_kept_at_every_point_with_a_spectrum},
    {"memory is flat in the length of a log", memory_is_flat_in_the_length_of_a_log},
    {"the choice does not depend on the order", the_choice_does_not_depend_on_the_order},
    {"limits are those of the rules", limits_are_those_of_the_rules},
    CU_TEST_INFO_NULL};

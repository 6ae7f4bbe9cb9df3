/* test_pile_up.c - clipped records are found, honest ones are not called clipped. */
#include "ingest/pile_up.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "ingest/sample_statistics.h"
#include "tests/check.h"
#include "tests/noise.h"

enum { MOST = 5000, TRIALS = 2000 };

static const double pi = 3.141592653589793;
static double x[MOST];
static double room[3 * MOST];

static struct channel_statistics statistics_of(size_t n, struct channel_range range)
{
    struct channel_statistics s = {0};
    CHECK(sample_statistics(x, n, range, room, &s) == 1);
    return s;
}

static const struct channel_range undeclared = {NAN, NAN};

/* The rule alone: the rest of the statistics would take most of the time. */
static double piled(size_t n)
{
    struct neighbours neighbours = {0};
    double low = x[0];
    double high = x[0];
    for (size_t i = 0; i < n; i++) {
        low = fmin(low, x[i]);
        high = fmax(high, x[i]);
    }
    neighbours_add(&neighbours, x, n);
    struct pile_up pile = pile_up_find(x, n, low, high, neighbours.step);
    return (double)(pile.low + pile.high);
}

/* A kind of honest record: fills x with n samples. a and b are what the kind makes of them. */
typedef void make_record(size_t n, double a, double b, uint64_t *state);

static void make_noise(size_t n, double sd, double phi, uint64_t *state)
{
    noise_autoregressive(x, n, phi, state);
    noise_quantise(x, n, 1 / sd, state);
}

static void make_tone(size_t n, double amplitude, double noise, uint64_t *state)
{
    static const double periods[] = {2.5, 4, 5, 7.3, 10, 20, 50};
    double phase = 2 * pi * noise_uniform(state);
    double period = periods[(size_t)(7 * noise_uniform(state))];
    if (noise_uniform(state) < 0.7)
        period *= 1 + 0.2 * noise_uniform(state);
    for (size_t i = 0; i < n; i++)
        x[i] = amplitude * sin(phase + 2 * pi * (double)i / period) + noise * noise_normal(state);
    noise_quantise(x, n, 1, state);
}

static void make_ramp(size_t n, double slope, double noise, uint64_t *state)
{
    for (size_t i = 0; i < n; i++)
        x[i] = slope * (double)i + noise * noise_normal(state);
    noise_quantise(x, n, 1, state);
}

static void make_two_levels(size_t n, double height, double noise, uint64_t *state)
{
    int level = 0;
    double change = noise_uniform(state) < 0.5 ? 0.9 : 0.02;
    for (size_t i = 0; i < n; i++) {
        if (noise_uniform(state) < change)
            level = noise_uniform(state) < 0.5;
        x[i] = height * level + noise * noise_normal(state);
    }
    noise_quantise(x, n, 1, state);
}

static void make_set_point(size_t n, double share, double most, uint64_t *state)
{
    double sign = noise_uniform(state) < 0.5 ? -1 : 1;
    for (size_t i = 0; i < n; i++) {
        x[i] = 100;
        if (noise_uniform(state) < share)
            x[i] += sign * (1 + floor(most * noise_uniform(state)));
    }
}

static const struct {
    make_record *make;
    double a, b;
    const char *what;
} honest[] = {
    {make_noise, 0.3, 0, "normal noise, sd 0.3"},
    {make_noise, 1, 0, "normal noise, sd 1"},
    {make_noise, 3, 0, "normal noise, sd 3"},
    {make_noise, 10, 0, "normal noise, sd 10"},
    {make_noise, 50, 0, "normal noise, sd 50"},
    {make_noise, 3, 0.8, "autoregressive noise of 0.8, sd 3"},
    {make_noise, 10, 0.98, "autoregressive noise of 0.98, sd 10"},
    {make_noise, 50, 0.98, "autoregressive noise of 0.98, sd 50"},
    {make_tone, 2, 0, "tone of 2"},
    {make_tone, 10, 0, "tone of 10"},
    {make_tone, 200, 0, "tone of 200"},
    {make_tone, 10, 1, "tone of 10 with noise"},
    {make_tone, 50, 3, "tone of 50 with noise"},
    {make_ramp, 0.1, 0, "slow ramp"},
    {make_ramp, 2, 0, "ramp"},
    {make_ramp, 0.5, 1, "ramp with noise"},
    {make_two_levels, 1, 0, "two levels, a step apart"},
    {make_two_levels, 100, 0, "two levels"},
    {make_two_levels, 100, 1, "two levels with noise"},
    {make_set_point, 0, 1, "constant"},
    {make_set_point, 0.01, 1, "set-point with rare flickers"},
    {make_set_point, 0.05, 3, "set-point with flickers of up to three steps"},
};

static void honest_records_are_not_called_clipped(void)
{
    for (size_t k = 0; k < sizeof honest / sizeof honest[0]; k++) {
        uint64_t state = 1000 + k;
        size_t alarms = 0;
        for (size_t trial = 0; trial < TRIALS; trial++) {
            size_t n = trial % 10 == 0 ? 1000 : trial % 3 == 0 ? 40 : 200;
            honest[k].make(n, honest[k].a, honest[k].b, &state);
            alarms += piled(n) > 0;
        }
        CHECK_NEAR((double)alarms / TRIALS, 0, 0.001, honest[k].what);
    }
}

/* Share of records found with the given share of their samples clipped at one end. */
static double found(size_t n, double sd, double phi, double share, double sign)
{
    size_t hits = 0;
    uint64_t state = 77;
    double high = -1; /* noise beyond `limit` has that share: bisected on the error function */
    double low = 4;
    for (int i = 0; i < 60; i++) {
        double middle = (high + low) / 2;
        *(0.5 * erfc(middle / sqrt(2)) > share ? &high : &low) = middle;
    }
    for (size_t trial = 0; trial < 400; trial++) {
        noise_autoregressive(x, n, phi, &state);
        for (size_t i = 0; i < n; i++)
            x[i] = sign * fmin(x[i], low);
        noise_quantise(x, n, 1 / sd, &state);
        hits += piled(n) > 0;
    }
    return (double)hits / 400;
}

static void clipped_records_are_found(void)
{
    CHECK(found(1000, 10, 0, 0.10, 1) >= 0.98);
    CHECK(found(1000, 20, 0, 0.05, 1) >= 0.99);
    CHECK(found(1000, 50, 0, 0.02, -1) >= 0.99);
    CHECK(found(1000, 200, 0, 0.01, 1) >= 0.95);
    CHECK(found(5000, 20, 0, 0.01, -1) >= 0.99);
    CHECK(found(200, 50, 0, 0.10, 1) >= 0.99);
    CHECK(found(1000, 20, 0.8, 0.05, 1) >= 0.99);
    CHECK(found(1000, 3, 0, 0.01, 1) <= 0.01); /* the header says that it can't be told */
}

static void counts_what_is_piled_up_at_either_end(void)
{
    uint64_t state = 5;
    double above = 0;
    double below = 0;
    for (size_t i = 0; i < 2000; i++) {
        double value = floor(1000 * noise_normal(&state));
        above += value >= 1300;
        below += value <= -1500;
        x[i] = fmax(fmin(value, 1300), -1500);
    }
    CHECK(above > 100 && below > 60);
    CHECK_NEAR(statistics_of(2000, undeclared).clipped, above + below, 0, "identity");
    double at_end = 0;
    for (size_t i = 0; i < 40; i++) {
        x[i] = noise_uniform(&state) < 0.25 ? 4 : 0.01 * floor(100 * noise_normal(&state));
        at_end += x[i] == 4;
    }
    CHECK_NEAR(statistics_of(40, undeclared).clipped, at_end, 0, "a quarter of a short record");
    CHECK(statistics_of(29, undeclared).clipped == 0); /* too short to judge */
    at_end = 0;
    for (size_t i = 0; i < 400; i++) {
        x[i] = fmin(0, 0.01 * floor(100 * (noise_normal(&state) + 0.84)));
        at_end += x[i] == 0;
    }
    CHECK(at_end > 300);
    CHECK_NEAR(statistics_of(400, undeclared).clipped, at_end, 0, "four of five at the end");
}

static void a_declared_range_is_counted_and_no_more(void)
{
    const double samples[] = {9.94, 9.95, 10, 11, -9.94, -9.95, NAN, 0, 3};
    memcpy(x, samples, sizeof samples);
    struct channel_range range = {-10, 10};
    CHECK_NEAR(statistics_of(9, range).clipped, 4, 0, "identity: 99.5 % of 10 is 9.95");
    range = (struct channel_range){0, 10};
    CHECK_NEAR(statistics_of(9, range).clipped, 5, 0, "identity: above 9.975, below 0.025");
    uint64_t state = 6;
    for (size_t i = 0; i < 1000; i++)
        x[i] = fmin(noise_normal(&state), 1.5); /* piled up, but not at the ends declared */
    CHECK(statistics_of(1000, undeclared).clipped > 40);
    CHECK(statistics_of(1000, range).clipped > 400);
    range = (struct channel_range){-10, 10};
    CHECK(statistics_of(1000, range).clipped == 0);
}

CU_TestInfo pile_up_tests[] = {
    {"honest records are not called clipped", honest_records_are_not_called_clipped},
    {"clipped records are found", clipped_records_are_found},
    {"counts what is piled up at either end", counts_what_is_piled_up_at_either_end},
    {"a declared range is counted, and no more", a_declared_range_is_counted_and_no_more},
    CU_TEST_INFO_NULL};

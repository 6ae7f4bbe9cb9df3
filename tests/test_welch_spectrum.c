/* test_welch_spectrum.c - power spectra against what is known of noise, of a tone, and of sums. */
#include "ingest/welch_spectrum.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>

#include "tests/check.h"
#include "tests/noise.h"

enum { LONG = 65536 };

static const double two_pi = 6.283185307179586;

static double x[LONG];
static double room[WELCH_SEGMENT_MAX];
static double density[WELCH_SEGMENT_MAX / 2 + 1];

static struct welch_plan spectrum_of(size_t n, double rate)
{
    struct welch_plan plan = welch_plan_for(n);
    CU_ASSERT_FATAL(plan.segment > 0);
    welch_spectrum(x, &plan, rate, room, density);
    return plan;
}

static void a_plan_fits_seven_segments(void)
{
    CHECK(welch_plan_for(0).segment == 0);
    CHECK(welch_plan_for(63).segment == 0);
    for (size_t n = 64; n < 5000; n += 7) {
        struct welch_plan plan = welch_plan_for(n);
        CHECK(plan.segment >= WELCH_SEGMENT_MIN && plan.segment <= WELCH_SEGMENT_MAX);
        CHECK((plan.segment & (plan.segment - 1)) == 0);
        CHECK(plan.segments >= WELCH_SEGMENTS_WANTED);
        CHECK(plan.segment + (plan.segments - 1) * plan.segment / 2 <= n);
        CHECK(plan.segment + plan.segments * plan.segment / 2 > n);
        CHECK(plan.segment == WELCH_SEGMENT_MAX || 8 * plan.segment > n);
    }
}

static void white_noise_is_flat_at_its_variance_over_the_band(void)
{
    uint64_t state = 7;
    double sum = 0;
    const double rate = 250;
    for (size_t i = 0; i < LONG; i++)
        x[i] = 3 * noise_normal(&state);
    struct welch_plan plan = spectrum_of(LONG, rate);
    struct welch_factors factors = welch_confidence(welch_degrees_of_freedom(&plan));
    double within = 0;
    double level = 2 * 9 / rate;
    for (size_t k = 1; k + 1 < plan.n; k++) {
        sum += density[k];
        within += density[k] * factors.lower <= level && level <= density[k] * factors.upper;
    }
    /* the variance of 65536 normal values is known to 0.55 %, identity: sqrt(2/n) */
    CHECK_RELATIVE(sum / (double)(plan.n - 2), level, 0.02, "identity: one-sided, 2 sd^2 / fs");
    CHECK(within >= 0.90 * (double)(plan.n - 2) && within < (double)(plan.n - 2));
}

static void a_tone_in_a_bin_keeps_its_power(void)
{
    const double rate = 100;
    for (size_t bin = 2; bin < 200; bin += 33) {
        double power = 0;
        for (size_t i = 0; i < 4096; i++)
            x[i] = 5 * sin(two_pi * (double)bin * (double)i / WELCH_SEGMENT_MAX + 0.3);
        struct welch_plan plan = spectrum_of(4096, rate);
        double width = rate / (double)plan.segment;
        for (size_t k = bin - 1; k <= bin + 1; k++)
            power += density[k] * width;
        CHECK_RELATIVE(power, 12.5, 1e-10, "identity: A^2 / 2 in the three bins of Hann's window");
        CHECK(density[bin + 3] < 1e-20 * density[bin]);
    }
}

/* sum P df = mean of (w x)^2 over mean of w^2, with all that is in a record. */
static void the_sum_over_frequency_is_the_sum_over_time(void)
{
    uint64_t state = 11;
    double all = 0, square = 0, power = 0;
    noise_autoregressive(x, 3000, 0.8, &state);
    for (size_t i = 0; i < 3000; i++)
        x[i] += 0.002 * (double)i;
    struct welch_plan plan = spectrum_of(3000, 40);
    for (size_t j = 0; j < plan.segment; j++) {
        double w = 0.5 * (1 - cos(two_pi * (double)j / (double)plan.segment));
        square += w * w;
        for (size_t s = 0; s < plan.segments; s++)
            all += pow(w * x[s * plan.segment / 2 + j], 2);
    }
    for (size_t k = 0; k < plan.n; k++)
        power += density[k] * 40 / (double)plan.segment;
    CHECK_RELATIVE(power, all / square / (double)plan.segments, 1e-10, "identity: Parseval");
}

/* Box, Jenkins, Time Series Analysis, from memory: S(f) = 2 s_e^2 / fs / |1 - phi exp(-i w)|^2. */
static void autoregressive_noise_has_its_formula(void)
{
    uint64_t state = 21;
    const double phi = 0.6, rate = 1000;
    noise_autoregressive(x, LONG, phi, &state);
    struct welch_plan plan = spectrum_of(LONG, rate);
    struct welch_factors factors = welch_confidence(welch_degrees_of_freedom(&plan));
    double within = 0;
    for (size_t k = 1; k + 1 < plan.n; k++) {
        double w = two_pi * (double)k / (double)plan.segment;
        double truth = 2 * (1 - phi * phi) / rate / (1 - 2 * phi * cos(w) + phi * phi);
        within += density[k] * factors.lower <= truth && truth <= density[k] * factors.upper;
    }
    CHECK(within >= 0.90 * (double)(plan.n - 2));
    CHECK(factors.upper < 1.2); /* else the bounds would say nothing */
}

/* 95 % of many short records' densities have the truth in their bounds. */
static void confidence_bounds_cover(void)
{
    uint64_t state = 5;
    double within = 0, all = 0;
    for (int trial = 0; trial < 400; trial++) {
        for (size_t i = 0; i < 300; i++)
            x[i] = noise_normal(&state);
        struct welch_plan plan = spectrum_of(300, 2);
        struct welch_factors factors = welch_confidence(welch_degrees_of_freedom(&plan));
        for (size_t k = 2; k + 2 < plan.n; k++) {
            within += density[k] * factors.lower <= 1 && 1 <= density[k] * factors.upper;
            all++;
        }
    }
    CHECK_NEAR(within / all, 0.95, 0.02, "identity: 95 % bounds, some 4000 independent densities");
}

static void degrees_of_freedom_are_welchs(void)
{
    struct welch_plan one = {64, 1, 33};
    struct welch_plan many = {256, 1000, 129};
    CHECK_NEAR(welch_degrees_of_freedom(&one), 2, 1e-12, "identity: one periodogram");
    /* Hann: sum of w w' over half a segment is L/16, of w^2 over all 3 L/8; rho = (1/6)^2 */
    CHECK_RELATIVE(welch_degrees_of_freedom(&many), 2000 / (1 + 2 * 0.999 / 36), 1e-12,
                   "identity: Welch 1967 with Hann's window");
    struct welch_factors ten = welch_confidence(10);
    CHECK_NEAR(ten.lower, 10 / 20.4832, 2e-5, "chi-square table, 0.975 at 10, from memory");
    CHECK_NEAR(ten.upper, 10 / 3.24697, 2e-5, "chi-square table, 0.025 at 10, from memory");
    CHECK(isnan(welch_confidence(0).lower) && isnan(welch_confidence((double)NAN).upper));
}

extern CU_TestInfo welch_spectrum_tests[];
CU_TestInfo welch_spectrum_tests[] = {
    {"a plan fits seven segments", a_plan_fits_seven_segments},
    {"white noise is flat at its variance over the band",
     white_noise_is_flat_at_its_variance_over_the_band},
    {"a tone in a bin keeps its power", a_tone_in_a_bin_keeps_its_power},
    {"the sum over frequency is the sum over time", the_sum_over_frequency_is_the_sum_over_time},
    {"autoregressive noise has its formula", autoregressive_noise_has_its_formula},
    {"confidence bounds cover", confidence_bounds_cover},
    {"degrees of freedom are Welch's", degrees_of_freedom_are_welchs},
    CU_TEST_INFO_NULL};

/* test_sample_statistics.c - moments against NIST's reference data, effective n against theory, and
 * the counts of what is wrong with a record.                                                       */
#include "ingest/sample_statistics.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "ingest/effective_samples.h"
#include "ingest/point_samples.h"
#include "tests/check.h"
#include "tests/noise.h"

/* NIST/ITL Statistical Reference Datasets, univariate summary statistics (public domain). */
static const double lew[] = {
    -213, -564, -35,  -15,  141,  115,  -420, -360, 203,  -338, -431, 194,  -220, -513, 154,  -125,
    -559, 92,   -21,  -579, -52,  99,   -543, -175, 162,  -457, -346, 204,  -300, -474, 164,  -107,
    -572, -8,   83,   -541, -224, 180,  -420, -374, 201,  -236, -531, 83,   27,   -564, -112, 131,
    -507, -254, 199,  -311, -495, 143,  -46,  -579, -90,  136,  -472, -338, 202,  -287, -477, 169,
    -124, -568, 17,   48,   -568, -135, 162,  -430, -422, 172,  -74,  -577, -13,  92,   -534, -243,
    194,  -355, -465, 156,  -81,  -578, -64,  139,  -449, -384, 193,  -198, -538, 110,  -44,  -577,
    -6,   66,   -552, -164, 161,  -460, -344, 205,  -281, -504, 134,  -28,  -576, -118, 156,  -437,
    -381, 200,  -220, -540, 83,   11,   -568, -160, 172,  -414, -408, 188,  -125, -572, -32,  139,
    -492, -321, 205,  -262, -504, 142,  -83,  -574, 0,    48,   -571, -106, 137,  -501, -266, 190,
    -391, -406, 194,  -186, -553, 83,   -13,  -577, -49,  103,  -515, -280, 201,  300,  -506, 131,
    -45,  -578, -80,  138,  -462, -361, 201,  -211, -554, 32,   74,   -533, -235, 187,  -372, -442,
    182,  -147, -566, 25,   68,   -535, -244, 194,  -351, -463, 174,  -125, -570, 15,   72,   -550,
    -190, 172,  -424, -385, 198,  -218, -536, 96};

static const double lottery[] = {
    162, 671, 933, 414, 788, 730, 817, 33,  536, 875, 670, 236, 473, 167, 877, 980, 316, 950, 456,
    92,  517, 557, 956, 954, 104, 178, 794, 278, 147, 773, 437, 435, 502, 610, 582, 780, 689, 562,
    964, 791, 28,  97,  848, 281, 858, 538, 660, 972, 671, 613, 867, 448, 738, 966, 139, 636, 847,
    659, 754, 243, 122, 455, 195, 968, 793, 59,  730, 361, 574, 522, 97,  762, 431, 158, 429, 414,
    22,  629, 788, 999, 187, 215, 810, 782, 47,  34,  108, 986, 25,  644, 829, 630, 315, 567, 919,
    331, 207, 412, 242, 607, 668, 944, 749, 168, 864, 442, 533, 805, 372, 63,  458, 777, 416, 340,
    436, 140, 919, 350, 510, 572, 905, 900, 85,  389, 473, 758, 444, 169, 625, 692, 140, 897, 672,
    288, 312, 860, 724, 226, 884, 508, 976, 741, 476, 417, 831, 15,  318, 432, 241, 114, 799, 955,
    833, 358, 935, 146, 630, 830, 440, 642, 356, 373, 271, 715, 367, 393, 190, 669, 8,   861, 108,
    795, 269, 590, 326, 866, 64,  523, 862, 840, 219, 382, 998, 4,   628, 305, 747, 247, 34,  747,
    729, 645, 856, 974, 24,  568, 24,  694, 608, 480, 410, 729, 947, 293, 53,  930, 223, 203, 677,
    227, 62,  455, 387, 318, 562, 242, 428, 968};

static const double mavro[] = {
    2.00180, 2.00170, 2.00180, 2.00190, 2.00180, 2.00170, 2.00150, 2.00140, 2.00150, 2.00150,
    2.00170, 2.00180, 2.00180, 2.00190, 2.00190, 2.00210, 2.00200, 2.00160, 2.00140, 2.00130,
    2.00130, 2.00150, 2.00150, 2.00160, 2.00150, 2.00140, 2.00130, 2.00140, 2.00150, 2.00140,
    2.00150, 2.00160, 2.00150, 2.00160, 2.00190, 2.00200, 2.00200, 2.00210, 2.00220, 2.00230,
    2.00240, 2.00250, 2.00270, 2.00260, 2.00260, 2.00260, 2.00270, 2.00260, 2.00250, 2.00240};

static const double michelso[] = {
    299.85, 299.74, 299.90, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300.00, 299.98,
    299.93, 299.65, 299.76, 299.81, 300.00, 300.00, 299.96, 299.96, 299.96, 299.94, 299.96, 299.94,
    299.88, 299.80, 299.85, 299.88, 299.90, 299.84, 299.83, 299.79, 299.81, 299.88, 299.88, 299.83,
    299.80, 299.79, 299.76, 299.80, 299.88, 299.88, 299.88, 299.86, 299.72, 299.72, 299.62, 299.86,
    299.97, 299.95, 299.88, 299.91, 299.85, 299.87, 299.84, 299.84, 299.85, 299.84, 299.84, 299.84,
    299.89, 299.81, 299.81, 299.82, 299.80, 299.77, 299.76, 299.74, 299.75, 299.76, 299.91, 299.92,
    299.89, 299.86, 299.88, 299.72, 299.84, 299.85, 299.85, 299.78, 299.89, 299.84, 299.78, 299.81,
    299.76, 299.81, 299.79, 299.81, 299.82, 299.85, 299.87, 299.87, 299.81, 299.74, 299.81, 299.94,
    299.95, 299.80, 299.81, 299.87};

#define STRD "NIST/ITL StRD, univariate summary statistics, certified value"
#define STRD_LIMIT "NIST/ITL StRD data rounded to double, exact arithmetic"

static struct channel_statistics statistics_of(const double *x, size_t n)
{
    struct channel_statistics s = {0};
    double *room = malloc((3 * n + 1) * sizeof *room);
    if (room == NULL) {
        CU_FAIL("no memory");
        return s;
    }
    CHECK(sample_statistics(x, n, (struct channel_range){NAN, NAN}, room, &s) == 1);
    free(room);
    return s;
}

static void meets_the_measured_reference_sets(void)
{
    static const struct {
        const double *x;
        size_t n;
        double mean, sd;
    } sets[] = {
        {lew, sizeof lew / sizeof lew[0], -177.435, 277.332168044316},
        {lottery, sizeof lottery / sizeof lottery[0], 518.958715596330, 291.699727470969},
        {mavro, sizeof mavro / sizeof mavro[0], 2.001856, 0.000429123454003053},
        {michelso, sizeof michelso / sizeof michelso[0], 299.8524, 0.0790105478190518},
    };
    static const size_t sizes[] = {200, 218, 50, 100};
    for (size_t i = 0; i < 4; i++) {
        struct channel_statistics s = statistics_of(sets[i].x, sets[i].n);
        CHECK(sets[i].n == sizes[i]);
        CHECK_RELATIVE(s.mean, sets[i].mean, 1e-14, STRD);
        CHECK_RELATIVE(s.sd, sets[i].sd, i < 2 ? 1e-14 : 1e-12, STRD);
    }
}

/* first, then 500 pairs (low, high), as NIST makes NumAcc2 to NumAcc4. */
static struct channel_statistics numacc(double first, double low, double high)
{
    double x[1001];
    x[0] = first;
    for (size_t i = 1; i < 1001; i += 2) {
        x[i] = low;
        x[i + 1] = high;
    }
    return statistics_of(x, 1001);
}

static void meets_the_made_reference_sets_as_far_as_doubles_can(void)
{
    const double numacc1[] = {10000001, 10000003, 10000002};
    struct channel_statistics s = statistics_of(numacc1, 3);
    CHECK_NEAR(s.mean, 10000002, 0, STRD);
    CHECK_NEAR(s.sd, 1, 0, STRD);
    s = numacc(1.2, 1.1, 1.3);
    CHECK_RELATIVE(s.mean, 1.2, 1e-15, STRD);
    CHECK_RELATIVE(s.sd, 0.099999999999999978, 1e-15, STRD_LIMIT);
    s = numacc(1000000.2, 1000000.1, 1000000.3);
    CHECK_RELATIVE(s.mean, 1000000.2, 1e-15, STRD);
    CHECK_RELATIVE(s.sd, 0.1000000000349246, 1e-14, STRD_LIMIT);
    s = numacc(10000000.2, 10000000.1, 10000000.3);
    CHECK_RELATIVE(s.mean, 10000000.2, 1e-15, STRD);
    CHECK_RELATIVE(s.sd, 0.10000000055879354, 1e-14, STRD_LIMIT);
}

static void effective_n_of_autoregressive_records(void)
{
    static const struct {
        double phi;
        size_t n;
        double exact;
    } records[] = {{-0.3, 10000, 18570.2041624}, {0, 10000, 10000},
                   {0.3, 10000, 5384.97043761},  {0.5, 10000, 3333.77783704},
                   {0.7, 10000, 1765.19044444},  {0.9, 10000, 526.814877252},
                   {0.95, 10000, 256.910903299}};
    double *x = malloc(10000 * sizeof *x);
    if (x == NULL) {
        CU_FAIL("no memory");
        return;
    }
    for (size_t i = 0; i < sizeof records / sizeof records[0]; i++) {
        double sum = 0; /* the mean over records, so that the estimate's own scatter is small */
        for (uint64_t seed = 1; seed <= 20; seed++) {
            uint64_t state = seed * 7919;
            noise_autoregressive(x, records[i].n, records[i].phi, &state);
            sum += statistics_of(x, records[i].n).n_effective / 20;
        }
        CHECK_RELATIVE(sum, records[i].exact, 0.1,
                       "AR(1): n / (1 + 2 sum (1 - k/n) phi^k), identity");
    }
    free(x);
}

static void effective_n_is_refused_for_short_records(void)
{
    double x[200];
    double n_effective = 0;
    uint64_t seed = 5;
    for (size_t i = 0; i < 15; i++)
        x[i] = noise_normal(&seed);
    CHECK(isnan(statistics_of(x, 15).n_effective));
    for (size_t i = 0; i < 200; i++)
        x[i] = sin(0.01 * (double)i); /* one slow swing: no 20 integral times in it */
    CHECK(isnan(statistics_of(x, 200).n_effective));
    for (size_t i = 0; i < 200; i++)
        x[i] = 3.1;
    struct channel_statistics s = statistics_of(x, 200);
    CHECK_NEAR(s.n_effective, 200, 0, "identity: equal samples, no scatter");
    CHECK_NEAR(s.sd, 0, 0, "identity");
    CHECK_NEAR(s.mean, 3.1, 0, "identity");
    for (size_t i = 0; i < 200; i++)
        x[i] = i % 2 == 0 ? 1 : -1;
    CHECK(effective_samples(x, 200, &n_effective) == 1);
    CHECK_NEAR(n_effective, 200, 0,
               "by our own rule: no more than n where the sum is not positive");
}

static void long_lags_agree_with_the_direct_sum(void)
{
    enum { N = 6000 };
    double *x = malloc(N * sizeof *x);
    double n_effective = 0;
    if (x == NULL) {
        CU_FAIL("no memory");
        return;
    }
    uint64_t state = 3;
    noise_autoregressive(x, N, 0.97, &state);
    struct sample_moments moments = sample_moments_of(x, N);
    for (size_t i = 0; i < N; i++)
        x[i] -= moments.mean;
    CHECK(effective_samples(x, N, &n_effective) == 1);
    double zero = 0;
    double pairs = 0;
    double pair = 1;
    for (size_t lag = 0; lag + 1 < N && pair > 0; lag += 2) {
        pair = 0;
        for (size_t i = 0; i + lag < N; i++)
            pair += x[i] * x[i + lag];
        zero = lag == 0 ? pair : zero;
        for (size_t i = 0; i + lag + 1 < N; i++)
            pair += x[i] * x[i + lag + 1];
        pairs += pair > 0 ? pair : 0;
    }
    CHECK_RELATIVE(n_effective, N * zero / (2 * pairs - zero), 1e-9, "identity");
    free(x);
}

static void halves_range_missing_and_stuck(void)
{
    const double none = (double)NAN;
    const double x[] = {1, 2, none, 2, 2, 2, 7, none, 4};
    struct channel_statistics s = statistics_of(x, 9);
    CHECK_NEAR(s.n, 7, 0, "identity");
    CHECK_NEAR(s.n_missing, 2, 0, "identity");
    CHECK_NEAR(s.minimum, 1, 0, "identity");
    CHECK_NEAR(s.maximum, 7, 0, "identity");
    CHECK_NEAR(s.stuck, 3, 0, "identity: a missing sample breaks the run");
    CHECK_NEAR(s.repeated, 0, 0, "identity: no equal neighbours but in the longest run");
    CHECK_NEAR(s.resolution, 1, 0, "identity: 1 to 2");
    CHECK_NEAR(s.mean_first_half, 5.0 / 3, 1e-15, "identity");
    CHECK_NEAR(s.mean_second_half, 15.0 / 4, 1e-15, "identity");
    s = statistics_of(x + 2, 1);
    CHECK(s.n == 0 && s.n_missing == 1 && isnan(s.mean) && isnan(s.sd) && isnan(s.minimum));
    s = statistics_of(x, 1);
    CHECK(s.n == 1 && s.mean == 1 && isnan(s.sd) && isnan(s.n_effective));
}

static void a_long_point_keeps_its_moments(void)
{
    enum { N = 100000 };
    const size_t covaried[] = {0, 1};
    struct point_samples *samples = NULL;
    struct channel_statistics long_point[2];
    double covariance[4];
    double *x = malloc((size_t)2 * N * sizeof *x);
    struct fault fault;
    uint64_t seed = 17;
    if (x == NULL) {
        CU_FAIL("no memory");
        return;
    }
    for (size_t i = 0; i < N; i++) {
        x[i] = 1e6 + noise_normal(&seed);
        x[N + i] = 0.5 * (x[i] - 1e6) + noise_normal(&seed);
    }
    x[12345] = (double)NAN;
    for (size_t i = 7; i < N; i += 20000)
        x[i] += 12;
    CHECK_OK(point_samples_make(2, NULL, covaried, 2, 4096, &samples, &fault), &fault);
    for (int repeat = 0; repeat < 2; repeat++) { /* the second point must not see the first */
        for (size_t i = 0; i < N; i++) {
            const double row[] = {x[i], x[N + i]};
            CHECK_OK(point_samples_add(samples, row, &fault), &fault);
        }
        CHECK_OK(point_samples_finish(samples, NULL, long_point, covariance, &fault), &fault);
    }
    for (size_t c = 0; c < 2; c++) {
        struct channel_statistics whole = statistics_of(x + c * N, N);
        CHECK_NEAR(long_point[c].n, whole.n, 0, "identity");
        CHECK_NEAR(long_point[c].n_missing, whole.n_missing, 0, "identity");
        CHECK_RELATIVE(long_point[c].mean, whole.mean, 1e-13, "identity");
        CHECK_RELATIVE(long_point[c].sd, whole.sd, 1e-11, "identity");
        CHECK_NEAR(long_point[c].minimum, whole.minimum, 0, "identity");
        CHECK_NEAR(long_point[c].maximum, whole.maximum, 0, "identity");
        CHECK_RELATIVE(long_point[c].n_effective, (double)N, 0.35,
                       "white noise, some hundred batch means");
        CHECK_NEAR(long_point[c].stuck, whole.stuck, 0, "identity");
        CHECK_NEAR(long_point[c].repeated, whole.repeated, 0, "identity");
        CHECK_NEAR(long_point[c].resolution, whole.resolution, 0, "identity");
        CHECK_RELATIVE(long_point[c].local_deviation, whole.local_deviation, 0.01, "identity");
        CHECK_NEAR(long_point[c].spiked, whole.spiked, 2, "identity but at the blocks' ends");
        CHECK_RELATIVE(long_point[c].mean_without_spikes, whole.mean_without_spikes, 1e-7,
                       "identity but at the blocks' ends");
    }
    CHECK_RELATIVE(covariance[0], 1, 0.02, "identity: unit noise");
    CHECK_RELATIVE(covariance[1], 0.5, 0.03, "identity");
    CHECK_NEAR(covariance[2], covariance[1], 0, "identity: symmetric");
    CHECK_RELATIVE(covariance[3], 1.25, 0.02, "identity");
    point_samples_free(samples);
    free(x);
}

static void a_long_point_counts_what_is_clipped(void)
{
    enum { N = 20000 };
    struct channel_statistics s[3];
    struct point_samples *samples = NULL;
    const struct channel_range ranges[] = {{NAN, NAN}, {-1, 1}, {NAN, NAN}};
    struct fault fault;
    double at_top = 0;
    double at_ends = 0;
    uint64_t state = 19;
    CHECK_OK(point_samples_make(3, ranges, NULL, 0, 4096, &samples, &fault), &fault);
    for (size_t i = 0; i < N; i++) {
        double noise = floor(50 * noise_normal(&state)) / 50;
        double top = i < 10000 ? 1.5 : 1.4; /* the second half's pile is not at the point's end */
        const double row[] = {fmin(noise, top), noise, noise};
        at_top += i < 10000 && noise >= 1.5;
        at_ends += fabs(noise) >= 0.995;
        CHECK_OK(point_samples_add(samples, row, &fault), &fault);
    }
    CHECK_OK(point_samples_finish(samples, NULL, s, NULL, &fault), &fault);
    /* the block in which the limit falls is piled up at 1.5 as well */
    CHECK_NEAR(s[0].clipped, at_top, 0, "identity");
    CHECK_NEAR(s[1].clipped, at_ends, 0, "identity: 99.5 % of the declared range");
    CHECK_NEAR(s[2].clipped, 0, 0, "identity: nothing is clipped");
    point_samples_free(samples);
}

static void a_long_point_of_spikes_has_no_mean_without(void)
{
    struct channel_statistics s;
    struct point_samples *samples = NULL;
    struct fault fault;
    uint64_t state = 20;
    CHECK_OK(point_samples_make(1, NULL, NULL, 0, 1000, &samples, &fault), &fault);
    for (size_t i = 0; i < 3500; i++) {
        const double row[] = {i % 8 == 0 ? 1e4 + (double)i : noise_normal(&state)};
        CHECK_OK(point_samples_add(samples, row, &fault), &fault);
    }
    CHECK_OK(point_samples_finish(samples, NULL, &s, NULL, &fault), &fault);
    CHECK(s.spiked > 400 && isnan(s.mean_without_spikes));
    for (size_t i = 0; i < 2500; i++) {
        const double none[] = {(double)NAN};
        CHECK_OK(point_samples_add(samples, none, &fault), &fault);
    }
    CHECK_OK(point_samples_finish(samples, NULL, &s, NULL, &fault), &fault);
    CHECK(s.n == 0 && s.n_missing == 2500 && s.clipped == 0 && s.spiked == 0);
    CHECK(isnan(s.mean_without_spikes) && isnan(s.local_deviation) && isnan(s.resolution));
    point_samples_free(samples);
}

static void covariance_of_a_short_point(void)
{
    const size_t covaried[] = {1, 0};
    const double rows[][2] = {{1, 2}, {2, 4}, {3, 9}, {(double)NAN, 5}};
    struct point_samples *samples = NULL;
    struct channel_statistics s[2];
    double covariance[4];
    struct fault fault;
    CHECK_OK(point_samples_make(2, NULL, covaried, 2, 100, &samples, &fault), &fault);
    for (size_t i = 0; i < 4; i++)
        CHECK_OK(point_samples_add(samples, rows[i], &fault), &fault);
    CHECK_OK(point_samples_finish(samples, NULL, s, covariance, &fault), &fault);
    double r = 7 / sqrt(26.0 * 2); /* over the three rows that both have */
    CHECK_NEAR(covariance[0], 26.0 / 3, 1e-13, "identity: (9 + 1 + 16 + 0)/3 about 5");
    CHECK_NEAR(covariance[1], r * sqrt(26.0 / 3), 1e-13, "identity: r times both sd");
    CHECK_NEAR(covariance[2], covariance[1], 0, "identity: symmetric");
    CHECK_NEAR(covariance[3], 1, 1e-13, "identity");
    CHECK_OK(point_samples_add(samples, rows[0], &fault), &fault);
    CHECK_OK(point_samples_finish(samples, NULL, s, covariance, &fault), &fault);
    CHECK(isnan(covariance[0]) && isnan(covariance[1]));
    point_samples_free(samples);
}

/* Two slow channels that are never written in one row, and a quick one; in two blocks, the second of
 * which has nothing missing. */
static void covariance_of_channels_of_several_rates(void)
{
    const size_t covaried[] = {0, 1, 2};
    const double none = (double)NAN;
    const double rows[][3] = {{1, 2, none}, {2, none, 8}, {4, 4, none}, {3, none, 2},
                              {5, 3, 9},    {6, 7, 1},    {7, 5, 4},    {1, 1, 1}};
    struct point_samples *samples = NULL;
    struct channel_statistics s[3];
    double c[9];
    struct fault fault;
    CHECK_OK(point_samples_make(3, NULL, covaried, 3, 4, &samples, &fault), &fault);
    for (size_t i = 0; i < 4; i++)
        CHECK_OK(point_samples_add(samples, rows[i], &fault), &fault);
    CHECK_OK(point_samples_finish(samples, NULL, s, c, &fault), &fault);
    CHECK_NEAR(c[0], 5.0 / 3, 1e-14, "identity: (2.25 + 0.25 + 2.25 + 0.25)/3 about 2.5");
    CHECK_NEAR(c[1], sqrt(5.0 / 3 * 2), 1e-14, "identity: two rows lie on a line, r = 1");
    CHECK_NEAR(c[2], -sqrt(5.0 / 3 * 18), 1e-14, "identity: r = -1");
    CHECK(isnan(c[5]) && isnan(c[7])); /* no row in common */
    CHECK_NEAR(c[8], 18, 1e-14, "identity: (8 - 2)^2 / 2");
    for (size_t i = 0; i < 8; i++)
        CHECK_OK(point_samples_add(samples, rows[i], &fault), &fault);
    CHECK_OK(point_samples_finish(samples, NULL, s, c, &fault), &fault);
    double second = 0; /* channels 1 and 2, which have the last four rows in common */
    double square[2] = {0, 0};
    for (size_t i = 4; i < 8; i++) {
        second += (rows[i][1] - 4) * (rows[i][2] - 3.75);
        square[0] += (rows[i][1] - 4) * (rows[i][1] - 4);
        square[1] += (rows[i][2] - 3.75) * (rows[i][2] - 3.75);
    }
    CHECK_RELATIVE(c[5], second / sqrt(square[0] * square[1]) * s[1].sd * s[2].sd, 1e-14,
                   "identity: two blocks as one");
    CHECK_RELATIVE(c[4], s[1].sd * s[1].sd, 1e-14, "identity");
    CHECK_RELATIVE(c[8], s[2].sd * s[2].sd, 1e-14, "identity");
    point_samples_free(samples);
}

static void averaged_rows_keep_what_the_facility_gave(void)
{
    struct channel_statistics s = averaged_statistics(2.5, 0.1, 1000);
    CHECK(s.n == 1000 && s.mean == 2.5 && s.sd == 0.1 && isnan(s.n_effective));
    CHECK(s.spiked == 0 && s.clipped == 0 && s.repeated == 0 && isnan(s.mean_without_spikes));
    CHECK(isnan(s.local_deviation) && isnan(s.resolution));
    s = averaged_statistics(2.5, (double)NAN, 1);
    CHECK(s.n == 1 && isnan(s.sd) && s.n_missing == 0);
    s = averaged_statistics((double)NAN, 0.1, 1000);
    CHECK(s.n == 0 && s.n_missing == 1 && isnan(s.mean) && isnan(s.sd));
}

CU_TestInfo sample_statistics_tests[] = {
    {"meets the measured reference sets", meets_the_measured_reference_sets},
    {"meets the made reference sets as far as doubles can",
     meets_the_made_reference_sets_as_far_as_doubles_can},
    {"effective n of autoregressive records", effective_n_of_autoregressive_records},
    {"effective n is refused for short records", effective_n_is_refused_for_short_records},
    {"long lags agree with the direct sum", long_lags_agree_with_the_direct_sum},
    {"halves, range, missing and stuck", halves_range_missing_and_stuck},
    {"a long point keeps its moments", a_long_point_keeps_its_moments},
    {"a long point counts what is clipped", a_long_point_counts_what_is_clipped},
    {"a long point of spikes has no mean without", a_long_point_of_spikes_has_no_mean_without},
    {"covariance of a short point", covariance_of_a_short_point},
    {"covariance of channels of several rates", covariance_of_channels_of_several_rates},
    {"averaged rows keep what the facility gave", averaged_rows_keep_what_the_facility_gave},
    CU_TEST_INFO_NULL};

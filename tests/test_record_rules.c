/* test_record_rules.c - one channel at one point; statistics made by hand. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/statistics/record_rules.h"
#include "tests/check.h"
#include "tests/noise.h"

static const double none = (double)NAN;

/* A lively channel of 250 samples, none of them equal to its neighbour. */
static struct channel_statistics lively(void)
{
    return (struct channel_statistics){.n = 250,
                                       .mean = 20,
                                       .sd = 0.5,
                                       .n_effective = 100,
                                       .minimum = 18,
                                       .maximum = 22,
                                       .mean_first_half = 20,
                                       .mean_second_half = 20,
                                       .stuck = 1,
                                       .mean_without_spikes = 20,
                                       .local_deviation = 0.5,
                                       .resolution = 0.001};
}

static void a_lively_channel_raises_nothing(void)
{
    struct channel_statistics point = lively();
    CHECK(!record_stuck(&point, none).raised);
    CHECK(!record_clipped(&point).raised);
    CHECK(!record_spiked(&point).raised);
    CHECK(!record_missing(&point).raised);
}

static void a_run_that_chance_does_not_give_is_stuck(void)
{
    struct channel_statistics point = lively();
    point.stuck = 20;
    point.repeated = 22; /* p = 23/232, limit 1 + ln(4e-9)/ln p */
    struct record_judgement stuck = record_stuck(&point, none);
    CHECK(stuck.raised);
    CHECK(stuck.spoilt); /* 8 % of the samples */
    CHECK_NEAR(stuck.value, 20, 0, "samples of the run");
    CHECK_NEAR(stuck.limit, 1 + log(1e-6 / 250) / log(23.0 / 232), 1e-12,
               "identity: n p^(L-1) = 1e-6");
    CHECK_NEAR(stuck.limit, 9.3665, 5e-5, "by hand: 1 + 19.3370/2.31124");
    point.stuck = 9;
    CHECK(!record_stuck(&point, none).raised);
    point.stuck = 10; /* p is now 23/242 */
    CHECK(record_stuck(&point, none).raised);
    point.n = 2500;
    point.repeated = 246; /* the same share of many more */
    point.stuck = 15;
    CHECK(record_stuck(&point, none).raised);
    CHECK(!record_stuck(&point, none).spoilt); /* 0.6 % of the samples hardly move a mean */
}

static void coarse_channels_never_alarm(void)
{
    struct channel_statistics point = lively();
    point.stuck = 150;
    point.repeated = 60; /* of 100: the channel has few digits */
    CHECK(!record_stuck(&point, none).raised);
    point.stuck = 250;
    point.repeated = 0;
    point.sd = 0;
    CHECK(!record_stuck(&point, none).raised); /* a set point: nothing tells */
    CHECK(!record_stuck(&point, 0.8).raised);
    CHECK(record_stuck(&point, 0.1).raised); /* alive at the run's other points */
    CHECK(record_stuck(&point, 0.1).spoilt);
}

static void the_samples_outside_the_run_must_be_enough(void)
{
    struct channel_statistics point = lively();
    point.stuck = 200; /* 50 left, of 250 */
    CHECK(!record_stuck(&point, none).raised);
    CHECK(record_stuck(&point, 0.01).raised);
    point.n = 40;
    point.stuck = 20; /* half of a short point */
    CHECK(record_stuck(&point, none).raised);
    point.stuck = 21;
    CHECK(!record_stuck(&point, none).raised);
}

static void the_larger_share_of_repeats_counts(void)
{
    struct channel_statistics point = lively();
    point.stuck = 6;
    CHECK(record_stuck(&point, none).raised);
    CHECK(!record_stuck(&point, 0.3).raised); /* 0.3^5 of 250 is nothing unusual */
}

/* Five of forty samples held, as a scanner of 10 Hz gives them in half a second. */
static void a_short_record_asks_the_channels_other_points(void)
{
    struct channel_statistics point = lively();
    point.n = 40;
    point.stuck = 5;
    point.repeated = 0;
    CHECK(!record_stuck(&point, none).raised); /* 40 (1/37)^4 = 2e-5: its own 35 say too little */
    CHECK(record_stuck(&point, 0.002).raised); /* 40 0.002^4 = 6e-10 */
    point.repeated = 1;                        /* one pair is within chance: 0.07 + 3 0.26 + 1 */
    CHECK(record_stuck(&point, 0.002).raised);
    point.repeated = 8; /* the channel is coarser here: succession, 40 (9/37)^4 = 0.14 */
    CHECK(!record_stuck(&point, 0.002).raised);
}

static void repeats_are_shared_over_points_but_for_their_runs(void)
{
    struct channel_statistics points[3] = {lively(), lively(), lively()};
    points[0].repeated = 24; /* 249 neighbours outside */
    points[1].stuck = 250;   /* all of it: no neighbours */
    points[1].sd = 0;
    points[2].repeated = none;
    struct record_shares three = record_shares_of(points, 3);
    struct record_shares one = record_shares_of(points, 1);
    struct record_shares none_at_all = record_shares_of(points, 0);
    CHECK_NEAR(record_repeat_share(&three, NULL), 25.0 / 251, 1e-15, "identity: (24+1)/(249+2)");
    CHECK(isnan(record_repeat_share(&three, &points[0])));
    CHECK(isnan(record_repeat_share(&none_at_all, NULL)));
    CHECK_NEAR(record_constant_share(&three, NULL), 1.0 / 3, 1e-15, "one of three");
    CHECK_NEAR(record_constant_share(&three, &points[1]), 0, 0, "of the others");
    CHECK(isnan(record_constant_share(&one, &points[0])));
}

static void shares_are_held_against_their_limits(void)
{
    struct channel_statistics point = lively();
    point.n = 1000;
    point.clipped = 4;
    CHECK(!record_clipped(&point).raised);
    point.clipped = 5;
    CHECK(record_clipped(&point).raised);
    CHECK(record_clipped(&point).spoilt);
    CHECK_NEAR(record_clipped(&point).value, 0.005, 1e-15, "identity: 5/1000");
    point.n = 2000;
    point.spiked = 1;
    CHECK(!record_spiked(&point).raised);
    point.spiked = 2;
    CHECK(record_spiked(&point).raised);
    CHECK(!record_spiked(&point).spoilt);
    point.n = 990;
    point.n_missing = 10;
    CHECK(!record_missing(&point).raised);
    point.n_missing = 11;
    CHECK(record_missing(&point).raised);
}

/* 24 points of an sd of 0.5 in steps of 0.001, whose highest values lie 0.02 apart. */
static void fill_ends(struct channel_statistics points[24])
{
    for (int i = 0; i < 24; i++) {
        points[i] = lively();
        points[i].maximum = 21.2 + 0.02 * ((7 * i) % 24);
        points[i].minimum = 18.8 - 0.02 * ((5 * i) % 24);
    }
}

static void ends_that_many_points_share_are_clipped(void)
{
    struct channel_statistics points[24];
    fill_ends(points);
    struct record_ends ends = record_shared_ends(points, 24);
    CHECK(isnan(ends.low) && isnan(ends.high));
    for (int i = 0; i < 24; i++)
        points[i].maximum = points[i].maximum > 21.5 ? 21.5 : points[i].maximum;
    ends = record_shared_ends(points, 24);
    CHECK_NEAR(ends.high, 21.5, 0, "the ceiling");
    CHECK_NEAR(ends.at_high, 9, 0, "by hand: 21.50 to 21.66 in steps of 0.02");
    CHECK(isnan(ends.low));
    int raised = 0;
    for (int i = 0; i < 24; i++) {
        struct record_judgement clipped = record_clipped_alike(&points[i], &ends);
        raised += clipped.raised;
        CHECK(clipped.raised == (points[i].maximum == 21.5) && !clipped.spoilt);
    }
    CHECK(raised == 9);
    for (int i = 0; i < 24; i++)
        points[i].resolution = 0.2; /* coarse: the ends of few levels are alike by nature */
    CHECK(isnan(record_shared_ends(points, 24).high));
    for (int i = 0; i < 24; i++) {
        points[i].resolution = 0.001;
        points[i].maximum = 20 + 1.45 * points[i].sd; /* the crest of a tone */
    }
    CHECK(isnan(record_shared_ends(points, 24).high));
    fill_ends(points);
    points[3].maximum = points[4].maximum = 23; /* two may be chance */
    CHECK(isnan(record_shared_ends(points, 24).high));
    points[5].maximum = 23;
    CHECK_NEAR(record_shared_ends(points, 24).high, 23, 0, "three, and L = 128: (1/129)^3 = 5e-7");
    CHECK(isnan(record_shared_ends(points, 0).high));
}

/* Ends of honest noise, drawn as the ends of 200 normal deviates are, in steps of a third to a
 * hundredth of the standard deviation. */
static void ends_of_noise_are_not_shared(void)
{
    static const double steps[] = {1.0 / 3, 0.1, 0.03, 0.01};
    uint64_t state = 13;
    int alarms = 0;
    for (int trial = 0; trial < 400; trial++) {
        struct channel_statistics points[24];
        double step = steps[trial % 4];
        for (int i = 0; i < 24; i++) {
            points[i] = lively();
            points[i].sd = 1;
            points[i].resolution = step;
            points[i].maximum = points[i].minimum = points[i].mean;
            for (int k = 0; k < 200; k++) {
                double x = step * floor((20 + noise_normal(&state)) / step);
                points[i].maximum = fmax(points[i].maximum, x);
                points[i].minimum = fmin(points[i].minimum, x);
            }
        }
        struct record_ends ends = record_shared_ends(points, 24);
        alarms += !isnan(ends.low) || !isnan(ends.high);
    }
    CHECK_NEAR(alarms, 0, 1, "of 400");
}

static void the_noise_of_one_point_is_held_against_the_others(void)
{
    struct channel_statistics points[6];
    for (int i = 0; i < 6; i++)
        points[i] = lively();
    CHECK(!record_noise(points, 6, 2).raised);
    points[2].sd = 2; /* four times the others' */
    struct record_judgement noise = record_noise(points, 6, 2);
    CHECK(noise.raised);
    CHECK_NEAR(noise.value, 4, 1e-12, "identity: 2/0.5");
    CHECK_NEAR(noise.limit, 3, 1e-12, "the factor");
    CHECK(!record_noise(points, 6, 3).raised); /* one bad point does not accuse the good ones */
    points[2].sd = 0.1;
    noise = record_noise(points, 6, 2);
    CHECK(noise.raised);
    CHECK_NEAR(noise.limit, 1.0 / 3, 1e-12, "the factor, on the quiet side");
    CHECK(!record_noise(points, 4, 2).raised); /* three others */
    points[2].sd = 2;
    points[2].n_effective = none; /* 10 samples at least: a factor of exp(7/sqrt(10)) */
    CHECK(!record_noise(points, 6, 2).raised);
    points[2].n_effective = 100;
    for (int i = 0; i < 6; i++)
        points[i].sd = i == 2 ? 2 : 0.3 * (i + 1); /* the others differ themselves */
    CHECK(!record_noise(points, 6, 2).raised);
}

static void a_trend_must_matter_and_be_real(void)
{
    CHECK(record_trend(0.012, 0.001, 0.01).raised);
    CHECK(record_trend(-0.012, 0.001, 0.01).raised);
    CHECK(!record_trend(0.009, 0.001, 0.01).raised);  /* does not matter */
    CHECK(!record_trend(0.012, 0.0018, 0.01).raised); /* 3.3 standard uncertainties */
    CHECK(!record_trend(0.012, none, 0.01).raised);
    CHECK(!record_trend(none, 0.001, 0.01).raised);
    CHECK(!record_trend(0.012, 0.001, none).raised);
}

static void a_drift_that_may_be_beyond_the_limit_is_raised(void)
{
    CHECK(!record_drift(0.2, 0.1, 1).raised);
    CHECK(record_drift(-0.8, 0.1, 1).raised); /* 0.8 + 0.233 */
    CHECK(!record_drift(0.75, 0.1, 1).raised);
    CHECK(record_drift(1.01, none, 1).raised);
    CHECK(!record_drift(0.99, none, 1).raised);
    CHECK(!record_drift(none, 0.1, 1).raised);
}

static void nan_in_any_field_raises_nothing(void)
{
    struct channel_statistics point = {none, none, none, none, none, none, none, none, none,
                                       none, none, none, none, none, none, none, none};
    struct channel_statistics points[6] = {point, point, point, point, point, point};
    CHECK(!record_stuck(&point, none).raised);
    CHECK(!record_stuck(&point, 0.1).raised);
    CHECK(!record_clipped(&point).raised);
    CHECK(!record_spiked(&point).raised);
    CHECK(!record_missing(&point).raised);
    CHECK(!record_noise(points, 6, 0).raised);
    CHECK(isnan(record_shared_ends(points, 6).high));
    struct channel_statistics empty = {0};
    empty.mean = none;
    CHECK(!record_stuck(&empty, 0.1).raised);
    CHECK(!record_clipped(&empty).raised);
    CHECK(!record_spiked(&empty).raised);
}

CU_TestInfo record_rules_tests[] = {
    {"a lively channel raises nothing", a_lively_channel_raises_nothing},
    {"a run that chance does not give is stuck", a_run_that_chance_does_not_give_is_stuck},
    {"coarse channels never alarm", coarse_channels_never_alarm},
    {"the samples outside the run must be enough", the_samples_outside_the_run_must_be_enough},
    {"the larger share of repeats counts", the_larger_share_of_repeats_counts},
    {"a short record asks the channel's other points",
     a_short_record_asks_the_channels_other_points},
    {"repeats are shared over points but for their runs",
     repeats_are_shared_over_points_but_for_their_runs},
    {"shares are held against their limits", shares_are_held_against_their_limits},
    {"ends that many points share are clipped", ends_that_many_points_share_are_clipped},
    {"ends of noise are not shared", ends_of_noise_are_not_shared},
    {"the noise of one point is held against the others",
     the_noise_of_one_point_is_held_against_the_others},
    {"a trend must matter and be real", a_trend_must_matter_and_be_real},
    {"a drift that may be beyond the limit is raised",
     a_drift_that_may_be_beyond_the_limit_is_raised},
    {"nan in any field raises nothing", nan_in_any_field_raises_nothing},
    CU_TEST_INFO_NULL,
};

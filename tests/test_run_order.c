/* test_run_order.c - which orders are refused, and what the others are worth. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/statistics/detectable.h"
#include "reduce/statistics/run_order.h"
#include "tests/check.h"

extern CU_TestInfo run_order_tests[];

static const char DENSE[] = "dense matrices inverted in R, tests/oracles/run_orders.R";

static size_t read_order(const char *letters, size_t *order)
{
    size_t n = strlen(letters);
    for (size_t i = 0; i < n; i++)
        order[i] = (size_t)(letters[i] - 'A');
    return n;
}

/* Factors with no, a straight and a bent drift; 0: impossible. */
static void orders_have_their_worth(void)
{
    static const struct {
        const char *letters;
        double factor[3];
        double freedom[3];
    } rows[] = {
        {"AB", {2, 0, 0}, {0, 0, 0}},
        {"AABB", {1, 5, 5}, {2, 1, 0}},
        {"ABAB", {1, 1.25, 1.25}, {2, 1, 0}},
        {"ABBA", {1, 1, 0}, {2, 1, 0}},
        {"ABA", {1.5, 1.5, 0}, {1, 0, 0}},
        {"ABABA", {0.83333333333, 0.83333333333, 1.09375}, {3, 2, 1}},
        {"ABABABA", {0.58333333333, 0.58333333333, 0.65625}, {5, 4, 3}},
        {"ABBAABBA", {0.5, 0.5, 0.525}, {6, 5, 4}},
    };
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++)
        for (size_t degree = 0; degree < 3; degree++) {
            size_t order[16];
            struct order_worth worth;
            size_t n = read_order(rows[k].letters, order);
            enum outcome outcome = order_worth(order, n, 1, degree, &worth);
            if (!(rows[k].factor[degree] > 0)) {
                CHECK(outcome == OUTCOME_SINGULAR && isnan(worth.factor));
                continue;
            }
            CHECK(outcome == OUTCOME_OK);
            CHECK_NEAR(worth.factor, rows[k].factor[degree], 1e-10, DENSE);
            CHECK_NEAR(worth.freedom, rows[k].freedom[degree], 0, "runs less unknowns");
        }
}

static void drift_makes_configurations_talk(void)
{
    size_t order[16];
    struct order_worth worth;
    size_t n = read_order("ABCABCA", order);
    CHECK(order_worth(order, n, 1, 1, &worth) == OUTCOME_OK);
    CHECK_NEAR(worth.factor, 0.84259259259259, 1e-10, DENSE);
    CHECK(order_worth(order, n, 2, 2, &worth) == OUTCOME_OK);
    CHECK_NEAR(worth.factor, 1.037037037037, 1e-10, DENSE);
    CHECK_NEAR(worth.freedom, 2, 0, "seven runs, five unknowns");
    CHECK(order_worth(order, n, 3, 0, &worth) == OUTCOME_TOO_FEW);
    CHECK(order_worth(order, n, 0, 0, &worth) == OUTCOME_SINGULAR);
    CHECK(order_worth(order, n, 1, ORDER_DEGREE_MAX + 1, &worth) == OUTCOME_SINGULAR);
    CHECK(order_worth(order, 1, 1, 0, &worth) == OUTCOME_TOO_FEW);
    CHECK(order_worth(order, RUN_ORDER_MAX + 1, 1, 0, &worth) == OUTCOME_SINGULAR);
}

static enum order_verdict judge(const char *letters, size_t *hit)
{
    size_t order[32];
    return order_judge(order, read_order(letters, order), hit);
}

static void blocks_are_refused(void)
{
    size_t hit = 9;
    CHECK(judge("AB", &hit) == ORDER_NOT_BRACKETED && hit == 1);
    CHECK(judge("AABB", &hit) == ORDER_IN_BLOCKS && hit == 1);
    CHECK(judge("BBAA", &hit) == ORDER_IN_BLOCKS);
    CHECK(judge("AAABBB", &hit) == ORDER_IN_BLOCKS);
    CHECK(judge("ABAB", &hit) == ORDER_NOT_BRACKETED && hit == 1);
    CHECK(judge("ABACA", &hit) == ORDER_SOUND && hit == 0);
    CHECK(judge("ABBA", &hit) == ORDER_SOUND);
    CHECK(judge("ABACAD", &hit) == ORDER_NOT_BRACKETED && hit == 3);
    CHECK(judge("CABA", &hit) != ORDER_SOUND && hit == 2);
    CHECK(judge("AAAA", &hit) == ORDER_NOT_BRACKETED && hit == 0);
    CHECK(judge("", &hit) == ORDER_NOT_BRACKETED);
}

static void made_orders_are_sound(void)
{
    for (size_t others = 1; others <= 8; others++)
        for (size_t repeats = 1; repeats <= 4; repeats++)
            for (int scheme = 0; scheme < 2; scheme++) {
                struct order_request request = {(enum order_scheme)scheme, others, repeats, 3,
                                                17 * others + repeats};
                size_t order[RUN_ORDER_MAX], again[RUN_ORDER_MAX], n = 0, m = 0, hit = 0;
                size_t since = 0, count[9] = {0};
                CHECK(order_make(&request, order, &n) == OUTCOME_OK);
                CHECK(order_judge(order, n, &hit) == ORDER_SOUND);
                CHECK(order_make(&request, again, &m) == OUTCOME_OK);
                CHECK(m == n && memcmp(order, again, n * sizeof *order) == 0);
                CHECK(order[0] == 0 && order[n - 1] == 0);
                for (size_t i = 0; i < n; i++) {
                    count[order[i]]++;
                    since = order[i] == 0 ? 0 : since + 1;
                    CHECK(since <= 3);
                }
                size_t want = scheme == SCHEME_ABBA ? (repeats + 1) / 2 * 2 : repeats;
                for (size_t c = 1; c <= others; c++)
                    CHECK(count[c] == want);
            }
}

static void seeds_differ(void)
{
    struct order_request request = {SCHEME_BRACKETED, 8, 2, 3, 1};
    size_t one[RUN_ORDER_MAX], other[RUN_ORDER_MAX], n = 0;
    CHECK(order_make(&request, one, &n) == OUTCOME_OK);
    CHECK(n == 1 + 2 * (8 + 3));
    request.seed = 2;
    CHECK(order_make(&request, other, &n) == OUTCOME_OK);
    CHECK(memcmp(one, other, n * sizeof *one) != 0);
    request.repeats = RUN_ORDER_MAX;
    CHECK(order_make(&request, one, &n) == OUTCOME_SINGULAR && n == 0);
    request.repeats = 0;
    CHECK(order_make(&request, one, &n) == OUTCOME_TOO_FEW);
    request.repeats = 1;
    request.group = 0;
    CHECK(order_make(&request, one, &n) == OUTCOME_TOO_FEW);
}

static const struct assurance usual = {0.05, 0.80};

/* Multiples of sigma for n pairs: from the pairs alone, and with 20 degrees of freedom from before. */
static void differences_are_detectable(void)
{
    static const char TABLE[] = "quantiles of R's qt, to the digits printed there";
    static const struct {
        size_t n;
        double own, pooled, tolerance;
    } rows[] = {{2, 14.1, 2.95, 0.05},
                {3, 4.38, 2.41, 0.006},
                {4, 2.94, 2.08, 0.006},
                {6, 2.02, 1.70, 0.006}};
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        double factor = 2 / (double)rows[k].n;
        struct variance_estimate own = {1, (double)rows[k].n - 1}, pooled = {1, 20};
        CHECK_NEAR(detectable_difference(own, factor, usual), rows[k].own, rows[k].tolerance,
                   TABLE);
        CHECK_NEAR(detectable_difference(pooled, factor, usual), rows[k].pooled, 0.006, TABLE);
        CHECK(detectable_pairs(own, rows[k].own * 1.01, 1, usual) == rows[k].n);
        CHECK(detectable_pairs(pooled, rows[k].pooled * 1.005, 0, usual) == rows[k].n);
    }
    const struct variance_estimate known = {4, (double)INFINITY}, none = {(double)NAN, 0};
    CHECK_NEAR(detectable_difference(known, 2, usual), (1.959963985 + 0.841621234) * sqrt(8), 1e-8,
               "normal quantiles");
    CHECK_NEAR(detectable_difference(known, 2, (struct assurance){0.05, 0.5}),
               1.959963985 * sqrt(8), 1e-8, "normal quantile");
    CHECK(isnan(detectable_difference(none, 2, usual)));
    CHECK(isnan(detectable_difference(known, 0, usual)));
    CHECK(isnan(detectable_difference(known, 2, (struct assurance){0.05, 1})));
    CHECK(isnan(detectable_difference(known, 2, (struct assurance){0, 0.8})));
    CHECK(detectable_pairs(known, 0, 0, usual) == 0 && detectable_pairs(none, 1, 0, usual) == 0);
    CHECK(detectable_pairs(known, 1e-3, 0, usual) == 0);
    size_t all = detectable_pairs(known, 2, 0, usual);
    CHECK(all == 16);                                                 /* 2 * 2.8^2 * 4 / 4 = 15.7 */
    const struct variance_estimate ten = {4 * 0.2, (double)INFINITY}, /* of 10 pairs */
        few = {4 * (1. / 2 + 1. / 7), (double)INFINITY};
    CHECK(detectable_pairs_needed(ten, 10, 10, 2, usual) == 6); /* 16 in all */
    CHECK(detectable_pairs_needed(ten, 10, 10, 20, usual) == 1);
    /* by hand: 1 / 13 + 1 / 18 = 0.132 and 1 / 14 + 1 / 19 = 0.124 about 2^2 / (4 * 2.8016^2) = 0.127 */
    CHECK(detectable_pairs_needed(few, 2, 7, 2, usual) == 12);
    CHECK(detectable_pairs_needed(ten, 10, 10, 1e-3, usual) == 0);
    CHECK(detectable_pairs_needed(none, 4, 4, 2, usual) == 0);
    CHECK(detectable_pairs_needed(ten, 0, 4, 2, usual) == 0);
    CHECK(detectable_pairs_needed(ten, 4, 4, 0, usual) == 0);
}

CU_TestInfo run_order_tests[] = {
    {"orders have their worth with and without drift", orders_have_their_worth},
    {"drift makes configurations talk to each other", drift_makes_configurations_talk},
    {"A B and A A B B are refused", blocks_are_refused},
    {"made orders are sound and the same again", made_orders_are_sound},
    {"seeds decide the order", seeds_differ},
    {"differences are detectable", differences_are_detectable},
    CU_TEST_INFO_NULL,
};

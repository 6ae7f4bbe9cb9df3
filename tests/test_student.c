/* test_student.c - quantiles of Student's t, and of the largest of several. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>
#include <stdlib.h>

#include "reduce/statistics/student.h"
#include "tests/check.h"

extern CU_TestInfo student_tests[];

static const char GUM[] = "GUM, JCGM 100:2008, table G.2, recomputed with scipy";
static const char NESTED[] = "nested Simpson's rules in R, tests/oracles/multivariate_t.R";
static const char TVPACK[] = "R mvtnorm, TVPACK (Genz 2004), tests/oracles/multivariate_t.R";
static const char QMVT[] = "R mvtnorm qmvt, tests/oracles/multivariate_t.R";
static const char DUNNETT[] = "Dunnett, New tables for multiple comparisons, 1964, from memory";

static void agrees_with_gum_table(void)
{
    static const struct {
        double degrees_of_freedom, at_6827, at_90, at_95, at_9545, at_99, at_9973;
    } rows[] = {
        {1, 1.8373372015, 6.3137515148, 12.7062047364, 13.9677301995, 63.6567411629, 235.80149796},
        {2, 1.32127737293, 2.91998558036, 4.30265272991, 4.52653668771, 9.92484320092,
         19.2067442114},
        {5, 1.11050657835, 2.01504837267, 2.57058183661, 2.6486494307, 4.03214298356,
         5.50707971302},
        {9, 1.05872766574, 1.83311293265, 2.26215716274, 2.31980589817, 3.24983554402,
         4.09425530621},
        {19, 1.02701739762, 1.72913281152, 2.09302405441, 2.14049372305, 2.86093460645,
         3.44723315019},
        {40, 1.01265722432, 1.68385101139, 2.021075383, 2.0644594709, 2.70445926743, 3.19876836271},
        {120, 1.00418406392, 1.65765089935, 1.97993040505, 2.02104767057, 2.61742114477,
         3.06371557244},
        {(double)INFINITY, 1.0000000005, 1.64485362848, 1.95996398691, 2.0000000025, 2.57582930847,
         3.0000000075},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double v = rows[i].degrees_of_freedom;
        /* the table's 68.27, 95.45 and 99.73 stand for one, two and three standard deviations */
        CHECK_RELATIVE(student_multiplier(erf(1 / sqrt(2)), v), rows[i].at_6827, 1e-8, GUM);
        CHECK_RELATIVE(student_multiplier(0.90, v), rows[i].at_90, 1e-8, GUM);
        CHECK_RELATIVE(student_multiplier(0.95, v), rows[i].at_95, 1e-8, GUM);
        CHECK_RELATIVE(student_multiplier(erf(2 / sqrt(2)), v), rows[i].at_9545, 1e-8, GUM);
        CHECK_RELATIVE(student_multiplier(0.99, v), rows[i].at_99, 1e-8, GUM);
        CHECK_RELATIVE(student_multiplier(erf(3 / sqrt(2)), v), rows[i].at_9973, 1e-8, GUM);
    }
}

static void takes_fractional_degrees(void)
{
    double between = student_multiplier(0.95, 5.42);
    CHECK(between < student_multiplier(0.95, 5) && between > student_multiplier(0.95, 6));
    CHECK_NEAR(student_multiplier(0.5, 1), 1, 1e-12, "identity: quartile of Cauchy's distribution");
}

static void refuses_what_has_no_multiplier(void)
{
    CHECK(isnan(student_multiplier(0, 5)));
    CHECK(isnan(student_multiplier(1, 5)));
    CHECK(isnan(student_multiplier(0.95, 0)));
    CHECK(isnan(student_multiplier((double)NAN, 5)));
    CHECK(isnan(student_multiplier(0.95, (double)NAN)));
}

static double equal_multiplier(double confidence, size_t n, double v, double rho)
{
    double correlation[9 * 9];
    double multiplier = 0;
    for (size_t i = 0; i < n * n; i++)
        correlation[i] = i / n == i % n ? 1 : rho;
    CHECK(simultaneous_multiplier(correlation, n, confidence, v, &multiplier) == OUTCOME_OK);
    return multiplier;
}

static void agrees_with_dunnett(void)
{
    CHECK_NEAR(equal_multiplier(0.95, 2, 5, 0.5), 3.03, 0.005, DUNNETT);
    CHECK_NEAR(equal_multiplier(0.95, 3, 10, 0.5), 2.76, 0.005, DUNNETT);
    CHECK_NEAR(equal_multiplier(0.95, 5, 20, 0.5), 2.73, 0.005, DUNNETT);
    CHECK_NEAR(equal_multiplier(0.95, 9, 60, 0.5), 2.77, 0.005, DUNNETT);
}

static void agrees_with_nested_integration(void)
{
    static const struct {
        double confidence;
        size_t n;
        double degrees_of_freedom, rho, multiplier;
    } cases[] = {
        {0.95, 2, 5, 0.5, 3.0302359466},   {0.95, 3, 10, 0.5, 2.7589969784},
        {0.95, 5, 20, 0.5, 2.7346771574},  {0.95, 9, 60, 0.5, 2.768936042},
        {0.99, 3, 10, 0.5, 3.7386784419},  {0.95, 4, 5.42, 0.3, 3.4611237382},
        {0.95, 3, 1.5, 0.2, 9.2348378962}, {0.95, 6, 8, 0.9, 2.78535298},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        CHECK_NEAR(equal_multiplier(cases[i].confidence, cases[i].n, cases[i].degrees_of_freedom,
                                    cases[i].rho),
                   cases[i].multiplier, 2e-8, NESTED);
}

/* Dunnett's layout with 4, 6 and 12 values against 8, one sign turned; and loadings without a pattern. */
static void agrees_with_unequal_loadings(void)
{
    static const double counts[] = {4, 6, 12}, loading[] = {0.9, 0.2, -0.6, 0.4, 0};
    double layout[9], any[25], multiplier = 0;

    for (size_t i = 0; i < 9; i++) {
        double product =
            sqrt(counts[i / 3] / (counts[i / 3] + 8)) * sqrt(counts[i % 3] / (counts[i % 3] + 8));
        layout[i] = i / 3 == i % 3 ? 1 : (i / 3 == 1) == (i % 3 == 1) ? product : -product;
    }
    for (size_t i = 0; i < 25; i++)
        any[i] = i / 5 == i % 5 ? 1 : loading[i / 5] * loading[i % 5];
    CHECK(simultaneous_multiplier(layout, 3, 0.95, 26, &multiplier) == OUTCOME_OK);
    CHECK_NEAR(multiplier, 2.5044298409, 2e-8, NESTED);
    CHECK(simultaneous_multiplier(any, 5, 0.99, 7.5, &multiplier) == OUTCOME_OK);
    CHECK_NEAR(multiplier, 4.5069015859, 2e-8, NESTED);
}

/* Three t's that no single factor makes. */
static void agrees_with_three_at_once(void)
{
    static const double chain[] = {1, .4, 0, .4, 1, .4, 0, .4, 1};
    static const double lone[] = {1, -.5, .3, -.5, 1, .6, .3, .6, 1};
    double multiplier = 0;

    CHECK(simultaneous_multiplier(chain, 3, 0.95, 8, &multiplier) == OUTCOME_OK);
    CHECK_NEAR(multiplier, 2.9225246516, 1e-6, TVPACK);
    CHECK(simultaneous_multiplier(lone, 3, 0.95, 4, &multiplier) == OUTCOME_OK);
    CHECK_NEAR(multiplier, 3.5821246028, 1e-4, TVPACK);
    CHECK(simultaneous_multiplier(lone, 3, 0.99, 12, &multiplier) == OUTCOME_OK);
    CHECK_NEAR(multiplier, 3.5714258453, 1e-4, TVPACK);
    CHECK_NEAR(equal_multiplier(0.95, 3, 10, 0.5), 2.7589969784, 1e-8, TVPACK);
}

/* The other program's own points scatter by 1e-4 here. */
static void agrees_with_another_program(void)
{
    static const double chain[] = {1, .4, 0, .4, 1, .4, 0, .4, 1};
    static const double mixed[] = {1, -.5, .3, .1, -.5, 1, .2, -.2, .3, .2, 1, .6, .1, -.2, .6, 1};
    double multiplier = 0;
    CHECK(simultaneous_multiplier(chain, 3, 0.95, 8, &multiplier) == OUTCOME_OK);
    CHECK_NEAR(multiplier, 2.92249309, 3e-4, QMVT);
    CHECK(simultaneous_multiplier(mixed, 4, 0.95, 6, &multiplier) == OUTCOME_OK);
    CHECK_NEAR(multiplier, 3.30484908, 4e-4, QMVT);
    CHECK(simultaneous_multiplier(mixed, 4, 0.99, 6, &multiplier) == OUTCOME_OK);
    CHECK_NEAR(multiplier, 4.76053517, 5e-4, QMVT);
    double six[36];
    for (size_t i = 0; i < 36; i++)
        six[i] = pow(-0.6, abs((int)(i / 6) - (int)(i % 6)));
    CHECK(simultaneous_multiplier(six, 6, 0.95, 11, &multiplier) == OUTCOME_OK);
    CHECK_NEAR(multiplier, 3.04695201, 3e-4, QMVT);
}

static void meets_its_limits(void)
{
    double one = 1;
    double multiplier = 0;
    CHECK(simultaneous_multiplier(&one, 1, 0.95, 7.3, &multiplier) == OUTCOME_OK);
    CHECK_NEAR(multiplier, student_multiplier(0.95, 7.3), 1e-9, "identity: one t");
    /* Known noise, independent: Sidak's (1967) product. */
    CHECK_NEAR(equal_multiplier(0.95, 5, (double)INFINITY, 0),
               student_multiplier(pow(0.95, 0.2), (double)INFINITY), 1e-6, "identity: Sidak 1967");
    /* The same t three times over. */
    CHECK_NEAR(equal_multiplier(0.95, 3, 6, 1), student_multiplier(0.95, 6), 3e-3, "identity");
    CHECK_NEAR(equal_multiplier(0.95, 3, 1e5, 0.5), equal_multiplier(0.95, 3, 1e7, 0.5), 1e-4,
               "identity: noise as good as known");
}

static void gives_the_same_bytes_again(void)
{
    double first = equal_multiplier(0.95, 4, 9, 0.3);
    CHECK(equal_multiplier(0.95, 4, 9, 0.3) == first);
}

static void refuses_what_is_not_a_correlation(void)
{
    double multiplier = 0;
    double skew[] = {1, .5, .4, 1};
    double diagonal[] = {2, .5, .5, 1};
    double large[] = {1, 1.5, 1.5, 1};
    double indefinite[] = {1, .9, -.9, .9, 1, .9, -.9, .9, 1};
    double missing[] = {1, (double)NAN, (double)NAN, 1};
    static double many[65 * 65];
    CHECK(simultaneous_multiplier(skew, 2, 0.95, 5, &multiplier) == OUTCOME_SINGULAR);
    CHECK(isnan(multiplier));
    CHECK(simultaneous_multiplier(diagonal, 2, 0.95, 5, &multiplier) == OUTCOME_SINGULAR);
    CHECK(simultaneous_multiplier(large, 2, 0.95, 5, &multiplier) == OUTCOME_SINGULAR);
    CHECK(simultaneous_multiplier(indefinite, 3, 0.95, 5, &multiplier) == OUTCOME_SINGULAR);
    CHECK(simultaneous_multiplier(missing, 2, 0.95, 5, &multiplier) == OUTCOME_NOT_FINITE);
    CHECK(simultaneous_multiplier(many, 65, 0.95, 5, &multiplier) == OUTCOME_SINGULAR);
    CHECK(simultaneous_multiplier(skew, 0, 0.95, 5, &multiplier) == OUTCOME_TOO_FEW);
    CHECK(simultaneous_multiplier(skew, 2, 0.95, 0, &multiplier) == OUTCOME_NOT_FINITE);
    CHECK(simultaneous_multiplier(skew, 2, 1, 5, &multiplier) == OUTCOME_NOT_FINITE);
}

CU_TestInfo student_tests[] = {
    {"agrees with the GUM's table of t", agrees_with_gum_table},
    {"takes degrees of freedom that are not whole", takes_fractional_degrees},
    {"gives NAN where there is no multiplier", refuses_what_has_no_multiplier},
    {"agrees with Dunnett's two-sided table", agrees_with_dunnett},
    {"agrees with nested integration for equal correlations", agrees_with_nested_integration},
    {"agrees with it for loadings that differ", agrees_with_unequal_loadings},
    {"agrees with three t's known to twelve digits", agrees_with_three_at_once},
    {"agrees with another program for any correlation", agrees_with_another_program},
    {"meets one t, independence and repetition as limits", meets_its_limits},
    {"gives the same bytes again", gives_the_same_bytes_again},
    {"refuses what is not a correlation", refuses_what_is_not_a_correlation},
    CU_TEST_INFO_NULL,
};

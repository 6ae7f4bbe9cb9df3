/* test_mixed_model.c - several sources of error by restricted likelihood, against published fits and
 * against R.
 *
 * Published: the Dyestuff yields (Davies and Goldsmith, Statistical Methods in Research and Production
 * (1972), table 6.3) and the made-up set in which batches do not matter (Box and Tiao, Bayesian
 * Inference in Statistical Analysis (1973), table 5.1.4). Both are balanced, so that the analysis of
 * variance by hand is the answer. R: tests/oracles/mixed_model.R, whose output is quoted to the digits
 * that its optimisers reach. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>

#include "reduce/statistics/mixed_model.h"
#include "tests/check.h"
#include "tests/number_table.h"

extern CU_TestInfo mixed_model_tests[];

static const char LMER[] = "R lme4, lmerTest, pbkrtest: tests/oracles/mixed_model.R";
static const char DENSE[] = "R, dense criterion: tests/oracles/mixed_model.R";

enum { YIELDS = 30, BATCHES = 6, PER_BATCH = 5, ROWS_MOST = 128 };

static const double dyestuff[YIELDS] = {1545, 1440, 1440, 1520, 1580, 1540, 1555, 1490, 1560, 1495,
                                        1595, 1550, 1605, 1510, 1560, 1445, 1440, 1595, 1465, 1545,
                                        1595, 1630, 1515, 1635, 1625, 1520, 1455, 1450, 1480, 1445};
static const double made_up[YIELDS] = {7.298,  3.846,  2.434, 9.566,  7.99,   5.22,  6.556, 0.608,
                                       11.788, -0.892, 0.11,  10.386, 13.434, 5.51,  8.166, 2.212,
                                       4.852,  7.092,  9.288, 4.98,   0.282,  9.014, 4.458, 9.446,
                                       7.198,  1.722,  4.782, 8.106,  0.758,  3.758};

/* One mean, batches at random. */
static void fit_batches(const double *yields, struct mixed_fit *fit)
{
    static double ones[YIELDS], batch[YIELDS * YIELDS];
    struct mixed_data data = {YIELDS, 1, ones, yields, 1, {batch}};

    for (size_t i = 0; i < YIELDS; i++) {
        ones[i] = 1;
        for (size_t j = 0; j < YIELDS; j++)
            batch[i * YIELDS + j] = i / PER_BATCH == j / PER_BATCH;
    }
    CU_ASSERT_FATAL(mixed_model_fit(&data, fit) == OUTCOME_OK);
}

static void analysis_of_variance(const double *yields, double *between, double *within)
{
    double mean = 0;

    *between = *within = 0;
    for (size_t i = 0; i < YIELDS; i++)
        mean += yields[i] / YIELDS;
    for (size_t b = 0; b < BATCHES; b++) {
        double own = 0;
        for (size_t i = 0; i < PER_BATCH; i++)
            own += yields[b * PER_BATCH + i] / PER_BATCH;
        *between += PER_BATCH * (own - mean) * (own - mean) / (BATCHES - 1);
        for (size_t i = 0; i < PER_BATCH; i++)
            *within += pow(yields[b * PER_BATCH + i] - own, 2) / (YIELDS - BATCHES);
    }
}

static void dyestuff_is_the_analysis_of_variance(void)
{
    const double one = 1;
    struct mixed_fit fit;
    double between = 0, within = 0;

    fit_batches(dyestuff, &fit);
    analysis_of_variance(dyestuff, &between, &within);
    CHECK_NEAR(within, 2451.25, 1e-9, "Davies and Goldsmith (1972): variance within batches");
    CHECK_RELATIVE(fit.residual_variance, within, 1e-8, "identity: balanced");
    CHECK_RELATIVE(fit.variance[0], (between - within) / PER_BATCH, 1e-7, "identity: balanced");
    CHECK_NEAR(fit.criterion, 319.654276842, 1e-8, LMER);
    struct mixed_estimate mean = mixed_contrast(&fit, &one);
    CHECK_NEAR(mean.value, 1527.5, 1e-9, "identity: the mean");
    CHECK_RELATIVE(mean.standard_error, sqrt(between / YIELDS), 1e-8, "identity: balanced");
    CHECK_NEAR(mean.degrees_of_freedom, BATCHES - 1, 1e-6, "identity: balanced");
    mixed_fit_free(&fit);
}

/* The variance between batches stays on its bound, and still counts in the degrees of freedom. */
static void a_variance_stops_at_nothing(void)
{
    const double one = 1;
    struct mixed_fit fit;

    fit_batches(made_up, &fit);
    CHECK_NEAR(fit.variance[0], 0, 0, "Box and Tiao (1973): smaller between batches than within");
    CHECK_NEAR(fit.residual_variance, 13.8063096276, 1e-9, LMER);
    CHECK_NEAR(fit.criterion, 161.828277812, 1e-8, LMER);
    struct mixed_estimate mean = mixed_contrast(&fit, &one);
    CHECK_NEAR(mean.value, 5.6656, 1e-12, "identity: the mean");
    CHECK_NEAR(mean.plain_error, 0.678388031233, 1e-11, LMER);
    CHECK_NEAR(mean.standard_error, 0.678388031233, 1e-11, LMER);
    CHECK_NEAR(mean.degrees_of_freedom, BATCHES - 1, 1e-9, LMER);
    mixed_fit_free(&fit);
}

/* Columns of the invented nights as the oracle builds them: 1, configurations 1 .. 3, attitudes 1 .. 3
 * when the table has them, time from -1 to 1 and its square. Values in thousandths. */
struct night {
    size_t n, p;
    double x[ROWS_MOST * 9], y[ROWS_MOST];
    double walk[ROWS_MOST * ROWS_MOST], refit[ROWS_MOST * ROWS_MOST];
};

static void read_night(const char *path, int has_attitudes, struct night *night)
{
    struct number_table table;
    size_t time_at = has_attitudes ? 3 : 1;

    CU_ASSERT_FATAL(number_table_read(path, &table) && table.rows <= ROWS_MOST);
    double span = table.cell[(table.rows - 1) * table.columns + time_at];
    night->n = table.rows;
    night->p = has_attitudes ? 9 : 6;
    for (size_t i = 0; i < night->n; i++) {
        const double *cell = table.cell + i * table.columns;
        double *row = night->x + i * night->p;
        double t = 2 * cell[time_at] / span - 1;
        row[0] = 1;
        for (size_t c = 1; c <= 3; c++) {
            row[c] = cell[0] == (double)c;
            if (has_attitudes)
                row[3 + c] = cell[1] == (double)c;
        }
        row[night->p - 2] = t;
        row[night->p - 1] = t * t;
        night->y[i] = 1000 * cell[table.columns - 1];
        for (size_t j = 0; j < night->n; j++) {
            const double *other = table.cell + j * table.columns;
            night->walk[i * night->n + j] = fmin(cell[time_at], other[time_at]) / span;
            night->refit[i * night->n + j] = has_attitudes && cell[2] == other[2];
        }
    }
    number_table_free(&table);
}

struct expected {
    double value, plain_error, freedom, error;
};

static void check_deltas(const struct mixed_fit *fit, const struct expected *want, double tolerance,
                         const char *source)
{
    for (size_t c = 1; c <= 3; c++) {
        double weights[9] = {0};
        weights[c] = 1;
        struct mixed_estimate got = mixed_contrast(fit, weights);
        CHECK_RELATIVE(got.value, want[c - 1].value, tolerance, source);
        CHECK_RELATIVE(got.plain_error, want[c - 1].plain_error, tolerance, source);
        CHECK_RELATIVE(got.standard_error, want[c - 1].error, tolerance, source);
        CHECK_RELATIVE(got.degrees_of_freedom, want[c - 1].freedom, tolerance, source);
    }
}

static struct night night;

/* lmer stops where the criterion no longer falls, which leaves the ratio at about 1e-7. */
static void refits_agree_with_lmer(void)
{
    static const struct expected want[] = {
        {3.161268901980, 1.711261682344, 12.5638896228, 1.711562128693},
        {-3.027253537230, 1.706815194522, 12.5669807693, 1.707151313509},
        {-0.856678103836, 1.709798788712, 12.5594880855, 1.710045449522}};
    struct mixed_fit fit;

    read_night("tests/oracles/mixed_nights/refits.csv", 1, &night);
    struct mixed_data data = {night.n, night.p, night.x, night.y, 1, {night.refit}};
    CU_ASSERT_FATAL(mixed_model_fit(&data, &fit) == OUTCOME_OK);
    CHECK_RELATIVE(fit.variance[0], 7.15948809285, 1e-6, LMER);
    CHECK_RELATIVE(fit.residual_variance, 0.388591791284, 1e-6, LMER);
    CHECK_NEAR(fit.criterion, -718.302656379 + 2 * (double)(night.n - night.p) * log(1000), 1e-7,
               LMER);
    check_deltas(&fit, want, 1e-6, LMER);
    mixed_fit_free(&fit);
}

static void a_walk_agrees_with_a_dense_fit(void)
{
    static const struct expected want[] = {
        {3.676773581841, 0.521711829573, 10.527010521273, 0.539018187208},
        {-2.486188026723, 0.504414486322, 9.191329187481, 0.527711560827},
        {0.523145656433, 0.502111069680, 9.044188604320, 0.519130183554}};
    struct mixed_fit fit;

    read_night("tests/oracles/mixed_nights/walk.csv", 0, &night);
    struct mixed_data data = {night.n, night.p, night.x, night.y, 1, {night.walk}};
    CU_ASSERT_FATAL(mixed_model_fit(&data, &fit) == OUTCOME_OK);
    CHECK_RELATIVE(fit.variance[0], 17.288549314044, 1e-6, DENSE);
    CHECK_RELATIVE(fit.residual_variance, 0.275854309643, 1e-6, DENSE);
    CHECK_NEAR(fit.variance[0], 17.28854759623, 1e-4, "R nlme, which stops earlier");
    CHECK_NEAR(fit.criterion, 45.120252286807, 1e-8, DENSE);
    check_deltas(&fit, want, 1e-6, DENSE);
    double correlation =
        fit.covariance[1 * 6 + 2] / sqrt(fit.covariance[1 * 6 + 1] * fit.covariance[2 * 6 + 2]);
    CHECK_NEAR(correlation, 0.350804028769, 1e-7, DENSE);
    mixed_fit_free(&fit);
}

static void walk_and_refits_agree_with_a_dense_fit(void)
{
    static const struct expected want[] = {
        {3.39259206389, 1.11197775511, 10.43604646765, 1.128638474786},
        {-3.21449308488, 1.08045245703, 9.43063787190, 1.101147406241},
        {-1.34137426685, 1.07695216464, 9.20876825064, 1.094616793552}};
    struct mixed_fit fit;

    read_night("tests/oracles/mixed_nights/refits.csv", 1, &night);
    struct mixed_data data = {night.n, night.p, night.x, night.y, 2, {night.walk, night.refit}};
    CU_ASSERT_FATAL(mixed_model_fit(&data, &fit) == OUTCOME_OK);
    CHECK_RELATIVE(fit.variance[0], 66.379634470609, 1e-6, DENSE);
    CHECK_RELATIVE(fit.variance[1], 1.667187614602, 1e-6, DENSE);
    CHECK_RELATIVE(fit.residual_variance, 0.227230859907, 1e-6, DENSE);
    CHECK_NEAR(fit.criterion, 199.873523746648, 1e-8, DENSE);
    check_deltas(&fit, want, 1e-6, DENSE);
    mixed_fit_free(&fit);
}

/* Without random parts it is least squares: GUM H.3, the calibration line of a thermometer. */
static void alone_it_is_least_squares(void)
{
    static const double degrees[] = {21.521, 22.012, 22.512, 23.003, 23.507, 23.999,
                                     24.513, 25.002, 25.503, 26.010, 26.511};
    static const double corrections[] = {-.171, -.169, -.166, -.159, -.164, -.165,
                                         -.156, -.157, -.159, -.161, -.160};
    static const char GUM[] = "GUM (JCGM 100:2008), H.3.3 to H.3.5";
    const double at_20[] = {1, 0}, slope[] = {0, 1}, at_30[] = {1, 10};
    double x[22];
    struct mixed_data data = {11, 2, x, corrections, 0, {NULL}};
    struct mixed_fit fit;

    for (size_t i = 0; i < 11; i++) {
        x[2 * i] = 1;
        x[2 * i + 1] = degrees[i] - 20;
    }
    CU_ASSERT_FATAL(mixed_model_fit(&data, &fit) == OUTCOME_OK);
    CHECK_NEAR(mixed_contrast(&fit, at_20).value, -0.1712, 5e-5, GUM);
    CHECK_NEAR(mixed_contrast(&fit, at_20).standard_error, 0.0029, 5e-5, GUM);
    CHECK_NEAR(mixed_contrast(&fit, slope).value, 0.00218, 5e-6, GUM);
    CHECK_NEAR(mixed_contrast(&fit, slope).standard_error, 0.00067, 5e-6, GUM);
    CHECK_NEAR(sqrt(fit.residual_variance), 0.0035, 5e-5, GUM);
    double r = fit.covariance[1] / sqrt(fit.covariance[0] * fit.covariance[3]);
    CHECK_NEAR(r, -0.930, 5e-4, GUM);
    struct mixed_estimate correction = mixed_contrast(&fit, at_30);
    CHECK_NEAR(correction.value, -0.1494, 5e-5, GUM);
    CHECK_NEAR(correction.standard_error, 0.0041, 5e-5, GUM);
    CHECK_NEAR(correction.degrees_of_freedom, 9, 1e-9, GUM);
    /* what the printed answer excludes: the same with the correlation ignored */
    CHECK(fabs(hypot(sqrt(fit.covariance[0]), 10 * sqrt(fit.covariance[3])) - 0.0041) > 5e-5);
    mixed_fit_free(&fit);
}

/* A path of steps that keep their sign is smoother than any walk with noise on it: the noise goes to 0. Of a
 * walk alone only the first and the last place tell the slope, (y_n - y_1) / (n - 1). */
static void fill_walk(double *walk, size_t n)
{
    for (size_t i = 0; i < n * n; i++)
        walk[i] = (double)(i / n < i % n ? i / n : i % n);
}

static void all_of_it_is_the_walk(void)
{
    enum { PLACES = 13 };
    static const double step[PLACES] = {0, 1, 1.1, 0.9, -1, -1.2, -1, 1.1, 1, 1.2, -1, -0.9, 1};
    const double slope[] = {0, 1};
    double x[2 * PLACES], y[PLACES], walk[PLACES * PLACES];
    struct mixed_data data = {PLACES, 2, x, y, 1, {walk}};
    struct mixed_fit fit;

    for (size_t i = 0; i < PLACES; i++) {
        x[2 * i] = 1;
        x[2 * i + 1] = (double)i;
        y[i] = (i > 0 ? y[i - 1] : 7) + step[i];
    }
    fill_walk(walk, PLACES);
    CU_ASSERT_FATAL(mixed_model_fit(&data, &fit) == OUTCOME_OK);
    CHECK(fit.residual_variance < 1e-4 * fit.variance[0]);
    struct mixed_estimate found = mixed_contrast(&fit, slope);
    double mean = (y[PLACES - 1] - y[0]) / (PLACES - 1), squares = 0;
    for (size_t i = 1; i < PLACES; i++)
        squares += (step[i] - mean) * (step[i] - mean);
    CHECK_NEAR(found.value, mean, 1e-4, "identity: a walk's slope");
    CHECK_NEAR(found.plain_error, sqrt(squares / (PLACES - 2) / (PLACES - 1)), 1e-3,
               "identity: standard error of the mean step");
    CHECK(found.degrees_of_freedom > 1 && found.degrees_of_freedom <= PLACES - 2 + 1e-6);
    mixed_fit_free(&fit);
}

static void refuses_by_name(void)
{
    double x[] = {1, 0, 1, 1, 1, 2, 1, 3, 1, 4, 1, 5}, y[] = {1, 3, 2, 5, 4, 7};
    double pattern[36];
    struct mixed_data data = {6, 2, x, y, 1, {pattern}};
    struct mixed_fit fit;

    for (size_t i = 0; i < 36; i++)
        pattern[i] = i / 6 == i % 6; /* the residual's own: it cannot be told from it */
    CHECK(mixed_model_fit(&data, &fit) == OUTCOME_SINGULAR);
    CHECK(fit.coefficient == NULL);
    for (size_t i = 0; i < 36; i++)
        /* cppcheck-suppress unreadVariable; read through a pointer */
        pattern[i] = i / 12 == i % 6 / 2;
    data.n = 3;
    CHECK(mixed_model_fit(&data, &fit) == OUTCOME_TOO_FEW);
    data.n = 6;
    data.p = 0;
    CHECK(mixed_model_fit(&data, &fit) == OUTCOME_SINGULAR);
    data.p = 2;
    data.n = MIXED_ROWS_MAX + 1;
    CHECK(mixed_model_fit(&data, &fit) == OUTCOME_SINGULAR);
    data.n = 6;
    data.components = MIXED_COMPONENTS_MAX + 1;
    CHECK(mixed_model_fit(&data, &fit) == OUTCOME_SINGULAR);
    data.components = 1;
    CHECK(mixed_model_fit(&data, &fit) == OUTCOME_OK);
    mixed_fit_free(&fit);
    const double odd[36] = {1, 2, (double)NAN};
    data.y = odd;
    CHECK(mixed_model_fit(&data, &fit) == OUTCOME_NOT_FINITE);
    data.y = y;
    data.covariance[0] = odd;
    CHECK(mixed_model_fit(&data, &fit) == OUTCOME_NOT_FINITE);
    data.components = 0;
    for (size_t i = 0; i < 6; i++)
        y[i] = 3 - 0.25 * (double)i; /* nothing scatters */
    CHECK(mixed_model_fit(&data, &fit) == OUTCOME_SINGULAR);
    /* cppcheck-suppress unreadVariable; read through a pointer */
    y[3] = 9;
    for (size_t i = 0; i < 6; i++)
        /* cppcheck-suppress unreadVariable; read through a pointer */
        x[2 * i + 1] = 2; /* depends on the ones */
    CHECK(mixed_model_fit(&data, &fit) == OUTCOME_SINGULAR);
    mixed_fit_free(&fit);
}

CU_TestInfo mixed_model_tests[] = {
    {"balanced batches give the analysis of variance", dyestuff_is_the_analysis_of_variance},
    {"a variance does not fall below 0", a_variance_stops_at_nothing},
    {"refits agree with lme4", refits_agree_with_lmer},
    {"a walk agrees with a dense fit", a_walk_agrees_with_a_dense_fit},
    {"walk and refits together", walk_and_refits_agree_with_a_dense_fit},
    {"without random parts it is least squares", alone_it_is_least_squares},
    {"all of it is the walk", all_of_it_is_the_walk},
    {"refuses by name", refuses_by_name},
    CU_TEST_INFO_NULL,
};

/* test_tunnel_factor.c - image sums and body factors of solid blockage. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/constants.h"
#include "reduce/physics/spheroid.h"
#include "reduce/physics/tunnel_factor.h"
#include "tests/check.h"

/* B/H, tau closed, tau open */
static const double tau[][3] = {
    {0.5, 1.028363186, -0.4610858115},  {0.6, 0.9221985176, -0.3574177509},
    {0.7, 0.8632087984, -0.2957310248}, {0.75, 0.8445646615, -0.2753752574},
    {0.8, 0.8310536625, -0.2603096826}, {0.9, 0.8155420488, -0.2426484284},
    {1.0, 0.8111610602, -0.2375835739}, {1.1, 0.8147438023, -0.2417282008},
    {1.2, 0.8243722259, -0.2527525409}, {1.3, 0.8388246076, -0.2690088843},
    {1.4, 0.8572835394, -0.2893130481}, {1.4286, 0.8632148598, -0.2957375668},
    {1.5, 0.8791757588, -0.3128056921}, {1.55, 0.8912737787, -0.3255444094},
    {1.6, 0.9040814235, -0.3388591206}, {1.75, 0.9464106721, -0.3817665318},
    {2.0, 1.028363186, -0.4610858115},  {2.25, 1.122454859, -0.5478584182},
    {2.5, 1.226983101, -0.640635413},   {3.0, 1.462822813, -0.8414191636},
    {4.0, 2.022400494, -1.295249366},
};

static void tunnel_factors_of_many_sections(void)
{
    for (size_t i = 0; i < sizeof tau / sizeof *tau; i++) {
        CHECK_RELATIVE(tunnel_factor_closed(tau[i][0]), tau[i][1], 1e-9, "exact lattice sums");
        CHECK_RELATIVE(tunnel_factor_open(tau[i][0]), tau[i][2], 1e-9, "exact lattice sums");
    }
}

static void published_tunnel_factors(void)
{
    CHECK_NEAR(tunnel_factor_closed(10.0 / 7.0), 0.863, 5e-4,
               "Herriot, NACA Report 995, 7 x 10 ft");
    CHECK_NEAR(tunnel_factor_closed(1.0), 0.811, 5e-4, "Glauert, ARC R&M 1566, T of the square");
    CHECK_NEAR(tunnel_factor_open(1.0), -0.238, 5e-4,
               "Glauert, ARC R&M 1566, T of the open square");
    CHECK_NEAR(tunnel_factor_closed(1.0) * 2 * PI * sqrt(PI), 9.03362168310, 1e-10,
               "4 zeta(3/2) beta(3/2), Lorenz 1871");
}

/* The sum as it is defined, added term by term over a large square, with the rest as an integral. */
static double plain_sum(double aspect, int last)
{
    double sum = 0.0;
    for (int m = -last; m <= last; m++)
        for (int n = -last; n <= last; n++)
            if (m != 0 || n != 0)
                sum += pow(aspect * m * m + n * n / aspect, -1.5);
    return sum;
}

static void the_sum_as_it_is_defined(void)
{
    for (int i = 0; i < 4; i++) {
        double aspect = 0.6 + 0.35 * i;
        /* the rest falls like 1/last: two sizes extrapolate to none */
        double small = plain_sum(aspect, 150), large = plain_sum(aspect, 300);
        double sum = large + (large - small) * (150.5 / (300.5 - 150.5));
        CHECK_RELATIVE(tunnel_factor_closed(aspect), sum / (2 * PI * sqrt(PI)), 1e-6,
                       "the definition, added term by term");
    }
}

static void a_section_on_its_side_is_the_same(void)
{
    for (int i = 0; i < 17; i++) {
        double aspect = pow(1.31, i) * 0.1001;
        CHECK_RELATIVE(tunnel_factor_closed(aspect), tunnel_factor_closed(1.0 / aspect), 1e-13,
                       "identity");
        CHECK_RELATIVE(tunnel_factor_open(aspect), tunnel_factor_open(1.0 / aspect), 1e-12,
                       "identity");
    }
}

/* length/diameter, k1, K */
static const double spheroids[][3] = {
    {1.0, 0.5, 1.32934038818},
    {1.5, 0.303749447571, 1.15541786448},
    {2.0, 0.210015048977, 1.07234791661},
    {2.5, 0.156264938009, 1.02471312102},
    {3.0, 0.121968607082, 0.994318789108},
    {4.0, 0.0815572500879, 0.958505156447},
    {5.0, 0.0591211708978, 0.938621698967},
    {6.0, 0.0451828934711, 0.926269222217},
    {7.0, 0.0358492533456, 0.917997499025},
    {8.0, 0.0292527747407, 0.912151522072},
    {10.0, 0.0207059180772, 0.904577067569},
    {15.0, 0.0108652920755, 0.895856039843},
};

static void spheroids_of_many_lengths(void)
{
    for (size_t i = 0; i < sizeof spheroids / sizeof *spheroids; i++) {
        const double *row = spheroids[i];
        CHECK_NEAR(spheroid_added_mass(row[0]), row[1], 1e-12, "Lamb, Hydrodynamics, 1932");
        CHECK_RELATIVE(spheroid_body_factor(row[0]), row[2], 1e-11, "Lamb, Hydrodynamics, 1932");
    }
    CHECK_NEAR(spheroid_body_factor(4.0), 0.96, 5e-3, "Thom's value for bodies of revolution");
    /* where the series hands over to the closed form */
    CHECK_NEAR(spheroid_added_mass(sqrt(1.0 / 0.9000001)) -
                   spheroid_added_mass(sqrt(1.0 / 0.8999999)),
               0.0, 1e-7, "continuity");
}

static void outside_there_is_no_number(void)
{
    CHECK(isnan(tunnel_factor_closed(0.09)) && isnan(tunnel_factor_open(10.1)));
    CHECK(isnan(tunnel_factor_closed(NAN)) && isnan(tunnel_factor_open(NAN)));
    CHECK(isnan(spheroid_added_mass(0.99)) && isnan(spheroid_body_factor(NAN)));
    CHECK(isnan(spheroid_body_factor(INFINITY)));
}

CU_TestInfo tunnel_factor_tests[] = {
    {"tunnel factors of 21 sections", tunnel_factors_of_many_sections},
    {"published tunnel factors", published_tunnel_factors},
    {"the fast sum equals the sum as it is defined", the_sum_as_it_is_defined},
    {"a section on its side has the same factor", a_section_on_its_side_is_the_same},
    {"body factors of spheroids", spheroids_of_many_lengths},
    {"no factor outside 0.1 to 10, none for a body wider than long", outside_there_is_no_number},
    CU_TEST_INFO_NULL};

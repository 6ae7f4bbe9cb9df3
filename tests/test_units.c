/* test_units.c - schema/units.c and the alias table. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "schema/units.h"
#include "schema/units_alias.h"
#include "tests/check.h"

static const char sp811[] = "NIST SP 811 (2008), appendix B";
static const char si_brochure[] = "BIPM, SI brochure, 9th edition (2019)";
static const char share[] = "identity";

static const struct {
    const char *text;
    const char *si_unit;
    double factor;
    double offset;
    const char *source;
} spellings[] = {
    {"mph", "m/s", 0.44704, 0, sp811},
    {"MPH", "m/s", 0.44704, 0, sp811},
    {"mi/h", "m/s", 0.44704, 0, sp811},
    {"kph", "m/s", 1 / 3.6, 0, si_brochure},
    {"KPH", "m/s", 1 / 3.6, 0, si_brochure},
    {"kmh", "m/s", 1 / 3.6, 0, si_brochure},
    {"kmph", "m/s", 1 / 3.6, 0, si_brochure},
    {"Km/h", "m/s", 1 / 3.6, 0, si_brochure},
    {"KM/H", "m/s", 1 / 3.6, 0, si_brochure},
    {"km/h", "m/s", 1 / 3.6, 0, si_brochure},
    {"fps", "m/s", 0.3048, 0, sp811},
    {"kn", "m/s", 1852.0 / 3600, 0, sp811},
    {"m.s-1", "m/s", 1, 0, share},
    {"mph/s", "m/s2", 0.44704, 0, sp811}, /* aliases hold inside a longer unit */

    {"deg", "rad", 0.017453292519943295, 0, si_brochure},
    {"Deg", "rad", 0.017453292519943295, 0, si_brochure},
    {"DEG", "rad", 0.017453292519943295, 0, si_brochure},
    {"deg.", "rad", 0.017453292519943295, 0, si_brochure},
    {"degr", "rad", 0.017453292519943295, 0, si_brochure},
    {"degr.", "rad", 0.017453292519943295, 0, si_brochure},
    {"degrees", "rad", 0.017453292519943295, 0, si_brochure},
    {"\xc2\xb0", "rad", 0.017453292519943295, 0, si_brochure},
    {"\xb0", "rad", 0.017453292519943295, 0, si_brochure},
    {"mrad", "rad", 1e-3, 0, si_brochure},
    {"deg/s", "rad/s", 0.017453292519943295, 0, si_brochure},

    {"degC", "K", 1, 273.15, si_brochure},
    {"degr._C", "K", 1, 273.15, si_brochure},
    {"degr. C", "K", 1, 273.15, si_brochure},
    {"deg C", "K", 1, 273.15, si_brochure},
    {"deg. C", "K", 1, 273.15, si_brochure},
    {"deg.C", "K", 1, 273.15, si_brochure},
    {"degrees C", "K", 1, 273.15, si_brochure},
    {"Celsius", "K", 1, 273.15, si_brochure},
    {"\xc2\xb0"
     "C",
     "K", 1, 273.15, si_brochure},
    {"\xc2\xba"
     "C",
     "K", 1, 273.15, si_brochure},
    {"\xb0"
     "C",
     "K", 1, 273.15, si_brochure},
    {"degF", "K", 5.0 / 9, 459.67 * 5 / 9, sp811},
    {"degr._F", "K", 5.0 / 9, 459.67 * 5 / 9, sp811},
    {"deg F", "K", 5.0 / 9, 459.67 * 5 / 9, sp811},
    {"degrees F", "K", 5.0 / 9, 459.67 * 5 / 9, sp811},
    {"Fahrenheit", "K", 5.0 / 9, 459.67 * 5 / 9, sp811},
    {"\xb0"
     "F",
     "K", 5.0 / 9, 459.67 * 5 / 9, sp811},
    {"K", "K", 1, 0, share},

    {"inH2O", "Pa", 249.08891, 0, sp811},
    {"inH20", "Pa", 249.08891, 0, sp811},
    {"in H2O", "Pa", 249.08891, 0, sp811},
    {"inWC", "Pa", 249.08891, 0, sp811},
    {"inWG", "Pa", 249.08891, 0, sp811},
    {"mmH2O", "Pa", 9.80665, 0, sp811},
    {"mmH20", "Pa", 9.80665, 0, sp811},
    {"mm H2O", "Pa", 9.80665, 0, sp811},
    {"mmWC", "Pa", 9.80665, 0, sp811},
    {"mmWG", "Pa", 9.80665, 0, sp811},
    {"mmWS", "Pa", 9.80665, 0, sp811},
    {"psf", "Pa", 47.88025898, 0, sp811},
    {"psi", "Pa", 6894.757293, 0, sp811},
    {"psia", "Pa", 6894.757293, 0, sp811},
    {"psid", "Pa", 6894.757293, 0, sp811},
    {"psig", "Pa", 6894.757293, 0, sp811},
    {"PSI", "Pa", 6894.757293, 0, sp811},
    {"mbar", "Pa", 100, 0, si_brochure},
    {"mBar", "Pa", 100, 0, si_brochure},
    {"MBAR", "Pa", 100, 0, si_brochure},
    {"hPa", "Pa", 100, 0, si_brochure},
    {"kPa", "Pa", 1000, 0, si_brochure},

    {"kgf", "N", 9.80665, 0, sp811},
    {"kp", "N", 9.80665, 0, sp811},
    {"lbf", "N", 4.4482216152605, 0, sp811},
    {"lbs", "N", 4.4482216152605, 0, sp811},
    {"Nm", "N m", 1, 0, share},
    {"N.m", "N m", 1, 0, share},
    {"N m", "N m", 1, 0, share},
    {"N*m", "N m", 1, 0, share},
    {"N-m", "N m", 1, 0, share},
    {"kNm", "N m", 1000, 0, si_brochure},
    {"Nmm", "N m", 1e-3, 0, si_brochure},
    {"kgfm", "N m", 9.80665, 0, sp811},
    {"kgf.m", "N m", 9.80665, 0, sp811},
    {"ft lbf", "N m", 1.355817948, 0, sp811},
    {"ft-lb", "N m", 1.355817948, 0, sp811},
    {"ft-lbf", "N m", 1.355817948, 0, sp811},
    {"lb-ft", "N m", 1.355817948, 0, sp811},
    {"lbft", "N m", 1.355817948, 0, sp811},
    {"in-lb", "N m", 0.1129848290, 0, sp811},
    {"in-lbf", "N m", 0.1129848290, 0, sp811},

    {"%", "1", 0.01, 0, share},
    {"pct", "1", 0.01, 0, share},
    {"%RH", "1", 0.01, 0, share},
    {"% RH", "1", 0.01, 0, share},
    {"%rh", "1", 0.01, 0, share},
    {"%", "%", 1, 0, share},
    {"/", "1", 1, 0, share},
    {"-", "1", 1, 0, share},
    {"--", "1", 1, 0, share},
    {"none", "1", 1, 0, share},
    {"1", "1", 1, 0, share},
    {"count", "1", 1, 0, share},
    {"counts", "1", 1, 0, share},
    {"cts", "1", 1, 0, share},
    {"step", "1", 1, 0, share},
    {"steps", "1", 1, 0, share},
    {"lsb", "1", 1, 0, share},
    {"LSB", "1", 1, 0, share},
    {"digit", "1", 1, 0, share},
    {"digits", "1", 1, 0, share},
    {"mV/V", "1", 1e-3, 0, share},

    {"m2", "m2", 1, 0, share},
    {"m^2", "m2", 1, 0, share},
    {"m\xc2\xb2", "m2", 1, 0, share},
    {"mm", "m", 1e-3, 0, si_brochure},
    {" mm ", "m", 1e-3, 0, si_brochure},
    {"in", "m", 0.0254, 0, sp811},
    {"1/m", "1/m", 1, 0, share},
    {"1/mm", "1/m", 1000, 0, share},
    {"ms", "s", 1e-3, 0, si_brochure},
    {"kHz", "Hz", 1000, 0, si_brochure},
    {"rpm", "rad/s", 0.10471975511965977, 0, sp811},
    {"RPM", "rad/s", 0.10471975511965977, 0, sp811},
    {"rev/min", "rad/s", 0.10471975511965977, 0, sp811},
    {"r/min", "rad/s", 0.10471975511965977, 0, sp811},
};

static struct units *opened(void)
{
    struct units *units = NULL;
    struct fault fault;
    CHECK_OK(units_open(&units, &fault), &fault);
    return units;
}

static void every_spelling_converts(void)
{
    struct units *units = opened();
    for (size_t i = 0; i < sizeof spellings / sizeof spellings[0]; i++) {
        struct unit_conversion got = {0, 0};
        struct fault fault;
        CHECK_OK(units_conversion(units, spellings[i].text, spellings[i].si_unit, &got, &fault),
                 &fault);
        CHECK_RELATIVE(got.factor, spellings[i].factor, 5e-10, spellings[i].source);
        CHECK_NEAR(got.offset, spellings[i].offset, 1e-12, spellings[i].source);
    }
    units_close(units);
}

static void every_alias_is_in_this_test(void)
{
    size_t n = 0;
    const struct unit_alias *aliases = unit_aliases(&n);
    for (size_t k = 0; k < n; k++) {
        int found = 0;
        for (size_t i = 0; i < sizeof spellings / sizeof spellings[0]; i++)
            found = found || strcmp(spellings[i].text, aliases[k].spelling) == 0;
        if (!found)
            CHECK_TEXT(aliases[k].spelling, "a row of the test's table");
    }
    CHECK(n > 60);
}

static void celsius_keeps_its_factor_exact(void)
{
    struct units *units = opened();
    struct unit_conversion got = {0, 0};
    struct fault fault;
    CHECK_OK(units_conversion(units, "degC", "K", &got, &fault), &fault);
    CHECK_NEAR(got.factor, 1.0, 0, si_brochure);
    CHECK_NEAR(got.offset, 273.15, 0, si_brochure);
    units_close(units);
}

static void other_kinds_are_refused(void)
{
    static const struct {
        const char *text;
        const char *si_unit;
        const char *says;
    } cases[] = {
        {"ph", "m/s", "another kind"}, /* phot, which milli-phot is made of */
        {"mph", "Pa", "another kind"},
        {"mph", "lux", "another kind"}, /* not a milli-phot any more */
        {"kph", "lux", "another kind"},
        {"mm", "Pa", "another kind"},
        {"%", "rad", "another kind"},
        {"1/min", "s", "another kind"}, /* UDUNITS-2 would turn it round */
        {"Hz", "s", "another kind"},
        {"s", "Hz", "another kind"},
        {"m", "1/m", "another kind"},
        {"1/Pa", "Pa", "another kind"},
        {"count", "rad", "another kind"},
        {"deg", "1", "another kind"},
        {"C", "K", "another kind"}, /* coulomb */
        {"N", "N m", "another kind"},
        {"lb", "N", "another kind"}, /* mass */
        {"smoots per blink", "m/s", "not known"},
        {"2 m", "m", "not known"},
        {"mm 2", "m", "not known"},
        {"K - 273", "K", "not known"},
        {"K @ 273.15", "K", "not known"},
        {"", "m", "no unit"},
        {"  ", "m", "no unit"},
        {"m(", "m", "not known"},
        {"an unbelievably long text that nobody could mean as a unit of anything", "m", "at most"},
    };
    struct units *units = opened();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct unit_conversion got = {0, 0};
        struct fault fault = {0};
        CHECK(units_conversion(units, cases[i].text, cases[i].si_unit, &got, &fault) == BAD_INPUT);
        CHECK_CONTAINS(fault.text, cases[i].says);
    }
    units_close(units);
}

static void quantities_are_a_number_and_a_unit(void)
{
    static const struct {
        const char *text;
        const char *si_unit;
        double value;
    } good[] = {
        {"2.85 m", "m", 2.85},
        {"45 %", "%", 45},
        {"-0.0012 1/m", "1/m", -0.0012},
        {"0.2%", "1", 0.002},
        {"0.5", "1", 0.5},
        {"1e3 mm", "m", 1},
        {"20 degC", "K", 293.15},
        {"10mm", "m", 0.01},
        {"4.62743e-5 1/Pa", "1/Pa", 4.62743e-5},
        {"  0.51549 Pa", "Pa", 0.51549},
        {"7 -", "1", 7},
        {"800 N m", "N m", 800},
    };
    struct units *units = opened();
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++) {
        double got = (double)NAN;
        struct fault fault;
        CHECK_OK(units_quantity(units, good[i].text, good[i].si_unit, &got, &fault), &fault);
        CHECK_NEAR(got, good[i].value, 1e-13 * fabs(good[i].value), "identity");
    }
    units_close(units);
}

static void what_is_no_quantity_is_refused(void)
{
    static const struct {
        const char *text;
        const char *si_unit;
        const char *says;
    } bad[] = {
        {"2.85", "m", "has no unit"},   {"2,85 m", "m", "not a number"},
        {"1 2 m", "m", "not known"},    {"", "m", "not a number"},
        {"m", "m", "not a number"},     {"0x10 m", "m", "not known"},
        {"nan m", "m", "not a number"}, {"2.85 kg", "m", "another kind"},
        {"1e400 m", "m", "too large"},  {"1e308 km", "m", "too large"},
        {"2.85 m extra", "m", "unit"},  {"3 m 4", "m", "not known"},
        {"1e m", "m", "not a number"},
    };
    struct units *units = opened();
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        double got = -77;
        struct fault fault = {0};
        CHECK(units_quantity(units, bad[i].text, bad[i].si_unit, &got, &fault) == BAD_INPUT);
        CHECK_CONTAINS(fault.text, bad[i].says);
        CHECK_NEAR(got, -77, 0, "a refused text leaves the value alone");
    }
    units_close(units);
    units_close(NULL);
}

static void a_near_spelling_is_hinted_at(void)
{
    static const struct {
        const char *unit, *si_unit, *hint;
    } cases[] = {{"F", "K", "F is farad; degF is Fahrenheit"},
                 {"C", "K", "C is coulomb; degC is Celsius"},
                 {"lb", "N", "lb is a mass; lbf is the force"},
                 {"d", "rad", "d is day; deg is degree"}};
    struct units *units = NULL;
    struct unit_conversion conversion;
    struct fault fault;
    CHECK_OK(units_open(&units, &fault), &fault);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        CHECK(units_conversion(units, cases[i].unit, cases[i].si_unit, &conversion, &fault) ==
              BAD_INPUT);
        CHECK_CONTAINS(fault.text, cases[i].hint);
    }
    CHECK(units_conversion(units, "F", "Pa", &conversion, &fault) == BAD_INPUT);
    CHECK(strstr(fault.text, "farad") == NULL);
    units_close(units);
}

/* A column that may hold anything is kept in the SI unit of its kind, and a frequency is no time. */
static void the_kind_of_a_unit_is_not_that_of_its_reciprocal(void)
{
    static const char *const kinds[][2] = {{"1/min", "1/s"}, {"Hz", "1/s"},   {"ms", "s"},
                                           {"mm", "m"},      {"1/mm", "1/m"}, {"lbf", "N"},
                                           {"degC", "K"},    {"V/V", "1"},    {"deg", "rad"}};
    struct units *units = NULL;
    struct fault fault = {.status = OK};
    CHECK_OK(units_open(&units, &fault), &fault);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        const char *kind = "";
        CHECK_OK(units_kind(units, kinds[i][0], &kind, &fault), &fault);
        CHECK_TEXT(kind, kinds[i][1]);
    }
    units_close(units);
}

CU_TestInfo units_tests[] = {
    {"a near spelling is hinted at", a_near_spelling_is_hinted_at},
    {"every spelling of the trade converts", every_spelling_converts},
    {"every alias is in this test", every_alias_is_in_this_test},
    {"celsius keeps its factor exact", celsius_keeps_its_factor_exact},
    {"units of another kind are refused", other_kinds_are_refused},
    {"quantities are a number and a unit", quantities_are_a_number_and_a_unit},
    {"what is no quantity is refused", what_is_no_quantity_is_refused},
    {"the kind of a unit is not that of its reciprocal",
     the_kind_of_a_unit_is_not_that_of_its_reciprocal},
    CU_TEST_INFO_NULL};

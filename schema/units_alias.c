/* units_alias.c - the alias table; see units_alias.h.
 *
 * Water columns are conventional ones (1000 kg/m3, 9.80665 m/s2): NIST SP 811 (2008), appendix B. */
#include "schema/units_alias.h"

#include <stddef.h>
#include <string.h>

static const struct unit_alias aliases[] = {
    /* speed; UDUNITS-2 alone reads mph as milli-phot and kph as kilo-phot, both of illuminance */
    {"mph", "0.44704 m/s"},
    {"MPH", "0.44704 m/s"},
    {"mi/h", "0.44704 m/s"},
    {"kph", "km/h"},
    {"KPH", "km/h"},
    {"kmh", "km/h"},
    {"kmph", "km/h"},
    {"Km/h", "km/h"},
    {"KM/H", "km/h"},
    {"fps", "ft/s"},
    {"kn", "knot"},

    /* angle */
    {"deg", "degree"},
    {"Deg", "degree"},
    {"DEG", "degree"},
    {"deg.", "degree"},
    {"degr", "degree"},
    {"degr.", "degree"},
    {"deg/s", "degree/s"},

    /* temperature */
    {"degr._C", "degC"},
    {"degr. C", "degC"},
    {"degr._F", "degF"},
    {"deg C", "degC"},
    {"deg. C", "degC"},
    {"deg.C", "degC"},
    {"deg F", "degF"},
    {"degrees C", "degC"},
    {"degrees F", "degF"},
    {"Celsius", "degC"},
    {"Fahrenheit", "degF"},
    {"\xc2\xba"
     "C",
     "degC"}, /* masculine ordinal, which some keyboards give for the degree */
    {"\xb0"
     "C",
     "degC"}, /* Latin-1 */
    {"\xb0"
     "F",
     "degF"},
    {"\xb0", "degree"},

    /* pressure */
    {"inH2O", "249.08891 Pa"},
    {"inH20", "249.08891 Pa"}, /* a nought for the letter is common in old loggers */
    {"in H2O", "249.08891 Pa"},
    {"inWC", "249.08891 Pa"},
    {"inWG", "249.08891 Pa"},
    {"mmH2O", "9.80665 Pa"},
    {"mmH20", "9.80665 Pa"},
    {"mm H2O", "9.80665 Pa"},
    {"mmWC", "9.80665 Pa"},
    {"mmWG", "9.80665 Pa"},
    {"mmWS", "9.80665 Pa"},
    {"psf", "lbf/ft2"},
    {"psia", "psi"},
    {"psid", "psi"},
    {"psig", "psi"},
    {"PSI", "psi"},
    {"mBar", "mbar"},
    {"MBAR", "mbar"},

    /* force and moment */
    {"kp", "kgf"},
    {"lbs", "lbf"}, /* of force: no channel of a log holds a mass */
    {"Nm", "N m"},
    {"N-m", "N m"},
    {"kNm", "kN m"},
    {"Nmm", "N mm"},
    {"kgfm", "kgf m"},
    {"ft-lb", "ft lbf"},
    {"ft-lbf", "ft lbf"},
    {"lb-ft", "ft lbf"},
    {"lbft", "ft lbf"},
    {"in-lb", "inch lbf"},
    {"in-lbf", "inch lbf"},

    /* pure numbers, and the marks that stand for them in a row of units */
    {"/", "1"},
    {"-", "1"},
    {"--", "1"},
    {"none", "1"},
    {"step", "1"},
    {"steps", "1"},
    {"cts", "1"},
    {"lsb", "1"},
    {"LSB", "1"},
    {"digit", "1"},
    {"digits", "1"},
    {"pct", "0.01"},
    {"%RH", "0.01"},
    {"% RH", "0.01"},
    {"%rh", "0.01"},
    {"mV/V", "1e-3"},

    /* turning speed */
    {"RPM", "rpm"},
    {"rev/min", "rpm"},
    {"r/min", "rpm"},
};

const struct unit_alias *unit_aliases(size_t *n)
{
    *n = sizeof aliases / sizeof aliases[0];
    return aliases;
}

static const struct {
    const char *spelling;
    const char *si_unit; /* of what is wanted */
    const char *hint;
} hints[] = {
    {"F", "K", "F is farad; degF is Fahrenheit"},
    {"C", "K", "C is coulomb; degC is Celsius"},
    {"deg", "K", "deg is an angle; degC is Celsius, degF Fahrenheit"},
    {"\xc2\xb0", "K", "\xc2\xb0 is an angle; degC is Celsius, degF Fahrenheit"},
    {"d", "rad", "d is day; deg is degree"},
    {"S", "s", "S is siemens; s is second"},
    {"H", "s", "H is henry; h is hour"},
    {"lb", "N", "lb is a mass; lbf is the force"},
    {"kg", "N", "kg is a mass; kgf is the force"},
    {"g", "N", "g is a mass; gf is the force"},
    {"t", "N", "t is a mass; kN is a force"},
    {"kgm", "N m", "kg is a mass; kgf m is the moment"},
    {"kg m", "N m", "kg is a mass; kgf m is the moment"},
    {"kg/cm2", "Pa", "kg is a mass; kgf/cm2 is the pressure"},
    {"lb/ft2", "Pa", "lb is a mass; lbf/ft2 or psf is the pressure"},
    {"lb/in2", "Pa", "lb is a mass; lbf/in2 or psi is the pressure"},
};

const char *unit_hint(const char *spelling, const char *si_unit)
{
    for (size_t i = 0; i < sizeof hints / sizeof hints[0]; i++)
        if (strcmp(hints[i].spelling, spelling) == 0 && strcmp(hints[i].si_unit, si_unit) == 0)
            return hints[i].hint;
    return "";
}

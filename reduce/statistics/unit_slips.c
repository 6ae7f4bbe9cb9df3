/* unit_slips.c - see unit_slips.h. */
#include "reduce/statistics/unit_slips.h"

#include <math.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

/* A unit of measurement: value in SI = size * number + origin. */
struct unit_size {
    const char *kept; /* the unit in which the values are kept */
    const char *name;
    double size, origin;
};

/* The commoner units first: pairs of them are the likelier slips. */
static const struct unit_size sizes[] = {
    {"m", "mm", 1e-3, 0},
    {"m", "m", 1, 0},
    {"m", "inch", 0.0254, 0},
    {"m", "cm", 1e-2, 0},
    {"m", "ft", 0.3048, 0},
    {"N", "N", 1, 0},
    {"N", "kN", 1e3, 0},
    {"N", "lbf", 4.4482216152605, 0},
    {"N", "kgf", 9.80665, 0},
    {"N m", "N m", 1, 0},
    {"N m", "kN m", 1e3, 0},
    {"N m", "lbf ft", 1.3558179483314004, 0},
    {"N m", "lbf inch", 0.1129848290276167, 0},
    {"N m", "kgf m", 9.80665, 0},
    {"Pa", "Pa", 1, 0},
    {"Pa", "hPa", 1e2, 0},
    {"Pa", "kPa", 1e3, 0},
    {"Pa", "bar", 1e5, 0},
    {"Pa", "psf", 47.88025898033584, 0},
    {"Pa", "psi", 6894.757293168361, 0},
    {"Pa", "mmH2O", 9.80665, 0},
    {"Pa", "inH2O", 249.08891, 0},
    {"Pa", "mmHg", 133.322387415, 0},
    {"Pa", "inHg", 3386.38864034, 0},
    {"rad", "deg", pi / 180, 0},
    {"rad", "rad", 1, 0},
    {"rad", "mrad", 1e-3, 0},
    {"m/s", "m/s", 1, 0},
    {"m/s", "km/h", 1 / 3.6, 0},
    {"m/s", "mph", 0.44704, 0},
    {"m/s", "kn", 1852.0 / 3600, 0},
    {"m/s", "ft/s", 0.3048, 0},
    {"K", "degC", 1, 273.15},
    {"K", "K", 1, 0},
    {"K", "degF", 5.0 / 9, 459.67 * 5 / 9},
    {"1", "%", 1e-2, 0},
    {"1", "1", 1, 0},
    {"1", "1/1000", 1e-3, 0},
    {"mV/V", "mV/V", 1, 0},
    {"mV/V", "uV/V", 1e-3, 0},
    {"mV/V", "V/V", 1e3, 0},
};

/* Of units that are not in the table. */
static const struct unit_size any_unit[] = {
    {"", "thousandths", 1e-3, 0},
    {"", "ones", 1, 0},
};

/* The rows of one unit lie side by side. */
static const struct unit_size *sizes_of(const char *unit, size_t *n)
{
    const size_t all = sizeof sizes / sizeof sizes[0];
    size_t first = 0;
    while (first < all && strcmp(sizes[first].kept, unit) != 0)
        first++;
    if (first == all) {
        *n = sizeof any_unit / sizeof any_unit[0];
        return any_unit;
    }
    *n = 1;
    while (first + *n < all && strcmp(sizes[first + *n].kept, unit) == 0)
        ++*n;
    return &sizes[first];
}

/* The number x of `written` stands for size x + origin; read as another unit it becomes another
 * value. */
static struct unit_slip slip_between(const struct unit_size *written,
                                     const struct unit_size *read_as)
{
    double factor = read_as->size / written->size;
    return (struct unit_slip){.factor = factor,
                              .offset = read_as->origin - factor * written->origin,
                              .written = written->name,
                              .read_as = read_as->name};
}

static int same_slip(const struct unit_slip *a, const struct unit_slip *b)
{
    return fabs(a->factor / b->factor - 1) < 1e-9 && fabs(a->offset - b->offset) < 1e-9;
}

static size_t add_slip(struct unit_slip slips[UNIT_SLIPS_MAX], size_t n, struct unit_slip slip)
{
    if (n == UNIT_SLIPS_MAX)
        return n;
    for (size_t i = 0; i < n; i++)
        if (same_slip(&slips[i], &slip))
            return n;
    slips[n] = slip;
    return n + 1;
}

size_t unit_slips(const char *unit, struct unit_slip slips[UNIT_SLIPS_MAX])
{
    size_t units = 0;
    size_t n = 0;
    const struct unit_size *table = sizes_of(unit, &units);
    if (strcmp(unit, "K") != 0)
        n = add_slip(slips, n, (struct unit_slip){-1, 0, NULL, NULL});
    for (size_t far = 1; far < units; far++)
        for (size_t near = 0; near < far; near++) {
            n = add_slip(slips, n, slip_between(&table[near], &table[far]));
            n = add_slip(slips, n, slip_between(&table[far], &table[near]));
        }
    return n;
}

struct unit_slip unit_slip_as_declared(const char *unit, const struct unit_slip *slip,
                                       const char *declared)
{
    size_t units = 0;
    const struct unit_size *table = sizes_of(unit, &units);
    for (size_t to = 0; to < units; to++) {
        if (strcmp(table[to].name, declared) != 0)
            continue;
        for (size_t from = 0; from < units; from++) {
            struct unit_slip told = slip_between(&table[from], &table[to]);
            if (from != to && same_slip(&told, slip))
                return told;
        }
    }
    return *slip;
}

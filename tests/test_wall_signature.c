/* test_wall_signature.c - sources in a duct are found back from what they leave on its walls. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/physics/wall_signature.h"
#include "tests/check.h"
#include "tests/duct_modes.h"
#include "tests/noise.h"

enum { TAPS = 26 };
static const double width = 3.2, height = 2.4, axis = 0.25;

/* Both side walls, at the car's height. */
static void place_taps(struct duct_place tap[TAPS])
{
    for (int i = 0; i < TAPS; i++)
        tap[i] = (struct duct_place){-2.87 + 0.235 * (i - i % 2), i % 2 == 0 ? -1.6 : 1.6, 0.25};
}

static struct wall_layout layout_of(const struct duct_place *tap)
{
    return (struct wall_layout){.duct = {width, height},
                                .tap = tap,
                                .n = TAPS,
                                .station = {-0.8, 0.1, 0.9},
                                .stations = 3,
                                .axis_height = axis,
                                .floor_image = 1,
                                .nose = -1.15,
                                .middle = 0.0,
                                .tail = 1.15};
}

static const double strength[] = {0.11, -0.03, -0.05};

/* Cp on the walls by the modes of the duct, on top of an empty section that is not even. */
static void forward(const struct wall_layout *layout, double cp[TAPS], double empty[TAPS])
{
    for (int i = 0; i < TAPS; i++) {
        const struct duct_place *tap = &layout->tap[i];
        const double at[] = {tap->x, tap->y, tap->z};
        double u = 0.0;
        for (size_t j = 0; j < layout->stations; j++) {
            const double source[] = {layout->station[j], 0.0, axis};
            u += strength[j] * duct_modes_speed(width, height, source, at);
        }
        empty[i] = 0.004 - 0.0012 * tap->x;
        cp[i] = empty[i] + 1.0 - (1.0 + u) * (1.0 + u);
    }
}

static void sources_are_found_back(void)
{
    struct duct_place tap[TAPS];
    double cp[TAPS], empty[TAPS];
    struct wall_signature signature;
    struct wall_increment found;
    place_taps(tap);
    struct wall_layout layout = layout_of(tap);
    forward(&layout, cp, empty);
    enum outcome outcome = wall_signature_make(&layout, &signature);
    CHECK(outcome == OUTCOME_OK);
    if (outcome != OUTCOME_OK)
        return;
    CHECK(wall_signature_read(&signature, cp, 1.0, empty, &found) == OUTCOME_OK);
    for (int j = 0; j < 3; j++)
        CHECK_NEAR(found.strength[j], strength[j], 1e-11, "invented, found back");
    CHECK_NEAR(found.wake, 0.03 / (2 * width * height), 1e-12, "identity: net source over 2C");
    CHECK_NEAR(found.middle, found.solid + found.wake, 1e-17, "identity");
    CHECK(found.residual_sd < 1e-12 && found.middle_u < 1e-10 && found.largest > 0.003);
    wall_signature_end(&signature);
}

/* The increment at the middle: duct less free air, by the modes. */
static void the_increment_is_the_walls_doing(void)
{
    const double pi = 3.14159265358979323846;
    struct duct_place tap[TAPS];
    double cp[TAPS], empty[TAPS], want = 0.0;
    struct wall_signature signature;
    struct wall_increment found;
    place_taps(tap);
    struct wall_layout layout = layout_of(tap);
    layout.middle = -0.3;
    layout.station[1] = 0.2; /* all of them 0.2 m and more from there */
    forward(&layout, cp, empty);
    for (size_t j = 0; j < 3; j++) {
        double x = layout.middle - layout.station[j];
        const double source[] = {layout.station[j], 0.0, axis}, at[] = {layout.middle, 0.0, axis};
        double free_air =
            x / (4 * pi) *
            (pow(x * x, -1.5) + pow(x * x + 4 * axis * axis, -1.5)); /* and its mirror */
        want += strength[j] * (duct_modes_speed(width, height, source, at) - free_air);
    }
    CHECK(wall_signature_make(&layout, &signature) == OUTCOME_OK);
    CHECK(wall_signature_read(&signature, cp, 1.0, empty, &found) == OUTCOME_OK);
    CHECK_NEAR(found.middle, want, 1e-11, "modes of the duct less free air");
    wall_signature_end(&signature);
}

/* Noise on the taps: the increment's scatter is what middle_u says. */
static void its_uncertainty_is_that_of_the_taps(void)
{
    enum { ROUNDS = 400 };
    struct duct_place tap[TAPS];
    double cp[TAPS], empty[TAPS], noisy[TAPS], sum = 0.0, squares = 0.0, said = 0.0;
    struct wall_signature signature;
    struct wall_increment found;
    uint64_t state = 20;
    place_taps(tap);
    struct wall_layout layout = layout_of(tap);
    forward(&layout, cp, empty);
    CHECK(wall_signature_make(&layout, &signature) == OUTCOME_OK);
    for (int round = 0; round < ROUNDS; round++) {
        for (int i = 0; i < TAPS; i++)
            noisy[i] = cp[i] + 0.0008 * noise_normal(&state);
        CHECK(wall_signature_read(&signature, noisy, 1.0, empty, &found) == OUTCOME_OK);
        sum += found.middle;
        squares += found.middle * found.middle;
        said += found.middle_u * found.middle_u;
    }
    double variance = squares / ROUNDS - sum / ROUNDS * (sum / ROUNDS);
    /* variance of 400: its own relative standard deviation is sqrt(2/400) = 0.07 */
    CHECK_RELATIVE(said / ROUNDS, variance, 0.25, "Monte Carlo, 400 rounds");
    wall_signature_end(&signature);
}

static enum outcome make(const struct wall_layout *layout)
{
    struct wall_signature signature = {.n = 77};
    enum outcome outcome = wall_signature_make(layout, &signature);
    if (outcome == OUTCOME_OK)
        wall_signature_end(&signature);
    else
        CHECK(signature.n == 77);
    return outcome;
}

static void layouts_that_tell_nothing_are_refused(void)
{
    struct duct_place tap[TAPS];
    place_taps(tap);
    struct wall_layout layout = layout_of(tap);
    layout.n = 4;
    CHECK(make(&layout) == OUTCOME_TOO_FEW);
    layout.n = 5;
    CHECK(make(&layout) == OUTCOME_OK);
    layout.stations = 0;
    CHECK(make(&layout) == OUTCOME_GEOMETRY);
    layout.stations = SIGNATURE_STATIONS_MAX + 1;
    CHECK(make(&layout) == OUTCOME_GEOMETRY);
    layout = layout_of(tap);
    layout.station[1] = layout.station[0];
    CHECK(make(&layout) == OUTCOME_SINGULAR);
    layout.station[1] = NAN;
    CHECK(make(&layout) == OUTCOME_GEOMETRY);
    layout = layout_of(tap);
    layout.axis_height = 2.4;
    CHECK(make(&layout) == OUTCOME_GEOMETRY);
    layout = layout_of(tap);
    layout.duct.width = 0.0;
    CHECK(make(&layout) == OUTCOME_GEOMETRY);
    layout = layout_of(tap);
    layout.middle = NAN;
    CHECK(make(&layout) == OUTCOME_GEOMETRY);
    layout = layout_of(tap);
    struct duct_place nowhere[TAPS];
    place_taps(nowhere);
    nowhere[3] = (struct duct_place){NAN, 1.6, 0.25};
    layout.tap = nowhere;
    CHECK(make(&layout) == OUTCOME_GEOMETRY);
    struct duct_place one[TAPS];
    for (int i = 0; i < TAPS; i++)
        one[i] = (struct duct_place){-2.0, 1.6, 0.25};
    layout.tap = one;
    CHECK(make(&layout) == OUTCOME_SINGULAR);
}

static void pressures_that_are_not_are_refused(void)
{
    struct duct_place tap[TAPS];
    double cp[TAPS], empty[TAPS];
    struct wall_signature signature;
    struct wall_increment found = {.middle = -7};
    place_taps(tap);
    struct wall_layout layout = layout_of(tap);
    forward(&layout, cp, empty);
    CHECK(wall_signature_make(&layout, &signature) == OUTCOME_OK);
    double kept = cp[4];
    cp[4] = NAN;
    CHECK(wall_signature_read(&signature, cp, 1.0, empty, &found) == OUTCOME_NOT_FINITE);
    cp[4] = empty[4] + 1.001;
    CHECK(wall_signature_read(&signature, cp, 1.0, empty, &found) == OUTCOME_NO_ROOT);
    cp[4] = kept;
    empty[4] = NAN;
    CHECK(wall_signature_read(&signature, cp, 1.0, empty, &found) == OUTCOME_NOT_FINITE);
    empty[4] = 0.0;
    CHECK(wall_signature_read(&signature, cp, 0.0, empty, &found) == OUTCOME_NO_WIND);
    CHECK(wall_signature_read(&signature, cp, NAN, empty, &found) == OUTCOME_NOT_FINITE);
    CHECK(found.middle == -7);
    wall_signature_end(&signature);
    CHECK(signature.design == NULL && signature.solve == NULL);
}

CU_TestInfo wall_signature_tests[] = {
    {"sources are found back from the walls", sources_are_found_back},
    {"the increment is the duct less free air", the_increment_is_the_walls_doing},
    {"its uncertainty is that of the taps", its_uncertainty_is_that_of_the_taps},
    {"layouts that tell nothing are refused", layouts_that_tell_nothing_are_refused},
    {"pressures that are not are refused", pressures_that_are_not_are_refused},
    CU_TEST_INFO_NULL};

/* test_chart_colour.c - the ramps keep their order for every kind of colour vision.
 *
 * Colour blindness is simulated twice, by models that share nothing:
 * - G. Machado, M. Oliveira, L. Fernandes, A physiologically-based model for simulation of color vision
 *   deficiency, IEEE TVCG 15 (2009), severity 1.0, for deutan, protan and tritan sight;
 * - F. Vienot, H. Brettel, J. Mollon, Digital video colourmaps for checking the legibility of displays by
 *   dichromats, Color Research and Application 24 (1999), for protan and deutan, and H. Brettel,
 *   F. Vienot, J. Mollon, Computerized simulation of color appearance for dichromats, JOSA A 14 (1997),
 *   its two half-planes, for tritan.
 * All matrices act on linear sRGB and are from memory; that each row sums to 1, so that greys stay what
 * they are, is checked. Distances are CIE 1976 in L*a*b*, D65.                                     */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/bands.h"
#include "report/colour.h"
#include "tests/check.h"

enum { STEPS = 11, SIGHTS = 7 };

struct lab {
    double l, a, b;
};

/* Linear sRGB as it is seen; beyond is the matrix where the colour's product with side is negative. */
struct sight {
    const char *name;
    double seen[3][3];
    double side[3];
    double beyond[3][3];
};

static const struct sight sights[SIGHTS] = {
    {"normal", {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, {0, 0, 0}, {{0}}},
    {"deutan, Machado",
     {{0.367322, 0.860646, -0.227968},
      {0.280085, 0.672501, 0.047413},
      {-0.011820, 0.042940, 0.968881}},
     {0, 0, 0},
     {{0}}},
    {"protan, Machado",
     {{0.152286, 1.052583, -0.204868},
      {0.114503, 0.786281, 0.099216},
      {-0.003882, -0.048116, 1.051998}},
     {0, 0, 0},
     {{0}}},
    {"tritan, Machado",
     {{1.255528, -0.076749, -0.178779},
      {-0.078411, 0.930809, 0.147602},
      {0.004733, 0.691367, 0.303900}},
     {0, 0, 0},
     {{0}}},
    {"protan, Vienot",
     {{0.11238, 0.88762, 0}, {0.11238, 0.88762, 0}, {0.00401, -0.00401, 1}},
     {0, 0, 0},
     {{0}}},
    {"deutan, Vienot",
     {{0.29275, 0.70725, 0}, {0.29275, 0.70725, 0}, {-0.02234, 0.02234, 1}},
     {0, 0, 0},
     {{0}}},
    {"tritan, Brettel",
     {{1.01277, 0.13548, -0.14826}, {-0.01243, 0.86812, 0.14431}, {0.07589, 0.80500, 0.11911}},
     {0.03901, -0.02788, -0.01113},
     {{0.93678, 0.18979, -0.12657}, {0.06154, 0.81526, 0.12320}, {-0.37562, 1.12767, 0.24796}}},
};

/* IEC 61966-2-1 */
static double linear(unsigned char byte)
{
    double value = byte / 255.0;

    return value <= 0.04045 ? value / 12.92 : pow((value + 0.055) / 1.055, 2.4);
}

static double lab_part(double ratio)
{
    return ratio > 216.0 / 24389 ? cbrt(ratio) : (24389.0 / 27 * ratio + 16) / 116;
}

static struct lab seen(struct colour colour, const struct sight *sight)
{
    const double in[3] = {linear(colour.red), linear(colour.green), linear(colour.blue)};
    double side = sight->side[0] * in[0] + sight->side[1] * in[1] + sight->side[2] * in[2];
    double out[3];

    for (int i = 0; i < 3; i++) {
        const double *row = side < 0 ? sight->beyond[i] : sight->seen[i];
        out[i] = row[0] * in[0] + row[1] * in[1] + row[2] * in[2];
        out[i] = fmin(fmax(out[i], 0), 1);
    }
    double x = lab_part((0.4124564 * out[0] + 0.3575761 * out[1] + 0.1804375 * out[2]) / 0.95047);
    double y = lab_part(0.2126729 * out[0] + 0.7151522 * out[1] + 0.0721750 * out[2]);
    double z = lab_part((0.0193339 * out[0] + 0.1191920 * out[1] + 0.9503041 * out[2]) / 1.08883);
    return (struct lab){116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

static double distance(struct lab p, struct lab q)
{
    return sqrt((p.l - q.l) * (p.l - q.l) + (p.a - q.a) * (p.a - q.a) + (p.b - q.b) * (p.b - q.b));
}

/* More than the least between neighbours, by sight and step. */
static void check_step(int sight, int step, double got, double least)
{
    char said[120];

    if (got > least)
        return;
    (void)snprintf(said, sizeof said, "%s, step %d: %.1f apart, at least %.1f", sights[sight].name,
                   step, got, least);
    CHECK_TEXT(said, "");
}

static void white_and_grey_are_where_they_belong(void)
{
    struct lab white = seen((struct colour){255, 255, 255}, &sights[0]);
    struct lab grey = seen((struct colour){119, 119, 119}, &sights[0]);

    CHECK_NEAR(white.l, 100, 1e-3, "CIE 15:2004, definition of L*");
    CHECK_NEAR(grey.l, 50.03, 0.01, "CIE 15:2004 by hand: sRGB 119 is Y 0.1845");
    CHECK_NEAR(grey.a, 0, 0.02, "identity");
}

static void greys_stay_what_they_are(void)
{
    for (int s = 0; s < SIGHTS; s++) {
        for (int i = 0; i < 3; i++) {
            const double *row = sights[s].seen[i], *other = sights[s].beyond[i];
            CHECK_NEAR(row[0] + row[1] + row[2], 1, 3e-5, "identity: a grey is seen as it is");
            if (sights[s].side[0] != 0)
                CHECK_NEAR(other[0] + other[1] + other[2], 1, 3e-5, "identity: a grey as it is");
        }
    }
}

/* What a sight cannot tell apart: red and green of like lightness for deutan and protan, blue and green
 * for tritan; the model must bring them together, or it would pass every ramp. */
static void each_sight_loses_what_it_must(void)
{
    const struct colour red = {190, 80, 60}, green = {110, 120, 60};
    const struct colour teal = {0, 140, 140}, azure = {0, 132, 190};

    for (int s = 1; s < SIGHTS; s++) {
        int is_tritan = strstr(sights[s].name, "tritan") != NULL;
        struct colour a = is_tritan ? teal : red, b = is_tritan ? azure : green;
        double normal = distance(seen(a, &sights[0]), seen(b, &sights[0]));
        CHECK(distance(seen(a, &sights[s]), seen(b, &sights[s])) < 0.6 * normal);
    }
}

static void sequential_lightness_rises(void)
{
    for (int s = 0; s < SIGHTS; s++) {
        for (int i = 1; i < STEPS; i++) {
            struct lab here = seen(colour_sequential((i + 0.5) / STEPS), &sights[s]);
            struct lab before = seen(colour_sequential((i - 0.5) / STEPS), &sights[s]);
            CHECK(here.l > before.l);
            check_step(s, i, distance(here, before), 7); /* three times what is just seen, 2.3 */
        }
    }
}

static void diverging_arms_stay_apart(void)
{
    for (int s = 0; s < SIGHTS; s++) {
        for (int i = 1; i <= 5; i++) {
            struct lab below = seen(colour_diverging(-i / 5.0), &sights[s]);
            struct lab above = seen(colour_diverging(i / 5.0), &sights[s]);
            struct lab inner_below = seen(colour_diverging(-(i - 1) / 5.0), &sights[s]);
            struct lab inner_above = seen(colour_diverging((i - 1) / 5.0), &sights[s]);
            check_step(s, i, distance(below, above), 15);
            CHECK(below.l < inner_below.l);
            CHECK(above.l < inner_above.l);
            check_step(s, -i, distance(below, inner_below), 10);
            check_step(s, i, distance(above, inner_above), 10);
        }
    }
}

/* 6 of 255: the first drawing lowered chroma in steps of that size. */
static void check_close(struct colour got, int red, int green, int blue)
{
    CHECK_NEAR(got.red, red, 6, "invented ramp, colours of its first drawing");
    CHECK_NEAR(got.green, green, 6, "invented ramp, colours of its first drawing");
    CHECK_NEAR(got.blue, blue, 6, "invented ramp, colours of its first drawing");
}

static void ramps_are_those_that_were_looked_at(void)
{
    check_close(colour_sequential(0.5 / STEPS), 0x20, 0x19, 0x6f);
    check_close(colour_sequential(0.5), 0x00, 0x94, 0x95);
    check_close(colour_sequential(10.5 / STEPS), 0xe4, 0xee, 0x7b);
    check_close(colour_diverging(-1), 0x05, 0x4a, 0x86);
    check_close(colour_diverging(0), 0xf3, 0xf3, 0xf3);
    check_close(colour_diverging(1), 0x76, 0x33, 0x04);
}

static void oklch_greys_are_grey(void)
{
    struct colour grey = colour_from_oklch(0.6, 0, 123);

    CHECK(grey.red == grey.green && grey.green == grey.blue);
    CHECK_TEXT(colour_text(colour_from_oklch(1, 0, 0)).text, "#ffffff");
    CHECK_TEXT(colour_text(colour_from_oklch(0, 0, 0)).text, "#000000");
    /* OKLab of sRGB red is L 0.62796, C 0.25768, h 29.234 (B. Ottosson 2020, from memory). */
    struct colour red = colour_from_oklch(0.62796, 0.25768, 29.234);
    CHECK(red.red >= 254 && red.green <= 2 && red.blue <= 2);
}

static void bands_cover_and_hold_zero_in_the_middle(void)
{
    struct bands level = bands_sequential(-1.78, -0.21);
    struct bands change = bands_diverging(0.113, 0.008);

    CHECK(level.n <= BANDS_MAX);
    CHECK(bands_limit(&level, 0) <= -1.78);
    CHECK(bands_limit(&level, level.n) >= -0.21);
    CHECK_NEAR(bands_limit(&change, 5), -change.width / 2, 1e-12, "identity");
    CHECK(bands_index(&change, 0) == 5);
    CHECK(bands_limit(&change, change.n) >= 0.113 - 1e-12);
    CHECK(bands_index(&change, 9) == change.n - 1);
    CHECK(bands_index(&change, -9) == 0);
    CHECK(bands_index(&change, (double)NAN) == -1);
    CHECK(bands_diverging(0.001, 0.05).width >= 0.05);
    CHECK(bands_sequential((double)NAN, 1).n == 1);
}

CU_TestInfo chart_colour_tests[] = {
    {"white and grey are where they belong", white_and_grey_are_where_they_belong},
    {"greys stay what they are", greys_stay_what_they_are},
    {"each sight loses what it must", each_sight_loses_what_it_must},
    {"sequential lightness rises for every sight", sequential_lightness_rises},
    {"diverging arms stay apart for every sight", diverging_arms_stay_apart},
    {"ramps are those that were looked at", ramps_are_those_that_were_looked_at},
    {"OKLCH greys are grey", oklch_greys_are_grey},
    {"bands cover and hold zero in the middle", bands_cover_and_hold_zero_in_the_middle},
    CU_TEST_INFO_NULL};

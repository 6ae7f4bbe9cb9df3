/* test_page_contrast.c - the style sheet's colours can be read: every pair that meets on a page, in light,
 * dark and print.
 *
 * Source: W3C, Web Content Accessibility Guidelines 2.2 (2023): 1.4.3 contrast (minimum), 4.5 : 1 for text;
 * 1.4.11 non-text contrast, 3 : 1; relative luminance and contrast ratio as its glossary defines them.   */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/scratch.h"

enum { BLOCKS = 4 };

/* The four blocks of the style sheet that set colours, by the text they begin with. */
static const struct {
    const char *name, *begins;
} blocks[BLOCKS] = {{"light", ":root {"},
                    {"dark by the system", ":root:not([data-theme=\"light\"]) {"},
                    {"dark by the button", "\n:root[data-theme=\"dark\"] {"},
                    {"print", "  :root, :root[data-theme=\"dark\"]"}};

static const double text_ratio = 4.5, shape_ratio = 3;

/* What is drawn on what; rows of one kind of mark share their least ratio. */
static const struct {
    const char *ink, *ground;
    double least;
} pairs[] = {
    {"ink", "paper", text_ratio},        {"ink", "panel", text_ratio},
    {"soft", "paper", text_ratio},       {"soft", "panel", text_ratio},
    {"link", "paper", text_ratio},       {"link", "panel", text_ratio},
    {"good", "good-tint", text_ratio},   {"bad", "bad-tint", text_ratio},
    {"plain", "plain-tint", text_ratio}, {"look", "look-tint", text_ratio},
    {"ink", "good-tint", text_ratio}, /* the winner's row, and what stands in it */
    {"soft", "good-tint", text_ratio},   {"ink", "look-tint", text_ratio},
    {"ink", "bad-tint", text_ratio},     {"paper", "ink", text_ratio}, /* the tip */
    {"s0", "panel", text_ratio}, /* names at the end of their lines */
    {"s1", "panel", text_ratio},         {"s2", "panel", text_ratio},
    {"s3", "panel", text_ratio},         {"s4", "panel", text_ratio},
    {"sx", "panel", text_ratio},         {"good", "paper", shape_ratio},
    {"bad", "paper", shape_ratio},       {"good", "good-tint", shape_ratio},
    {"good", "strip", shape_ratio},      {"bad", "strip", shape_ratio},
    {"plain", "strip", shape_ratio},     {"ink", "strip", shape_ratio},
    {"s1", "strip", shape_ratio},        {"s2", "strip", shape_ratio},
    {"s3", "strip", shape_ratio},        {"s4", "strip", shape_ratio},
    {"look", "panel", shape_ratio},      {"bad", "panel", shape_ratio},
    {"soft", "strip", shape_ratio},
};

/* IEC 61966-2-1's curve as the glossary has it. */
static double linear(double byte)
{
    double share = byte / 255;

    return share <= 0.04045 ? share / 12.92 : pow((share + 0.055) / 1.055, 2.4);
}

static double luminance(const double rgb[3])
{
    return 0.2126 * linear(rgb[0]) + 0.7152 * linear(rgb[1]) + 0.0722 * linear(rgb[2]);
}

static double ratio(const double first[3], const double second[3])
{
    double a = luminance(first), b = luminance(second);

    return (fmax(a, b) + 0.05) / (fmin(a, b) + 0.05);
}

/* "#abc" or "#aabbcc"; 0 when it is neither. */
static int colour_of(const char *text, double rgb[3])
{
    size_t digits = text[0] == '#' ? strspn(text + 1, "0123456789abcdefABCDEF") : 0;
    size_t each = digits == 6 ? 2 : 1;

    if (digits != 3 && digits != 6)
        return 0;
    for (size_t i = 0; i < 3; i++) {
        char part[3] = {text[1 + each * i], text[1 + each * i + each - 1], '\0'};
        rgb[i] = (double)strtol(part, NULL, 16);
    }
    return 1;
}

/* The text of a block, "{" to "}"; NULL when it is not there. The caller frees. */
static char *block_of(const char *sheet, int b)
{
    const char *start = strstr(sheet, blocks[b].begins);
    const char *open = start != NULL ? strchr(start, '{') : NULL;
    const char *close = open != NULL ? strchr(open, '}') : NULL;

    CHECK(close != NULL);
    return close != NULL ? strndup(open, (size_t)(close - open)) : NULL;
}

/* A variable's value within a block; NULL when the block does not set it. */
static const char *variable(const char *block, const char *name)
{
    char sought[40];

    (void)snprintf(sought, sizeof sought, "--%s: ", name);
    const char *at = strstr(block, sought);
    return at != NULL ? at + strlen(sought) : NULL;
}

static void check_pair(const char *block, int b, size_t p)
{
    const char *ink = variable(block, pairs[p].ink);
    const char *ground = variable(block, pairs[p].ground);
    double first[3], second[3];

    CHECK(ink != NULL && ground != NULL);
    if (ink == NULL || ground == NULL || !colour_of(ink, first) || !colour_of(ground, second)) {
        CHECK_TEXT("no colour", pairs[p].ink);
        return;
    }
    double got = ratio(first, second);
    if (got < pairs[p].least) {
        char said[120];
        (void)snprintf(said, sizeof said, "%s: %s on %s has %.2f : 1, needs %.1f", blocks[b].name,
                       pairs[p].ink, pairs[p].ground, got, pairs[p].least);
        CHECK_TEXT(said, "");
    }
}

static void every_pair_can_be_read(void)
{
    char *sheet = scratch_read("report", "page.css");

    CHECK(sheet != NULL);
    for (int b = 0; sheet != NULL && b < BLOCKS; b++) {
        char *block = block_of(sheet, b);
        for (size_t p = 0; block != NULL && p < sizeof pairs / sizeof pairs[0]; p++)
            check_pair(block, b, p);
        free(block);
    }
    free(sheet);
}

static void both_darks_are_one(void)
{
    char *sheet = scratch_read("report", "page.css");
    char *system = sheet != NULL ? block_of(sheet, 1) : NULL;
    char *button = sheet != NULL ? block_of(sheet, 2) : NULL;
    size_t n = 0;

    for (const char *at = system; at != NULL && (at = strstr(at, "--")) != NULL; at += 2) {
        char name[40];
        (void)snprintf(name, sizeof name, "%.*s", (int)strcspn(at + 2, ":"), at + 2);
        const char *first = variable(system, name);
        const char *second = button != NULL ? variable(button, name) : NULL;
        CHECK(first != NULL && second != NULL &&
              strncmp(first, second, strcspn(first, ";") + 1) == 0);
        n++;
    }
    CHECK(n > 20);
    free(system);
    free(button);
    free(sheet);
}

/* Black on white is 21, and #767676 on white is the lightest grey with 4.54 (WCAG 2.2's definition by
 * hand). */
static void the_ratio_is_the_guidelines(void)
{
    const double black[3] = {0, 0, 0}, white[3] = {255, 255, 255}, grey[3] = {0x76, 0x76, 0x76};
    double read[3];

    CHECK_NEAR(ratio(black, white), 21, 1e-12, "WCAG 2.2, contrast ratio");
    CHECK_NEAR(ratio(grey, white), 4.54, 0.005, "WCAG 2.2, contrast ratio, by hand");
    CHECK(colour_of("#767676;", read) && ratio(read, grey) == 1);
    CHECK(colour_of("#fff;", read) && ratio(read, white) == 1);
    CHECK(!colour_of("rgb(1,2,3)", read));
}

CU_TestInfo page_contrast_tests[] = {{"the ratio is the guidelines'", the_ratio_is_the_guidelines},
                                     {"every pair can be read", every_pair_can_be_read},
                                     {"both darks are one", both_darks_are_one},
                                     CU_TEST_INFO_NULL};

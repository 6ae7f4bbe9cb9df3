/* test_iso_time.c - times with zone, and clock times. */
#include "ingest/iso_time.h"

#include <CUnit/CUnit.h>
#include <string.h>

#include "tests/check.h"

static void known_moments(void)
{
    static const struct {
        const char *text;
        double seconds;
        const char *source;
    } moments[] = {
        {"1970-01-01T00:00:00Z", 0, "POSIX.1-2017, 4.16 seconds since the epoch"},
        {"2001-09-09T01:46:40Z", 1e9, "billennium of Unix time, from memory"},
        {"2004-09-16T23:59:59.75Z", 1095379199.75, "POSIX.1-2017, 4.16, by its formula"},
        {"2026-02-11T20:05:00+01:00", 1770836700, "identity: 19:05 UTC of day 20495"},
        {"2026-02-11T20:05+0100", 1770836700, "identity"},
        {"2026-02-11T14:05:00-05:00", 1770836700, "identity"},
        {"2000-02-29T00:00:00Z", 951782400, "identity: day 11016"},
        {"1969-12-31T23:59:59Z", -1, "POSIX.1-2017, 4.16, by its formula"},
        {"1936-01-01T00:00:00Z", -1073001600, "identity: 34 years of which 9 are leap, 12419 days"},
        {"1600-01-01T00:00:00Z", -11676096000,
         "identity: 370 years less 90 leap days, 135140 days"},
    };
    for (size_t i = 0; i < sizeof moments / sizeof moments[0]; i++) {
        struct iso_time time;
        const char *wrong = iso_time_parse(moments[i].text, &time);
        CHECK_TEXT(wrong == NULL ? "" : wrong, "");
        CHECK_NEAR(time.seconds, moments[i].seconds, 0, moments[i].source);
    }
    struct iso_time time;
    CHECK(iso_time_parse("2026-02-11T00:30:00+01:00", &time) == NULL);
    CHECK_NEAR(time.seconds - time.midnight, 1800, 0, "identity: midnight of the zone's own day");
}

static void refuses_what_is_no_time_with_zone(void)
{
    static const struct {
        const char *text;
        const char *words;
    } wrong[] = {
        {"", "begin with a date"},
        {"11.02.2026 20:05", "begin with a date"},
        {"2026-02-11", "'T'"},
        {"2026-02-11 20:05:00Z", "'T'"},
        {"2026-02-11T20:05:00", "zone is missing"},
        {"2026-02-11T20:05:00 CET", "not a zone"},
        {"2026-02-11T20:05:00+1", "not like"},
        {"2026-02-11T20:05:00+15:00", "not like"},
        {"2026-02-30T20:05:00Z", "no such day"},
        {"2025-02-29T20:05:00Z", "no such day"},
        {"2100-02-29T20:05:00Z", "no such day"},
        {"2026-13-01T20:05:00Z", "no such day"},
        {"1599-12-31T20:05:00Z", "before 1600"},
        {"1900-02-29T20:05:00Z", "no such day"},
        {"2026-02-11T24:00:00Z", "no such time"},
        {"2026-02-11T20:60:00Z", "no such time"},
        {"2026-02-11T20:05:60Z", "no such time"},
        {"2026-02-11T20:05:00.Z", "no such time"},
        {"2026-02-11T20:05:00Zx", "follows the zone"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        struct iso_time time;
        CHECK_CONTAINS(iso_time_parse(wrong[i].text, &time), wrong[i].words);
    }
}

static void clock_times(void)
{
    double seconds = -1;
    CHECK(clock_parse("17:43:19", 8, &seconds));
    CHECK_NEAR(seconds, 63799, 0, "identity");
    CHECK(clock_parse("9:05", 4, &seconds));
    CHECK_NEAR(seconds, 32700, 0, "identity");
    CHECK(clock_parse("0:00:00.25", 10, &seconds));
    CHECK_NEAR(seconds, 0.25, 0, "identity");
    CHECK(!clock_parse("24:00:00", 8, &seconds));
    CHECK(!clock_parse("17.43.19", 8, &seconds));
    CHECK(!clock_parse("17:43:19 ", 9, &seconds));
    CHECK(!clock_parse("", 0, &seconds));
}

CU_TestInfo iso_time_tests[] = {
    {"known moments", known_moments},
    {"refuses what is no time with zone", refuses_what_is_no_time_with_zone},
    {"clock times", clock_times},
    CU_TEST_INFO_NULL};

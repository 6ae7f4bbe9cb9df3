/* time_text.c - see time_text.h. */
#include "report/time_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double day = 86400;

static int is_digit(char c)
{
    return c >= '0' && c <= '9';
}

double time_zone_offset(const char *start_text)
{
    size_t length = strlen(start_text);

    if (length < 6)
        return 0;
    const char *zone = start_text + length - 6; /* "+01:00" */
    if ((zone[0] != '+' && zone[0] != '-') || zone[3] != ':' || !is_digit(zone[1]) ||
        !is_digit(zone[2]) || !is_digit(zone[4]) || !is_digit(zone[5]))
        return 0;
    int hours = 10 * (zone[1] - '0') + zone[2] - '0';
    int minutes = 10 * (zone[4] - '0') + zone[5] - '0';
    double seconds = 3600.0 * hours + 60.0 * minutes;
    return zone[0] == '-' ? -seconds : seconds;
}

struct time_text time_zone(double offset)
{
    struct time_text out = {"UTC"};
    int minutes = (int)round(fabs(offset) / 60);

    if (minutes > 0 && minutes < 24 * 60)
        (void)snprintf(out.text, sizeof out.text, "UTC%s%02d:%02d",
                       offset < 0 ? "\xE2\x88\x92" : "+", minutes / 60, minutes % 60);
    return out;
}

struct time_text time_clock(double seconds, double offset)
{
    struct time_text out = {"n/a"};

    if (!isfinite(seconds))
        return out;
    double local = seconds + offset;
    int minutes = (int)floor((local - day * floor(local / day)) / 60);
    (void)snprintf(out.text, sizeof out.text, "%02d:%02d", minutes / 60, minutes % 60);
    return out;
}

/* Civil date from days since 1970-01-01, proleptic Gregorian: H. Hinnant, chrono-compatible
 * low-level date algorithms, 2013; valid far beyond any season. */
struct time_text time_date(double seconds, double offset)
{
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                         "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    struct time_text out = {"n/a"};

    if (!(fabs(seconds) < 1e11))
        return out;
    long shifted = (long)floor((seconds + offset) / day) + 719468;
    long era = (shifted >= 0 ? shifted : shifted - 146096) / 146097;
    long day_of_era = shifted - era * 146097;
    long year_of_era =
        (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
    long day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    long month = (5 * day_of_year + 2) / 153; /* 0 is March */
    long date = day_of_year - (153 * month + 2) / 5 + 1;
    long year = year_of_era + era * 400 + (month >= 10 ? 1 : 0);
    (void)snprintf(out.text, sizeof out.text, "%ld %s %ld", date, months[(month + 2) % 12], year);
    return out;
}

double time_tick_step(double span, int most)
{
    static const double minutes[] = {5, 10, 15, 30, 60, 120, 180, 360, 720, 1440};

    for (size_t i = 0; i < sizeof minutes / sizeof minutes[0]; i++)
        if (span <= most * minutes[i] * 60)
            return minutes[i] * 60;
    return day * ceil(span / (most * day));
}

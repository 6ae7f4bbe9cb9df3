/* plan_time.c - moments of a plan as text, in the zone that its start was written in. */
#include <math.h>
#include <stdio.h>

#include "reduce/plan_sheet.h"

static const long DAY = 86400;

/* Civil date from days since 1970-01-01, proleptic Gregorian: H. Hinnant, chrono-compatible low-level
 * date algorithms, 2013. */
static void civil_date(long days, long *year, long *month, long *day)
{
    long shifted = days + 719468;
    long era = (shifted >= 0 ? shifted : shifted - 146096) / 146097;
    long of_era = shifted - era * 146097;
    long year_of_era = (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
    long of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    long from_march = (5 * of_year + 2) / 153;
    *day = of_year - (153 * from_march + 2) / 5 + 1;
    *month = from_march < 10 ? from_march + 3 : from_march - 9;
    *year = year_of_era + era * 400 + (from_march >= 10 ? 1 : 0);
}

static void split(double seconds, double zone, long *days, long *of_day)
{
    long local = lround(seconds + zone);
    *days = (local >= 0 ? local : local - DAY + 1) / DAY;
    *of_day = local - *days * DAY;
}

void plan_time(double seconds, double zone, char *text, size_t size)
{
    long days = 0, of_day = 0, year = 0, month = 0, day = 0, ahead = lround(fabs(zone) / 60);
    split(seconds, zone, &days, &of_day);
    civil_date(days, &year, &month, &day);
    (void)snprintf(text, size, "%04ld-%02ld-%02ldT%02ld:%02ld:%02ld%c%02ld:%02ld", year, month, day,
                   of_day / 3600, of_day / 60 % 60, of_day % 60, zone < 0 ? '-' : '+', ahead / 60,
                   ahead % 60);
}

void plan_time_of_day(double seconds, double zone, char *text, size_t size)
{
    long days = 0, of_day = 0;
    split(seconds, zone, &days, &of_day);
    (void)snprintf(text, size, "%02ld:%02ld", of_day / 3600, of_day / 60 % 60);
}

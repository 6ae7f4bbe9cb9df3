/* iso_time.c - see iso_time.h. */
#include "ingest/iso_time.h"

#include <string.h>

enum { FIRST_YEAR = 1600 }; /* of the Gregorian calendar, which the days are counted by */

/* A place in a text that is read from left to right. */
struct cursor {
    const char *p;
    const char *end;
};

/* Reads from..to digits; -1 when there are fewer. */
static int digits(struct cursor *at, int from, int to)
{
    int value = 0;
    int n = 0;
    for (; n < to && at->p < at->end && *at->p >= '0' && *at->p <= '9'; n++, at->p++)
        value = 10 * value + (*at->p - '0');
    return n >= from ? value : -1;
}

static int skip(struct cursor *at, char c)
{
    if (at->p == at->end || *at->p != c)
        return 0;
    at->p++;
    return 1;
}

/* The decimals of a second, after the point; -1 when there are none. */
static double decimals(struct cursor *at)
{
    double value = 0;
    double scale = 1;
    int n = 0;
    for (; at->p < at->end && *at->p >= '0' && *at->p <= '9' && n < 9; n++, at->p++) {
        value = 10 * value + (*at->p - '0');
        scale *= 10;
    }
    return n > 0 ? value / scale : -1;
}

/* HH:MM[:SS[.fff]] with 1 or 2 digits of hours as declared; -1 when it is not a time of day. */
static double time_of_day(struct cursor *at, int hour_digits)
{
    double second = 0;
    int hour = digits(at, hour_digits, 2);
    if (hour < 0 || hour > 23 || !skip(at, ':'))
        return -1;
    int minute = digits(at, hour_digits, 2);
    if (minute < 0 || minute > 59)
        return -1;
    if (skip(at, ':')) {
        int whole = digits(at, hour_digits, 2);
        if (whole < 0 || whole > 59)
            return -1;
        second = whole;
        if (skip(at, '.')) {
            double fraction = decimals(at);
            if (fraction < 0)
                return -1;
            second += fraction;
        }
    }
    return 3600.0 * hour + 60.0 * minute + second;
}

static int is_leap(int year)
{
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static int days_in_month(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return days[month - 1] + (month == 2 && is_leap(year));
}

/* Days from 1970-01-01 to a date of the year 1 or later; negative before. */
static long days_since_1970(int year, int month, int day)
{
    long past = year - 1L;
    long days = 365L * past + past / 4 - past / 100 + past / 400 - 719162L;
    for (int m = 1; m < month; m++)
        days += days_in_month(year, m);
    return days + day - 1;
}

static const char *read_date(struct cursor *at, long *day_count)
{
    int year = digits(at, 4, 4);
    int month = year < 0 || !skip(at, '-') ? -1 : digits(at, 2, 2);
    int day = month < 0 || !skip(at, '-') ? -1 : digits(at, 2, 2);
    if (day < 0)
        return "it does not begin with a date like 2026-02-11";
    if (year < FIRST_YEAR)
        return "the year is before 1600";
    if (month < 1 || month > 12 || day < 1 || day > days_in_month(year, month))
        return "there is no such day";
    *day_count = days_since_1970(year, month, day);
    return NULL;
}

static const char *read_zone(struct cursor *at, double *offset)
{
    *offset = 0;
    if (skip(at, 'Z'))
        return NULL;
    int sign = skip(at, '+') ? 1 : skip(at, '-') ? -1 : 0;
    if (sign == 0)
        return at->p == at->end ? "the zone is missing" : "what follows the time is not a zone";
    int hours = digits(at, 2, 2);
    (void)skip(at, ':');
    int minutes = digits(at, 2, 2);
    if (hours < 0 || hours > 14 || minutes < 0 || minutes > 59)
        return "the zone is not like +01:00";
    *offset = sign * (3600.0 * hours + 60.0 * minutes);
    return NULL;
}

const char *iso_time_parse(const char *text, struct iso_time *time)
{
    struct cursor at = {text, text + strlen(text)};
    long day_count = 0;
    double offset = 0;

    const char *wrong = read_date(&at, &day_count);
    if (wrong != NULL)
        return wrong;
    if (!skip(&at, 'T'))
        return "a 'T' and the time of day must follow the date";
    double of_day = time_of_day(&at, 2);
    if (of_day < 0)
        return "there is no such time of day";
    wrong = read_zone(&at, &offset);
    if (wrong != NULL)
        return wrong;
    if (at.p != at.end)
        return "something follows the zone";
    time->zone = offset;
    time->midnight = 86400.0 * (double)day_count - offset;
    time->seconds = time->midnight + of_day;
    return NULL;
}

const char *iso_day_or_time_check(const char *text)
{
    struct cursor at = {text, text + strlen(text)};
    struct iso_time time;
    long day_count = 0;
    const char *wrong = read_date(&at, &day_count);
    return wrong != NULL || at.p == at.end ? wrong : iso_time_parse(text, &time);
}

int clock_parse(const char *text, size_t length, double *seconds)
{
    struct cursor at = {text, text + length};
    double of_day = time_of_day(&at, 1);
    if (of_day < 0 || at.p != at.end)
        return 0;
    *seconds = of_day;
    return 1;
}

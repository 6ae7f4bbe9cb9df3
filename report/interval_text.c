/* interval_text.c - see interval_text.h. */
#include "report/interval_text.h"

#include <math.h>
#include <stdio.h>

#include "report/number_text.h"

void interval_words(const struct interval *interval, const char *quantity, const char *name,
                    const struct display *display, char *out, size_t size)
{
    double half_width = (interval->upper - interval->lower) / 2;
    int decimals = number_text_decimals(half_width, display->decimals);
    const char *blank = display->unit[0] != '\0' ? " " : "";
    char of[420];

    (void)snprintf(of, sizeof of, "\xCE\x94%.20s%s%.380s", quantity, name != NULL ? " of " : "",
                   name != NULL ? name : "");
    if (!isfinite(interval->value))
        (void)snprintf(out, size, "%s: not known", of);
    else if (!isfinite(half_width))
        (void)snprintf(out, size, "%s: %s%s%s, no interval", of,
                       number_text_delta(interval->value, display->decimals).text, blank,
                       display->unit);
    else
        (void)snprintf(out, size, "%s: %s%s%s, from %s to %s", of,
                       number_text_pair(interval->value, half_width, display->decimals).text, blank,
                       display->unit, number_text_delta(interval->lower, decimals).text,
                       number_text_delta(interval->upper, decimals).text);
}

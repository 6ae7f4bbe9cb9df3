/* svg_read.c - see svg_read.h. */
#include "tests/svg_read.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

double page_number(const char *text)
{
    static const char minus[] = "\xE2\x88\x92";
    int is_negative = strncmp(text, minus, 3) == 0;

    return (is_negative ? -1 : 1) * strtod(is_negative ? text + 3 : text, NULL);
}

double svg_attribute(const char *element, const char *name)
{
    char wanted[40];
    const char *end = strchr(element, '>');

    (void)snprintf(wanted, sizeof wanted, " %s=\"", name);
    const char *at = strstr(element, wanted);
    return at != NULL && end != NULL && at < end ? strtod(at + strlen(wanted), NULL) : (double)NAN;
}

const char *svg_next(const char *from, const char *stop, const char *beginning)
{
    const char *at = from != NULL ? strstr(from, beginning) : NULL;

    return at != NULL && (stop == NULL || at < stop) ? at : NULL;
}

struct svg_axis svg_axis_read(const char *from, const char *stop, int is_up)
{
    static const char beginning[] = "<text class=\"tick\"";
    const char *anchor = is_up ? "text-anchor=\"end\"" : "text-anchor=\"middle\"";
    const double below = 4; /* of a line is the text of its tick */
    struct svg_axis axis = {{NAN, NAN}, {NAN, NAN}, 0};

    for (const char *at = svg_next(from, stop, beginning); at != NULL;
         at = svg_next(at + 1, stop, beginning)) {
        const char *end = strchr(at, '>');
        const char *found = strstr(at, anchor);
        if (end == NULL || found == NULL || found > end)
            continue;
        int which = axis.ticks > 0;
        axis.place[which] = is_up ? svg_attribute(at, "y") - below : svg_attribute(at, "x");
        axis.value[which] = page_number(end + 1);
        axis.ticks++;
    }
    return axis;
}

double svg_value(const struct svg_axis *axis, double place)
{
    return axis->value[0] + (axis->value[1] - axis->value[0]) * (place - axis->place[0]) /
                                (axis->place[1] - axis->place[0]);
}

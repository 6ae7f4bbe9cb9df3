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

/* Behind the quote that opens the attribute's value. */
static const char *value_of(const char *element, const char *name)
{
    char wanted[40];
    const char *end = element != NULL ? strchr(element, '>') : NULL;

    (void)snprintf(wanted, sizeof wanted, " %s=\"", name);
    const char *at = end != NULL ? strstr(element, wanted) : NULL;
    return at != NULL && at < end ? at + strlen(wanted) : NULL;
}

double svg_attribute(const char *element, const char *name)
{
    const char *at = value_of(element, name);

    return at != NULL ? strtod(at, NULL) : (double)NAN;
}

void svg_attribute_text(const char *element, const char *name, char *out, size_t size)
{
    const char *at = value_of(element, name);

    (void)snprintf(out, size, "%.*s", at != NULL ? (int)strcspn(at, "\"") : 0,
                   at != NULL ? at : "");
}

const char *svg_next(const char *from, const char *stop, const char *beginning)
{
    const char *at = from != NULL ? strstr(from, beginning) : NULL;

    return at != NULL && (stop == NULL || at < stop) ? at : NULL;
}

const char *svg_next_class(const char *from, const char *stop, const char *word)
{
    char wanted[40];
    const char *at = from != NULL && *from == '<' ? strchr(from, '>') : from;
    int length = snprintf(wanted, sizeof wanted, " class=\"%s", word);

    while ((at = svg_next(at, stop, wanted)) != NULL) {
        char after = at[length];
        if (after == '"' || after == ' ') {
            while (*at != '<')
                at--;
            return at;
        }
        at++;
    }
    return NULL;
}

int svg_is(const char *element, const char *word)
{
    char classes[80];
    size_t length = strlen(word);

    svg_attribute_text(element, "class", classes, sizeof classes);
    for (const char *at = classes; (at = strstr(at, word)) != NULL; at++)
        if ((at == classes || at[-1] == ' ') && (at[length] == ' ' || at[length] == '\0'))
            return 1;
    return 0;
}

struct svg svg_after(const char *from, const char *stop)
{
    const char *at = svg_next(from, stop, "<svg ");

    return (struct svg){at, at != NULL ? strstr(at, "</svg>") : NULL};
}

struct svg svg_find(const char *from, const char *label)
{
    for (struct svg at = svg_after(from, NULL); at.from != NULL; at = svg_after(at.stop, NULL)) {
        const char *own = value_of(at.from, "aria-label");
        if (own != NULL && strncmp(own, label, strlen(label)) == 0)
            return at;
    }
    return (struct svg){NULL, NULL};
}

/* Reads one corner from *at, which moves behind it; 0 at the end of the path. */
static int next_corner(const char **at, struct svg_place *out, int *begins)
{
    char *end = NULL;

    *at += strspn(*at, "Z");
    if (**at != 'M' && **at != 'L')
        return 0;
    *begins = **at == 'M';
    out->x = strtod(*at + 1, &end);
    out->y = strtod(end, &end);
    *at = end;
    return 1;
}

size_t svg_path_read(const char *element, struct svg_place *out, size_t most)
{
    const char *at = value_of(element, "d");
    struct svg_place corner;
    size_t n = 0;
    int begins;

    for (; at != NULL && next_corner(&at, &corner, &begins); n++)
        if (n < most)
            out[n] = corner;
    return n;
}

/* 1 when a side crosses the ray from the place to the right. */
static int crosses(struct svg_place a, struct svg_place b, struct svg_place at)
{
    if ((a.y > at.y) == (b.y > at.y))
        return 0;
    return at.x < a.x + (b.x - a.x) * (at.y - a.y) / (b.y - a.y);
}

int svg_covers(const char *element, struct svg_place place)
{
    const char *at = value_of(element, "d");
    struct svg_place first = {0, 0}, last = {0, 0}, corner;
    int sum = 0, begins, is_open = 0;

    while (at != NULL && next_corner(&at, &corner, &begins)) {
        if (begins && is_open)
            sum += crosses(last, first, place);
        if (begins)
            first = corner;
        else
            sum += crosses(last, corner, place);
        last = corner;
        is_open = 1;
    }
    return (sum + (is_open ? crosses(last, first, place) : 0)) % 2 != 0;
}

static struct svg_place centre_of_path(const char *element)
{
    enum { CORNERS = 8 };
    const double triangle = 1.15 / 2; /* of its height is its middle below the top */
    struct svg_place corner[CORNERS], low = {INFINITY, INFINITY}, high = {-INFINITY, -INFINITY};
    size_t n = svg_path_read(element, corner, CORNERS);

    for (size_t i = 0; i < n && i < CORNERS; i++) {
        low = (struct svg_place){fmin(low.x, corner[i].x), fmin(low.y, corner[i].y)};
        high = (struct svg_place){fmax(high.x, corner[i].x), fmax(high.y, corner[i].y)};
    }
    return (struct svg_place){(low.x + high.x) / 2,
                              low.y + (high.y - low.y) * (n == 3 ? triangle : 0.5)};
}

struct svg_place svg_centre(const char *element)
{
    if (strncmp(element, "<circle", 7) == 0)
        return (struct svg_place){svg_attribute(element, "cx"), svg_attribute(element, "cy")};
    if (strncmp(element, "<rect", 5) == 0)
        return (struct svg_place){svg_attribute(element, "x") + svg_attribute(element, "width") / 2,
                                  svg_attribute(element, "y") +
                                      svg_attribute(element, "height") / 2};
    if (strncmp(element, "<line", 5) == 0)
        return (struct svg_place){(svg_attribute(element, "x1") + svg_attribute(element, "x2")) / 2,
                                  (svg_attribute(element, "y1") + svg_attribute(element, "y2")) /
                                      2};
    return centre_of_path(element);
}

void svg_child_text(const char *element, const char *tag, const char *end, char *out, size_t size)
{
    char wanted[24];

    (void)snprintf(wanted, sizeof wanted, "<%s>", tag);
    const char *at = element != NULL ? strstr(element, wanted) : NULL;
    at = at != NULL ? at + strlen(wanted) : "";
    (void)snprintf(out, size, "%.*s", (int)strcspn(at, end), at);
}

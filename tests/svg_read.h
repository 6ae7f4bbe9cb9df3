/* svg_read.h - the shapes of a page's drawings: places as they are written, not what titles say of them. */
#ifndef LAPWING_TEST_SVG_READ_H
#define LAPWING_TEST_SVG_READ_H

#include <stddef.h>

/* A drawing within a page's text, from its tag to its end. */
struct svg {
    const char *from, *stop; /* NULL: there is none */
};

struct svg_place {
    double x, y;
};

/* A number of the page: true minus, optional plus. */
double page_number(const char *text);

/* Of the tag that begins at element; NAN when it has no such attribute. */
double svg_attribute(const char *element, const char *name);
void svg_attribute_text(const char *element, const char *name, char *out, size_t size);

/* The next tag or text that begins so, before stop; NULL when there is none. */
const char *svg_next(const char *from, const char *stop, const char *beginning);

/* The next tag behind the one at from whose first class is this. */
const char *svg_next_class(const char *from, const char *stop, const char *word);

/* 1 when the tag has this among its classes. */
int svg_is(const char *element, const char *word);

/* The next drawing, and the next whose label begins so. */
struct svg svg_after(const char *from, const char *stop);
struct svg svg_find(const char *from, const char *label);

/* Middle of a circle, a rectangle, a line or a marker that is a path. */
struct svg_place svg_centre(const char *element);

/* Corners of a path in their order; gives how many there are, of which most are kept. */
size_t svg_path_read(const char *element, struct svg_place *out, size_t most);

/* 1 when a fill of the path covers the place, by the even-odd rule (SVG 1.1, 11.3), as the style
 * sheet asks for. */
int svg_covers(const char *element, struct svg_place at);

/* The text of the first child of this tag, up to one of the characters of end. */
void svg_child_text(const char *element, const char *tag, const char *end, char *out, size_t size);

#endif

/* svg.h - shapes of a chart, written into the page.
 *
 * Looks come from the style sheet through class names, so that one drawing serves light, dark and
 * print; only colours that carry data are written as attributes. Coordinates are fixed at two
 * decimals. A shape with a coordinate that is not finite is left out: a gap, never a wrong place.   */
#ifndef LAPWING_REPORT_SVG_H
#define LAPWING_REPORT_SVG_H

#include "report/html.h"

/* <svg role="img"> of width x height, described by label; class "plot" gets the keyboard. */
void svg_begin(struct html *page, const char *class, double width, double height,
               const char *label);
void svg_end(struct html *page);

/* <g class="..."> around marks that belong together. */
void svg_group(struct html *page, const char *class);
void svg_group_end(struct html *page);

/* Shapes; title is what hovering shows and a reader hears, NULL for none. fill NULL: by class. */
void svg_line(struct html *page, const char *class, double x1, double y1, double x2, double y2);
void svg_rect(struct html *page, const char *class, double x, double y, double width, double height,
              const char *fill, const char *title);
void svg_circle(struct html *page, const char *class, double x, double y, double radius,
                const char *fill, const char *title);

enum anchor { ANCHOR_START, ANCHOR_MIDDLE, ANCHOR_END };
void svg_text(struct html *page, const char *class, enum anchor anchor, double x, double y,
              const char *text);

/* Markers of a series, told apart without colour. */
enum marker { MARKER_CIRCLE, MARKER_SQUARE, MARKER_TRIANGLE, MARKER_DIAMOND, MARKER_CROSS };
void svg_marker(struct html *page, const char *class, enum marker marker, double x, double y,
                double size, const char *title);

/* Path data built step by step; a point that is not finite ends the line, the next one begins
 * anew. */
struct path {
    struct buffer data;
    int drawing; /* 1: the next point continues the line */
};
void path_point(struct path *path, double x, double y);
void path_break(struct path *path);
void path_close(struct path *path);
void path_free(struct path *path);

/* Writes the path; nothing when it is empty. clip is the id of a clip path or NULL. */
void svg_path(struct html *page, const char *class, struct path *path, const char *fill,
              const char *clip);

#endif

/* svg.c - see svg.h. */
#include "report/svg.h"

#include <math.h>
#include <stdio.h>

#include "schema/number.h"

struct coordinate {
    char text[32];
};

static struct coordinate written(double value)
{
    struct coordinate out = {""};

    (void)number_print_fixed(value, 2, out.text, sizeof out.text);
    return out;
}

/* Far off the page is as wrong as not a number. */
static int is_drawable(double value)
{
    return fabs(value) < 1e6;
}

void svg_begin(struct html *page, const char *class, double width, double height, const char *label)
{
    char box[80];

    (void)snprintf(box, sizeof box, "0 0 %s %s", written(width).text, written(height).text);
    html_open(page, "svg", "class", class, "viewBox", box, "role", "img", "aria-label", label,
              "xmlns", "http://www.w3.org/2000/svg", HTML_END);
}

void svg_end(struct html *page)
{
    html_close(page);
}

void svg_group(struct html *page, const char *class)
{
    html_open(page, "g", "class", class, HTML_END);
}

void svg_group_end(struct html *page)
{
    html_close(page);
}

void svg_line(struct html *page, const char *class, double x1, double y1, double x2, double y2)
{
    if (!is_drawable(x1) || !is_drawable(y1) || !is_drawable(x2) || !is_drawable(y2))
        return;
    html_empty(page, "line", "class", class, "x1", written(x1).text, "y1", written(y1).text, "x2",
               written(x2).text, "y2", written(y2).text, HTML_END);
}

/* The title, then the end of the shape that is open. */
static void end_shape(struct html *page, const char *title)
{
    if (title != NULL)
        html_element(page, "title", title, HTML_END);
    html_close(page);
}

void svg_rect(struct html *page, const char *class, double x, double y, double width, double height,
              const char *fill, const char *title)
{
    if (!is_drawable(x) || !is_drawable(y) || !is_drawable(width) || !is_drawable(height) ||
        width < 0 || height < 0)
        return;
    html_open(page, "rect", "class", class, "x", written(x).text, "y", written(y).text, "width",
              written(width).text, "height", written(height).text, "fill", fill, HTML_END);
    end_shape(page, title);
}

void svg_circle(struct html *page, const char *class, double x, double y, double radius,
                const char *fill, const char *title)
{
    if (!is_drawable(x) || !is_drawable(y) || !is_drawable(radius))
        return;
    html_open(page, "circle", "class", class, "cx", written(x).text, "cy", written(y).text, "r",
              written(radius).text, "fill", fill, HTML_END);
    end_shape(page, title);
}

void svg_text(struct html *page, const char *class, enum anchor anchor, double x, double y,
              const char *text)
{
    static const char *const anchors[] = {NULL, "middle", "end"};

    if (!is_drawable(x) || !is_drawable(y))
        return;
    html_element(page, "text", text, "class", class, "text-anchor", anchors[anchor], "x",
                 written(x).text, "y", written(y).text, HTML_END);
}

/* Outlines on a unit half-size, ended by NAN. */
struct outline {
    double point[9];
};

static const struct outline outlines[] = {
    [MARKER_SQUARE] = {{-0.9, -0.9, 0.9, -0.9, 0.9, 0.9, -0.9, 0.9, NAN}},
    [MARKER_TRIANGLE] = {{0, -1.15, 1.1, 0.85, -1.1, 0.85, NAN}},
    [MARKER_DIAMOND] = {{0, -1.25, 1.25, 0, 0, 1.25, -1.25, 0, NAN}},
};

static void cross(struct path *path, double x, double y, double size)
{
    path_point(path, x - size, y - size);
    path_point(path, x + size, y + size);
    path_break(path);
    path_point(path, x - size, y + size);
    path_point(path, x + size, y - size);
}

void svg_marker(struct html *page, const char *class, enum marker marker, double x, double y,
                double size, const char *title)
{
    struct path path = {0};

    if (!is_drawable(x) || !is_drawable(y) || !is_drawable(size))
        return;
    if (marker == MARKER_CIRCLE) {
        svg_circle(page, class, x, y, size, NULL, title);
        return;
    }
    if (marker == MARKER_CROSS) {
        cross(&path, x, y, size);
    } else {
        const double *point = outlines[marker].point;
        for (int i = 0; !isnan(point[i]); i += 2)
            path_point(&path, x + size * point[i], y + size * point[i + 1]);
        path_close(&path);
    }
    html_open(page, "path", "class", class, "d", buffer_string(&path.data), HTML_END);
    end_shape(page, title);
    page->out.failed |= path.data.failed;
    path_free(&path);
}

void path_point(struct path *path, double x, double y)
{
    if (!is_drawable(x) || !is_drawable(y)) {
        path->drawing = 0;
        return;
    }
    buffer_text(&path->data, path->drawing ? "L" : "M");
    buffer_text(&path->data, written(x).text);
    buffer_text(&path->data, " ");
    buffer_text(&path->data, written(y).text);
    path->drawing = 1;
}

void path_break(struct path *path)
{
    path->drawing = 0;
}

void path_close(struct path *path)
{
    if (path->drawing)
        buffer_text(&path->data, "Z");
    path->drawing = 0;
}

void path_free(struct path *path)
{
    buffer_free(&path->data);
}

void svg_path(struct html *page, const char *class, struct path *path, const char *fill,
              const char *clip)
{
    char reference[40] = "";

    page->out.failed |= path->data.failed;
    if (path->data.length == 0)
        return;
    if (clip != NULL)
        (void)snprintf(reference, sizeof reference, "url(#%s)", clip);
    html_empty(page, "path", "class", class, "d", buffer_string(&path->data), "fill", fill,
               "clip-path", clip != NULL ? reference : NULL, HTML_END);
}

/* chart_map.c - see chart_map.h. */
#include "report/chart_map.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/scale.h"
#include "report/svg.h"

enum {
    WIDTH = 640,
    LEFT = 44,
    RIGHT = 92,
    TOP = 26,
    BOTTOM = 38,
    HEIGHT_LEAST = 120,
    HEIGHT_MOST = 420
};

static const double node_spacing = 4; /* page units; a tap circle is 6 wide */
static const double SQUARE = 7;       /* a tap that has changed */

/* Metres to the page, the same scale both ways. */
struct frame {
    struct scale x, y;
    double bottom; /* of the plot */
};

static struct frame frame_of(const struct map_chart *chart)
{
    double low_x = INFINITY, high_x = -INFINITY, low_y = INFINITY, high_y = -INFINITY;
    struct frame frame;

    for (size_t i = 0; i < chart->n_taps; i++) {
        scale_widen(chart->taps[i].x, &low_x, &high_x);
        scale_widen(chart->taps[i].y, &low_y, &high_y);
    }
    double room = 0.02 * (high_x - low_x);
    double per_metre = (WIDTH - LEFT - RIGHT) / (high_x - low_x + 2 * room);
    double tall = (high_y - low_y + 2 * room) * per_metre;
    if (!(tall > HEIGHT_LEAST))
        tall = HEIGHT_LEAST;
    if (tall > HEIGHT_MOST) {
        per_metre *= HEIGHT_MOST / tall;
        tall = HEIGHT_MOST;
    }
    double centre = (low_y + high_y) / 2;
    double half = tall / 2 / per_metre;
    double end = LEFT + (high_x - low_x + 2 * room) * per_metre;
    frame.bottom = TOP + tall;
    frame.x = scale_make(low_x - room, high_x + room, LEFT, end);
    frame.y = scale_make(centre - half, centre + half, frame.bottom, TOP);
    return frame;
}

static void draw_axes(struct html *page, const struct frame *frame)
{
    struct ticks along = scale_ticks(&frame->x, 8);
    struct ticks across = scale_ticks(&frame->y, 6);

    for (int i = 0; i < along.n; i++) {
        double x = scale_at(&frame->x, along.value[i]);
        svg_line(page, "axis", x, frame->bottom, x, frame->bottom + 4);
        svg_text(page, "tick", ANCHOR_MIDDLE, x, frame->bottom + 17,
                 number_text_plain(along.value[i], along.decimals).text);
    }
    for (int i = 0; i < across.n; i++) {
        double y = scale_at(&frame->y, across.value[i]);
        svg_line(page, "axis", LEFT - 4, y, LEFT, y);
        svg_text(page, "tick", ANCHOR_END, LEFT - 7, y + 4,
                 number_text_plain(across.value[i], across.decimals).text);
    }
    svg_line(page, "axis", LEFT, frame->bottom, frame->x.end, frame->bottom);
    svg_line(page, "axis", LEFT, TOP, LEFT, frame->bottom);
    svg_text(page, "axis-name", ANCHOR_START, 2, 12, "y to the car's right, m");
    svg_text(page, "axis-name", ANCHOR_END, frame->x.end, frame->bottom + 33,
             "x aft of mid-wheelbase, m; flow from left to right in the picture");
}

static void draw_legend(struct html *page, const struct map_chart *chart, const struct frame *frame)
{
    const struct bands *bands = &chart->bands;
    double tall = (frame->bottom - TOP - 10) / bands->n;
    double x = WIDTH - RIGHT + 22;

    svg_text(page, "axis-name", ANCHOR_START, x, 12, chart->symbol);
    for (int k = 0; k < bands->n; k++) {
        double y = frame->bottom - (k + 1) * tall;
        svg_rect(page, "band", x, y, 16, tall, colour_text(bands_colour(bands, k)).text, NULL);
    }
    int every = tall < 11 ? 2 : 1;
    for (int k = 0; k <= bands->n; k += every) {
        double limit = bands_limit(bands, k);
        struct number_text text = bands->diverging ? number_text_delta(limit, bands->decimals)
                                                   : number_text_plain(limit, bands->decimals);
        svg_text(page, "tick", ANCHOR_START, x + 21, frame->bottom - k * tall + 4, text.text);
    }
}

/* Lowest band over the whole hull, then each higher region over it. */
static enum status draw_bands(struct html *page, const struct map_chart *chart,
                              const struct contour_surface *surface, struct fault *fault)
{
    struct contour_grid grid = {0};
    struct path hull = {0};
    struct html_id clip = html_next_id(page);

    enum status status = contour_hull(surface, &hull, fault);
    if (status == OK)
        status = contour_grid_make(surface, node_spacing, &grid, fault);
    html_open(page, "clipPath", "id", clip.text, HTML_END);
    svg_path(page, "hull", &hull, NULL, NULL);
    html_close(page);
    svg_path(page, "band", &hull, colour_text(bands_colour(&chart->bands, 0)).text, NULL);
    for (int k = 1; status == OK && k < chart->bands.n; k++) {
        struct path region = {0};
        status = contour_region(&grid, bands_limit(&chart->bands, k), &region, fault);
        svg_path(page, "band", &region, colour_text(bands_colour(&chart->bands, k)).text,
                 clip.text);
        path_free(&region);
    }
    svg_path(page, "outline", &hull, NULL, NULL);
    contour_grid_free(&grid);
    path_free(&hull);
    return status;
}

static void draw_tap(struct html *page, const struct map_chart *chart, const struct frame *frame,
                     const struct map_tap *tap)
{
    double x = scale_at(&frame->x, tap->x);
    double y = scale_at(&frame->y, tap->y);
    int band = bands_index(&chart->bands, tap->value);
    char title[480];
    struct cut_text name = cut_text(tap->name, CUT_TEXT_MOST);

    if (band < 0) {
        (void)snprintf(title, sizeof title, "tap %s: dead", name.text);
        svg_marker(page, "tap halo", MARKER_CROSS, x, y, 4, NULL);
        svg_marker(page, "tap dead", MARKER_CROSS, x, y, 4, title);
        return;
    }
    struct number_text value = chart->bands.diverging
                                   ? number_text_pair(tap->value, 2 * tap->uncertainty, 3)
                                   : number_text_plain(tap->value, 3);
    (void)snprintf(title, sizeof title, "tap %s: %s %s%s%s", name.text, chart->symbol, value.text,
                   isfinite(tap->uncertainty) ? " (two standard uncertainties)" : "",
                   tap->is_changed ? ", changed" : "");
    struct colour_text fill = colour_text(bands_colour(&chart->bands, band));
    if (tap->is_changed)
        svg_rect(page, "tap changed", x - SQUARE / 2, y - SQUARE / 2, SQUARE, SQUARE, fill.text,
                 title);
    else
        svg_circle(page, "tap", x, y, 3, fill.text, title);
}

/* Where a tap is on the page. One without a place or a value takes no part, wherever it is. */
static struct contour_vertex vertex_of(const struct frame *frame, const struct map_tap *tap)
{
    if (!scale_takes(tap->x) || !scale_takes(tap->y) || !scale_takes(tap->value))
        return (struct contour_vertex){frame->x.start, frame->y.start, NAN};
    return (struct contour_vertex){scale_at(&frame->x, tap->x), scale_at(&frame->y, tap->y),
                                   tap->value};
}

enum status chart_map(struct html *page, const struct map_chart *chart, struct fault *fault)
{
    struct frame frame = frame_of(chart);
    struct contour_vertex *vertices = calloc(chart->n_taps + 1, sizeof *vertices);

    if (vertices == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a map of %zu taps", chart->n_taps);
    for (size_t i = 0; i < chart->n_taps; i++)
        vertices[i] = vertex_of(&frame, &chart->taps[i]);
    struct contour_surface surface = {vertices, chart->triangles, chart->n_taps,
                                      chart->n_triangles};
    svg_begin(page, "plot broad", WIDTH, frame.bottom + BOTTOM, chart->label);
    enum status status = draw_bands(page, chart, &surface, fault);
    draw_axes(page, &frame);
    draw_legend(page, chart, &frame);
    svg_group(page, "taps");
    for (size_t i = 0; i < chart->n_taps; i++)
        draw_tap(page, chart, &frame, &chart->taps[i]);
    svg_group_end(page);
    svg_end(page);
    free(vertices);
    return status;
}

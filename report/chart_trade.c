/* chart_trade.c - see chart_trade.h. */
#include "report/chart_trade.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/scale.h"
#include "schema/utf8.h"

enum {
    WIDTH = 760,
    HEIGHT = 420,
    LEFT = 62,
    RIGHT = 18,
    TOP = 26,
    BOTTOM = 44,
    ASIDE = 9,     /* from a mark to its name */
    NAME_ROOM = 24 /* characters of a name */
};

static const double letter = 6.9; /* width of a character of a name */

struct frame {
    struct scale x, y;
};

static struct frame frame_of(const struct trade_chart *chart)
{
    double low[2] = {0, 0}, high[2] = {0, 0}; /* zero is always shown */
    struct frame frame;

    for (size_t i = 0; i < chart->n; i++) {
        const struct trade_mark *mark = &chart->marks[i];
        const double x[] = {mark->x, mark->x_lower, mark->x_upper};
        const double y[] = {mark->y, mark->y_lower, mark->y_upper};
        if (!scale_takes(mark->x) || !scale_takes(mark->y))
            continue;
        for (int k = 0; k < 3; k++) {
            scale_widen(x[k], &low[0], &high[0]);
            scale_widen(y[k], &low[1], &high[1]);
        }
    }
    for (int k = 0; k < 2; k++)
        scale_nice_range(&low[k], &high[k], 6);
    frame.x = scale_make(low[0], high[0], LEFT, WIDTH - RIGHT);
    frame.y = scale_make(low[1], high[1], HEIGHT - BOTTOM, TOP);
    return frame;
}

static void draw_axes(struct html *page, const struct trade_chart *chart, const struct frame *frame)
{
    struct ticks across = scale_ticks(&frame->x, 7);
    struct ticks up = scale_ticks(&frame->y, 6);
    double base = frame->y.start;

    for (int i = 0; i < up.n; i++) {
        double y = scale_at(&frame->y, up.value[i]);
        svg_line(page, "grid", LEFT, y, WIDTH - RIGHT, y);
        svg_text(page, "tick", ANCHOR_END, LEFT - 7, y + 4,
                 number_text_delta(up.value[i], up.decimals).text);
    }
    for (int i = 0; i < across.n; i++) {
        double x = scale_at(&frame->x, across.value[i]);
        svg_line(page, "axis", x, base, x, base + 4);
        svg_text(page, "tick", ANCHOR_MIDDLE, x, base + 17,
                 number_text_delta(across.value[i], across.decimals).text);
    }
    svg_line(page, "axis", LEFT, base, WIDTH - RIGHT, base);
    svg_line(page, "zero", LEFT, scale_at(&frame->y, 0), WIDTH - RIGHT, scale_at(&frame->y, 0));
    svg_line(page, "zero", scale_at(&frame->x, 0), TOP, scale_at(&frame->x, 0), base);
    svg_text(page, "axis-name", ANCHOR_START, 2, 12, chart->y_name);
    svg_text(page, "axis-name", ANCHOR_END, WIDTH - RIGHT, base + 36, chart->x_name);
}

/* ---- the line and its side ----------------------------------------------------------------------- */

enum { CORNERS = 4, POLYGON_MAX = 8 };

struct corner {
    double x, y;
};

/* Of the frame's rectangle, what lies on the side of the line that is worth it: the corners on that side,
 * and where the line leaves it. Values, not places. */
static size_t worth_it(const struct trade_chart *chart, const struct frame *frame,
                       struct corner *out)
{
    const struct corner box[CORNERS] = {{frame->x.from, frame->y.from},
                                        {frame->x.to, frame->y.from},
                                        {frame->x.to, frame->y.to},
                                        {frame->x.from, frame->y.to}};
    double sense = chart->is_above ? 1 : -1;
    size_t n = 0;

    for (int i = 0; i < CORNERS; i++) {
        struct corner a = box[i], b = box[(i + 1) % CORNERS];
        double over_a = sense * (a.y - chart->slope * a.x);
        double over_b = sense * (b.y - chart->slope * b.x);
        if (over_a >= 0)
            out[n++] = a;
        if ((over_a > 0 && over_b < 0) || (over_a < 0 && over_b > 0)) {
            double share = over_a / (over_a - over_b);
            out[n++] = (struct corner){a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
        }
    }
    return n;
}

/* Both ends of the line within the frame. */
static void draw_line(struct html *page, const struct trade_chart *chart, const struct frame *frame)
{
    double low_y = fmin(frame->y.from, frame->y.to), high_y = fmax(frame->y.from, frame->y.to);
    double ends[2] = {fmin(frame->x.from, frame->x.to), fmax(frame->x.from, frame->x.to)};
    double at_low = low_y / chart->slope, at_high = high_y / chart->slope;

    ends[0] = fmax(ends[0], fmin(at_low, at_high));
    ends[1] = fmin(ends[1], fmax(at_low, at_high));
    svg_line(page, "worth-line", scale_at(&frame->x, ends[0]),
             scale_at(&frame->y, chart->slope * ends[0]), scale_at(&frame->x, ends[1]),
             scale_at(&frame->y, chart->slope * ends[1]));
}

static void draw_worth(struct html *page, const struct trade_chart *chart,
                       const struct frame *frame)
{
    struct corner polygon[POLYGON_MAX];
    struct path path = {0};

    if (!scale_takes(chart->slope) || chart->slope == 0)
        return;
    size_t n = worth_it(chart, frame, polygon);
    for (size_t i = 0; i < n; i++)
        path_point(&path, scale_at(&frame->x, polygon[i].x), scale_at(&frame->y, polygon[i].y));
    path_close(&path);
    svg_path(page, "worth", &path, NULL, NULL);
    path_free(&path);
    draw_line(page, chart, frame);
}

/* ---- names --------------------------------------------------------------------------------------- */

static double common(const struct trade_box *a, const struct trade_box *b)
{
    double across = fmin(a->right, b->right) - fmax(a->left, b->left);
    double up = fmin(a->bottom, b->bottom) - fmax(a->top, b->top);

    return across > 0 && up > 0 ? across * up : 0;
}

static struct trade_box box_of(const struct trade_label *label)
{
    const double half = TRADE_LABEL_HEIGHT / 2.0;

    return (struct trade_box){label->x, label->x + label->width, label->y - half, label->y + half};
}

/* How much of the label lies over boxes, over labels placed before it, and outside the frame. */
static double covered(const struct trade_label *label, const struct trade_box *boxes,
                      size_t n_boxes, const struct trade_label *placed, size_t n_placed,
                      const struct trade_box *frame)
{
    const double outside = 4; /* is worse than over something */
    struct trade_box own = box_of(label);
    double sum = outside * (label->width * TRADE_LABEL_HEIGHT - common(&own, frame));

    for (size_t i = 0; i < n_boxes; i++)
        sum += common(&own, &boxes[i]);
    for (size_t i = 0; i < n_placed; i++) {
        struct trade_box other = box_of(&placed[i]);
        sum += isfinite(placed[i].x) ? common(&own, &other) : 0;
    }
    return sum;
}

void chart_trade_labels(const double *x, const double *y, size_t n, const struct trade_box *boxes,
                        size_t n_boxes, const struct trade_box *frame, struct trade_label *labels)
{
    static const double up[] = {-11, 11, -22, 22, -35, 35, -48, 48, -62, 62};

    for (size_t i = 0; i < n; i++) {
        double width = labels[i].width, least = INFINITY;
        labels[i] = (struct trade_label){NAN, NAN, width};
        if (!isfinite(x[i]) || !isfinite(y[i]))
            continue;
        for (size_t k = 0; k < 2 * sizeof up / sizeof up[0] && least > 0; k++) {
            int is_left = (k & 1U) != 0;
            struct trade_label tried = {is_left ? x[i] - ASIDE - width : x[i] + ASIDE,
                                        y[i] + up[k / 2], width};
            double sum = covered(&tried, boxes, n_boxes, labels, i, frame);
            if (sum < least) {
                least = sum;
                labels[i] = tried;
            }
        }
    }
}

/* ---- marks --------------------------------------------------------------------------------------- */

static void draw_mark(struct html *page, const struct trade_mark *mark, const struct frame *frame)
{
    double x = scale_at(&frame->x, mark->x), y = scale_at(&frame->y, mark->y);

    if (!scale_takes(mark->x) || !scale_takes(mark->y))
        return;
    svg_group(page, mark->look.class);
    svg_line(page, "range", scale_at(&frame->x, mark->x_lower), y,
             scale_at(&frame->x, mark->x_upper), y);
    svg_line(page, "range", x, scale_at(&frame->y, mark->y_lower), x,
             scale_at(&frame->y, mark->y_upper));
    svg_marker(page, mark->is_hollow ? "mark hollow" : "mark", mark->look.marker, x, y, 4.6,
               mark->title);
    svg_group_end(page);
}

/* Of each mark three boxes: itself, the arm across, the arm up. */
enum { BOXES = 3 };

static void fill_boxes(const struct trade_mark *mark, const struct frame *frame,
                       struct trade_box out[BOXES])
{
    const double half = 5, thin = 1;
    double x = scale_at(&frame->x, mark->x), y = scale_at(&frame->y, mark->y);
    double x0 = scale_at(&frame->x, mark->x_lower), x1 = scale_at(&frame->x, mark->x_upper);
    double y0 = scale_at(&frame->y, mark->y_upper), y1 = scale_at(&frame->y, mark->y_lower);

    out[0] = (struct trade_box){x - half, x + half, y - half, y + half};
    out[1] = (struct trade_box){fmin(x0, x1), fmax(x0, x1), y - thin, y + thin};
    out[2] = (struct trade_box){x - thin, x + thin, fmin(y0, y1), fmax(y0, y1)};
}

/* Where names go: all of it in page units. */
struct naming {
    double *x, *y;
    struct trade_box *boxes;
    struct trade_label *labels;
};

static void naming_fill(struct naming *naming, const struct trade_chart *chart,
                        const struct frame *frame)
{
    for (size_t i = 0; i < chart->n; i++) {
        const struct trade_mark *mark = &chart->marks[i];
        const struct cut_text name = cut_text(mark->name, NAME_ROOM);
        int is_drawn = scale_takes(mark->x) && scale_takes(mark->y);
        naming->x[i] = is_drawn ? scale_at(&frame->x, mark->x) : (double)NAN;
        naming->y[i] = is_drawn ? scale_at(&frame->y, mark->y) : (double)NAN;
        naming->labels[i].width = letter * (double)utf8_characters(name.text, strlen(name.text));
        fill_boxes(mark, frame, &naming->boxes[BOXES * i]);
    }
}

static void draw_names(struct html *page, const struct trade_chart *chart,
                       const struct frame *frame)
{
    const struct trade_box inside = {LEFT, WIDTH - RIGHT, TOP, HEIGHT - BOTTOM};
    size_t n = chart->n;
    struct naming naming = {calloc(n + 1, sizeof(double)), calloc(n + 1, sizeof(double)),
                            calloc(BOXES * n + 1, sizeof(struct trade_box)),
                            calloc(n + 1, sizeof(struct trade_label))};

    if (naming.x != NULL && naming.y != NULL && naming.boxes != NULL && naming.labels != NULL) {
        naming_fill(&naming, chart, frame);
        chart_trade_labels(naming.x, naming.y, n, naming.boxes, BOXES * n, &inside, naming.labels);
        for (size_t i = 0; i < n; i++) {
            svg_group(page, chart->marks[i].look.class);
            svg_text(page, "end-label", ANCHOR_START, naming.labels[i].x, naming.labels[i].y + 4,
                     cut_text(chart->marks[i].name, NAME_ROOM).text);
            svg_group_end(page);
        }
    } else {
        page->out.failed = 1;
    }
    free(naming.x);
    free(naming.y);
    free(naming.boxes);
    free(naming.labels);
}

void chart_trade(struct html *page, const struct trade_chart *chart)
{
    struct frame frame = frame_of(chart);

    svg_begin(page, "plot broad", WIDTH, HEIGHT, chart->label);
    draw_worth(page, chart, &frame);
    draw_axes(page, chart, &frame);
    for (size_t i = 0; i < chart->n; i++)
        draw_mark(page, &chart->marks[i], &frame);
    draw_names(page, chart, &frame);
    svg_end(page);
}

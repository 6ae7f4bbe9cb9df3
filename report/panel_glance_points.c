/* panel_glance_points.c - the points of the run: main metric, halves, earlier runs, and their table. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "report/chart_points.h"
#include "report/display.h"
#include "report/glance_words.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/page_glance.h"
#include "report/query.h"

enum { WIDTHS = 2 }; /* standard uncertainties that an interval reaches */

struct points_panel {
    const struct glance *glance;
    const struct quantity_row *row;
    struct points_mark *marks;
    struct text_pool texts;
    double size; /* of one printed unit of a delta */
};

/* Where the point should be: the mean of earlier runs, else itself. */
static double centre_of(const struct glance_point *point)
{
    return point->earlier.n > 0 ? point->earlier.mean : point->values[0].value;
}

static enum points_look look_of(const struct glance_point *point)
{
    if (point->state >= FLAG_FAILED)
        return POINT_LOST;
    return point->state == FLAG_FLAGGED ? POINT_FLAGGED : POINT_FINE;
}

static const char *target_of(const struct glance *glance, const struct glance_point *point)
{
    return point->target == GLANCE_NO_TARGET ? "no target" : glance->targets[point->target].name;
}

static enum status make_title(struct points_panel *panel, const struct glance_point *point,
                              const char **title, struct fault *fault)
{
    int decimals = glance_decimals(panel->glance->metrics[0].quantity);
    const struct glance_value *value = &point->values[0];
    struct buffer text = {0};

    buffer_format(&text, "point %s, %s, %s: %s %s \xC2\xB1 %s", point->label,
                  target_of(panel->glance, point), glance_state_word(point), panel->row->symbol,
                  number_text_plain(value->value, decimals).text,
                  number_text_plain(WIDTHS * value->uncertainty, decimals).text);
    if (point->earlier.n > 0)
        buffer_format(&text, "; %s %s from the mean of %zu earlier",
                      number_text_delta((value->value - point->earlier.mean) / panel->size, 1).text,
                      panel->glance->metrics[0].unit, point->earlier.n);
    if (isfinite(point->half[1] - point->half[0]))
        buffer_format(&text, "; first half to second %s %s",
                      number_text_delta((point->half[1] - point->half[0]) / panel->size, 1).text,
                      panel->glance->metrics[0].unit);
    enum status status = buffer_status(&text, "a point's title", fault);
    if (status == OK)
        status = text_pool_keep(&panel->texts, buffer_string(&text), title, fault);
    buffer_free(&text);
    return status;
}

static enum status make_mark(struct points_panel *panel, size_t i, struct fault *fault)
{
    const struct glance_point *point = &panel->glance->points[i];
    const struct glance_value *value = &point->values[0];
    struct points_mark *mark = &panel->marks[i];
    double centre = centre_of(point);
    double reach = WIDTHS * value->uncertainty;
    int has_earlier = point->earlier.n > 0;

    *mark = (struct points_mark){
        .label = point->label,
        .look = look_of(point),
        .has_earlier = has_earlier,
        .value = value->value,
        .delta = (value->value - centre) / panel->size,
        .lower = (value->value - reach - centre) / panel->size,
        .upper = (value->value + reach - centre) / panel->size,
        .half = {(point->half[0] - centre) / panel->size, (point->half[1] - centre) / panel->size},
        .low = NAN,
        .high = NAN};
    if (has_earlier) {
        mark->low = (point->earlier.low - centre) / panel->size;
        mark->high = (point->earlier.high - centre) / panel->size;
    }
    return make_title(panel, point, &mark->title, fault);
}

static void write_chart(struct html *page, const struct points_panel *panel)
{
    const struct glance *glance = panel->glance;
    const struct glance_metric *metric = &glance->metrics[0];
    char label[240], y_name[120], d_name[160];

    (void)snprintf(
        label, sizeof label, "%.20s of %zu point%s in the order of the log, and below %s",
        panel->row->symbol, glance->n_points, glance->n_points == 1 ? "" : "s",
        glance->n_earlier > 0 ? "how far each sits from earlier runs of the configuration"
                              : "the interval of each, as there is no earlier run");
    (void)snprintf(y_name, sizeof y_name, "%.20s, %.60s", panel->row->symbol,
                   display_sign(panel->row->symbol));
    (void)snprintf(d_name, sizeof d_name, "\xCE\x94%.20s%s%.20s, %s", panel->row->symbol,
                   metric->unit[0] != '\0' ? ", " : "", metric->unit,
                   glance->n_earlier > 0 ? "from the mean of earlier runs at the target"
                                         : "from the point itself: no earlier run");
    struct points_chart chart = {
        label, y_name, d_name, metric->worthwhile / panel->size, panel->marks, glance->n_points};
    page_scroller(page, "scroll", "picture: the points, one by one");
    chart_points(page, &chart);
    html_close(page);
}

static void write_head(struct html *page, const struct glance *glance)
{
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Point", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "Target", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "Reached", "class", "left", "scope", "col", HTML_END);
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++) {
        struct glance_axis about = glance_axis_of(axis);
        if (!glance->is_named[axis])
            continue;
        html_open(page, "th", "scope", "col", HTML_END);
        html_format(page, "%s, %s", about.symbol, about.unit);
        html_close(page);
    }
    html_element(page, "th", "q, Pa", "scope", "col", HTML_END);
    for (size_t m = 0; m < glance->n_metrics; m++) {
        html_element(page, "th", quantity_row(glance->metrics[m].quantity)->symbol, "scope", "col",
                     HTML_END);
        html_element(page, "th", "u", "scope", "col", HTML_END);
    }
    html_element(page, "th", "First half", "scope", "col", HTML_END);
    html_element(page, "th", "Second half", "scope", "col", HTML_END);
    html_element(page, "th", "Earlier runs", "scope", "col", HTML_END);
    html_element(page, "th", "State", "class", "left", "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
}

static void write_number(struct html *page, double value, int decimals)
{
    html_element(page, "td", number_text_plain(value, decimals).text, HTML_END);
}

static void write_row(struct html *page, const struct glance *glance,
                      const struct glance_point *point)
{
    int main_decimals = glance_decimals(glance->metrics[0].quantity);

    html_open(page, "tr", HTML_END);
    html_element(page, "th", point->label, "scope", "row", HTML_END);
    html_element(page, "td", target_of(glance, point), "class", "left", HTML_END);
    html_element(page, "td", glance_reach_word(point), "class", "left", HTML_END);
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++)
        if (glance->is_named[axis])
            write_number(page, glance_axis_of(axis).factor * point->attitude[axis], 2);
    write_number(page, point->dynamic_pressure, 1);
    for (size_t m = 0; m < glance->n_metrics; m++) {
        int decimals = glance_decimals(glance->metrics[m].quantity);
        write_number(page, point->values[m].value, decimals);
        write_number(page, point->values[m].uncertainty, decimals);
    }
    write_number(page, point->half[0], main_decimals);
    write_number(page, point->half[1], main_decimals);
    html_element(
        page, "td",
        point->earlier.n == 0
            ? "none"
            : number_text_range(point->earlier.low, point->earlier.high, main_decimals).text,
        HTML_END);
    html_element(page, "td", glance_state_word(point), "class", "left", HTML_END);
    html_close(page);
}

static void write_table(struct html *page, const struct glance *glance)
{
    html_open(page, "details", HTML_END);
    html_element(page, "summary", "Numbers behind this picture", HTML_END);
    page_scroller(page, "scroll", "numbers of the points");
    html_open(page, "table", HTML_END);
    write_head(page, glance);
    html_open(page, "tbody", HTML_END);
    for (size_t i = 0; i < glance->n_points; i++)
        write_row(page, glance, &glance->points[i]);
    for (int k = 0; k < 4; k++)
        html_close(page);
}

static const char why[] =
    "Above, the value of each point. Below, how far it sits from the mean of earlier runs of the "
    "configuration at the same target: a bar spans what those gave, a line what two standard "
    "uncertainties of the point allow, and beside the point stand its first half (square) and its "
    "second (diamond). Hollow: no earlier value, so the point is compared with itself. Ring: "
    "flagged. Cross: takes no part. Grey: too small to matter.";

enum status panel_glance_points(struct html *page, const struct glance *glance, struct fault *fault)
{
    struct points_panel panel = {.glance = glance};
    enum status status = OK;

    if (glance->n_points == 0 || glance->n_metrics == 0) {
        page_section(page, "points", "The points", "Nothing is drawn: the run has no points.");
        html_close(page);
        return OK;
    }
    panel.row = quantity_row(glance->metrics[0].quantity);
    panel.size = glance->metrics[0].unit_size;
    panel.marks = calloc(glance->n_points, sizeof *panel.marks);
    if (panel.marks == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to draw %zu points", glance->n_points);
    for (size_t i = 0; status == OK && i < glance->n_points; i++)
        status = make_mark(&panel, i, fault);
    if (status == OK) {
        page_section(page, "points", "The points, one by one", why);
        html_open(page, "div", "class", "panel", HTML_END);
        write_chart(page, &panel);
        write_table(page, glance);
        html_close(page);
        html_close(page);
    }
    text_pool_free(&panel.texts);
    free(panel.marks);
    return status;
}

/* tap_line.c - see tap_line.h. */
#include "report/tap_line.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "report/chart_line.h"
#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/scale.h"

enum { SERIES = 2, WIDTH = 1280, HEIGHT = 330, DECIMALS = 3 };

static const double wide = 0.030; /* m, of what counts as one line */

struct line_tap {
    const char *name;
    double x, y;          /* m */
    double value[SERIES]; /* Cp; NAN: dead, or not run */
};

struct tap_line {
    struct text_pool texts;
    void *taps; /* struct line_tap, from the nose to the tail */
    size_t n, capacity;
    double low, high; /* m, of y */
    size_t n_live;    /* of the line */
};

static const char taps_sql[] =
    "SELECT m.tap, t.x_m, t.y_m, m.cp, (SELECT c.cp FROM map_tap AS c JOIN page_reduction AS e ON "
    "e.reduction = c.reduction WHERE c.configuration = ?4 AND c.target = m.target AND c.tap = "
    "m.tap) FROM map_tap AS m JOIN page_reduction AS d ON d.reduction = m.reduction JOIN tap AS t "
    "ON t.tap = m.tap WHERE m.configuration = ?1 AND m.target = ?2 AND t.surface = ?3 "
    "ORDER BY t.x_m, t.sequence";

static enum status take_tap(struct statement *row, void *context, struct fault *fault)
{
    struct tap_line *line = context;
    struct line_tap *tap = query_append(&line->taps, &line->n, &line->capacity, sizeof *tap, fault);

    if (tap == NULL)
        return NO_MEMORY;
    tap->x = statement_real(row, 1);
    tap->y = statement_real(row, 2);
    for (int k = 0; k < SERIES; k++)
        tap->value[k] = statement_real(row, 3 + k);
    return text_pool_keep(&line->texts, statement_text(row, 0), &tap->name, fault);
}

static int is_on(const struct line_tap *tap, double low, double high)
{
    return tap->y >= low && tap->y <= high;
}

/* Of the live taps from y on, as far as the line may be wide: how many, and where the last of them is. */
static size_t count_from(const struct tap_line *line, double y, double *last)
{
    const struct line_tap *taps = line->taps;
    size_t n = 0;

    *last = y;
    for (size_t i = 0; i < line->n; i++) {
        if (!is_on(&taps[i], y, y + wide) || !scale_takes(taps[i].value[0]))
            continue;
        *last = fmax(*last, taps[i].y);
        n++;
    }
    return n;
}

static void find(struct tap_line *line)
{
    const struct line_tap *taps = line->taps;
    const double nearer = 1e-6; /* m; less is rounding */

    for (size_t i = 0; i < line->n; i++) {
        double last;
        size_t n = count_from(line, taps[i].y, &last);
        double from_middle = fabs(taps[i].y + last) - fabs(line->low + line->high);
        if (n < line->n_live || (n == line->n_live && !(from_middle < -nearer)))
            continue;
        line->n_live = n;
        line->low = taps[i].y;
        line->high = last;
    }
}

/* Points of one series; a dead tap is a gap. Gives their number. */
static size_t fill(const struct tap_line *line, int k, struct line_point *points)
{
    const struct line_tap *taps = line->taps;
    size_t n = 0;

    for (size_t i = 0; i < line->n; i++)
        if (is_on(&taps[i], line->low, line->high))
            points[n++] = (struct line_point){taps[i].x, taps[i].value[k], NAN, NAN};
    return n;
}

static struct series_look look_of(const struct night_page *night, const char *name)
{
    const struct finding_configuration *found = findings_configuration(night->findings, name);

    return found != NULL ? found->look : (struct series_look){"sx", MARKER_CIRCLE};
}

static enum status write_chart(struct html *page, const struct night_page *night,
                               const struct tap_line_asked *asked, const struct tap_line *line,
                               struct fault *fault)
{
    const char *names[SERIES] = {asked->baseline, asked->changed};
    struct line_series series[SERIES];
    struct line_point *points = calloc(SERIES * line->n + 1, sizeof *points);
    size_t n = asked->changed[0] != '\0' ? SERIES : 1, on_line = 0;
    char label[3 * sizeof(struct cut_text) + 100];

    if (points == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to draw %zu taps", line->n);
    for (size_t k = 0; k < n; k++) {
        on_line = fill(line, (int)k, points + k * line->n);
        series[k] =
            (struct line_series){names[k], look_of(night, names[k]), points + k * line->n, on_line};
    }
    (void)snprintf(label, sizeof label,
                   "Cp over x along the %s, %zu taps, %zu configuration%s at %s, suction upwards",
                   cut_text(asked->surface, CUT_TEXT_MOST).text, on_line, n, n == 1 ? "" : "s",
                   cut_text(asked->target, CUT_TEXT_MOST).text);
    struct line_chart chart = {.label = label,
                               .x_name = "x aft of mid-wheelbase, m",
                               .y_name = "Cp, suction upwards",
                               .width = WIDTH,
                               .height = HEIGHT,
                               .series = series,
                               .n = n,
                               .value_decimals = DECIMALS,
                               .x_decimals = DECIMALS,
                               .is_reversed = 1};
    page_scroller(page, "scroll", "picture: pressures along the car");
    chart_line(page, &chart);
    html_close(page);
    free(points);
    return OK;
}

static void write_value(struct html *page, double value)
{
    html_element(page, "td", scale_takes(value) ? number_text_plain(value, DECIMALS).text : "n/a",
                 HTML_END);
}

static void write_table(struct html *page, const struct tap_line_asked *asked,
                        const struct tap_line *line)
{
    const char *heads[] = {"x, m", "y, m", asked->baseline, asked->changed};
    const struct line_tap *taps = line->taps;
    int columns = asked->changed[0] != '\0' ? 4 : 3;

    html_open(page, "details", HTML_END);
    html_element(page, "summary", "Numbers behind this picture", HTML_END);
    page_scroller(page, "scroll", "numbers of the pressures along the car");
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Tap", "class", "left", "scope", "col", HTML_END);
    for (int k = 0; k < columns; k++)
        html_element(page, "th", heads[k], "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
    for (size_t i = 0; i < line->n; i++) {
        if (!is_on(&taps[i], line->low, line->high))
            continue;
        html_open(page, "tr", HTML_END);
        html_element(page, "th", taps[i].name, "scope", "row", HTML_END);
        write_value(page, taps[i].x);
        write_value(page, taps[i].y);
        for (int k = 2; k < columns; k++)
            write_value(page, taps[i].value[k - 2]);
        html_close(page);
    }
    for (int k = 0; k < 4; k++)
        html_close(page);
}

static enum status write_panel(struct html *page, const struct night_page *night,
                               const struct tap_line_asked *asked, const struct tap_line *line,
                               struct fault *fault)
{
    html_open(page, "div", "class", "panel", HTML_END);
    html_open(page, "h3", HTML_END);
    html_format(page, "Along the car, y %s m",
                number_text_range(line->low, line->high, DECIMALS).text);
    html_close(page);
    enum status status = write_chart(page, night, asked, line, fault);
    html_element(page, "p",
                 "The line with the most taps side by side. Suction is drawn upwards; a gap is a "
                 "dead tap.",
                 "class", "note", HTML_END);
    write_table(page, asked, line);
    html_close(page);
    return status;
}

enum status tap_line_write(struct html *page, const struct night_page *night,
                           const struct tap_line_asked *asked, struct fault *fault)
{
    const char *texts[] = {asked->baseline, asked->target, asked->surface, asked->changed, NULL};
    struct tap_line line = {.low = 0};

    enum status status = query_each(night->store, taps_sql, texts, take_tap, &line, fault);
    if (status == OK)
        find(&line);
    if (status == OK && line.n_live >= TAP_LINE_LEAST)
        status = write_panel(page, night, asked, &line, fault);
    text_pool_free(&line.texts);
    free(line.taps);
    return status;
}

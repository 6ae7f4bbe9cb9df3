/* panel_glance_record.c - the record strip of a run, the drift of its zero, and their table. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/chart_record.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/page_glance.h"
#include "report/query.h"

struct record_panel {
    const struct glance *glance;
    struct record_cell *cells; /* one a mark, and one for the zero */
    size_t n_cells;
    const char **columns;
    char zero[160];
    struct text_pool texts;
};

static const char *place_of(const struct glance *glance, int point)
{
    return point == GLANCE_WHOLE_RUN ? "the whole run" : glance->points[point].label;
}

static enum status add_mark(struct record_panel *panel, const struct glance_mark *mark,
                            struct fault *fault)
{
    const struct glance *glance = panel->glance;
    struct record_cell *cell = &panel->cells[panel->n_cells++];
    struct buffer text = {0};

    *cell = (struct record_cell){.row = mark->row,
                                 .column = mark->point,
                                 .ratio = mark->ratio,
                                 .is_lost = mark->state >= FLAG_FAILED};
    buffer_format(&text, "%s, %s%s: %s, %s", glance->rows[mark->row],
                  mark->point == GLANCE_WHOLE_RUN ? "" : "point ", place_of(glance, mark->point),
                  mark->rule, flag_state_name(mark->state));
    if (isfinite(mark->ratio))
        buffer_format(&text, ", %s times its limit", number_text_plain(mark->ratio, 1).text);
    enum status status = buffer_status(&text, "the title of a mark", fault);
    if (status == OK)
        status = text_pool_keep(&panel->texts, buffer_string(&text), &cell->title, fault);
    buffer_free(&text);
    return status;
}

/* What is known of the drift, in words over its row, unless a mark stands there. */
static void add_zero(struct record_panel *panel)
{
    const struct glance *glance = panel->glance;
    const struct glance_zero *zero = &glance->zero;

    if (zero->is_one_sided)
        (void)snprintf(panel->zero, sizeof panel->zero, "not known: one zero only");
    else if (zero->quantity[0] != '\0')
        (void)snprintf(panel->zero, sizeof panel->zero, "%s %s %s, limit %s", zero->quantity,
                       number_text_delta(zero->drift / zero->unit_size, 2).text, zero->unit,
                       number_text_plain(zero->limit / zero->unit_size, 2).text);
    for (size_t r = 0; r < glance->n_rows && panel->zero[0] != '\0'; r++) {
        if (strcmp(glance->rows[r], GLANCE_DRIFT_ROW) != 0)
            continue;
        for (size_t i = 0; i < panel->n_cells; i++)
            if (panel->cells[i].row == r) {
                panel->cells[i].words = panel->zero;
                return;
            }
        panel->cells[panel->n_cells++] = (struct record_cell){
            .row = r, .column = -1, .ratio = NAN, .is_plain = 1, .words = panel->zero};
    }
}

static enum status fill(struct record_panel *panel, struct fault *fault)
{
    const struct glance *glance = panel->glance;
    enum status status = OK;

    panel->cells = calloc(glance->n_marks + 1, sizeof *panel->cells);
    panel->columns = calloc(glance->n_points + 1, sizeof *panel->columns);
    if (panel->cells == NULL || panel->columns == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to draw %zu marks", glance->n_marks);
    for (size_t i = 0; i < glance->n_points; i++)
        panel->columns[i] = glance->points[i].label;
    for (size_t i = 0; status == OK && i < glance->n_marks; i++)
        status = add_mark(panel, &glance->marks[i], fault);
    if (status == OK)
        add_zero(panel);
    return status;
}

static void write_table(struct html *page, const struct glance *glance)
{
    html_open(page, "details", HTML_END);
    html_element(page, "summary", "Numbers behind this picture", HTML_END);
    page_scroller(page, "scroll", "marks of the record");
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Row", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "Point", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "Rule", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "Value over limit", "scope", "col", HTML_END);
    html_element(page, "th", "State", "class", "left", "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
    for (size_t i = 0; i < glance->n_marks; i++) {
        const struct glance_mark *mark = &glance->marks[i];
        html_open(page, "tr", HTML_END);
        html_element(page, "th", glance->rows[mark->row], "scope", "row", HTML_END);
        html_element(page, "td", place_of(glance, mark->point), "class", "left", HTML_END);
        html_element(page, "td", mark->rule, "class", "left", HTML_END);
        html_element(page, "td", number_text_plain(mark->ratio, 2).text, HTML_END);
        html_element(page, "td", flag_state_name(mark->state), "class", "left", HTML_END);
        html_close(page);
    }
    for (int k = 0; k < 4; k++)
        html_close(page);
}

static void write_chart(struct html *page, const struct record_panel *panel)
{
    const struct glance *glance = panel->glance;
    char label[200];

    (void)snprintf(label, sizeof label,
                   "record of %zu channels and rules at %zu points: %zu marks beyond a limit",
                   glance->n_rows, glance->n_points, glance->n_marks);
    struct record_chart chart = {label,          glance->rows,     glance->n_rows,
                                 panel->columns, glance->n_points, panel->cells,
                                 panel->n_cells};
    page_scroller(page, "scroll", "picture: the record, channel by channel");
    chart_record(page, &chart);
    html_close(page);
}

static const char why[] =
    "Channels that the numbers need, and what rules say of a point as a whole. Empty: fine. A "
    "number: the worst value of any rule there, in units of its limit; an exclamation mark: a rule "
    "without numbers. Hatched: failed or refused.";

enum status panel_glance_record(struct html *page, const struct glance *glance, struct fault *fault)
{
    struct record_panel panel = {.glance = glance};

    if (glance->n_points == 0) {
        page_section(page, "record", "The record", "Nothing is drawn: the run has no points.");
        html_close(page);
        return OK;
    }
    enum status status = fill(&panel, fault);
    if (status == OK) {
        page_section(page, "record", "The record, channel by channel", why);
        html_open(page, "div", "class", "panel", HTML_END);
        write_chart(page, &panel);
        write_table(page, glance);
        html_close(page);
        html_close(page);
    }
    text_pool_free(&panel.texts);
    free(panel.cells);
    free((void *)panel.columns);
    return status;
}

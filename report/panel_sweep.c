/* panel_sweep.c - one sweep of the night: values above, change from the baseline below.
 *
 * Twenty counts are invisible on an axis six hundred counts tall, so the lower row shows the deltas
 * of the same attitudes with their intervals. Values are means over mountings; deltas and intervals
 * are the store's own.                                                                             */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/chart_line.h"
#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/panel.h"
#include "report/redact.h"
#include "report/sweep.h"

enum { COLUMNS = 3, SERIES = LINE_SERIES_MAX, WIDTH = 410, HEIGHT = 236 };

static const char *const quantities[COLUMNS] = {"CL", "CD", "balance"};

struct sweep_panel {
    const struct night_page *night;
    struct text_pool texts;
    struct sweep_target targets[SWEEP_TARGETS_MAX];
    size_t n_targets;
    struct sweep sweep;
    struct sweep_text held;                            /* what the sweep holds constant */
    const struct finding_configuration *shown[SERIES]; /* the baseline first */
    size_t n_shown;
    int has_values; /* 0: levels are left out, and a value is none */
    struct line_point points[SERIES][SWEEP_TARGETS_MAX]; /* of the chart being written */
};

static enum status take_target(struct statement *row, void *context, struct fault *fault)
{
    struct sweep_panel *panel = context;

    if (panel->n_targets == SWEEP_TARGETS_MAX)
        return OK;
    struct sweep_target *target = &panel->targets[panel->n_targets++];
    for (int k = 0; k < SWEEP_AXES; k++)
        target->coordinate[k] = statement_real(row, k + 1);
    return text_pool_keep(&panel->texts, statement_text(row, 0), &target->name, fault);
}

/* The baseline of the leading family and the best of it. */
static void choose_shown(struct sweep_panel *panel)
{
    const struct findings *findings = panel->night->findings;
    const struct finding_configuration *baseline = findings_baseline(findings);

    if (baseline == NULL)
        return;
    panel->shown[panel->n_shown++] = baseline;
    for (size_t i = 0; i < findings->n_leading && panel->n_shown < SERIES; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        if (!at->is_baseline)
            panel->shown[panel->n_shown++] = at;
    }
}

struct filling {
    struct sweep_panel *panel;
    double factor;
};

/* Row: configuration, target, value, lower, upper. */
static enum status take_point(struct statement *row, void *context, struct fault *fault)
{
    struct filling *filling = context;
    struct sweep_panel *panel = filling->panel;
    const struct sweep *sweep = &panel->sweep;

    (void)fault;
    for (size_t s = 0; s < panel->n_shown; s++) {
        if (strcmp(panel->shown[s]->name, statement_text(row, 0)) != 0)
            continue;
        for (size_t i = 0; i < sweep->n; i++) {
            if (strcmp(panel->targets[sweep->member[i]].name, statement_text(row, 1)) != 0)
                continue;
            panel->points[s][i].y = filling->factor * statement_real(row, 2);
            panel->points[s][i].lower = filling->factor * statement_real(row, 3);
            panel->points[s][i].upper = filling->factor * statement_real(row, 4);
        }
    }
    return OK;
}

static void clear_points(struct sweep_panel *panel)
{
    const struct sweep *sweep = &panel->sweep;
    double factor = sweep_axis_factor(sweep->axis);

    for (size_t s = 0; s < SERIES; s++)
        for (size_t i = 0; i < sweep->n; i++)
            panel->points[s][i] = (struct line_point){
                factor * panel->targets[sweep->member[i]].coordinate[sweep->axis], NAN, NAN, NAN};
}

static const char values_sql[] =
    "SELECT o.configuration, o.target, avg(o.value), NULL, NULL FROM observation AS o JOIN "
    "page_reduction AS d ON d.reduction = o.reduction WHERE o.quantity = ?1 "
    "GROUP BY o.configuration, o.target ORDER BY 1, 2";

static const char deltas_sql[] =
    "SELECT configuration, target, delta, lower, upper FROM page_delta "
    "WHERE quantity = ?1 ORDER BY configuration, target";

/* The strip of what does not matter, page unit; 0 when no metric names the quantity. */
static double strip_of(const struct findings *findings, const char *quantity)
{
    for (size_t m = 0; m < findings->n_metrics; m++)
        if (strcmp(findings->metrics[m].quantity, quantity) == 0)
            return findings->metrics[m].display.factor * findings->metrics[m].worthwhile;
    return 0;
}

static void write_chart(struct html *page, const struct sweep_panel *panel, const char *quantity,
                        const struct display *display, int is_delta)
{
    struct line_series series[SERIES];
    struct sweep_text x_name = sweep_axis_label(panel->sweep.axis);
    char label[320], y_name[120];
    size_t first = is_delta ? 1 : 0; /* the baseline's change from itself is no line */
    const char *axis = sweep_axis_name(panel->sweep.axis);

    for (size_t s = first; s < panel->n_shown; s++)
        series[s - first] = (struct line_series){panel->shown[s]->name, panel->shown[s]->look,
                                                 panel->points[s], panel->sweep.n};
    (void)snprintf(label, sizeof label,
                   "%s of %.20s over %s%s%.120s, %zu attitudes, %zu configuration%s",
                   is_delta ? "change from the baseline" : "value", quantity, axis,
                   panel->held.text[0] != '\0' ? " at " : "", panel->held.text, panel->sweep.n,
                   panel->n_shown - first, panel->n_shown - first == 1 ? "" : "s");
    (void)snprintf(y_name, sizeof y_name, "%s%s%s%s", is_delta ? "\xCE\x94" : "", quantity,
                   display->unit[0] != '\0' ? ", " : "", display->unit);
    struct line_chart chart = {label,
                               x_name.text,
                               y_name,
                               WIDTH,
                               HEIGHT,
                               series,
                               panel->n_shown - first,
                               is_delta,
                               is_delta ? strip_of(panel->night->findings, quantity) : 0,
                               display->decimals,
                               is_delta,
                               1,
                               0};
    chart_line(page, &chart);
}

static void write_table(struct html *page, const struct sweep_panel *panel, const char *quantity,
                        const struct display *display, int is_delta)
{
    char label[sizeof(struct cut_text) + 60];

    (void)snprintf(label, sizeof label, "numbers of the %s of %s", is_delta ? "change" : "value",
                   cut_text(quantity, CUT_TEXT_MOST).text);
    html_open(page, "details", HTML_END);
    html_element(page, "summary", "Numbers behind this picture", HTML_END);
    page_scroller(page, "scroll", label);
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Attitude", "class", "left", "scope", "col", HTML_END);
    for (size_t s = is_delta ? 1 : 0; s < panel->n_shown; s++)
        html_element(page, "th", panel->shown[s]->name, "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
    for (size_t i = 0; i < panel->sweep.n; i++) {
        html_open(page, "tr", HTML_END);
        html_element(page, "th", panel->targets[panel->sweep.member[i]].name, "scope", "row",
                     HTML_END);
        for (size_t s = is_delta ? 1 : 0; s < panel->n_shown; s++) {
            const struct line_point *point = &panel->points[s][i];
            struct number_text text =
                is_delta ? number_text_pair(point->y, (point->upper - point->lower) / 2,
                                            display->decimals)
                         : number_text_plain(point->y, display->decimals);
            html_element(page, "td", text.text, HTML_END);
        }
        html_close(page);
    }
    for (int k = 0; k < 4; k++)
        html_close(page);
}

static enum status write_cell(struct html *page, struct sweep_panel *panel, const char *quantity,
                              int is_delta, struct fault *fault)
{
    struct display display =
        is_delta ? display_delta(quantity, panel->night->findings->count) : display_value(quantity);
    struct filling filling = {panel, display.factor};
    const char *texts[] = {quantity, NULL};

    clear_points(panel);
    enum status status = query_each(panel->night->store, is_delta ? deltas_sql : values_sql, texts,
                                    take_point, &filling, fault);
    if (status != OK)
        return status;
    html_open(page, "div", "class", "panel", HTML_END);
    write_chart(page, panel, quantity, &display, is_delta);
    write_table(page, panel, quantity, &display, is_delta);
    html_close(page);
    return OK;
}

static enum status write_panel(struct html *page, struct sweep_panel *panel, struct fault *fault)
{
    enum status status = OK;
    const char *axis = sweep_axis_name(panel->sweep.axis);
    char title[320];
    char why[sizeof(struct cut_text) + 400];

    (void)snprintf(title, sizeof title, "Sweep of %s%s%s", axis,
                   panel->held.text[0] != '\0' ? " at " : "", panel->held.text);
    if (panel->has_values && panel->n_shown > 1)
        (void)snprintf(why, sizeof why,
                       "%zu attitudes that differ in %s only. Above, means over mountings "
                       "(downforce positive); below, the change from %s at the same attitude with "
                       "its interval. Single attitudes are exploratory. Grey: too small to matter.",
                       panel->sweep.n, axis, cut_text(panel->shown[0]->name, CUT_TEXT_MOST).text);
    else if (panel->has_values)
        (void)snprintf(why, sizeof why,
                       "%zu attitudes that differ in %s only: means over mountings, downforce "
                       "positive.",
                       panel->sweep.n, axis);
    else
        (void)snprintf(why, sizeof why,
                       "%zu attitudes that differ in %s only: the change from %s at the same "
                       "attitude with its interval. Single attitudes are exploratory. Grey: too "
                       "small to matter.",
                       panel->sweep.n, axis, cut_text(panel->shown[0]->name, CUT_TEXT_MOST).text);
    page_section(page, "sweep", title, why);
    for (int is_delta = panel->has_values ? 0 : 1; is_delta < (panel->n_shown > 1 ? 2 : 1);
         is_delta++) {
        html_open(page, "div", "class", is_delta ? "three below" : "three", HTML_END);
        for (size_t i = 0; status == OK && i < COLUMNS; i++)
            status = write_cell(page, panel, quantities[i], is_delta, fault);
        html_close(page);
    }
    html_close(page);
    return status;
}

/* One sentence, so that a link to the section leads somewhere. */
static void write_no_sweep(struct html *page, const struct sweep_panel *panel)
{
    char why[200];

    (void)snprintf(why, sizeof why,
                   "Nothing is drawn: of the attitudes with values (%zu), fewer than %d differ in "
                   "one coordinate only.",
                   panel->n_targets, SWEEP_LEAST);
    page_section(page, "sweep", "Sweep",
                 panel->n_shown == 0 ? "Nothing is drawn: no configuration was run."
                 : !panel->has_values && panel->n_shown == 1
                     ? "Nothing is drawn: it would be of levels, and this report leaves them out."
                     : why);
    html_close(page);
}

/* Index of the target that the sweep should pass through: the one whose pressures are drawn, else the
 * main measure's; n_targets when neither is a target. */
static enum status preferred_target(const struct sweep_panel *panel, size_t *index,
                                    struct fault *fault)
{
    struct text_pool texts = {0};
    const char *map_attitude = "";

    enum status status =
        query_text(panel->night->store,
                   "SELECT value FROM setting WHERE section = 'season' AND name = 'map_attitude'",
                   NULL, &texts, &map_attitude, fault);
    const char *wanted[] = {map_attitude, panel->night->findings->target};
    *index = panel->n_targets;
    for (size_t k = 0; k < 2 && *index == panel->n_targets; k++)
        for (size_t i = 0; i < panel->n_targets && *index == panel->n_targets; i++)
            if (strcmp(panel->targets[i].name, wanted[k]) == 0)
                *index = i;
    text_pool_free(&texts);
    return status;
}

/* Targets at which something was measured: a sweep of declared wishes would be an empty picture. */
static const char targets_sql[] =
    "SELECT target, front_ride_height_m, rear_ride_height_m, yaw_rad, roll_rad, pitch_rad, "
    "steer_rad FROM target WHERE target IN (SELECT o.target FROM observation AS o JOIN "
    "page_reduction AS d ON d.reduction = o.reduction) ORDER BY sequence";

enum status panel_sweep(struct html *page, const struct night_page *night, struct fault *fault)
{
    struct sweep_panel *panel = calloc(1, sizeof *panel);
    size_t through = 0;

    if (panel == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the sweep");
    panel->night = night;
    enum status status = query_each(night->store, targets_sql, NULL, take_target, panel, fault);
    if (status == OK)
        status = preferred_target(panel, &through, fault);
    int levels_are_out = 0;
    if (status == OK)
        status = redact_levels_are_out(night->store, &levels_are_out, fault);
    panel->has_values = !levels_are_out;
    panel->sweep = sweep_find(panel->targets, panel->n_targets, through);
    panel->held = sweep_held(&panel->sweep, panel->targets);
    choose_shown(panel);
    if (status == OK && panel->sweep.n > 0 && panel->n_shown > (panel->has_values ? 0 : 1))
        status = write_panel(page, panel, fault);
    else if (status == OK)
        write_no_sweep(page, panel);
    text_pool_free(&panel->texts);
    free(panel);
    return status;
}

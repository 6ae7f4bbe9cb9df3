/* panel_control.c - how the baseline moved from entry to entry; see season.h. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "report/chart_control.h"
#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/redact.h"
#include "report/season.h"
#include "report/time_text.h"

struct track {
    const struct season *season;
    struct text_pool texts;
    void *points; /* struct control_point */
    void *values; /* double */
    size_t n, n_values, capacity, values_capacity;
};

static const char entries_sql[] =
    "SELECT e.entry, avg(o.value), count(*), e.first, e.start_text FROM observation AS o "
    "JOIN reduction AS d ON d.reduction = o.reduction AND d.is_current = 1 AND d.stage = 'compare' "
    "JOIN (SELECT entry, min(start_s) AS first, start_text FROM run WHERE facility = ?1 GROUP BY "
    "entry) AS e ON d.subject = ?1 || '/' || e.entry || '/' || ?2 "
    "WHERE o.configuration = ?2 AND o.quantity = ?3 AND o.target = ?4 "
    "GROUP BY e.entry ORDER BY e.first, e.entry";

static enum status take_entry(struct statement *row, void *context, struct fault *fault)
{
    struct track *track = context;
    const char *quantity = track->season->metric.quantity;
    struct buffer title = {0};
    struct control_point *point =
        query_append(&track->points, &track->n, &track->capacity, sizeof *point, fault);
    double *value = query_append(&track->values, &track->n_values, &track->values_capacity,
                                 sizeof *value, fault);

    if (point == NULL || value == NULL)
        return NO_MEMORY;
    *value = point->value = statement_real(row, 1);
    buffer_format(&title, "%s, %s: %s %s, mean of %lld mounting%s", statement_text(row, 0),
                  time_date(statement_real(row, 3), time_zone_offset(statement_text(row, 4))).text,
                  quantity,
                  number_text_plain(point->value, display_value(quantity).decimals + 1).text,
                  (long long)statement_integer(row, 2), statement_integer(row, 2) == 1 ? "" : "s");
    enum status status = buffer_status(&title, "the title of a mark", fault);
    if (status == OK)
        status = text_pool_keep(&track->texts, buffer_string(&title), &point->title, fault);
    if (status == OK)
        status = text_pool_keep(&track->texts, statement_text(row, 0), &point->name, fault);
    buffer_free(&title);
    return status;
}

static void write_words(struct html *page, const struct track *track,
                        const struct control_limits *limits)
{
    const char *quantity = track->season->metric.quantity;
    int decimals = display_value(quantity).decimals + 1;

    html_open(page, "p", "class", "note", HTML_END);
    if (!limits->has_limits) {
        html_format(page,
                    "No limits are drawn: %zu %s, and below %d the ranges between neighbours tell "
                    "too little of how far chance moves a value.",
                    track->n, track->n == 1 ? "entry" : "entries", CONTROL_LEAST);
    } else {
        html_format(page,
                    "Outside %s to %s: %zu of %zu entries. Limits: mean \xC2\xB1 3 mean "
                    "moving ranges / 1.128 (NIST/SEMATECH e-Handbook of Statistical Methods, "
                    "6.3.2.2); the scatter within a night is no measure between nights.",
                    number_text_plain(limits->lower, decimals).text,
                    number_text_plain(limits->upper, decimals).text, limits->outside, track->n);
    }
    html_close(page);
}

static void write_numbers(struct html *page, const struct track *track)
{
    const struct control_point *points = track->points;

    html_open(page, "details", HTML_END);
    html_element(page, "summary", "Numbers behind this picture", HTML_END);
    html_open(page, "ul", HTML_END);
    for (size_t i = 0; i < track->n; i++)
        html_element(page, "li", points[i].title, HTML_END);
    html_close(page);
    html_close(page);
}

/* One mark would hang in the middle of nothing, on a scale that means nothing. */
static void write_first(struct html *page, const struct track *track)
{
    const struct control_point *first = track->points;

    html_open(page, "p", "class", "note", HTML_END);
    html_format(page, "%s. A picture begins with the second entry.", first->title);
    html_close(page);
}

static void write_chart(struct html *page, const struct track *track)
{
    const struct season *season = track->season;
    struct control_limits limits = control_limits(track->values, track->n);
    char label[sizeof(struct cut_text) + 120];
    char y_name[120];

    (void)snprintf(label, sizeof label, "%s of the baseline in %zu %s in time",
                   cut_text(season->metric.name, CUT_TEXT_MOST).text, track->n,
                   track->n == 1 ? "entry" : "entries");
    (void)snprintf(y_name, sizeof y_name, "%.20s, %.60s", season->metric.quantity,
                   display_sign(season->metric.quantity));
    struct control_chart chart = {label, y_name, track->points, track->n, limits};
    page_scroller(page, "scroll", "picture: the baseline from entry to entry");
    chart_control(page, &chart);
    html_close(page);
    write_words(page, track, &limits);
    write_numbers(page, track);
}

enum status panel_control(struct html *page, const struct season *season, struct fault *fault)
{
    struct track track = {.season = season};
    int levels_are_out = 0;

    enum status status = redact_levels_are_out(season->store, &levels_are_out, fault);
    if (status == OK && levels_are_out) {
        page_section(page, "control", "The baseline from entry to entry",
                     "Nothing is drawn: it would be of levels, and this report leaves them out.");
        html_close(page);
        return OK;
    }
    if (status == OK && season->metric.quantity != NULL && season->baseline[0] != '\0') {
        const char *texts[] = {season->facility, season->baseline, season->metric.quantity,
                               season->target, NULL};
        status = query_each(season->store, entries_sql, texts, take_entry, &track, fault);
    }
    if (status == OK && track.n > 0) {
        char why[3 * sizeof(struct cut_text) + 80];
        (void)snprintf(why, sizeof why,
                       "%s of %s at %s: one point an entry, the mean of its "
                       "mountings.",
                       cut_text(season->metric.name, CUT_TEXT_MOST).text,
                       cut_text(season->baseline, CUT_TEXT_MOST).text,
                       cut_text(season->facility, CUT_TEXT_MOST).text);
        page_section(page, "control", "The baseline from entry to entry", why);
        html_open(page, "div", "class", "panel", HTML_END);
        if (track.n == 1)
            write_first(page, &track);
        else
            write_chart(page, &track);
        html_close(page);
        html_close(page);
    } else if (status == OK) {
        page_section(page, "control", "The baseline from entry to entry",
                     "Nothing is drawn: no entry has a value of the baseline.");
        html_close(page);
    }
    text_pool_free(&track.texts);
    free(track.points);
    free(track.values);
    return status;
}

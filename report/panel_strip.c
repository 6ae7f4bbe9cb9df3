/* panel_strip.c - the night, run by run: what was measured when, and how the baseline moved. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/chart_strip.h"
#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/panel.h"
#include "report/redact.h"
#include "report/time_text.h"

struct night_strip {
    const struct findings *findings;
    struct text_pool texts;
    void *marks, *runs;
    size_t n_marks, marks_capacity, n_runs, runs_capacity;
    double offset;
    int has_offset;
    int is_less_baseline; /* values are less the mean of their baseline: levels are left out */
};

static const char less_baseline[] = " less the baseline's mean";

static struct series_look look_of(const struct findings *findings, const char *name,
                                  int *is_baseline)
{
    const struct finding_configuration *found = findings_configuration(findings, name);

    *is_baseline = found != NULL && found->is_baseline;
    return found != NULL ? found->look : (struct series_look){"sx", MARKER_CIRCLE};
}

/* Keeps what a mark says, and ends the text it was built in. */
static enum status keep(struct night_strip *strip, struct buffer *text, const char **kept,
                        struct fault *fault)
{
    enum status status = buffer_status(text, "the title of a mark", fault);

    if (status == OK)
        status = text_pool_keep(&strip->texts, buffer_string(text), kept, fault);
    buffer_free(text);
    return status;
}

static enum status take_run(struct statement *row, void *context, struct fault *fault)
{
    struct night_strip *strip = context;
    struct strip_run *run =
        query_append(&strip->runs, &strip->n_runs, &strip->runs_capacity, sizeof *run, fault);
    struct buffer title = {0};

    if (run == NULL)
        return NO_MEMORY;
    double start = statement_real(row, 1);
    double middle = statement_real(row, 7);
    run->time = isfinite(middle) ? middle : start;
    if (!strip->has_offset)
        strip->offset = time_zone_offset(statement_text(row, 2));
    strip->has_offset = 1;
    run->look = look_of(strip->findings, statement_text(row, 3), &run->is_baseline);
    run->is_quarantined = strcmp(statement_text(row, 4), "ok") != 0;
    long long flags = statement_integer(row, 6);
    run->is_flagged = flags > 0 && !run->is_quarantined;
    buffer_format(&title, "run %s, %s, started %s", statement_text(row, 0), statement_text(row, 3),
                  time_clock(start, strip->offset).text);
    if (run->is_quarantined)
        buffer_format(&title, "; quarantined: %s", statement_text(row, 5));
    else if (run->is_flagged)
        buffer_format(&title, "; %lld flag%s", flags, flags == 1 ? "" : "s");
    return keep(strip, &title, &run->title, fault);
}

static enum status take_mark(struct statement *row, void *context, struct fault *fault)
{
    struct night_strip *strip = context;
    const struct finding_metric *metric = &strip->findings->metrics[0];
    struct strip_mark *mark =
        query_append(&strip->marks, &strip->n_marks, &strip->marks_capacity, sizeof *mark, fault);
    const struct finding_configuration *leading = findings_baseline(strip->findings);
    int is_any_baseline = 0;
    struct buffer title = {0};

    if (mark == NULL)
        return NO_MEMORY;
    mark->time = statement_real(row, 2);
    mark->value = statement_real(row, 3);
    mark->look = look_of(strip->findings, statement_text(row, 0), &is_any_baseline);
    /* A line joins returns to one configuration, so only the leading family's baseline has one. */
    mark->is_baseline =
        is_any_baseline && leading != NULL && strcmp(leading->name, statement_text(row, 0)) == 0;
    int decimals = display_value(metric->quantity).decimals + 1;
    buffer_format(&title, "%s, mounting %lld (%s), %s: %s%s %s", statement_text(row, 0),
                  (long long)statement_integer(row, 1), statement_text(row, 4),
                  time_clock(mark->time, strip->offset).text, metric->quantity,
                  strip->is_less_baseline ? less_baseline : "",
                  strip->is_less_baseline ? number_text_delta(mark->value, decimals).text
                                          : number_text_plain(mark->value, decimals).text);
    return keep(strip, &title, &mark->title, fault);
}

/* What rings a run: a flag on the run as a whole, or a point that failed or was refused. Taps have
 * their own picture, and a warning that many points share would ring every run. A run is drawn at the
 * mean time of its points, as its mounting is; one without points at its start. */
static const char runs_sql[] =
    "SELECT r.run, r.start_s, r.start_text, r.configuration, r.state, r.reason, "
    "(SELECT count(*) FROM page_flag AS f WHERE f.run = r.run AND f.state <> 'info' AND "
    "(f.point = '' OR f.state <> 'flagged') AND f.subject NOT IN (SELECT tap FROM tap)), "
    "(SELECT avg(p.time_s) FROM point AS p WHERE p.run = r.run) AS middle_s "
    "FROM page_run AS r WHERE r.kind = 'wind_on' "
    "ORDER BY coalesce(middle_s, r.start_s), r.sequence";

/* The observation's own time is that of the points its measure uses; its runs' mean time stands in
 * the picture, so that a mark is above its bars. */
static const char marks_sql[] =
    "SELECT o.configuration, o.mounting, coalesce((SELECT avg(p.time_s) FROM page_run AS r "
    "CROSS JOIN point AS p ON p.run = r.run WHERE instr(', ' || o.runs || ', ', ', ' || r.run || "
    "', "
    "') > 0), o.time_s) AS middle_s, o.value, o.runs FROM observation AS o JOIN "
    "page_reduction AS d ON d.reduction = o.reduction WHERE o.quantity = ?1 AND o.target = ?2 "
    "ORDER BY middle_s, o.configuration, o.mounting";

static void write_table(struct html *page, const struct night_strip *strip)
{
    const struct strip_run *runs = strip->runs;
    const struct strip_mark *marks = strip->marks;

    html_open(page, "details", HTML_END);
    html_element(page, "summary", "Numbers behind this picture", HTML_END);
    page_scroller(page, "scroll", "mountings and runs in time");
    html_open(page, "ul", HTML_END);
    for (size_t i = 0; i < strip->n_marks; i++)
        html_element(page, "li", marks[i].title, HTML_END);
    for (size_t i = 0; i < strip->n_runs; i++)
        html_element(page, "li", runs[i].title, HTML_END);
    html_close(page);
    html_close(page);
    html_close(page);
}

static void write_look(struct html *page, const struct series_look *look, const char *name)
{
    html_open(page, "li", HTML_END);
    svg_begin(page, look->class, 36, 14, name);
    svg_line(page, "line", 0, 7, 36, 7);
    svg_marker(page, "mark", look->marker, 18, 7, 4, NULL);
    svg_end(page);
    html_text(page, name);
    html_close(page);
}

/* Those that share the common look share one entry: which is which the marks' titles tell. */
static void write_legend(struct html *page, const struct findings *findings)
{
    const struct finding_configuration *other = NULL;
    size_t others = 0;
    char name[40];

    html_open(page, "ul", "class", "legend", HTML_END);
    for (size_t i = 0; i < findings->n_configurations; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        if (strcmp(at->look.class, "sx") == 0) {
            other = at;
            others++;
        } else {
            write_look(page, &at->look, at->name);
        }
    }
    (void)snprintf(name, sizeof name, "%zu others", others);
    if (others > 0)
        write_look(page, &other->look, others == 1 ? other->name : name);
    html_close(page);
}

static void write_chart(struct html *page, const struct night_strip *strip)
{
    const struct finding_metric *metric = &strip->findings->metrics[0];
    char label[sizeof(struct cut_text) + 120];
    char y_name[120];

    (void)snprintf(label, sizeof label,
                   "%s over the night: %zu mounting%s in time, and %zu wind-on run%s below",
                   cut_text(metric->name, CUT_TEXT_MOST).text, strip->n_marks,
                   strip->n_marks == 1 ? "" : "s", strip->n_runs, strip->n_runs == 1 ? "" : "s");
    (void)snprintf(y_name, sizeof y_name, "%.20s%s, %.60s", metric->quantity,
                   strip->is_less_baseline ? less_baseline : "", display_sign(metric->quantity));
    struct strip_chart chart = {label,          y_name,      strip->offset, strip->marks,
                                strip->n_marks, strip->runs, strip->n_runs};
    page_scroller(page, "scroll", "picture: the night, run by run");
    chart_strip(page, &chart);
    html_close(page);
}

enum status panel_strip(struct html *page, const struct night_page *night, struct fault *fault)
{
    struct night_strip strip = {.findings = night->findings};
    const struct findings *findings = night->findings;

    if (findings->n_metrics == 0) {
        page_section(page, "night", "The night, run by run",
                     "Nothing is drawn: the campaign declares no metric.");
        html_close(page);
        return OK;
    }
    enum status status = redact_levels_are_out(night->store, &strip.is_less_baseline, fault);
    if (status == OK)
        status = query_each(night->store, runs_sql, NULL, take_run, &strip, fault);
    if (status == OK) {
        const char *texts[] = {findings->metrics[0].quantity, findings->target, NULL};
        status = query_each(night->store, marks_sql, texts, take_mark, &strip, fault);
    }
    if (status == OK && strip.n_runs + strip.n_marks == 0) {
        page_section(page, "night", "The night, run by run",
                     "Nothing is drawn: no wind-on run was made.");
        html_close(page);
    } else if (status == OK) {
        page_section(
            page, "night", "The night, run by run",
            "Above, one mark a mounting; the dashed line joins the mountings of the baseline. "
            "Below, one bar a wind-on run: tall is the baseline, a "
            "cross is quarantined, a ring has a flag on the whole run or points that failed. Marks "
            "and bars stand at the mean time of their points.");
        html_open(page, "div", "class", "panel", HTML_END);
        write_legend(page, findings);
        write_chart(page, &strip);
        write_table(page, &strip);
        html_close(page);
        html_close(page);
    }
    text_pool_free(&strip.texts);
    free(strip.marks);
    free(strip.runs);
    return status;
}
